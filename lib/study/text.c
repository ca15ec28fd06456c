#include "study/text.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "base/number.h"
#include "model/scale.h"

enum { DIGITS = 4, LEVEL_DIGITS = 7, NOTE_ROOM = 1024 };

char *usi_text_plain(double value, char *text)
{
    char number[USI_NUMBER_ROOM];
    (void)snprintf(text, USI_TEXT_ROOM, "%s", usi_number_write(number, value, DIGITS));
    return text;
}

static char *with_unit(double value, int digits, const char *unit, char *text)
{
    char number[USI_NUMBER_ROOM];
    (void)snprintf(text, USI_TEXT_ROOM, "%s %s", usi_number_write(number, value, digits), unit);
    return text;
}

char *usi_text_length(const us_section *section, double length_m, char *text)
{
    usi_scale scale = usi_scale_of(section);
    return with_unit(length_m / scale.length_m, LEVEL_DIGITS, scale.length, text);
}

char *usi_text_flow(const us_section *section, double flow_m2_s, char *text)
{
    usi_scale scale = usi_scale_of(section);
    return with_unit(flow_m2_s / scale.flow_m2_s, DIGITS, scale.flow, text);
}

char *usi_text_force(const us_section *section, double force_n_m, char *text)
{
    usi_scale scale = usi_scale_of(section);
    return with_unit(force_n_m / scale.force_n_m, DIGITS, scale.force, text);
}

char *usi_text_pressure(const us_section *section, double pressure_pa, char *text)
{
    usi_scale scale = usi_scale_of(section);
    return with_unit(pressure_pa / scale.pressure_pa, DIGITS, scale.pressure, text);
}

us_status usi_note_append(us_context *context, usi_note_list list, const char *format,
                          va_list arguments)
{
    char **notes = usi_memory_resize(context, *list.notes, *list.count + 1, sizeof *notes);
    if (notes == NULL) {
        return US_ERROR_MEMORY;
    }
    *list.notes = notes;
    char text[NOTE_ROOM];
    int length = vsnprintf(text, sizeof text, format, arguments);
    size_t used = length < 0 ? 0 : (size_t)length;
    used = used < sizeof text ? used : sizeof text - 1;
    notes[*list.count] = usi_memory_text(context, text, used);
    if (notes[*list.count] == NULL) {
        return US_ERROR_MEMORY;
    }
    (*list.count)++;
    return US_OK;
}

us_status usi_note_add(us_context *context, us_solution *solution, const char *format, ...)
{
    usi_note_list list = {&solution->notes, &solution->note_count};
    va_list arguments;
    va_start(arguments, format);
    us_status status = usi_note_append(context, list, format, arguments);
    va_end(arguments);
    return status;
}

us_status usi_note_once(us_context *context, us_solution *solution, const char *note)
{
    for (size_t n = 0; n < solution->note_count; n++) {
        if (strcmp(solution->notes[n], note) == 0) {
            return US_OK;
        }
    }
    return usi_note_add(context, solution, "%s", note);
}
