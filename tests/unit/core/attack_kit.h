/* attack_kit.h - what the attacks on the core have in common. */
#ifndef TESTS_ATTACK_KIT_H
#define TESTS_ATTACK_KIT_H

#include "core/protect.h"
#include "support/rig.h"
#include "support/support.h"

#include <math.h>
#include <string.h>

static struct rig RIG; /* large: not on the stack */

static inline struct rig *rig_new(void)
{
    rig_init(&RIG, NULL);
    return &RIG;
}

static inline struct rig *rig_at(enum step step)
{
    rig_init(&RIG, NULL);
    rig_go_to_step(&RIG, step);
    return &RIG;
}

/* Warming, with the contactor closed. */
static inline struct rig *rig_heating(void)
{
    struct rig *rig = rig_at(STEP_HEAT);

    rig->scan.memory.plan.preheat_c = 90; /* the step must not end by itself */
    rig_run(rig, 15);
    ck_assert_double_gt(rig_output(rig, POINT_HEATER_ON), 0.5);
    return rig;
}

static inline void run_until_on(struct rig *rig, enum point output)
{
    for (int i = 0; i < 6000 && rig_output(rig, output) < 0.5; i++)
        rig_scan(rig);
    ck_assert_double_gt(rig_output(rig, output), 0.5);
}

static inline bool all_off(const struct rig *rig)
{
    for (int o = 0; o < POINT_OUTPUT_COUNT; o++)
        if (rig->out.outputs[o] != 0)
            return false;
    return true;
}

static inline int count_with(const struct rig *rig, enum event_kind kind, int a)
{
    int count = 0;

    for (int i = 0; i < rig->event_count; i++)
        count += rig->events[i].kind == kind && rig->events[i].a == a;
    return count;
}

/* Several commands for the next scan, as several clients may send them. */
static inline void put_command(struct rig *rig, enum verb verb, enum answer answer)
{
    struct command *command = &rig->in.commands[rig->in.command_count];

    *command = (struct command){.id = 100 + (uint64_t)rig->in.command_count,
                                .verb = verb,
                                .prompt_id = rig->scan.prompt.id,
                                .answer = answer,
                                .who = {.uid = 1000, .role = ROLE_OPERATOR, .name = "wren"}};
    rig->in.command_count++;
    if (verb == VERB_START) {
        rig->in.plan = rig_plan();
        rig->in.has_plan = true;
    }
}

static inline void make_bad(struct rig *rig, enum point point, enum reason reason)
{
    rig->qualities[point] = QUALITY_BAD;
    rig->reasons[point] = reason;
}

#endif
