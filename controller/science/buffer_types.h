/* buffer_types.h - the buffer solutions the program knows. */
#ifndef SCIENCE_BUFFER_TYPES_H
#define SCIENCE_BUFFER_TYPES_H

/* Names say what is in the bottle, because 6.86 and 7.00 are two different buffers. */
enum buffer {
    BUFFER_TETROXALATE,  /* 1.68 at 25 degC: potassium tetroxalate, 0.05 mol/kg */
    BUFFER_TARTRATE,     /* 3.56: potassium hydrogen tartrate, saturated at 25 degC */
    BUFFER_CITRATE,      /* 3.78: potassium dihydrogen citrate, 0.05 mol/kg */
    BUFFER_PHTHALATE,    /* 4.01: potassium hydrogen phthalate, 0.05 mol/kg */
    BUFFER_PHOSPHATE,    /* 6.86: KH2PO4 and Na2HPO4, 0.025 mol/kg each */
    BUFFER_PHOSPHATE_35, /* 7.41: KH2PO4 0.008695, Na2HPO4 0.03043 mol/kg */
    BUFFER_BORATE,       /* 9.18: borax, 0.01 mol/kg */
    BUFFER_CARBONATE,    /* 10.01: NaHCO3 and Na2CO3, 0.025 mol/kg each */
    BUFFER_HYDROXIDE,    /* 12.45: calcium hydroxide, saturated at 25 degC */
    BUFFER_TECHNICAL_4,  /* 4.00, as sold for everyday use */
    BUFFER_TECHNICAL_7,  /* 7.00 */
    BUFFER_TECHNICAL_10, /* 10.01 */
    BUFFER_COUNT
};

#endif
