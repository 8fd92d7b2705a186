/* ask.h - questions to the person at the tank: at most one is open at a time. */
#ifndef CORE_ASK_H
#define CORE_ASK_H

#include "core/turn.h"

/* Ask unless this very question is open already. */
void ask(struct turn *turn, enum prompt_kind kind, double number, double number2);

/* Ask, and tell whether it has been answered with "done"; the question is then closed. */
bool ask_done(struct turn *turn, enum prompt_kind kind, double number, double number2);

/* Ask for a number between min and max; true with *number once it is there. */
bool ask_number(struct turn *turn, enum prompt_kind kind, double min, double max, double *number);

/* Is something asked that is done through the open lid? */
bool ask_needs_lid_open(const struct turn *turn);

/* Withdraw the open question. */
void ask_withdraw(struct turn *turn);

/* Judge an answer: the reason to refuse it, or REFUSAL_NONE (kept until the step takes it). */
enum refusal ask_take_answer(struct turn *turn, const struct command *command);

/* Raise EVENT_REMINDER once when a question has waited longer than the limit. */
void ask_remind(struct turn *turn);

#endif
