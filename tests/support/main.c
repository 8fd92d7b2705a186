#include "support/support.h"

#include <stdlib.h>

int main(void)
{
    SRunner *runner = srunner_create(test_suite());
    int failed;

    srunner_run_all(runner, CK_NORMAL);
    failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
