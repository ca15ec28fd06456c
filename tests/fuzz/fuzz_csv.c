/* Any bytes as a table: read or refused in words. And any cells written as the
 * tool writes tables are read back as they were, but for the apostrophe that
 * keeps a spreadsheet from taking a cell for a formula. */
#include <string.h>

#include "base/buffer.h"
#include "fuzz/target.h"
#include "input/csv.h"
#include "output/forms.h"

static bool guarded(const char *text)
{
    return text[0] != '\0' && strchr("=+-@\t\r", text[0]) != NULL;
}

static void require_sound(const usi_source *source, const usi_csv *table)
{
    require(table->rows >= 1 && table->columns >= 1, "a table has a header");
    for (size_t i = 0; i < table->rows * table->columns; i++) {
        const usi_csv_cell *cell = usi_csv_at(table, i / table->columns, i % table->columns);
        require(cell->length == strlen(cell->text), "a cell ends with its NUL");
        require(cell->length <= source->length, "a cell is no longer than the table");
        require(cell->line >= 1 && cell->column >= 1, "a cell has a place");
    }
}

static us_buffer *write_table(us_context *context, const usi_csv *table)
{
    us_buffer *out = usi_buffer_create(context);
    for (size_t row = 0; row < table->rows; row++) {
        for (size_t column = 0; column < table->columns; column++) {
            usi_buffer_add_text(out, column > 0 ? "," : "");
            usi_form_csv_cell(out, usi_csv_at(table, row, column)->text);
        }
        usi_buffer_add_text(out, "\r\n");
    }
    us_buffer *text = NULL;
    require(usi_buffer_finish(out, &text) == US_OK, "memory for a table");
    return text;
}

static void require_same(const usi_csv *first, const usi_csv *second)
{
    require(first->rows == second->rows, "as many rows");
    require(first->columns == second->columns, "as many columns");
    for (size_t i = 0; i < first->rows * first->columns; i++) {
        const char *before = usi_csv_at(first, i / first->columns, i % first->columns)->text;
        const char *after = usi_csv_at(second, i / first->columns, i % first->columns)->text;
        require(!guarded(before) || *after++ == '\'', "an apostrophe guards a formula");
        require(strcmp(before, after) == 0, "the same cell");
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    us_context *context = us_context_create();
    require(context != NULL, "memory for a context");
    usi_arena arena = {.context = context};
    usi_source source = {"fuzz.csv", (const char *)data, size};
    usi_csv table = {0};
    bool read = usi_csv_read(context, &source, &arena, &table);
    fuzz_require_messages(context, read ? US_OK : US_ERROR_INPUT);
    if (read) {
        require_sound(&source, &table);
        us_buffer *text = write_table(context, &table);
        usi_source again = {"again.csv", us_buffer_data(text), us_buffer_length(text)};
        usi_csv back = {0};
        require(usi_csv_read(context, &again, &arena, &back), "what was written is read");
        require_same(&table, &back);
        us_buffer_free(text);
    }
    usi_arena_clear(&arena);
    us_context_free(context);
    return 0;
}
