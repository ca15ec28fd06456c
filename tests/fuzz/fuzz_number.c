/* A number with its unit, as any key of a section file takes it. The first
 * byte picks what is asked for, the second the units of bare numbers. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/number.h"
#include "base/units.h"
#include "fuzz/target.h"
#include "input/scalar.h"
#include "input/text.h"

enum { LARGEST = 4096, BITS = 17 };

/* The C library reads the same number out of what was taken for one. */
static void require_plain(const char *text, const char *end)
{
    double ours = 0.0;
    const char *stop = usi_number_read(text, end, &ours);
    if (stop == NULL) {
        return;
    }
    require(stop > text && stop <= end, "a number ends within its text");
    char copy[LARGEST + 1];
    memcpy(copy, text, (size_t)(stop - text));
    copy[stop - text] = '\0';
    char *rest = NULL;
    double theirs = strtod(copy, &rest);
    require(*rest == '\0', "what was read is a number");
    require(ours == theirs, "it is the nearest double");
    char written[USI_NUMBER_ROOM];
    (void)usi_number_write(written, ours, BITS);
    if (isfinite(ours)) {
        double again = 0.0;
        const char *last = written + strlen(written);
        require(usi_number_read(written, last, &again) == last, "what was written can be read");
        require(again == ours, "it is the same again");
    }
}

static void require_scalar(us_context *context, usi_reader *reader, usi_quantity quantity)
{
    const usi_source *source = reader->source;
    usi_node node = {.kind = USI_NODE_SCALAR,
                     .line = 1,
                     .column = 1,
                     .plain = true,
                     .text = source->text,
                     .length = source->length};
    double si = NAN;
    bool read = usi_scalar_number(reader, &node, "key", quantity, &si);
    fuzz_require_messages(context, read ? US_OK : US_ERROR_INPUT);
    require(us_context_diagnostic_count(context) == (read ? 0 : 1), "one message a mistake");
    require(read == !isnan(si), "a number is given when it was read");
    require(!read || fabs(si) <= 1e6, "no quantity is beyond its range");
    bool positive = quantity != USI_QUANTITY_LEVEL && quantity != USI_QUANTITY_X;
    require(!read || !positive || si > 0.0, "what must be positive is");
}

static void try_number(const char *text, size_t length, uint8_t what, uint8_t units)
{
    us_context *context = us_context_create();
    require(context != NULL, "memory for a context");
    usi_arena arena = {.context = context};
    usi_source source = {"fuzz.yaml", text, length};
    usi_reader reader = {.context = context, .source = &source, .arena = &arena};
    bool feet = (units & 1U) != 0;
    reader.units.length = usi_unit_of(USI_DIMENSION_LENGTH, feet ? 4 : 0);
    reader.units.conductivity = usi_unit_of(USI_DIMENSION_SPEED, units % 26U);
    reader.units.unit_weight = usi_unit_of(USI_DIMENSION_UNIT_WEIGHT, units % 11U);
    require_scalar(context, &reader, (usi_quantity)(what % (USI_QUANTITY_FACTOR + 1)));
    usi_arena_clear(&arena);
    us_context_free(context);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    if (size < 2 || size - 2 > LARGEST) {
        return 0;
    }
    size_t length = size - 2;
    char *text = malloc(length + 1);
    require(text != NULL, "memory for a copy");
    memcpy(text, data + 2, length);
    text[length] = '\0';
    require_plain(text, text + length);
    /* The tree of a section file holds printable text only. */
    if (usi_text_is_printable(text, length)) {
        try_number(text, length, data[0], data[1]);
    }
    free(text);
    return 0;
}
