/* plan_fixture.h - the demo tank, and short ways to plan for it and to look at the answer. */
#ifndef TESTS_PLAN_FIXTURE_H
#define TESTS_PLAN_FIXTURE_H

#include "core/scan_types.h"
#include "plan/plan.h"
#include "support/demo_tank.h"
#include "support/support.h"

#include <stdbool.h>
#include <string.h>

static struct batch_plan plan;
static struct plan_notes notes;
static struct fault fault;

static inline struct plan_request demo_request(void)
{
    return (struct plan_request){
        .volume_l = 600, .strength_pct = 62.5, .acid = ACID_CITRIC, .target_ph = 4.3, .room_temp_c = 16};
}

static inline struct plan_request plain_request(double volume_l, double strength_pct)
{
    return (struct plan_request){.volume_l = volume_l, .strength_pct = strength_pct};
}

static inline enum status make_with(struct plan_request r, struct tank_facts tank, struct limits limits)
{
    memset(&fault, 0, sizeof fault);
    memset(&plan, 0, sizeof plan);
    memset(&notes, 0, sizeof notes);
    return plan_make(&r, &tank, &limits, &plan, &notes, &fault);
}

static inline enum status make(struct plan_request r)
{
    return make_with(r, DEMO_TANK, DEMO_LIMITS);
}

static inline void expect_plan(struct plan_request r)
{
    enum status status = make(r);

    ck_assert_msg(status == ST_OK, "%s: %s: %s", status_name(status), fault.where, fault.text);
}

static inline void expect_refusal(enum status status, enum status expected, const char *where,
                                  const char *words)
{
    ck_assert_msg(status == expected, "%s, but expected %s: %s", status_name(status), status_name(expected),
                  fault.text);
    ck_assert_str_eq(fault.where, where);
    ck_assert_msg(strstr(fault.text, words) != NULL, "\"%s\" is not in: %s", words, fault.text);
    ck_assert_int_lt((int)strlen(fault.text), (int)sizeof fault.text - 1);
    ck_assert_int_eq(fault.code, expected);
}

static inline bool has_note(const char *words)
{
    for (int i = 0; i < notes.count; i++)
        if (strstr(notes.text[i], words) != NULL)
            return true;
    return false;
}

static inline void expect_bad_field(struct plan_request r, const char *where, const char *words)
{
    expect_refusal(make(r), ST_RANGE, where, words);
}

#endif
