/* The strict reader of tables: what it takes, what it refuses and where, and
 * that it reads back whole every table the tool writes. */
#include "support/support.h"

#include "base/number.h"
#include "input/csv.h"

typedef struct scene {
    us_context *context;
    usi_arena arena;
    usi_csv table;
} scene;

static int enter(void **state)
{
    scene *made = calloc(1, sizeof *made);
    assert_non_null(made);
    made->context = us_context_create();
    assert_non_null(made->context);
    made->arena.context = made->context;
    *state = made;
    return 0;
}

static int leave(void **state)
{
    scene *made = *state;
    usi_arena_clear(&made->arena);
    us_context_free(made->context);
    free(made);
    return 0;
}

static bool read_bytes(scene *at, const char *bytes, size_t length)
{
    usi_source source = {"log.csv", bytes, length};
    us_context_clear(at->context);
    return usi_csv_read(at->context, &source, &at->arena, &at->table);
}

static void expect_cell(const scene *at, size_t row, size_t column, const char *text)
{
    const usi_csv_cell *cell = usi_csv_at(&at->table, row, column);
    assert_string_equal(cell->text, text);
    assert_int_equal(cell->length, strlen(text));
}

static void reads_rows_and_cells(void **state)
{
    scene *at = *state;
    const char *text = "sheet,note\n1,plain\n2,\n";
    assert_true(read_bytes(at, text, strlen(text)));
    assert_int_equal(at->table.rows, 3);
    assert_int_equal(at->table.columns, 2);
    expect_cell(at, 0, 0, "sheet");
    expect_cell(at, 0, 1, "note");
    expect_cell(at, 1, 0, "1");
    expect_cell(at, 1, 1, "plain");
    expect_cell(at, 2, 1, "");
    assert_int_equal(us_context_diagnostic_count(at->context), 0);
}

static void line_ends_are_lf_or_crlf_and_the_last_may_be_missing(void **state)
{
    scene *at = *state;
    static const char *const texts[] = {"a,b\n1,2\n", "a,b\r\n1,2\r\n", "a,b\n1,2", "a,b\r\n1,2"};
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        assert_true(read_bytes(at, texts[i], strlen(texts[i])));
        assert_int_equal(at->table.rows, 2);
        expect_cell(at, 1, 1, "2");
    }
}

/* RFC 4180, section 2, points 5 to 7. */
static void quoted_cells_hold_anything(void **state)
{
    scene *at = *state;
    const char *text = "\"a\",\"b, c\"\r\n\"say \"\"x\"\"\",\"two\r\nlines\"\r\n\"\",\"\"\"\"\r\n";
    assert_true(read_bytes(at, text, strlen(text)));
    assert_int_equal(at->table.rows, 3);
    expect_cell(at, 0, 0, "a");
    expect_cell(at, 0, 1, "b, c");
    expect_cell(at, 1, 0, "say \"x\"");
    expect_cell(at, 1, 1, "two\r\nlines");
    expect_cell(at, 2, 0, "");
    expect_cell(at, 2, 1, "\"");
}

static void spaces_belong_to_the_cell(void **state)
{
    scene *at = *state;
    assert_true(read_bytes(at, "a, b \n", 6));
    expect_cell(at, 0, 1, " b ");
}

static void cells_know_their_place_in_characters(void **state)
{
    scene *at = *state;
    const char *text = "a,b\n\"\xC3\xA4\nz\",x\n\xC3\xA9,y\n";
    assert_true(read_bytes(at, text, strlen(text)));
    const usi_csv_cell *quoted = usi_csv_at(&at->table, 1, 0);
    assert_true(quoted->line == 2 && quoted->column == 1);
    const usi_csv_cell *behind = usi_csv_at(&at->table, 1, 1);
    assert_true(behind->line == 3 && behind->column == 4);
    const usi_csv_cell *last = usi_csv_at(&at->table, 2, 1);
    assert_true(last->line == 4 && last->column == 3);
}

typedef struct refusal {
    const char *text;
    const char *message;
    int line;
    int column;
    size_t length; /* 0: up to the NUL */
} refusal;

static const refusal refusals[] = {
    {"", "the input is empty", 0, 0, 0},
    {"\xEF\xBB\xBF"
     "a,b\n",
     "the text begins with a byte order mark", 0, 0, 0},
    {"\xFF\xFE"
     "a\0,\0",
     "the text is UTF-16, not UTF-8", 0, 0, 6},
    {"a\0,\0b\0", "the text looks like UTF-16, not UTF-8", 0, 0, 6},
    {"a,b\n1,\0\n", "a zero byte: this is not a text file", 2, 3, 8},
    {"a,b\n\xE4,2\n", "this byte is not valid UTF-8", 2, 1, 0},
    {"a,b\n1,\x1B[2J\n", "control code U+001B is not accepted", 2, 3, 0},
    {"a,b\r1,2\r", "row 1: a line ends with CR alone", 1, 4, 0},
    {"a,b\n1,2\r", "row 2: a line ends with CR alone", 2, 4, 0},
    {"a,b\n1,\"2\n3,4\n", "row 2: this quote is never closed", 2, 3, 0},
    {"a,b\n1,2\"\n", "row 2: a quote inside a cell without quotes", 2, 4, 0},
    {"a,b\n1,\"2\" \n", "row 2: text goes on behind the closing quote", 2, 6, 0},
    {"a,b\n1\n", "row 2 has 1 cell, the header has 2", 2, 1, 0},
    {"a,b\n1,2,3\n", "row 2 has 3 cells, the header has 2", 2, 1, 0},
    {"a,b\n1,2\n\n", "row 3 has 1 cell, the header has 2", 3, 1, 0},
    {"\"a\nb\",c\n1\n", "row 2 has 1 cell, the header has 2", 3, 1, 0},
    {"a;b\n1;2\n", "row 1: cells are parted by commas, but these seem to be by semicolons", 1, 1,
     0},
    {"a\tb\n1\t2\n", "row 1: cells are parted by commas, but these seem to be by tabs", 1, 1, 0},
};

static void what_is_not_a_table_is_refused_by_name(void **state)
{
    scene *at = *state;
    for (size_t i = 0; i < sizeof refusals / sizeof refusals[0]; i++) {
        const refusal *wrong = &refusals[i];
        size_t length = wrong->length > 0 ? wrong->length : strlen(wrong->text);
        assert_false(read_bytes(at, wrong->text, length));
        assert_int_equal(us_context_diagnostic_count(at->context), 1);
        const us_diagnostic *said = us_context_diagnostic(at->context, 0);
        assert_string_equal(said->message, wrong->message);
        assert_int_equal(said->line, wrong->line);
        assert_int_equal(said->column, wrong->column);
    }
}

static void every_ragged_row_is_reported_in_one_run(void **state)
{
    scene *at = *state;
    const char *text = "a,b\n1\n2,3\n4,5,6\n";
    assert_false(read_bytes(at, text, strlen(text)));
    assert_int_equal(us_context_diagnostic_count(at->context), 2);
    assert_int_equal(us_context_diagnostic(at->context, 0)->line, 2);
    assert_int_equal(us_context_diagnostic(at->context, 1)->line, 4);
}

/* A header `a` and `rows` rows of one digit, without the last line end. */
static char *tall(size_t rows, size_t *length)
{
    char *text = malloc(2 * rows + 1);
    assert_non_null(text);
    for (size_t i = 0; i <= rows; i++) {
        text[2 * i] = i == 0 ? 'a' : '7';
        if (i < rows) {
            text[2 * i + 1] = '\n';
        }
    }
    *length = 2 * rows + 1;
    return text;
}

static void a_table_has_at_most_so_many_rows(void **state)
{
    scene *at = *state;
    size_t length = 0;
    char *text = tall(USI_CSV_ROW_CAP, &length);
    assert_true(read_bytes(at, text, length));
    assert_int_equal(at->table.rows, USI_CSV_ROW_CAP + 1);
    expect_cell(at, USI_CSV_ROW_CAP, 0, "7");
    free(text);
    text = tall(USI_CSV_ROW_CAP + 1, &length);
    assert_false(read_bytes(at, text, length));
    assert_int_equal(us_context_diagnostic_count(at->context), 1);
    assert_string_equal(us_context_diagnostic(at->context, 0)->message,
                        "row 100002: a table has at most 100,000 rows below its header");
    free(text);
}

static void a_row_has_at_most_so_many_cells(void **state)
{
    scene *at = *state;
    char text[USI_CSV_COLUMN_CAP + 1];
    memset(text, ',', sizeof text);
    assert_true(read_bytes(at, text, USI_CSV_COLUMN_CAP - 1));
    assert_int_equal(at->table.columns, USI_CSV_COLUMN_CAP);
    assert_false(read_bytes(at, text, USI_CSV_COLUMN_CAP));
    assert_string_equal(us_context_diagnostic(at->context, 0)->message,
                        "row 1: a row has at most 64 cells");
}

static void a_table_has_at_most_so_many_bytes(void **state)
{
    enum { CAP = 1 << 25 };
    scene *at = *state;
    char *text = malloc(CAP + 1);
    assert_non_null(text);
    memset(text, 'x', CAP + 1);
    assert_true(read_bytes(at, text, CAP));
    assert_false(read_bytes(at, text, CAP + 1));
    assert_string_equal(us_context_diagnostic(at->context, 0)->message,
                        "a table has at most 32 MiB; this one is longer");
    free(text);
}

/* Names as hostile as a section file may hold them. */
static const char *const HOSTILE = "title: '=HYPERLINK(\"x\"), the; first'\n"
                                   "bed: {upstream: 10, downstream: 10}\n"
                                   "base: 0\n"
                                   "walls:\n"
                                   "  - {name: 'a, \"b\"', x: 0, top: 11, tip: 6}\n"
                                   "soils:\n"
                                   "  - {name: '@sand''s', kh: 1e-4, kv: 1e-4, unit_weight: 20}\n"
                                   "piezometers:\n"
                                   "  - {name: '\"', at: [2, 4]}\n"
                                   "  - {name: ',', at: [3, 4]}\n"
                                   "  - {name: ' \xC3\xA4\xE6\xB0\xB4 ', at: [4, 4]}\n"
                                   "water:\n"
                                   "  - {name: '+1-2', upstream: 13, downstream: 11}\n"
                                   "  - {name: '-', upstream: 12, downstream: at_bed}\n";

static const char *const HOSTILE_NAMES[] = {"a, \"b\"",
                                            "'@sand's",
                                            "\"",
                                            ",",
                                            " \xC3\xA4\xE6\xB0\xB4 ",
                                            "'+1-2",
                                            "'-",
                                            "'=HYPERLINK(\"x\"), the; first"};

static us_buffer *tabulate(us_context *context, const char *text)
{
    us_section *section = support_read(context, text);
    us_solution *solution = support_solve(context, section, 0.05);
    us_buffer *written = NULL;
    assert_int_equal(us_solution_tabulate(context, solution, US_FORMAT_CSV, &written), US_OK);
    us_solution_free(solution);
    us_section_free(section);
    return written;
}

/* A table of the tool: its header, and numbers where numbers belong. */
static void expect_table_of_results(const scene *at)
{
    static const char *const header[] = {"water", "quantity", "place", "value",
                                         "error", "unit",     "note"};
    assert_int_equal(at->table.columns, 7);
    for (size_t i = 0; i < 7; i++) {
        expect_cell(at, 0, i, header[i]);
    }
    for (size_t row = 1; row < at->table.rows; row++) {
        for (size_t column = 3; column < 5; column++) {
            const usi_csv_cell *cell = usi_csv_at(&at->table, row, column);
            double value = 0.0;
            const char *end = cell->text + cell->length;
            assert_true(cell->length == 0 || usi_number_read(cell->text, end, &value) == end);
        }
    }
}

static void tables_of_the_tool_are_read_back(void **state)
{
    scene *at = *state;
    us_buffer *written = tabulate(at->context, HOSTILE);
    assert_true(read_bytes(at, us_buffer_data(written), us_buffer_length(written)));
    expect_table_of_results(at);
    for (size_t i = 0; i < sizeof HOSTILE_NAMES / sizeof HOSTILE_NAMES[0]; i++) {
        bool found = false;
        for (size_t cell = 0; cell < at->table.rows * at->table.columns; cell++) {
            found = found || strcmp(at->table.cells[cell].text, HOSTILE_NAMES[i]) == 0;
        }
        if (!found) {
            print_error("%s is not there\n", HOSTILE_NAMES[i]);
        }
        assert_true(found);
    }
    us_buffer_free(written);
}

int main(void)
{
#define IN_SCENE(test) cmocka_unit_test_setup_teardown(test, enter, leave)
    const struct CMUnitTest tests[] = {
        IN_SCENE(reads_rows_and_cells),
        IN_SCENE(line_ends_are_lf_or_crlf_and_the_last_may_be_missing),
        IN_SCENE(quoted_cells_hold_anything),
        IN_SCENE(spaces_belong_to_the_cell),
        IN_SCENE(cells_know_their_place_in_characters),
        IN_SCENE(what_is_not_a_table_is_refused_by_name),
        IN_SCENE(every_ragged_row_is_reported_in_one_run),
        IN_SCENE(a_table_has_at_most_so_many_rows),
        IN_SCENE(a_row_has_at_most_so_many_cells),
        IN_SCENE(a_table_has_at_most_so_many_bytes),
        IN_SCENE(tables_of_the_tool_are_read_back),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
