/* support.h - what every Check suite here uses: one main, one runner. */
#ifndef TESTS_SUPPORT_H
#define TESTS_SUPPORT_H

#include <check.h>

/* Each test program defines this; support.c has main(). */
Suite *test_suite(void);

/* Absolute difference within tolerance, with both numbers in the message. */
#define ck_near(seen, expected, tolerance)                                                                   \
    do {                                                                                                     \
        double seen_ = (seen), expected_ = (expected), tolerance_ = (tolerance);                             \
        ck_assert_msg(seen_ - expected_ <= tolerance_ && expected_ - seen_ <= tolerance_,                    \
                      "%s is %.10g, expected %.10g within %.3g", #seen, seen_, expected_, tolerance_);       \
    } while (0)

#endif
