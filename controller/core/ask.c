#include "core/ask.h"

#include <math.h>
#include <string.h>

void ask(struct turn *turn, enum prompt_kind kind, double number, double number2)
{
    struct scan *scan = turn->scan;
    struct event *event;

    if (scan->prompt.kind == kind)
        return;
    scan->prompt = (struct prompt){
        .kind = kind,
        .id = ++scan->memory.next_prompt,
        .number = number,
        .number2 = number2,
        .asked_us = scan->image.now_us,
    };
    memset(&scan->answered, 0, sizeof scan->answered);
    scan->is_reminded = false;
    event = turn_emit(turn, EVENT_ASKED, (int)kind, 0);
    event->prompt = scan->prompt.id;
    event->value = number;
    event->value2 = number2;
}

void ask_withdraw(struct turn *turn)
{
    memset(&turn->scan->prompt, 0, sizeof turn->scan->prompt);
    memset(&turn->scan->answered, 0, sizeof turn->scan->answered);
}

bool ask_done(struct turn *turn, enum prompt_kind kind, double number, double number2)
{
    ask(turn, kind, number, number2);
    if (!turn->scan->answered.is_given)
        return false;
    ask_withdraw(turn);
    return true;
}

bool ask_number(struct turn *turn, enum prompt_kind kind, double min, double max, double *number)
{
    ask(turn, kind, min, max);
    if (!turn->scan->answered.is_given)
        return false;
    *number = turn->scan->answered.number;
    ask_withdraw(turn);
    return true;
}

bool ask_needs_lid_open(const struct turn *turn)
{
    enum prompt_kind kind = turn->scan->prompt.kind;

    return kind != PROMPT_NONE && kind != PROMPT_TANK_READY;
}

static bool prompt_wants_number(enum prompt_kind kind)
{
    return kind == PROMPT_READ_STRENGTH || kind == PROMPT_READ_ACIDITY;
}

static enum refusal answer_judge(const struct prompt *prompt, const struct command *command)
{
    if (prompt->kind == PROMPT_NONE || command->prompt_id != prompt->id)
        return REFUSAL_NO_PROMPT;
    if (command->answer == ANSWER_CANNOT)
        return REFUSAL_NONE;
    if ((command->answer == ANSWER_NUMBER) != prompt_wants_number(prompt->kind))
        return REFUSAL_WRONG_ANSWER;
    if (command->answer == ANSWER_NUMBER &&
        !(isfinite(command->number) && command->number >= prompt->number &&
          command->number <= prompt->number2))
        return REFUSAL_NUMBER;
    return REFUSAL_NONE;
}

enum refusal ask_take_answer(struct turn *turn, const struct command *command)
{
    struct scan *scan = turn->scan;
    enum refusal refusal = answer_judge(&scan->prompt, command);
    struct event *event;

    if (refusal != REFUSAL_NONE)
        return refusal;
    if (scan->answered.is_given)
        return REFUSAL_NO_PROMPT; /* answered in this very scan already */
    event = turn_emit(turn, EVENT_ANSWERED, (int)scan->prompt.kind, (int)command->answer);
    event->prompt = scan->prompt.id;
    event->value = command->answer == ANSWER_NUMBER ? command->number : 0;
    event->who = command->who;
    scan->answered = (struct answered){command->answer != ANSWER_CANNOT, command->answer, command->number};
    return REFUSAL_NONE;
}

void ask_remind(struct turn *turn)
{
    struct scan *scan = turn->scan;

    if (scan->prompt.kind == PROMPT_NONE || scan->is_reminded ||
        turn_since_s(turn, scan->prompt.asked_us) < turn->setup->limits.prompt_remind_s)
        return;
    turn_emit(turn, EVENT_REMINDER, (int)scan->prompt.kind, 0)->prompt = scan->prompt.id;
    scan->is_reminded = true;
}
