#include "model/check.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

enum { MESSAGE_ROOM = 1024, DIGITS = 7, FEW_DIGITS = 3 };

void usi_check_error(usi_check *check, const usi_mark *mark, const char *hint, const char *format,
                     ...)
{
    char message[MESSAGE_ROOM];
    va_list arguments;
    va_start(arguments, format);
    int written = vsnprintf(message, sizeof message, format, arguments);
    va_end(arguments);
    const usi_source *source = mark->source != NULL ? mark->source : &check->raw->source;
    usi_source_error(check->context, source, mark, hint, "%s", written < 0 ? format : message);
}

void usi_check_undermine(usi_check *check, const char *format, ...)
{
    char message[MESSAGE_ROOM];
    if (check->own->undermined != NULL) {
        return;
    }
    va_list arguments;
    va_start(arguments, format);
    int written = vsnprintf(message, sizeof message, format, arguments);
    va_end(arguments);
    if (written > 0 && message[0] >= 'a' && message[0] <= 'z') {
        message[0] = (char)(message[0] - 'a' + 'A');
    }
    const char *text = written < 0 ? format : message;
    check->own->undermined = usi_memory_text(check->context, text, strlen(text));
    check->failed = check->failed || check->own->undermined == NULL;
}

void usi_check_note(usi_check *check, const char *format, ...)
{
    us_section *section = check->section;
    char message[MESSAGE_ROOM];
    va_list arguments;
    va_start(arguments, format);
    int written = vsnprintf(message, sizeof message, format, arguments);
    va_end(arguments);
    const char *text = written < 0 ? format : message;
    char **notes =
        usi_memory_resize(check->context, section->notes, section->note_count + 1, sizeof *notes);
    if (notes == NULL) {
        check->failed = true;
        return;
    }
    section->notes = notes;
    notes[section->note_count] = usi_memory_text(check->context, text, strlen(text));
    if (notes[section->note_count] == NULL) {
        check->failed = true;
        return;
    }
    section->note_count++;
}

static usi_words words(double value_si, const usi_unit *unit, int digits)
{
    usi_words said;
    char number[USI_NUMBER_ROOM];
    (void)usi_number_write(number, value_si / unit->factor, digits);
    (void)snprintf(said.text, sizeof said.text, "%s %.12s", number, unit->name);
    return said;
}

usi_words usi_words_length(const us_section *section, double value_m)
{
    return words(value_m, section->units.length, DIGITS);
}

usi_words usi_words_conductivity(const us_section *section, double value_m_s)
{
    return words(value_m_s, section->units.conductivity, DIGITS);
}

usi_words usi_words_roughly(const us_section *section, double value_m_s)
{
    return words(value_m_s, section->units.conductivity, FEW_DIGITS);
}

usi_words usi_words_grain(double size_m)
{
    return words(size_m, usi_unit_find("mm", 2), DIGITS);
}

usi_words usi_words_force(const us_section *section, double value_n_m)
{
    return words(value_n_m,
                 section->units.pounds ? usi_unit_find("lb/ft", 5) : usi_unit_find("kN/m", 4),
                 DIGITS);
}

usi_words usi_words_strength(const us_section *section, double value_pa)
{
    return words(value_pa,
                 section->units.pounds ? usi_unit_find("psf", 3) : usi_unit_find("kPa", 3), DIGITS);
}

usi_words usi_words_unit_weight(const us_section *section, double value_n_m3)
{
    return words(value_n_m3, section->units.unit_weight, DIGITS);
}

bool usi_check_has_wall(const usi_check *check, size_t index)
{
    const usi_raw_wall *wall = (const usi_raw_wall *)check->raw->walls.items + index;
    return wall->x.given && wall->top.given && wall->tip.given;
}

bool usi_check_has_side(const usi_raw_side *side)
{
    return side->at.line > 0 && side->x.given && side->kind.given;
}
