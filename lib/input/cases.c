#include "input/cases.h"

#include <string.h>

#include "input/csv.h"
#include "input/schema.h"
#include "input/text.h"

enum { NAME_CAP = 120, CASE_COLUMNS = 5 };

typedef enum case_column {
    COLUMN_NAME,
    COLUMN_UPSTREAM,
    COLUMN_DOWNSTREAM,
    COLUMN_DISCHARGE,
    COLUMN_RETURN_PERIOD
} case_column;

static const char *const names[CASE_COLUMNS] = {"name", "upstream", "downstream", "discharge",
                                                "return_period"};

typedef struct case_reader {
    usi_reader reader; /* with the table as its source */
    usi_csv table;
    size_t columns[CASE_COLUMNS]; /* where each stands; table.columns: nowhere */
} case_reader;

/* The text of a cell without blanks around it, at its place. */
static usi_node node_of(const usi_csv_cell *cell)
{
    usi_node node = {.kind = USI_NODE_SCALAR,
                     .plain = true,
                     .line = cell->line,
                     .column = cell->column,
                     .text = cell->text,
                     .length = cell->length};
    while (node.length > 0 && node.text[0] == ' ') {
        node.text++;
        node.length--;
    }
    while (node.length > 0 && node.text[node.length - 1] == ' ') {
        node.length--;
    }
    return node;
}

static bool is_word(const usi_node *node, const char *word)
{
    return node->length == strlen(word) && memcmp(node->text, word, node->length) == 0;
}

static usi_mark mark_of(const case_reader *of, const usi_node *node, const char *key)
{
    usi_mark mark = usi_scalar_mark(node, key);
    mark.source = of->reader.source;
    return mark;
}

static void refuse(case_reader *of, const usi_node *node, const char *key, const char *hint,
                   const char *message)
{
    usi_mark mark = mark_of(of, node, key);
    usi_source_error(of->reader.context, of->reader.source, &mark, hint, "%s", message);
}

/* False after refusing a cell that cannot be quoted in a message, nor printed as a name. */
static bool check_printable(case_reader *of, const usi_node *node, const char *key)
{
    bool printable = usi_text_is_printable(node->text, node->length);
    if (!printable) {
        refuse(of, node, key, "write the cell on one line, in plain characters",
               "the cell has a line break, a tab or a control code in it");
    }
    return printable;
}

/* Finds the columns by the header. */
static void read_header(case_reader *of)
{
    static const char columns[] = "columns: name, upstream, downstream, discharge, return_period";
    for (size_t k = 0; k < CASE_COLUMNS; k++) {
        of->columns[k] = of->table.columns;
    }
    for (size_t i = 0; i < of->table.columns; i++) {
        usi_node node = node_of(usi_csv_at(&of->table, 0, i));
        char quoted[USI_QUOTE_ROOM];
        size_t k = 0;
        while (k < CASE_COLUMNS && !is_word(&node, names[k])) {
            k++;
        }
        if (!check_printable(of, &node, NULL)) {
            continue;
        }
        if (k == CASE_COLUMNS) {
            const char *message = usi_arena_print(of->reader.arena, "unknown column %s",
                                                  usi_scalar_quote(quoted, &node));
            refuse(of, &node, NULL, columns, message != NULL ? message : "unknown column");
        } else if (of->columns[k] < of->table.columns) {
            refuse(of, &node, names[k], "leave one of them out", "this column stands here twice");
        } else {
            of->columns[k] = i;
        }
    }
    for (size_t k = COLUMN_NAME; k <= COLUMN_DOWNSTREAM; k++) {
        if (of->columns[k] == of->table.columns) {
            usi_node node = node_of(usi_csv_at(&of->table, 0, 0));
            const char *message =
                usi_arena_print(of->reader.arena, "the table has no column `%s`", names[k]);
            refuse(of, &node, NULL, columns, message != NULL ? message : "a column is missing");
        }
    }
}

static void take_name(case_reader *of, const usi_node *node, usi_raw_text *name)
{
    name->at = mark_of(of, node, names[COLUMN_NAME]);
    if (node->length == 0) {
        refuse(of, node, names[COLUMN_NAME], NULL, "a name belongs here, but there is none");
    } else if (node->length > NAME_CAP) {
        refuse(of, node, names[COLUMN_NAME], NULL,
               "names and titles have at most 120 bytes; this one is longer");
    } else {
        name->text = usi_arena_text(of->reader.arena, node->text, node->length);
    }
}

static void take_number(case_reader *of, const usi_node *node, case_column column,
                        usi_quantity quantity, usi_raw_number *number)
{
    bool optional = column == COLUMN_DISCHARGE || column == COLUMN_RETURN_PERIOD;
    if (optional && node->length == 0) {
        return;
    }
    number->at = mark_of(of, node, names[column]);
    number->word =
        column != COLUMN_DISCHARGE && column != COLUMN_RETURN_PERIOD && is_word(node, "at_bed");
    number->given =
        number->word || usi_scalar_number(&of->reader, node, names[column], quantity, &number->si);
}

static void take_cell(case_reader *of, size_t row, case_column column, usi_raw_water *water)
{
    if (of->columns[column] == of->table.columns) {
        return;
    }
    usi_node node = node_of(usi_csv_at(&of->table, row, of->columns[column]));
    if (!check_printable(of, &node, names[column])) {
        return;
    }
    /* Numbers are read up to the NUL behind a scalar. */
    const char *text = usi_arena_text(of->reader.arena, node.text, node.length);
    node.text = text != NULL ? text : "";
    node.length = text != NULL ? node.length : 0;
    switch (column) {
    case COLUMN_NAME:
        take_name(of, &node, &water->name);
        break;
    case COLUMN_UPSTREAM:
        take_number(of, &node, column, USI_QUANTITY_LEVEL, &water->upstream);
        break;
    case COLUMN_DOWNSTREAM:
        take_number(of, &node, column, USI_QUANTITY_LEVEL, &water->downstream);
        break;
    case COLUMN_DISCHARGE:
        take_number(of, &node, column, USI_QUANTITY_DISCHARGE, &water->discharge);
        break;
    case COLUMN_RETURN_PERIOD:
        take_number(of, &node, column, USI_QUANTITY_YEARS, &water->return_period);
        break;
    }
}

/* False after an error where there are no rows, or too many cases with them. */
static bool check_count(case_reader *of, size_t before)
{
    size_t rows = of->table.rows - 1;
    usi_node node = node_of(usi_csv_at(&of->table, 0, 0));
    if (rows == 0) {
        refuse(of, &node, NULL, "give a row for each water case",
               "the table has no rows below its header");
        return false;
    }
    if (rows > USI_WATER_CAP - before) {
        const char *message =
            usi_arena_print(of->reader.arena,
                            "%zu rows are too many: with those of the section file there may be "
                            "at most %d water cases",
                            rows, USI_WATER_CAP);
        refuse(of, &node, NULL, "part the table", message != NULL ? message : "too many rows");
        return false;
    }
    return true;
}

void usi_cases_read(usi_reader *reader, const usi_source *table, usi_raw_list *waters)
{
    case_reader of = {.reader = *reader};
    of.reader.source = table;
    if (!usi_text_check(reader->context, table, USI_TEXT_TABLE) ||
        !usi_csv_read(reader->context, table, reader->arena, &of.table)) {
        return;
    }
    read_header(&of);
    if (!check_count(&of, waters->count)) {
        return;
    }
    size_t count = waters->count + of.table.rows - 1;
    usi_raw_water *all = usi_arena_array(reader->arena, count, sizeof *all);
    if (all == NULL) {
        return;
    }
    if (waters->count > 0) {
        memcpy(all, waters->items, waters->count * sizeof *all);
    }
    for (size_t row = 1; row < of.table.rows; row++) {
        usi_raw_water *water = &all[waters->count + row - 1];
        usi_node node = node_of(usi_csv_at(&of.table, row, 0));
        water->at = mark_of(&of, &node, NULL);
        for (size_t k = 0; k < CASE_COLUMNS; k++) {
            take_cell(&of, row, (case_column)k, water);
        }
    }
    waters->given = true;
    waters->items = all;
    waters->count = count;
}
