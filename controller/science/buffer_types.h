/* buffer_types.h - the buffer solutions the program knows. */
#ifndef SCIENCE_BUFFER_TYPES_H
#define SCIENCE_BUFFER_TYPES_H

/* Names say what is in the bottle, because 6.86 and 7.00 are two different buffers. */
enum buffer {
    BUFFER_TETROXALATE,  /* 1.68 at 25 degC */
    BUFFER_TARTRATE,     /* 3.56, saturated at 25 degC */
    BUFFER_CITRATE,      /* 3.78 */
    BUFFER_PHTHALATE,    /* 4.01 */
    BUFFER_PHOSPHATE,    /* 6.86: phosphates 1:1 */
    BUFFER_PHOSPHATE_35, /* 7.41: phosphates 1:3.5 */
    BUFFER_BORATE,       /* 9.18 */
    BUFFER_CARBONATE,    /* 10.01 */
    BUFFER_HYDROXIDE,    /* 12.45: calcium hydroxide, saturated at 25 degC */
    BUFFER_TECHNICAL_4,  /* 4.00, as sold for everyday use */
    BUFFER_TECHNICAL_7,  /* 7.00 */
    BUFFER_TECHNICAL_10, /* 10.01 */
    BUFFER_COUNT
};

#endif
