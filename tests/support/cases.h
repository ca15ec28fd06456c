/* The reference cases of tests/data/cases.json: read, and told as sections. */
#ifndef TESTS_SUPPORT_CASES_H
#define TESTS_SUPPORT_CASES_H

#include "support/support.h"

#include <jansson.h>

enum { CASES_CAP = 100, CASES_ALL = 44 };

/* The whole file, or NULL after saying why on stderr. */
json_t *cases_load(void);

/* The section of one case, heads that it gives as piezometers. */
us_section *cases_read(us_context *context, const json_t *one);

/* Runs `test` as a group of one test for each case, its state the case;
 * what main() is to return. */
int cases_run(const char *name, CMUnitTestFunction test);

/* Asserts the heads that a case gives, to within `tolerance` of the head
 * difference. */
void cases_check_heads(const json_t *one, const us_water_result *result, double tolerance);

double cases_number(const json_t *object, const char *key);
bool cases_has_number(const json_t *object, const char *key);

#endif
