/* person.h - how the helper at the tank answers a question: waits, does it, says so.
 *
 * Does:      turn a prompt into acts (acts.h) with human pauses between them, then an answer.
 * Does not:  carry acts out or know sockets; time is tank time in seconds and an argument.
 * Memory:    the caller's. Same seed and prompts, same moments.
 */
#ifndef SIMULATOR_PERSON_H
#define SIMULATOR_PERSON_H

#include "simulator/random.h"

#include <stdbool.h>
#include <stdint.h>

#define PERSON_ACT_MAX 64
#define PERSON_MOVES_MAX 4

struct person_move {
    double pause_s; /* before it */
    char act[PERSON_ACT_MAX];
};

struct person {
    struct random random;
    double delay_s; /* typical time until the person turns to a question */
    uint32_t prompt_id;
    int move_count; /* moves of this prompt */
    int moves_done;
    struct person_move moves[PERSON_MOVES_MAX];
    double due_s; /* next move, or the answer */
    bool wants_number;
    bool has_number;
    bool has_failed; /* an act was refused: answer "cannot" */
    double number;
};

struct person_answer {
    uint32_t prompt_id;
    bool is_number;
    bool is_cannot;
    double number;
};

void person_init(struct person *person, uint64_t seed, double delay_s);

/* The open question, by its kind's name ("tip_bag") and number; id 0 for none. */
void person_see(struct person *person, double now_s, uint32_t prompt_id, const char *kind, double number);

/* true: this act is to be done now; tell person_told what came of it. */
bool person_move_due(struct person *person, double now_s, char act[PERSON_ACT_MAX]);
void person_told(struct person *person, double now_s, const char *reply);

/* true: this answer is to be given now. Given again after a while if the question stays open. */
bool person_answer_due(struct person *person, double now_s, struct person_answer *answer);

#endif
