#include "simulator/person.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define STREAM_PERSON 4
#define AGAIN_S 10.0 /* before a failed reading or an answer that did not settle it is repeated */
#define ANSWER_S 2.0 /* from the last move to the answer */

/* What each question makes a person do; %g is the question's number. */
struct kind_row {
    const char *kind;
    bool wants_number;
    int count;
    struct person_move moves[PERSON_MOVES_MAX];
};

static const struct kind_row KINDS[] = {
    {"tank_ready", false, 1, {{0, "lid closed"}}},
    {"add_water", false, 1, {{0, "water %g"}}},
    {"add_acid", false, 1, {{0, "acid %g"}}},
    {"tip_bag", false, 3, {{0, "lid open"}, {3, "bag"}, {4, "lid closed"}}},
    {"add_sugar", false, 3, {{0, "lid open"}, {3, "bag %g"}, {4, "lid closed"}}},
    {"read_strength", true, 1, {{0, "read strength"}}},
    {"read_acidity", true, 1, {{0, "read ph"}}},
};

void person_init(struct person *person, uint64_t seed, double delay_s)
{
    memset(person, 0, sizeof *person);
    random_seed(&person->random, seed, STREAM_PERSON);
    person->delay_s = delay_s;
}

/* The number goes where the row says %g; written by hand because the row is no literal. */
static void move_fill(struct person_move *move, const struct person_move *from, double number)
{
    const char *place = strstr(from->act, "%g");
    int before = place != NULL ? (int)(place - from->act) : (int)strlen(from->act);

    move->pause_s = from->pause_s;
    if (place != NULL)
        (void)snprintf(move->act, sizeof move->act, "%.*s%.6g", before, from->act, number);
    else
        (void)snprintf(move->act, sizeof move->act, "%s", from->act);
}

void person_see(struct person *person, double now_s, uint32_t prompt_id, const char *kind, double number)
{
    if (prompt_id == person->prompt_id)
        return;
    person->prompt_id = prompt_id;
    person->move_count = person->moves_done = 0;
    person->wants_number = person->has_number = person->has_failed = false;
    if (prompt_id == 0)
        return;
    for (size_t i = 0; i < sizeof KINDS / sizeof *KINDS; i++)
        if (strcmp(kind, KINDS[i].kind) == 0) {
            person->move_count = KINDS[i].count;
            person->wants_number = KINDS[i].wants_number;
            for (int m = 0; m < KINDS[i].count; m++)
                move_fill(&person->moves[m], &KINDS[i].moves[m], number);
        }
    person->due_s = now_s + person->delay_s * random_between(&person->random, 0.5, 1.5);
}

bool person_move_due(struct person *person, double now_s, char act[PERSON_ACT_MAX])
{
    if (person->prompt_id == 0 || person->moves_done >= person->move_count || now_s < person->due_s)
        return false;
    (void)snprintf(act, PERSON_ACT_MAX, "%s", person->moves[person->moves_done].act);
    return true;
}

void person_told(struct person *person, double now_s, const char *reply)
{
    bool is_ok = strncmp(reply, "ok", 2) == 0;

    if (person->wants_number) {
        if (!is_ok) { /* look again later */
            person->due_s = now_s + AGAIN_S;
            return;
        }
        person->number = strtod(reply + 2, NULL);
        person->has_number = true;
    } else if (!is_ok) {
        person->has_failed = true;
    }
    person->moves_done++;
    person->due_s = now_s + (person->moves_done < person->move_count
                                 ? person->moves[person->moves_done].pause_s
                                 : ANSWER_S);
}

bool person_answer_due(struct person *person, double now_s, struct person_answer *answer)
{
    if (person->prompt_id == 0 || person->moves_done < person->move_count || now_s < person->due_s)
        return false;
    *answer = (struct person_answer){.prompt_id = person->prompt_id,
                                     .is_number = person->wants_number && person->has_number,
                                     .is_cannot = person->has_failed,
                                     .number = person->number};
    person->due_s = now_s + AGAIN_S;
    if (person->wants_number) /* a number that was refused is read again, not repeated */
        person->moves_done = 0;
    return true;
}
