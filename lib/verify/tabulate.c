/* A verification as a table: what is shown of a row, and CSV. */
#include <math.h>
#include <string.h>

#include "base/buffer.h"
#include "base/number.h"
#include "output/forms.h"
#include "verify/verification.h"

static us_value scaled(us_value value, double factor)
{
    return (us_value){factor * value.value, factor * value.error, value.present};
}

usi_verify_shown usi_verify_show(const us_verification_row *row)
{
    const double kilo = 1e-3;
    bool force = strcmp(row->unit, "N/m") == 0;
    double factor = force ? kilo : 1.0;
    usi_verify_shown shown = {
        .expected = scaled(row->expected, factor),
        .computed = scaled(row->computed, factor),
        .lower = row->lower_m2_s,
        .upper = row->upper_m2_s,
        .unit = force ? "kN/m" : row->unit,
    };
    if (row->expected.present && row->computed.present) {
        shown.difference = (us_value){shown.computed.value - shown.expected.value,
                                      shown.computed.error + shown.expected.error, true};
    }
    return shown;
}

static void add_number(us_buffer *out, bool present, double value)
{
    enum { DIGITS = 9 };
    char text[USI_NUMBER_ROOM];
    usi_buffer_add_text(out, ",");
    if (present) {
        usi_buffer_add_text(out, usi_number_write(text, value == 0.0 ? 0.0 : value, DIGITS));
    }
}

static void add_cell(us_buffer *out, const char *text)
{
    usi_buffer_add_text(out, ",");
    usi_form_csv_cell(out, text);
}

static const char *state_of(const us_verification_row *row)
{
    if (row->accuracy <= 0.0) {
        return "not solved";
    }
    return row->converged ? "converged" : "not converged";
}

void usi_verify_csv(us_buffer *out, const us_verification *verification)
{
    usi_buffer_add_text(out, "name,quantity,place,unit,expected,computed,difference,error,"
                             "tolerance,lower,upper,pass,accuracy,converged,title,source,why\r\n");
    for (size_t i = 0; i < verification->count; i++) {
        const us_verification_row *row = &verification->rows[i];
        const usi_verify_shown shown = usi_verify_show(row);
        bool bounded = shown.upper > 0.0;
        usi_form_csv_cell(out, row->name);
        add_cell(out, row->quantity);
        add_cell(out, row->place);
        add_cell(out, shown.unit);
        add_number(out, shown.expected.present, shown.expected.value);
        add_number(out, shown.computed.present, shown.computed.value);
        add_number(out, shown.difference.present, shown.difference.value);
        add_number(out, shown.computed.present, shown.computed.error);
        add_number(out, shown.expected.present, shown.expected.error);
        add_number(out, bounded, shown.lower);
        add_number(out, bounded, shown.upper);
        add_cell(out, row->pass ? "pass" : "miss");
        add_number(out, row->accuracy > 0.0, row->accuracy);
        add_cell(out, state_of(row));
        add_cell(out, row->title);
        add_cell(out, row->source);
        add_cell(out, row->why);
        usi_buffer_add_text(out, "\r\n");
    }
}

us_status us_verification_tabulate(us_context *context, const us_verification *verification,
                                   us_format format, us_buffer **table)
{
    if (context == NULL || verification == NULL || table == NULL ||
        (format != US_FORMAT_TEXT && format != US_FORMAT_JSON && format != US_FORMAT_CSV)) {
        return US_ERROR_ARGUMENT;
    }
    us_buffer *out = usi_buffer_create(context);
    if (out == NULL) {
        return US_ERROR_MEMORY;
    }
    us_status status = US_OK;
    if (format == US_FORMAT_JSON) {
        status = usi_verify_json(context, out, verification);
    } else if (format == US_FORMAT_CSV) {
        usi_verify_csv(out, verification);
    } else {
        usi_verify_text(out, verification);
    }
    if (status != US_OK) {
        us_buffer_free(out);
        return status;
    }
    return usi_buffer_finish(out, table);
}
