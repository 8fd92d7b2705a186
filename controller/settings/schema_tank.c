/* Rows of the tank file that describe the tank itself. */
#include "settings/schema.h"

#define FACT(member, least, most, normal, phrase)                                                            \
    BIND_NUMBER(#member, BIND_DECIMAL, struct tank_facts, member, least, most, normal, phrase)
#define LIMIT(member, least, most, normal, phrase)                                                           \
    BIND_NUMBER(#member, BIND_DECIMAL, struct limits, member, least, most, normal, phrase)
#define LIMIT_TIME(key, member, least, most, normal, phrase)                                                 \
    BIND_NUMBER(key, BIND_DURATION, struct limits, member, least, most, normal, phrase)

static const struct bind_choice ACIDS[] = {{"none", ACID_NONE},         {"citric", ACID_CITRIC},
                                           {"ascorbic", ACID_ASCORBIC}, {"acetic", ACID_ACETIC},
                                           {"lactic", ACID_LACTIC},     {"phosphoric", ACID_PHOSPHORIC},
                                           {"tartaric", ACID_TARTARIC}, {NULL, 0}};

static const struct bind_choice ROLES[] = {{"looker", ROLE_LOOKER},
                                           {"helper", ROLE_HELPER},
                                           {"operator", ROLE_OPERATOR},
                                           {"supervisor", ROLE_SUPERVISOR},
                                           {NULL, 0}};

_Static_assert(sizeof ACIDS / sizeof ACIDS[0] == ACID_COUNT + 1, "every acid has its word");
_Static_assert(sizeof ROLES / sizeof ROLES[0] == ROLE_COUNT + 1, "every role has its word");

static const struct bind_row ROLES_ROWS[] = {
    {"helper_group", BIND_TEXT, BIND_AT(struct settings, helper_group), .standard = "",
     .help = "Unix group whose members may answer questions and stop a batch"},
    {"operator_group", BIND_TEXT, BIND_AT(struct settings, operator_group), .standard = "",
     .help = "Unix group whose members may make a batch"},
    {"supervisor_group", BIND_TEXT, BIND_AT(struct settings, supervisor_group), .standard = "",
     .help = "Unix group whose members may do everything"},
    {"owner_role", BIND_CHOICE, BIND_AT(struct settings, owner_role), .choices = ROLES, .standard = "looker",
     .help = "role of the user who runs the daemon; above looker only on a simulated tank"},
    {0}};

static const struct bind_row FACTS_ROWS[] = {
    FACT(capacity_l, 20, 20000, NULL, "litres that fit below the highest allowed level"),
    FACT(heater_cover_l, 1, 20000, NULL, "litres needed to cover the heating element with a margin"),
    FACT(heater_kw, 0.1, 200, NULL, "power of the heater"),
    FACT(stirrer_rpm, 1, 5000, NULL, "speed of the stirrer when it mixes"),
    FACT(water_l_min, 0.1, 500, "20", "usual flow through the open water valve"),
    FACT(dose_ml_min, 0.1, 5000, "100", "rate at which the acid pump is run"),
    FACT(dose_min_pulse_ml, 0.05, 1000, "2", "smallest dose the pump gives evenly"),
    FACT(heat_loss_w_k, 0.1, 2000, "25", "heat lost to the room for each degree of difference"),
    FACT(altitude_m, -430, 5000, "0", "height above the sea; decides the boiling point"),
    FACT(acid_stock_pct, 1, 100, NULL, "strength of the acid solution in the bottle, % by weight"),
    FACT(bag_kg, 0.5, 1000, "25", "sugar in one bag"),
    FACT(alkalinity_meq_kg, 0, 20, NULL, "alkalinity of the water, from its report"),
    FACT(water_temp_c, 0, 60, "12", "temperature of the water as it comes"),
    FACT(sugar_temp_c, -20, 45, "18", "temperature of the sugar store"),
    FACT(storage_min_temp_c, -30, 40, "5", "coldest the finished syrup will see"),
    FACT(tolerance_pct, 0.05, 5, "0.3", "allowed error of the strength, either way"),
    FACT(tolerance_ph, 0.02, 1, "0.1", "allowed error of the water's pH, either way"),
    FACT(mixing_s, 5, 1800, "60", "seconds until a dose is evenly spread and the probe follows"),
    {"charging_grid", BIND_YES_NO, BIND_AT(struct tank_facts, charging_grid), .standard = "no",
     .help = "a fixed guard grid under the hatch lets the stirrer turn while it is open"},
    {0}};

static const struct bind_row LIMITS_ROWS[] = {
    LIMIT(liquid_max_c, 40, 95, NULL, "heating trips above this liquid temperature"),
    LIMIT(sheath_max_c, 60, 300, "130", "heating trips above this surface temperature"),
    LIMIT(sugar_max_c, 20, 90, "60", "sugar is asked for only below this"),
    LIMIT(dose_max_c, 10, 90, "60", "acid is dosed only below this"),
    LIMIT(stirrer_min_rpm, 1, 5000, "40", "slower than this counts as not turning"),
    LIMIT(stirrer_proof_s, 0.5, 60, "5", "seconds the stirrer has to reach its speed"),
    LIMIT(contactor_proof_s, 0.2, 10, "2", "seconds the contactor's report may lag"),
    LIMIT(heater_min_on_s, 0, 600, "10", "shortest time the contactor stays closed"),
    LIMIT(heater_min_off_s, 0, 600, "10", "shortest time the contactor stays open"),
    LIMIT(output_expiry_s, 0.2, 5, "0.5", "outputs that are not refreshed go off"),
    LIMIT(intent_ack_s, 0.2, 10, "2", "no dose when the record has not confirmed by then"),
    LIMIT_TIME("fill_max", fill_max_s, 60, 86400, "1 h", "longest time for letting water in"),
    LIMIT_TIME("acidify_max", acidify_max_s, 60, 86400, "2 h", "longest time for the acid"),
    LIMIT_TIME("heat_max", heat_max_s, 60, 86400, "4 h", "longest time for warming the water"),
    LIMIT_TIME("dissolve_max", dissolve_max_s, 60, 86400, "4 h", "longest time for dissolving"),
    LIMIT_TIME("check_max", check_max_s, 60, 86400, "2 h", "longest time for the last readings"),
    LIMIT_TIME("prompt_remind", prompt_remind_s, 10, 86400, "15 min",
               "an unanswered question raises an alarm after this"),
    {0}};

const struct bind_row SCHEMA_TANK_FILE[] = {
    {"tank_name", BIND_TEXT, BIND_AT(struct settings, tank_name), .min = 1, .help = "name of this tank"},
    {"farm_name", BIND_TEXT, BIND_AT(struct settings, farm_name), .min = 1, .help = "on the certificate"},
    {"simulated", BIND_YES_NO, BIND_AT(struct settings, is_simulated), .standard = "no",
     .help = "yes only when a simulator stands in for the tank; all records are marked"},
    {"sim_clock_path", BIND_PATH, BIND_AT(struct settings, sim_clock_path), .standard = "",
     .help = "the simulator's clock socket"},
    {"control_path", BIND_PATH, BIND_AT(struct settings, control_path), .min = 1,
     .help = "socket for the command line"},
    {"records_path", BIND_PATH, BIND_AT(struct settings, records_path), .min = 1,
     .help = "folder of records, keys and certificates"},
    {"roles", BIND_SECTION, 0, 0, .standard = BIND_OPTIONAL, .rows = ROLES_ROWS, .help = "who may do what"},
    {"default_acid", BIND_CHOICE, BIND_AT(struct settings, default_acid), .choices = ACIDS,
     .standard = "none", .help = "acid of a batch that does not name one"},
    {"tank", BIND_SECTION, BIND_AT(struct settings, setup.tank), .rows = FACTS_ROWS,
     .help = "what this tank is like"},
    {"limits", BIND_SECTION, BIND_AT(struct settings, setup.limits), .rows = LIMITS_ROWS,
     .help = "what must not be passed"},
    {"device_profiles", BIND_MAP, 0, 0, .standard = BIND_OPTIONAL,
     .help = "device profiles written here instead of in files"},
    {"buses", BIND_MAP, 0, 0, .help = "wires, and the devices on them"},
    {"points", BIND_MAP, 0, 0, .help = "which channel of which device each quantity comes from"},
    {0}};

const struct bind_row SCHEMA_READING[] = {
    {"edited", BIND_YES_NO, BIND_AT(struct schema_reading, is_edited), .standard = "yes",
     .help = "no in an example that nobody has fitted to a tank"},
    {"profiles", BIND_PATH, BIND_AT(struct schema_reading, profiles_path), .min = 1, .standard = "../devices",
     .help = "folder of the device profiles"},
    {0}};
