/* A table of water cases. */
#ifndef USI_INPUT_CASES_H
#define USI_INPUT_CASES_H

#include "input/scalar.h"

/* Reads the table and puts its rows behind the water cases there are (a list of
 * usi_raw_water). Every mistake is reported at its place in the table. `table` and the
 * reader's arena have to outlive the list. */
void usi_cases_read(usi_reader *reader, const usi_source *table, usi_raw_list *waters);

#endif
