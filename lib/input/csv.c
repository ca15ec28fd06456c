/* Two walks over the text: the first finds every mistake and counts, the second
 * fills cells whose number is known by then. */
#include "input/csv.h"

#include <string.h>

#include "input/text.h"

typedef struct walk {
    us_context *context;
    const usi_source *source;
    const char *at;
    const char *end;
    usi_mark mark; /* of `at` */
    size_t rows;
    size_t columns;
    bool ragged;
    char *text;          /* where the text of cells goes; NULL on the first walk */
    usi_csv_cell *cells; /* the same */
} walk;

static bool refuse(const walk *on, const usi_mark *mark, const char *hint, const char *message)
{
    usi_source_error(on->context, on->source, mark, hint, "row %zu: %s", on->rows + 1, message);
    return false;
}

static bool next_is(const walk *on, char byte)
{
    return on->at < on->end && *on->at == byte;
}

static void advance(walk *on)
{
    char byte = *on->at++;
    bool crlf = byte == '\r' && next_is(on, '\n');
    if ((byte == '\n' || byte == '\r') && !crlf) {
        on->mark.line++;
        on->mark.column = 1;
    } else if (on->at == on->end || ((unsigned char)*on->at & 0xC0U) != 0x80U) {
        on->mark.column++;
    }
}

/* Moves past a byte that belongs to the text of the cell. */
static void keep(walk *on)
{
    if (on->text != NULL) {
        *on->text++ = *on->at;
    }
    advance(on);
}

static bool at_cell_end(const walk *on)
{
    return on->at == on->end || strchr(",\n\r", *on->at) != NULL;
}

static bool read_plain(walk *on)
{
    while (!at_cell_end(on)) {
        if (*on->at == '"') {
            return refuse(on, &on->mark, "put the whole cell in quotes and double those inside it",
                          "a quote inside a cell without quotes");
        }
        keep(on);
    }
    return true;
}

static bool read_quoted(walk *on)
{
    usi_mark opening = on->mark;
    for (advance(on); on->at < on->end; keep(on)) {
        if (*on->at != '"') {
            continue;
        }
        advance(on);
        if (next_is(on, '"')) {
            continue;
        }
        return at_cell_end(on) ||
               refuse(on, &on->mark, "a quote inside a quoted cell is written twice",
                      "text goes on behind the closing quote");
    }
    return refuse(on, &opening, "close the cell with a quote", "this quote is never closed");
}

static bool read_cell(walk *on)
{
    usi_csv_cell cell = {on->text, 0, on->mark.line, on->mark.column};
    if (!(next_is(on, '"') ? read_quoted(on) : read_plain(on))) {
        return false;
    }
    if (on->text != NULL) {
        cell.length = (size_t)(on->text - cell.text);
        *on->text++ = '\0';
        *on->cells++ = cell;
    }
    return true;
}

static bool end_line(walk *on)
{
    if (next_is(on, '\r') && (on->at + 1 == on->end || on->at[1] != '\n')) {
        return refuse(on, &on->mark, "save the file with LF or CRLF line ends",
                      "a line ends with CR alone");
    }
    for (bool more = true; more && on->at < on->end; advance(on)) {
        more = *on->at == '\r';
    }
    return true;
}

/* Judges the row that just ended by the number of its cells. */
static bool count_row(walk *on, const usi_mark *start, size_t cells)
{
    if (on->rows == 0) {
        on->columns = cells;
        size_t length = cells == 1 ? (size_t)(on->at - on->source->text) : 0;
        bool semicolons = memchr(on->source->text, ';', length) != NULL;
        if (semicolons || memchr(on->source->text, '\t', length) != NULL) {
            usi_source_error(on->context, on->source, start, "save the table with commas",
                             "row 1: cells are parted by commas, but these seem to be by %s",
                             semicolons ? "semicolons" : "tabs");
            return false;
        }
    } else if (cells != on->columns) {
        on->ragged = true;
        usi_source_error(on->context, on->source, start,
                         "a cell that holds a comma needs quotes; an empty cell still needs its "
                         "comma",
                         "row %zu has %zu cell%s, the header has %zu", on->rows + 1, cells,
                         cells == 1 ? "" : "s", on->columns);
    }
    on->rows++;
    return true;
}

static bool read_row(walk *on)
{
    usi_mark start = on->mark;
    if (on->rows > USI_CSV_ROW_CAP) {
        return refuse(on, &start, "split the table",
                      "a table has at most 100,000 rows below its header");
    }
    size_t cells = 0;
    do {
        if (cells > 0) {
            advance(on); /* the comma */
        }
        if (cells == USI_CSV_COLUMN_CAP) {
            return refuse(on, &on->mark, NULL, "a row has at most 64 cells");
        }
        if (!read_cell(on)) {
            return false;
        }
        cells++;
    } while (next_is(on, ','));
    return end_line(on) && count_row(on, &start, cells);
}

static bool read_rows(walk *on)
{
    on->at = on->source->text;
    on->end = on->source->text + on->source->length;
    on->mark = (usi_mark){1, 1, NULL, NULL};
    on->rows = 0;
    while (on->at < on->end) {
        if (!read_row(on)) {
            return false;
        }
    }
    return !on->ragged;
}

bool usi_csv_read(us_context *context, const usi_source *source, usi_arena *arena, usi_csv *table)
{
    walk on = {.context = context, .source = source};
    if (!usi_text_check(context, source, USI_TEXT_TABLE) || !read_rows(&on)) {
        return false;
    }
    usi_csv_cell *cells = usi_arena_array(arena, on.rows * on.columns, sizeof *cells);
    /* A cell ends with its NUL where the text had a comma or a line end. */
    char *text = usi_arena_array(arena, source->length + 1, 1);
    if (cells == NULL || text == NULL) {
        return false;
    }
    on.cells = cells;
    on.text = text;
    (void)read_rows(&on);
    *table = (usi_csv){on.rows, on.columns, cells};
    return true;
}

const usi_csv_cell *usi_csv_at(const usi_csv *table, size_t row, size_t column)
{
    return &table->cells[row * table->columns + column];
}
