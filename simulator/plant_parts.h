/* plant_parts.h - the pieces of the plant, for plant_*.c, instruments.c and their tests only. */
#ifndef SIMULATOR_PLANT_PARTS_H
#define SIMULATOR_PLANT_PARTS_H

#include "simulator/plant.h"

#define PLANT_CRYSTAL_KG_M3 1587.0

/* plant_liquid.c: amounts and their movement between zones; nothing is made or lost. */
double plant_liquid_kg(const struct plant_liquid *liquid); /* without the acid, a few hundred grams */
double plant_liquid_strength_pct(const struct plant_liquid *liquid);
void plant_liquid_move(struct plant_liquid *from, struct plant_liquid *to, double kg);
void plant_liquid_exchange(struct plant_liquid *a, struct plant_liquid *b, double kg);
void plant_liquid_sum(const struct plant *plant, struct plant_liquid *sum);
double plant_kg(const struct plant *plant); /* all zones */
void plant_level_zones(struct plant *plant);
void plant_mix(struct plant *plant, double dt_s);
double plant_mixing_kg_s(const struct plant *plant);

/* plant.c: what a perfect probe shows in this liquid; the syrup's shift grows with strength. */
double plant_apparent_ph(const struct plant *plant, const struct plant_liquid *liquid);

/* plant_enthalpy.c: heat content above liquid water at 0 degC, J, and back. */
double plant_water_j(double kg, double temp_c);
double plant_liquid_j(const struct plant *plant, double water_kg, double sugar_kg, double temp_c);
double plant_liquid_j_k(const struct plant_liquid *liquid); /* heat capacity */
double plant_liquid_temp_c(const struct plant *plant, const struct plant_liquid *liquid, double empty_c);
double plant_crystal_j(double kg, double temp_c);
double plant_crystal_temp_c(double kg, double heat_j);
double plant_vapour_j_kg(double temp_c);
void plant_temps_renew(struct plant *plant);

/* plant_heat.c: element, wall, room, evaporation, boiling. */
void plant_heat_renew(struct plant *plant);
void plant_heat_step(struct plant *plant, double dt_s);

/* plant_sugar.c: crystals. */
void plant_sugar_tip(struct plant *plant, double kg);
void plant_sugar_step(struct plant *plant, double dt_s);

/* plant_acid.c: charge balance and carbon dioxide. */
double plant_acid_molar_g(enum acid acid);
void plant_acid_solve(enum acid acid, struct plant_liquid *liquid);
double plant_water_carbon(const struct plant_params *params); /* mol per kg of tap water */
void plant_acid_renew(struct plant *plant);
void plant_acid_step(struct plant *plant, double dt_s);

#endif
