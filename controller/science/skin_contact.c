#include "science/skin_contact.h"

#include "science/science_range.h"
#include "science/skin_dose.h"

#include <math.h>
#include <stddef.h>

#define TEMP_MIN_C 45.0
#define TEMP_MAX_C 105.0
#define SECONDS_MAX (8 * 3600.0)

#define SKIN_C 32.5
#define BODY_C 37.0

/* Steps in time grow with the time passed. The first ones are implicit, because the jump at the surface
 * would make the trapezoidal rule ring; they are short enough for that not to matter. */
#define STEP_FIRST_S 1e-4
#define STEP_GROWTH 0.05
#define STEPS_IMPLICIT 8
#define STEPS_MAX 400

/* Cells of a layer grow with depth as exp(bend x); bend 0: all alike. */
static const struct layer {
    double depth_m;
    double w_m_k;
    double j_m3_k;
    int cells;
    double bend;
} LAYERS[] = {
    {0.08e-3, 0.235, 4.31e6, 8, 0},
    {2e-3, 0.445, 3.96e6, 24, 3.5},
    {10e-3, 0.185, 2.50e6, 14, 1.5},
};
#define LAYER_COUNT (sizeof LAYERS / sizeof LAYERS[0])
#define NODES (8 + 24 + 14 + 1)
#define FAT 32  /* node between dermis and fat */
#define BASAL 8 /* node between epidermis and dermis */

/* Nodes 0..NODES-1; the first is the surface, the last the body: both stay as they are. */
struct skin {
    double temp_c[NODES];
    double heat[NODES];     /* J/(m2 K) of a node's share of the cells beside it */
    double conducts[NODES]; /* W/(m2 K) to the next node */
};

static double cell_edge(const struct layer *layer, int i)
{
    double share = (double)i / layer->cells;

    return layer->depth_m * (layer->bend > 0 ? expm1(layer->bend * share) / expm1(layer->bend) : share);
}

static void skin_init(struct skin *skin, double surface_c)
{
    double depth_m[NODES] = {0};
    int node = 0;

    *skin = (struct skin){0};
    for (size_t l = 0; l < LAYER_COUNT; l++) {
        for (int i = 0; i < LAYERS[l].cells; i++, node++) {
            double size = cell_edge(&LAYERS[l], i + 1) - cell_edge(&LAYERS[l], i);

            depth_m[node + 1] = depth_m[node] + size;
            skin->conducts[node] = LAYERS[l].w_m_k / size;
            skin->heat[node] += LAYERS[l].j_m3_k * size / 2;
            skin->heat[node + 1] += LAYERS[l].j_m3_k * size / 2;
        }
    }
    for (node = 0; node < NODES; node++)
        skin->temp_c[node] = SKIN_C + (BODY_C - SKIN_C) * fmin(depth_m[node] / depth_m[FAT], 1);
    skin->temp_c[0] = surface_c;
}

/* Heat flowing into a node, W/m2. */
static double inflow(const struct skin *skin, int node)
{
    const double *t = skin->temp_c;

    return skin->conducts[node - 1] * (t[node - 1] - t[node]) +
           skin->conducts[node] * (t[node + 1] - t[node]);
}

/* One step in time: change = seconds (inflow + implicit x what the change adds to it) / heat. The
 * equations are solved from the body's side up, then the changes read from the surface down. */
static void skin_step(struct skin *skin, double seconds, double implicit)
{
    double follows[NODES] = {0}; /* change of a node for a change of the one above it */
    double fixed[NODES] = {0};
    double change = 0;

    for (int n = NODES - 2; n > 0; n--) {
        double above = skin->conducts[n - 1];
        double weight = skin->heat[n] / seconds +
                        implicit * (above + skin->conducts[n] * (1 - follows[n + 1]));

        follows[n] = implicit * above / weight;
        fixed[n] = (inflow(skin, n) + implicit * skin->conducts[n] * fixed[n + 1]) / weight;
    }
    for (int n = 1; n < NODES - 1; n++) {
        change = fixed[n] + follows[n] * change;
        skin->temp_c[n] += change;
    }
}

/* Seconds until the damage is 1. */
static enum status time_to_burn(struct skin *skin, double *seconds)
{
    struct skin_dose dose = {0};
    double passed = 0;
    enum status status = ST_OK;

    for (int i = 0; i < STEPS_MAX && passed < SECONDS_MAX && status == ST_OK; i++) {
        double step = fmax(STEP_FIRST_S, STEP_GROWTH * passed);
        double before_c = skin->temp_c[BASAL];
        double before = dose.damage;

        skin_step(skin, step, i < STEPS_IMPLICIT ? 1 : 0.5);
        status = skin_dose_advance_eval(&dose, step, before_c, skin->temp_c[BASAL], &dose);
        if (status == ST_OK && dose.damage >= 1) {
            *seconds = passed + step * (1 - before) / (dose.damage - before);
            return ST_OK;
        }
        passed += step;
    }
    return ST_RANGE;
}

enum status skin_contact_time_eval(double surface_c, double *seconds)
{
    struct skin skin;

    if (!is_within(surface_c, TEMP_MIN_C, TEMP_MAX_C))
        return ST_RANGE;
    skin_init(&skin, surface_c);
    return time_to_burn(&skin, seconds);
}
