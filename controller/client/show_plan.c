#include "client/numbers.h"
#include "client/show.h"
#include "science/skin.h"
#include "words/words.h"

#include <math.h>
#include <string.h>

#define LIFT_WARN_KG 15.0 /* above this the page says something about lifting; common practice, no source */

struct amount {
    const char *label;
    const char *key;
    int decimals;
    const char *unit;
};

static void amount_print(const struct show *show, const json_t *object, const struct amount *amount)
{
    char number[NUMBER_TEXT_MAX];
    char line[SHOW_LINE_MAX];

    (void)snprintf(line, sizeof line, "%s %s",
                   number_print(show_number(object, amount->key), amount->decimals, number), amount->unit);
    show_row(show, amount->label, line);
}

static void sugar_print(const struct show *show, const json_t *plan)
{
    double bag_kg = show_number(json_object_get(plan, "request"), "bag_kg");
    int decimals = fabs(bag_kg * 10 - round(bag_kg * 10)) < 0.05 ? 1 : 2;
    char bags[NUMBER_TEXT_MAX];
    char each[NUMBER_TEXT_MAX];
    char all[NUMBER_TEXT_MAX];
    char line[SHOW_LINE_MAX];

    (void)snprintf(line, sizeof line, "%s bags of %s kg = %s kg",
                   number_print(show_number(plan, "bags"), 0, bags), number_print(bag_kg, decimals, each),
                   number_print(show_number(plan, "sugar_kg"), 1, all));
    show_strong(show, "  sugar", line);
}

static void water_print(const struct show *show, const json_t *plan)
{
    char all[NUMBER_TEXT_MAX];
    char fill[NUMBER_TEXT_MAX];
    char line[SHOW_LINE_MAX];

    (void)snprintf(line, sizeof line, "%s L (1 L weighs 1 kg here); %s L before the sugar, the rest to trim",
                   number_print(show_number(plan, "water_kg"), 1, all),
                   number_print(show_number(plan, "fill_kg"), 1, fill));
    show_strong(show, "  water", line);
}

static bool has_acid(const json_t *plan)
{
    return show_number(plan, "acid_g") > 0;
}

static void acid_print(const struct show *show, const json_t *plan)
{
    const char *name = show_text(json_object_get(plan, "request"), "acid");
    char grams[NUMBER_TEXT_MAX];
    char ml[NUMBER_TEXT_MAX];
    char stock[NUMBER_TEXT_MAX];
    char ceiling[NUMBER_TEXT_MAX];
    char line[SHOW_LINE_MAX];

    if (!has_acid(plan)) {
        show_strong(show, "  acid", "none");
        return;
    }
    (void)snprintf(line, sizeof line,
                   "%s, about %s g pure = %s mL of the %s %% solution; never more than %s mL", name,
                   number_print(show_number(plan, "acid_g"), 1, grams),
                   number_print(show_number(plan, "acid_ml"), 0, ml),
                   number_print(show_number(plan, "acid_stock_pct"), 1, stock),
                   number_print(show_number(plan, "acid_ceiling_ml"), 0, ceiling));
    show_strong(show, "  acid", line);
}

static void assumed_print(const struct show *show, const json_t *plan)
{
    const json_t *request = json_object_get(plan, "request");
    char water[NUMBER_TEXT_MAX];
    char alkalinity[NUMBER_TEXT_MAX];
    char sugar[NUMBER_TEXT_MAX];
    char room[NUMBER_TEXT_MAX];
    char line[SHOW_LINE_MAX];

    (void)snprintf(line, sizeof line,
                   "water as it comes %s °C, its alkalinity %s meq/kg; sugar %s °C, room %s °C",
                   number_print(show_number(request, "water_temp_c"), 1, water),
                   number_print(show_number(request, "alkalinity_meq_kg"), 2, alkalinity),
                   number_print(show_number(request, "sugar_temp_c"), 1, sugar),
                   number_print(show_number(request, "room_temp_c"), 1, room));
    show_row(show, "  assumed", line);
}

static void result_print(const struct show *show, const json_t *plan)
{
    const json_t *request = json_object_get(plan, "request");
    static const struct amount VOLUME = {"  volume", "final_l", 0, "L at 20 °C"};
    static const struct amount MASS = {"  weight", "final_kg", 0, "kg"};
    char strength[NUMBER_TEXT_MAX];
    char band[NUMBER_TEXT_MAX];
    char line[SHOW_LINE_MAX];

    amount_print(show, plan, &VOLUME);
    amount_print(show, plan, &MASS);
    (void)snprintf(line, sizeof line, "%s %% sugar by weight, within %s %%",
                   number_print(show_number(request, "strength_pct"), 2, strength),
                   number_print(show_number(plan, "tolerance_pct"), 2, band));
    show_row(show, "  strength", line);
    if (!has_acid(plan))
        return;
    (void)snprintf(line, sizeof line, "pH %s in the water before the sugar, within %s",
                   number_print(show_number(request, "target_ph"), 2, strength),
                   number_print(show_number(plan, "tolerance_ph"), 2, band));
    show_row(show, "  acidity", line);
}

static void times_print(const struct show *show, const json_t *plan)
{
    const json_t *times = json_object_get(plan, "predicted_s");
    char duration[NUMBER_TEXT_MAX];
    char label[64];
    double total_s = 0;

    for (int step = STEP_READY; step < STEP_COUNT; step++) {
        double seconds = show_number(times, words_step_name((enum step)step));
        if (!(seconds > 0))
            continue;
        total_s += seconds;
        (void)snprintf(label, sizeof label, "  %s", words_step_name((enum step)step));
        show_row(show, label, duration_print(seconds, duration));
    }
    show_strong(show, "  altogether", duration_print(total_s, duration));
}

static void heat_print(const struct show *show, const json_t *plan)
{
    double hottest_c = fmax(show_number(plan, "preheat_c"), show_number(plan, "dissolve_c"));
    char number[NUMBER_TEXT_MAX];
    char line[SHOW_LINE_MAX];
    enum scald scald;

    if (!isfinite(hottest_c))
        return;
    scald = skin_scald_level(hottest_c, SCALD_NONE);
    (void)snprintf(line, sizeof line, "the liquid gets as warm as %s °C; %s",
                   number_print(hottest_c, 1, number), words_scald(scald));
    if (scald == SCALD_NONE)
        show_row(show, "  heat", line);
    else
        show_danger(show, "  heat", line);
}

static void cautions_print(const struct show *show, const json_t *plan)
{
    double bag_kg = show_number(json_object_get(plan, "request"), "bag_kg");
    char number[NUMBER_TEXT_MAX];
    char line[SHOW_LINE_MAX];

    heat_print(show, plan);
    if (has_acid(plan))
        show_danger(
            show, "  acid",
            "it burns eyes and skin: goggles and gloves; pour acid into water, never water into acid");
    if (!(bag_kg > LIFT_WARN_KG))
        return;
    (void)snprintf(line, sizeof line, "each bag weighs %s kg: use a hoist or a platform, or lift it as two",
                   number_print(bag_kg, 0, number));
    show_danger(show, "  lifting", line);
}

static void notes_print(const struct show *show, const json_t *plan, const json_t *notes)
{
    double clear_c = show_number(plan, "saturated_below_c");
    char number[NUMBER_TEXT_MAX];
    char line[SHOW_LINE_MAX];

    if (isfinite(clear_c)) {
        (void)snprintf(line, sizeof line, "sugar may crystallise when the syrup is kept colder than %s °C",
                       number_print(clear_c, 1, number));
        show_row(show, "  storing", line);
    }
    for (size_t i = 0; i < json_array_size(notes); i++) {
        const char *text = json_string_value(json_array_get(notes, i));
        if (text != NULL)
            show_row(show, "  note", text);
    }
}

void show_plan(const struct show *show, const json_t *plan, const json_t *notes)
{
    if (show_text(plan, "batch_id")[0] != '\0')
        show_strong(show, "Batch", show_text(plan, "batch_id"));
    (void)fprintf(show->to, "Have ready\n");
    sugar_print(show, plan);
    water_print(show, plan);
    acid_print(show, plan);
    assumed_print(show, plan);
    (void)fprintf(show->to, "What it gives\n");
    result_print(show, plan);
    (void)fprintf(show->to, "How long (your own time comes on top)\n");
    times_print(show, plan);
    (void)fprintf(show->to, "Take care\n");
    cautions_print(show, plan);
    notes_print(show, plan, notes);
}
