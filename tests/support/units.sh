# units.sh - run the Check programs of a build and count their cases. Sourced, POSIX sh.
# shellcheck shell=sh disable=SC2034

# units_run BUILD [CTEST-OPTION...]: sets UNITS_GOOD and UNITS_BAD; shows the output of what failed.
# A Check program says how many cases it holds; a program without such a line counts as one.
units_run()
{
    units_build=$1
    shift
    ctest --test-dir "$units_build" --output-on-failure -j "$(nproc)" "$@" >"$units_build/unit.log" 2>&1
    # shellcheck disable=SC2046
    set -- $(awk '
        FILENAME ~ /LastTest/ && /Checks: [0-9]+, Failures: [0-9]+, Errors: [0-9]+/ {
            gsub(/[,%:]/, " ")
            checks += $3; bad += $5 + $7; counted++
        }
        FILENAME ~ /unit.log/ && / tests? failed out of / { bad_programs = $4; programs = $NF }
        END {
            if (bad < bad_programs) bad = bad_programs
            print checks + programs - counted - bad, bad + 0, programs + 0
        }' "$units_build/Testing/Temporary/LastTest.log" "$units_build/unit.log")
    UNITS_GOOD=$1
    UNITS_BAD=$2
    [ "$3" -gt 0 ] || UNITS_BAD=1
    [ "$UNITS_BAD" = 0 ] || grep -v ' Passed ' "$units_build/unit.log" | tail -n 80
    [ "$UNITS_BAD" = 0 ]
}
