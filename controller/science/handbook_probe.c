#include "science/buffer.h"
#include "science/electrode.h"
#include "science/handbook.h"
#include "science/handbook_row.h"

#include <stddef.h>

static const char *buffer_choice(int index)
{
    return buffer_name((enum buffer)index);
}

CALL_1(slope, electrode_slope_eval)

static enum status ph(const double in[], double out[])
{
    const struct electrode electrode = {in[2], in[3], in[4], in[5]};

    return electrode_ph_eval(&electrode, in[0], in[1], &out[0]);
}

static enum status emf(const double in[], double out[])
{
    const struct electrode electrode = {in[2], in[3], in[4], in[5]};

    return electrode_emf_eval(&electrode, in[0], in[1], &out[0]);
}

static enum status two_point(const double in[], double out[])
{
    const struct electrode_point points[] = {{in[0], in[1]}, {in[2], in[3]}};
    struct electrode_line line;
    double fraction;
    enum status status = electrode_line_eval(points, 2, &line);

    if (status == ST_OK)
        status = electrode_efficiency_eval(line.slope_mv, in[4], &fraction);
    if (status != ST_OK)
        return status;
    out[0] = fraction;
    out[1] = line.offset_mv;
    out[2] = line.slope_mv;
    return ST_OK;
}

static enum status three_point(const double in[], double out[])
{
    const struct electrode_point points[] = {{in[0], in[1]}, {in[2], in[3]}, {in[4], in[5]}};
    struct electrode_line line;
    enum status status = electrode_line_eval(points, 3, &line);

    if (status != ST_OK)
        return status;
    out[0] = line.slope_mv;
    out[1] = line.offset_mv;
    out[2] = line.deviation_mv;
    out[3] = line.residual_mv[1];
    return ST_OK;
}

CALL_4(temperature_error, electrode_temperature_error_eval)
CALL_3(iso_error, electrode_iso_error_eval)

static enum status uncertainty(const double in[], double out[])
{
    const struct electrode_doubt doubt = {in[1], in[2], in[3], in[3], in[4], in[5]};

    return electrode_uncertainty_eval(&doubt, in[0], 25, &out[0]);
}

static enum status buffer_value(const double in[], double out[])
{
    return buffer_ph_eval((enum buffer)in[0], in[1], &out[0]);
}

static enum status buffer_change(const double in[], double out[])
{
    return buffer_change_eval((enum buffer)in[0], in[1], &out[0]);
}

static enum status buffer_range(const double in[], double out[])
{
    return buffer_range_eval((enum buffer)in[0], &out[0], &out[1]);
}

static enum status buffer_doubt(const double in[], double out[])
{
    return buffer_uncertainty_eval((enum buffer)in[0], in[1], &out[0]);
}

#define BUFFER_INPUT                                                                                         \
    {                                                                                                        \
        "buffer", "", 0, BUFFER_COUNT - 1, buffer_choice                                                     \
    }
#define ELECTRODE_INPUTS                                                                                     \
    {"slope", "", 0.5, 1.2, NULL}, {"offset_mv", "mV", -200, 200, NULL}, {"iso_ph", "pH", 5, 9, NULL},       \
    {                                                                                                        \
        "calibrated_c", "degC", 0, 100, NULL                                                                 \
    }
#define BUFFER_SOURCE                                                                                        \
    "NIST values (Bates 1962, Staples and Bates 1969) as given in public instrument source code; "           \
    "phthalate to 60 degC Hetzer, Durst, Robinson, Bates (1977); technical buffers: an instrument's "        \
    "manual, smoothed"
#define BUFFER_LABELS                                                                                        \
    "by the pH on the bottle: 1.68 tetroxalate, 3.56 tartrate, 3.78 citrate, 4.00 technical-4.00, 4.01 "     \
    "phthalate, 6.86 phosphate-1:1, 7.00 technical-7.00 (not the 6.86), 7.41 phosphate-1:3.5, 9.18 borate, " \
    "10.01 carbonate or technical-10.01, 12.45 calcium-hydroxide"
#define BUFFER_REACH BUFFER_LABELS "; each buffer within its own temperatures, see buffer_range"

const struct handbook_entry HANDBOOK_PROBE[] = {
    {"electrode_slope",
     "Nernst slope of an ideal pH electrode",
     {{"temp_c", "degC", 0, 100, NULL}},
     {{"slope_mv_ph", "mV/pH", 54, 75, NULL}},
     "",
     "R T ln10 / F with R and F of CODATA 2018",
     "none for an ideal electrode; real ones reach 90 to 102 % of it",
     slope},
    {"electrode_ph",
     "pH from an electrode's potential",
     {{"emf_mv", "mV", -1500, 1500, NULL}, {"temp_c", "degC", 0, 100, NULL}, ELECTRODE_INPUTS},
     {{"ph", "pH", -2, 16, NULL}},
     "the pH must come out within -2 to 16",
     "isopotential form of the Nernst equation (textbook)",
     "that of the calibration; in syrup above 0.1 mol/L sugar the pH is apparent (scope of ASTM E70)",
     ph},
    {"electrode_emf",
     "Potential of an electrode at a pH",
     {{"ph", "pH", -2, 16, NULL}, {"temp_c", "degC", 0, 100, NULL}, ELECTRODE_INPUTS},
     {{"emf_mv", "mV", -1500, 1500, NULL}},
     "",
     "isopotential form of the Nernst equation (textbook)",
     "that of the calibration",
     emf},
    {"electrode_two_point",
     "Slope and offset of an electrode from two buffers",
     {{"first_ph", "pH", 0, 14, NULL},
      {"first_emf_mv", "mV", -1000, 1000, NULL},
      {"second_ph", "pH", 0, 14, NULL},
      {"second_emf_mv", "mV", -1000, 1000, NULL},
      {"temp_c", "degC", 0, 100, NULL}},
     {{"slope", "", -4, 4, NULL},
      {"offset_mv", "mV", -1500, 1500, NULL},
      {"slope_mv_ph", "mV/pH", -200, 200, NULL}},
     "buffers at least 1 pH apart, slope within 200 mV/pH, potential at pH 7 within 1500 mV",
     "Nernst; both buffers at their value at the measured temperature",
     "that of the buffers and the potentials; see electrode_uncertainty",
     two_point},
    {"electrode_three_point",
     "Slope and offset of an electrode from three buffers, with what is left over",
     {{"first_ph", "pH", 0, 14, NULL},
      {"first_emf_mv", "mV", -1000, 1000, NULL},
      {"second_ph", "pH", 0, 14, NULL},
      {"second_emf_mv", "mV", -1000, 1000, NULL},
      {"third_ph", "pH", 0, 14, NULL},
      {"third_emf_mv", "mV", -1000, 1000, NULL}},
     {{"slope_mv_ph", "mV/pH", -200, 200, NULL},
      {"offset_mv", "mV", -1500, 1500, NULL},
      {"deviation_mv", "mV", 0, 2000, NULL},
      {"second_residual_mv", "mV", -2000, 2000, NULL}},
     "buffers span at least 1 pH, slope within 200 mV/pH, potential at pH 7 within 1500 mV",
     "least squares in the potential (textbook); all three at one temperature",
     "that of the buffers and the potentials",
     three_point},
    {"electrode_temperature_error",
     "Error of the pH when the meter takes a wrong temperature",
     {{"ph", "pH", 0, 14, NULL},
      {"temp_c", "degC", 0, 100, NULL},
      {"assumed_c", "degC", 0, 100, NULL},
      {"iso_ph", "pH", 5, 9, NULL}},
     {{"error_ph", "pH", -4, 4, NULL}},
     "",
     "isopotential form of the Nernst equation (textbook)",
     "the electrode's share only; the solution's own change with temperature is not in it",
     temperature_error},
    {"electrode_iso_error",
     "Error of the pH away from the calibration's temperature when the isopotential pH is wrong",
     {{"iso_error_ph", "pH", -3, 3, NULL},
      {"calibrated_c", "degC", 0, 100, NULL},
      {"temp_c", "degC", 0, 100, NULL}},
     {{"error_ph", "pH", -1.2, 1.2, NULL}},
     "",
     "isopotential form of the Nernst equation (our derivation)",
     "none beside the model's",
     iso_error},
    {"electrode_uncertainty",
     "Standard uncertainty of a pH after a calibration with two buffers, at 25 degC",
     {{"ph", "pH", 0, 14, NULL},
      {"first_ph", "pH", 0, 14, NULL},
      {"second_ph", "pH", 0, 14, NULL},
      {"buffer_u_ph", "pH", 0, 1, NULL},
      {"emf_u_mv", "mV", 0, 20, NULL},
      {"junction_u_ph", "pH", 0, 1, NULL}},
     {{"u_ph", "pH", 0, 50, NULL}},
     "buffers at least 1 pH apart",
     "first-order GUM (our derivation after JCGM 100)",
     "the junction term is the largest and least known (Leito et al. 2002); 0.1 or more in syrup",
     uncertainty},
    {"buffer_ph",
     "pH of a buffer at its temperature",
     {BUFFER_INPUT, {"temp_c", "degC", 0, 95, NULL}},
     {{"ph", "pH", 1.6, 13.5, NULL}},
     BUFFER_REACH,
     BUFFER_SOURCE,
     "0.01 for the primary ones to 60 degC, else 0.02; see buffer_uncertainty",
     buffer_value},
    {"buffer_change",
     "Change of a buffer's pH for one kelvin more",
     {BUFFER_INPUT, {"temp_c", "degC", 0, 95, NULL}},
     {{"change_ph", "pH", -0.1, 0.1, NULL}},
     BUFFER_REACH,
     BUFFER_SOURCE ", derived",
     "0.0002, at the ends of a table 0.0005; technical buffers 0.001 and 0.002",
     buffer_change},
    {"buffer_range",
     "Temperatures between which a buffer's pH is known",
     {BUFFER_INPUT},
     {{"low_c", "degC", 0, 25, NULL}, {"high_c", "degC", 50, 95, NULL}},
     BUFFER_LABELS,
     BUFFER_SOURCE,
     "none",
     buffer_range},
    {"buffer_uncertainty",
     "Expanded uncertainty (k = 2) of a fresh buffer",
     {BUFFER_INPUT, {"temp_c", "degC", 0, 95, NULL}},
     {{"expanded_ph", "pH", 0.01, 0.02, NULL}},
     BUFFER_REACH,
     "common practice, no source",
     "an old or opened bottle is worse; the label of the bottle goes before this number",
     buffer_doubt},
    {0},
};
