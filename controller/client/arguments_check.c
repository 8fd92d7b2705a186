/* What options may stand together, and what a command cannot do without. */
#include "client/arguments.h"

#include <string.h>

enum status arguments_check_uses(const struct arguments *a, unsigned allowed, struct fault *f)
{
    for (size_t bit = 0; bit < sizeof a->last_use / sizeof a->last_use[0]; bit++)
        if ((a->uses & ~(allowed | USE_ALL) & 1u << bit) != 0)
            return fault_set(f, ST_REFUSED, "",
                             "%s does not belong to \"%s\"; \"syrupwright %s --help\" lists "
                             "what does",
                             a->last_use[bit], a->command, a->command);
    return ST_OK;
}

enum status arguments_check_request(const struct arguments *a, struct fault *f)
{
    bool has_strength = json_object_get(a->request, "strength_pct") != NULL;
    bool has_ratio = json_object_get(a->request, "ratio") != NULL;
    bool has_volume = json_object_get(a->request, "volume_l") != NULL;
    bool has_mass = json_object_get(a->request, "mass_kg") != NULL;
    const char *acid = json_string_value(json_object_get(a->request, "acid"));
    bool has_acid = acid != NULL && strcmp(acid, "none") != 0;
    bool has_ph = json_object_get(a->request, "target_ph") != NULL;

    if (has_strength == has_ratio)
        return fault_set(
            f, ST_REFUSED, "",
            "say how strong in one way: --strength 62.5 (%% by weight) or --ratio \"5:3 by weight\"");
    if (has_volume == has_mass)
        return fault_set(f, ST_REFUSED, "", "say how much in one way: --litres 600 or --kg 750");
    if (has_acid && !has_ph)
        return fault_set(f, ST_REFUSED, "", "--acid %.20s needs the acidity wanted in the water: --ph 4.3",
                         acid);
    if (acid != NULL && !has_acid && has_ph)
        return fault_set(f, ST_REFUSED, "", "--ph needs an acid; name one with --acid, or leave --ph out");
    return ST_OK;
}
