/* acid_words.h - what several rows of handbook_acid.c say alike of model, range and error. Of this folder
 * only. The figures for hard water are those of acid_solution.h. */
#ifndef SCIENCE_ACID_WORDS_H
#define SCIENCE_ACID_WORDS_H

#define MODEL                                                                                                \
    "Charge balance; water.h and acid_pk constants, activities by Davies (1962): see acid_solution.h"
#define MODEL_ERROR                                                                                          \
    "0.03 pH up to 0.1 mol/kg in water, lactic acid 0.05, ascorbic 0.15; in syrup a first guess only"
#define STOCK_RANGE "citric and tartaric up to 50 %, phosphoric 40 %, ascorbic 20 %, acetic and lactic 80 %"

/* Calcium binds citrate, which is not in the model. */
#define HARD                                                                                                 \
    "citric acid in hard water (calcium binds it; hardness equal to the alkalinity, 1, 2, 4, 6 meq/kg): "
#define HARD_ERROR                                                                                           \
    MODEL_ERROR "; " HARD "at pH 4.25 0.10, 0.16, 0.23, 0.28 lower than said, at 4.0 0.06 to 0.2, at 5.0 "   \
                "0.3 to 0.6"

#define DOSE_RANGE                                                                                           \
    "not more than 0.1 mol/kg; per kg of WATER, not of syrup, of anhydrous acid at 100 %: of citric acid "   \
    "monohydrate 1.094 times the mass"
#define DOSE_ERROR                                                                                           \
    "5 % of the dose in ordinary water below pH 5; lactic 8 % for pH 3.5 and 11 % for 3; ascorbic 18 % for " \
    "4.25, 24 % for 4, 39 % for 3; " HARD "8, 13, 20, 25 % too large for pH 4.25, 6 to 18 % for 4.0, 24 to " \
    "40 % for 5.0"
#define HARD_ALKALINITY                                                                                      \
    "lactic and ascorbic as the dose, see acid_for_ph; " HARD "9, 13, 18, 20 % too small at pH 4.25"
#define SET_RANGE                                                                                            \
    "not more than 0.1 mol/kg of acid, and not none: water that is as acid as that by itself (without "      \
    "alkalinity: pH 5.6) was not set to it"

#endif
