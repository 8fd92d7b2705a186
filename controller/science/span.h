/* span.h - an estimate that is honest about its spread: never one number alone. */
#ifndef SCIENCE_SPAN_H
#define SCIENCE_SPAN_H

struct span {
    double low;
    double best;
    double high; /* low <= best <= high */
};

#endif
