/* For programs: one object a row, nine digits, null for what is absent. */
#include <jansson.h>
#include <string.h>

#include "output/json_text.h"
#include "undersill/version.h"
#include "verify/verification.h"

/* A failed addition leaves the count above 0; looked at once, at the end. */
static void put(json_t *object, const char *key, json_t *value, size_t *failures)
{
    *failures += json_object_set_new(object, key, value) != 0;
}

static json_t *number(bool present, double value)
{
    return present ? json_real(value == 0.0 ? 0.0 : value) : json_null();
}

static json_t *row_of(const us_verification_row *row, size_t *failures)
{
    const usi_verify_shown shown = usi_verify_show(row);
    bool bounded = shown.upper > 0.0;
    json_t *object = json_object();
    put(object, "name", json_string(row->name), failures);
    put(object, "source", json_string(row->source), failures);
    put(object, "quantity", json_string(row->quantity), failures);
    put(object, "place", json_string(row->place), failures);
    put(object, "unit", json_string(shown.unit), failures);
    put(object, "expected", number(shown.expected.present, shown.expected.value), failures);
    put(object, "computed", number(shown.computed.present, shown.computed.value), failures);
    put(object, "difference", number(shown.difference.present, shown.difference.value), failures);
    put(object, "error", number(shown.computed.present, shown.computed.error), failures);
    put(object, "tolerance", number(shown.expected.present, shown.expected.error), failures);
    put(object, "lower", number(bounded, shown.lower), failures);
    put(object, "upper", number(bounded, shown.upper), failures);
    put(object, "pass", json_boolean(row->pass), failures);
    put(object, "accuracy", number(true, row->accuracy), failures);
    put(object, "converged", json_boolean(row->converged), failures);
    put(object, "why", json_string(row->why), failures);
    return object;
}

/* The section of a case once, not in each of its rows. */
static json_t *section_of(const us_verification_row *row, size_t *failures)
{
    json_t *object = json_object();
    put(object, "title", json_string(row->title), failures);
    put(object, "text", json_string(row->section), failures);
    return object;
}

static json_t *root_of(const us_verification *verification, size_t *failures)
{
    json_t *root = json_object();
    json_t *cases = json_array();
    json_t *sections = json_object();
    for (size_t i = 0; i < verification->count; i++) {
        const us_verification_row *row = &verification->rows[i];
        *failures += json_array_append_new(cases, row_of(row, failures)) != 0;
        if (i == 0 || strcmp(row->name, row[-1].name) != 0) {
            put(sections, row->name, section_of(row, failures), failures);
        }
    }
    put(root, "undersill", json_string(US_VERSION), failures);
    put(root, "cases", cases, failures);
    put(root, "misses", json_integer((json_int_t)us_verification_misses(verification)), failures);
    put(root, "sections", sections, failures);
    return root;
}

us_status usi_verify_json(us_context *context, us_buffer *out, const us_verification *verification)
{
    size_t failures = 0;
    json_t *root = root_of(verification, &failures);
    return usi_json_print(context, out, root, failures == 0);
}
