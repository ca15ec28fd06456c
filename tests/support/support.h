/* What every cmocka program needs: the headers in the order cmocka wants, and
 * a comparison of doubles (cmocka 1.1.5 compares them as floats). */
#ifndef TESTS_SUPPORT_H
#define TESTS_SUPPORT_H

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "undersill/undersill.h"

/* Fails unless |actual - expected| <= max(relative * |expected|, absolute). */
#define assert_near(actual, expected, relative, absolute)                                          \
    support_assert_near((actual), (expected), (relative), (absolute), __FILE__, __LINE__)
void support_assert_near(double actual, double expected, double relative, double absolute,
                         const char *file, int line);

/* Reads a section from text; fails the test with its diagnostics when it is
 * refused. Free the section and the context. */
us_section *support_read(us_context *context, const char *text);

/* The same, with a context of its own that is gone again. */
us_section *support_section(const char *text);

/* True where some note of a section holds `part`. */
bool support_has_note(const us_section *section, const char *part);

/* Reads a section that must be refused with one error alone, at `key`, which holds
 * `message`. */
void support_check_refused(const char *text, const char *key, const char *message);

/* What us_section_explain() says of a section must hold `part`, or lack it. */
void support_check_told(const char *text, const char *part, bool expected);

/* Solves; fails the test with the diagnostics when that does not end in US_OK. */
us_solution *support_solve(us_context *context, const us_section *section, double accuracy);

/* A section that was read and solved in a context of its own. */
typedef struct support_solved {
    us_context *context;
    us_section *section;
    us_solution *solution;
    const us_water_result *water; /* the first case */
} support_solved;

/* Fails the test where the text is no section or does not reach the accuracy. */
support_solved support_solve_text(const char *text, double accuracy);
void support_release(support_solved *one);

/* True where some note of a solution holds `words`. */
bool support_says(const us_solution *solution, const char *words);

/* Prints the diagnostics of a context to stderr. */
void support_print_diagnostics(const us_context *context);

/* Switches to a locale with a decimal comma, made by the build (tests/locale);
 * fails the test where printf does not write one then. Switch back with
 * setlocale(LC_ALL, "C"). */
void support_switch_to_comma(void);

#endif
