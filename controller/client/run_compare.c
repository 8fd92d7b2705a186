#include "client/commands.h"

#include "client/numbers.h"

#include <math.h>
#include <string.h>
#include <strings.h>

/* What may be compared, and how far a usual hand instrument may be wrong (k = 2; common practice, no source):
 * a digital refractometer, a pH meter calibrated that day, a kitchen thermometer. */
static const struct hand {
    const char *name;
    const char *point;
    double expanded_u;
    const char *unit;
} HANDS[] = {
    {"strength", "strength_pct", 0.4, "%"},
    {"ph", "acidity_ph", 0.2, "pH"},
    {"temp", "tank_temp_c", 2, "K"},
};

static const struct hand *hand_find(const char *name)
{
    for (size_t i = 0; i < sizeof HANDS / sizeof HANDS[0]; i++)
        if (strcasecmp(HANDS[i].name, name) == 0)
            return &HANDS[i];
    return NULL;
}

/* NULL: the sentence is in *f. */
static json_t *request_make(const struct arguments *arguments, const struct hand **hand, struct fault *f)
{
    double number;
    json_t *request;

    *hand = hand_find(arguments->operands[0]);
    if (*hand == NULL) {
        (void)fault_set(f, ST_REFUSED, "", "\"%.40s\" cannot be compared; say strength, ph or temp",
                        arguments->operands[0]);
        return NULL;
    }
    if (number_parse("the reading", arguments->operands[1], &number, f) != ST_OK)
        return NULL;
    request = json_pack("{s:i,s:s,s:s,s:f,s:f}", "v", 1, "verb", "compare", "point", (*hand)->point, "number",
                        number, "expanded_u",
                        isnan(arguments->within) ? (*hand)->expanded_u : arguments->within);
    if (request == NULL)
        (void)fault_set(f, ST_SYSTEM, "", "memory is short");
    return request;
}

/* What the state says of it; the reading itself is accepted and recorded already. */
static int verdict_print(const struct arguments *arguments, const struct hand *hand)
{
    json_t *reply;
    int status = ask(arguments, request_new("state"), &reply);
    const json_t *list = json_object_get(json_object_get(reply, "state"), "opinions");

    for (size_t i = 0; status == EX_OK && i < json_array_size(list); i++) {
        const json_t *opinion = json_array_get(list, i);

        if (strcmp(show_text(opinion, "point"), hand->point) != 0)
            continue;
        if (arguments->wants_json)
            status = json_print(opinion);
        else
            (void)printf("%s: %s.\n", hand->name, show_text(opinion, "sentence"));
    }
    if (status == EX_OK && !arguments->wants_json && isnan(arguments->within))
        (void)printf("Taken as right within %g %s; say --within if you know better.\n", hand->expanded_u,
                     hand->unit);
    json_decref(reply);
    return status;
}

int run_compare(const struct arguments *arguments)
{
    const struct hand *hand;
    struct fault f = {0};
    json_t *request = request_make(arguments, &hand, &f);
    json_t *reply = NULL;
    int status;

    if (request == NULL)
        return f.code == ST_REFUSED ? usage_exit(arguments, &f) : fault_exit(arguments, &f);
    status = ask(arguments, request, &reply);
    json_decref(reply);
    return status == EX_OK ? verdict_print(arguments, hand) : status;
}
