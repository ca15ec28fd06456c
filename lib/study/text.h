/* Short texts with numbers in the units of the section file. */
#ifndef USI_STUDY_TEXT_H
#define USI_STUDY_TEXT_H

#include <stdarg.h>

#include "study/solution.h"

enum { USI_TEXT_ROOM = 96 };

/* Each writes into `text` (USI_TEXT_ROOM bytes) and returns it. */
char *usi_text_length(const us_section *section, double length_m, char *text);
char *usi_text_flow(const us_section *section, double flow_m2_s, char *text);
char *usi_text_force(const us_section *section, double force_n_m, char *text);
char *usi_text_pressure(const us_section *section, double pressure_pa, char *text);
char *usi_text_plain(double value, char *text);

/* Where notes are kept, for usi_note_append(). */
typedef struct usi_note_list {
    char ***notes;
    size_t *count;
} usi_note_list;

/* Appends a formatted note to a list, whose texts and array are its owner's. */
us_status usi_note_append(us_context *context, usi_note_list list, const char *format,
                          va_list arguments) __attribute__((format(printf, 3, 0)));

/* Appends a formatted note to a solution. */
us_status usi_note_add(us_context *context, us_solution *solution, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* Appends a note that the solution does not have yet. */
us_status usi_note_once(us_context *context, us_solution *solution, const char *note);

#endif
