/* constants.h - numbers of nature and of law that more than one file of this folder needs. */
#ifndef SCIENCE_CONSTANTS_H
#define SCIENCE_CONSTANTS_H

/* CODATA (2018); exact since 2019 but for their last printed digit */
#define GAS_J_MOL_K 8.314462618
#define FARADAY_C_MOL 96485.33212

#define ATM_KPA 101.325 /* by definition */
#define ZERO_C_K 273.15 /* 0 degC, by definition */
#define LN10 2.302585092994046

/* IUPAC atomic weights (2007) */
#define SUCROSE_KG_MOL 0.342297
#define WATER_KG_MOL 0.0180153

/* by law: the pound (1959), 231 cubic inches, the imperial gallon (1976) */
#define LB_KG 0.45359237
#define US_GAL_L 3.785411784
#define IMP_GAL_L 4.54609

#endif
