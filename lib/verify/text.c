/* For people: a block a case, a line a value, at most 80 columns. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/buffer.h"
#include "base/number.h"
#include "output/words.h"
#include "undersill/version.h"
#include "verify/verification.h"

enum { QUANTITY_WIDTH = 28, VALUE_WIDTH = 13, ERROR_WIDTH = 9, VALUE_DIGITS = 7 };

/* Two digits; an error is rounded up, so that the page states no less. */
static void add_small(us_buffer *out, bool present, double value, bool up)
{
    char text[USI_NUMBER_ROOM] = "-";
    if (present) {
        double step = value == 0.0 ? 1.0 : pow(10.0, floor(log10(fabs(value))) - 1.0);
        double rounded = up ? ceil(value / step - 1e-6) * step : value;
        (void)usi_number_write(text, rounded == 0.0 ? 0.0 : rounded, 2);
    }
    usi_words_pad(out, text, ERROR_WIDTH, 1);
}

static void add_value(us_buffer *out, us_value value)
{
    char text[USI_NUMBER_ROOM] = "none";
    if (value.present) {
        (void)usi_number_write(text, value.value == 0.0 ? 0.0 : value.value, VALUE_DIGITS);
    }
    usi_words_pad(out, text, VALUE_WIDTH, 1);
}

/* `flow, m^2/s`, `tip of toe, m`. */
static void name_quantity(const us_verification_row *row, const char *unit, char *text, size_t room)
{
    static const char *const names[][2] = {
        {"flow", "flow"},
        {"exit_gradient", "exit gradient"},
        {"exit_gradient.mean", "mean exit gradient"},
        {"uplift.force", "uplift"},
        {"wall.upstream_face_top", "upstream face of "},
        {"wall.tip", "tip of "},
        {"wall.downstream_face_top", "downstream face of "},
        {"piezometer.head", ""},
        {"check.piping", "piping factor"},
    };
    const char *said = row->quantity;
    for (size_t i = 0; i < USI_VERIFY_COUNT(names); i++) {
        said = strcmp(names[i][0], row->quantity) == 0 ? names[i][1] : said;
    }
    (void)snprintf(text, room, "%s%s%s%s", said, row->place, unit[0] != '\0' ? ", " : "", unit);
}

static void add_row(us_buffer *out, const us_verification_row *row)
{
    enum { ROOM = 200 };
    const usi_verify_shown shown = usi_verify_show(row);
    char text[ROOM];
    name_quantity(row, shown.unit, text, sizeof text);
    usi_buffer_add_text(out, "  ");
    usi_words_pad(out, text, QUANTITY_WIDTH, 0);
    if (usi_words_width(text) > QUANTITY_WIDTH) {
        usi_buffer_add_text(out, "\n  ");
        usi_words_pad(out, "", QUANTITY_WIDTH, 0);
    }
    add_value(out, shown.expected);
    add_value(out, shown.computed);
    add_small(out, shown.difference.present, shown.difference.value, false);
    add_small(out, shown.computed.present,
              shown.difference.present ? shown.difference.error : shown.computed.error, true);
    usi_buffer_add_text(out, row->pass ? "\n" : "  MISS\n");
    if (row->why[0] != '\0') {
        usi_words_wrap(out, "    ", row->why);
    }
}

static void add_case(us_buffer *out, const us_verification_row *row)
{
    enum { ROOM = 200 };
    char head[ROOM];
    (void)snprintf(head, sizeof head, "%s: %s", row->name, row->title);
    usi_buffer_add_text(out, "\n");
    usi_words_wrap(out, "", head);
    usi_words_wrap(out, "  ", row->source);
    if (row->accuracy <= 0.0) {
        usi_words_wrap(out, "  ", "NOT SOLVED");
    } else if (!row->converged) {
        usi_words_wrap(out, "  ",
                       "NOT CONVERGED: the accuracy was not reached; the errors "
                       "stated hold");
    }
}

void usi_verify_text(us_buffer *out, const us_verification *verification)
{
    size_t cases = 0;
    usi_buffer_add_text(out, "Undersill " US_VERSION ": verification\n\n");
    usi_words_pad(out, "", QUANTITY_WIDTH + 2, 0);
    usi_words_pad(out, "expected", VALUE_WIDTH, 1);
    usi_words_pad(out, "computed", VALUE_WIDTH, 1);
    usi_words_pad(out, "differs", ERROR_WIDTH, 1);
    usi_words_pad(out, "allowed", ERROR_WIDTH, 1);
    usi_buffer_add_text(out, "\n");
    for (size_t i = 0; i < verification->count; i++) {
        const us_verification_row *row = &verification->rows[i];
        if (i == 0 || strcmp(row->name, row[-1].name) != 0) {
            add_case(out, row);
            cases++;
        }
        add_row(out, row);
    }
    size_t misses = us_verification_misses(verification);
    usi_buffer_print(out, "\n%zu section%s, %zu value%s: ", cases, cases == 1 ? "" : "s",
                     verification->count, verification->count == 1 ? "" : "s");
    if (misses == 0) {
        usi_buffer_add_text(out, "all pass\n");
    } else {
        usi_buffer_print(out, "%zu MISSED\n", misses);
    }
}
