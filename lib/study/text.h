/* Short texts with numbers in the units of the section file. */
#ifndef USI_STUDY_TEXT_H
#define USI_STUDY_TEXT_H

#include "study/solution.h"

enum { USI_TEXT_ROOM = 96 };

/* Each writes into `text` (USI_TEXT_ROOM bytes) and returns it. */
char *usi_text_length(const us_section *section, double length_m, char *text);
char *usi_text_flow(const us_section *section, double flow_m2_s, char *text);
char *usi_text_force(const us_section *section, double force_n_m, char *text);
char *usi_text_plain(double value, char *text);

/* Appends a formatted note to a solution. */
us_status usi_note_add(us_context *context, us_solution *solution, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

#endif
