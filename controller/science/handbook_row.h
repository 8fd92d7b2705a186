/* handbook_row.h - a function under the one form of the handbook, by its number of inputs. Of this folder
 * only: for functions of plain numbers with one result; others are written out. */
#ifndef SCIENCE_HANDBOOK_ROW_H
#define SCIENCE_HANDBOOK_ROW_H

#define CALL_1(name, function)                                                                               \
    static enum status name(const double in[], double out[])                                                 \
    {                                                                                                        \
        return function(in[0], out);                                                                         \
    }
#define CALL_2(name, function)                                                                               \
    static enum status name(const double in[], double out[])                                                 \
    {                                                                                                        \
        return function(in[0], in[1], out);                                                                  \
    }
#define CALL_3(name, function)                                                                               \
    static enum status name(const double in[], double out[])                                                 \
    {                                                                                                        \
        return function(in[0], in[1], in[2], out);                                                           \
    }
#define CALL_4(name, function)                                                                               \
    static enum status name(const double in[], double out[])                                                 \
    {                                                                                                        \
        return function(in[0], in[1], in[2], in[3], out);                                                    \
    }

#endif
