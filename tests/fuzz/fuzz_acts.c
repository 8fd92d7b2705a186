/* Lines from a person at the simulated tank, one act each; time goes on between them. Every act has an
 * answer in one line, and the tank stays a possible one. */
#include "fuzz/fuzz.h"
#include "simulator/acts.h"

#include <jansson.h>
#include <math.h>

static struct world world;

static void answer_check(const char *reply)
{
    json_t *truth;

    fuzz_claim(strchr(reply, '\n') == NULL && strlen(reply) < ACTS_REPLY_MAX - 1);
    if (reply[0] != '{') {
        fuzz_claim(strncmp(reply, "ok", 2) == 0 || strncmp(reply, "error ", 6) == 0);
        return;
    }
    truth = json_loads(reply, JSON_REJECT_DUPLICATES, NULL);
    fuzz_claim(json_is_object(truth));
    json_decref(truth);
}

static void tank_check(void)
{
    struct plant_truth truth;

    plant_truth_get(&world.plant, &truth);
    fuzz_claim(isfinite(truth.heat_j) && isfinite(truth.ph) && isfinite(truth.element_c));
    fuzz_claim(truth.water_kg >= 0 && truth.solid_kg >= 0 && truth.dissolved_kg >= 0);
    fuzz_claim(truth.volume_l >= 0 && truth.strength_pct >= 0 && truth.strength_pct <= 100);
    fuzz_claim(truth.liquid_c > -20 && truth.liquid_c < 130);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static char reply[ACTS_REPLY_MAX];
    struct plant_declared declared;
    char *text = fuzz_text(data, size), *rest = NULL;

    plant_declared_demo(&declared);
    world_init(&world, 1, &declared);
    for (char *line = strtok_r(text, "\n", &rest); line != NULL; line = strtok_r(NULL, "\n", &rest)) {
        memset(reply, '\n', sizeof reply);
        acts_do(&world, line, reply, sizeof reply);
        answer_check(reply);
        world_step(&world);
    }
    tank_check();
    free(text);
    return 0;
}
