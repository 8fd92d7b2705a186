/* acid_types.h - the food acids the program knows. */
#ifndef SCIENCE_ACID_TYPES_H
#define SCIENCE_ACID_TYPES_H

enum acid {
    ACID_NONE, /* the default: whether acid helps bees is disputed */
    ACID_CITRIC,
    ACID_ASCORBIC,
    ACID_ACETIC,
    ACID_LACTIC,
    ACID_PHOSPHORIC,
    ACID_TARTARIC,
    ACID_COUNT
};

#endif
