/* Tables as comma-separated text, by RFC 4180 and strictly: what a spreadsheet
 * would guess at is refused by name. */
#ifndef USI_INPUT_CSV_H
#define USI_INPUT_CSV_H

#include "base/arena.h"
#include "base/source.h"

enum { USI_CSV_ROW_CAP = 100000, USI_CSV_COLUMN_CAP = 64 };

typedef struct usi_csv_cell {
    const char *text; /* without its quotes, a NUL behind; may hold line ends */
    size_t length;
    int line; /* where it begins, from 1 */
    int column;
} usi_csv_cell;

typedef struct usi_csv {
    size_t rows;    /* at least 1: row 0 is the header */
    size_t columns; /* of every row */
    const usi_csv_cell *cells;
} usi_csv;

/* Reads a table of a header and at most USI_CSV_ROW_CAP rows of as many cells.
 * Lines end with LF or CRLF. False after the errors are reported: all rows that
 * are too short or too long, or the first place where quotes or line ends do
 * not add up; messages count rows as spreadsheets do, the header being row 1.
 * False too when memory is short (`arena->failed`). Cells live in `arena`. */
bool usi_csv_read(us_context *context, const usi_source *source, usi_arena *arena, usi_csv *table);

/* The cell of a row below `rows` in a column below `columns`. */
const usi_csv_cell *usi_csv_at(const usi_csv *table, size_t row, size_t column);

#endif
