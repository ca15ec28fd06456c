/* Pictures as SVG and PDF: what their bytes promise, and what happens when there
 * is no room for them. */
#include "support/support.h"

#include "base/context.h"

static const char text[] = "title: \"Wall & bed, \\u00e9tude <1>\"\n"
                           "bed: {upstream: 100, downstream: 100}\n"
                           "base: 91\n"
                           "walls: [{name: \"a<b & c>d\", x: 0, top: 101, tip: 96}]\n"
                           "soils: [{name: sand, kh: 1e-5, unit_weight: 20}]\n"
                           "water:\n"
                           "  - {name: flood, upstream: 103, downstream: 101}\n"
                           "  - {name: \"still <&>\", upstream: 103, downstream: 103}\n";

typedef struct fixture {
    us_context *context;
    us_section *section;
    us_solution *solution;
} fixture;

/* The linker puts this in the place of usi_memory_resize(): growing a buffer
 * fails once `growths_left` has come down to 0; below 0 it never fails. */
static int growths_left = -1;

void *__real_usi_memory_resize(us_context *context, void *block, size_t count, size_t size);
void *__wrap_usi_memory_resize(us_context *context, void *block, size_t count, size_t size);

void *__wrap_usi_memory_resize(us_context *context, void *block, size_t count, size_t size)
{
    if (growths_left == 0 && size == 2) { /* pairs of bytes: a buffer, not the scene */
        usi_context_report(context, US_ERROR, NULL, NULL, "out of memory, for a test");
        return NULL;
    }
    growths_left -= growths_left > 0 && size == 2;
    return __real_usi_memory_resize(context, block, count, size);
}

static int set_up(void **state)
{
    fixture *made = calloc(1, sizeof *made);
    growths_left = -1;
    made->context = us_context_create();
    made->section = support_read(made->context, text);
    made->solution = support_solve(made->context, made->section, 0.02);
    *state = made;
    return 0;
}

static int tear_down(void **state)
{
    fixture *made = *state;
    growths_left = -1;
    us_solution_free(made->solution);
    us_section_free(made->section);
    us_context_free(made->context);
    free(made);
    return 0;
}

static us_draw_options ask(us_draw_format format, size_t water)
{
    us_draw_options options = US_DRAW_OPTIONS_INIT;
    options.format = format;
    options.water = water;
    return options;
}

static us_buffer *draw(fixture *on, us_draw_format format, size_t water)
{
    us_draw_options options = ask(format, water);
    us_buffer *picture = NULL;
    us_status status = us_section_draw(on->context, on->section, on->solution, &options, &picture);
    if (status != US_OK) {
        support_print_diagnostics(on->context);
    }
    assert_int_equal(status, US_OK);
    return picture;
}

/* Where `part` stands in the bytes of a picture; NULL if it does not. */
static const char *find(const us_buffer *picture, const char *part)
{
    const char *bytes = us_buffer_data(picture);
    size_t wanted = strlen(part);
    for (size_t i = 0; i + wanted <= us_buffer_length(picture); i++) {
        if (memcmp(bytes + i, part, wanted) == 0) {
            return bytes + i;
        }
    }
    return NULL;
}

static void assert_begins_and_ends(const us_buffer *picture, const char *begin, const char *end)
{
    const char *bytes = us_buffer_data(picture);
    size_t length = us_buffer_length(picture);
    assert_true(length > strlen(begin) + strlen(end));
    assert_memory_equal(bytes, begin, strlen(begin));
    assert_memory_equal(bytes + length - strlen(end), end, strlen(end));
}

/* Height of the page in points, as the pixels of a PNG give it: at 1000 of them a
 * pixel is a unit of the page. */
static double page_height_pt(fixture *on)
{
    us_draw_options options = US_DRAW_OPTIONS_INIT;
    options.width_px = 1000;
    us_buffer *png = NULL;
    assert_int_equal(us_section_draw(on->context, on->section, on->solution, &options, &png),
                     US_OK);
    const unsigned char *bytes = us_buffer_data(png);
    double height = bytes[20] * 16777216.0 + bytes[21] * 65536.0 + bytes[22] * 256.0 + bytes[23];
    us_buffer_free(png);
    return 0.72 * height;
}

static void test_pdf_is_one_page_of_the_right_size(void **state)
{
    us_buffer *pdf = draw(*state, US_DRAW_PDF, 0);
    assert_begins_and_ends(pdf, "%PDF-1.5\n", "%%EOF\n");
    assert_non_null(find(pdf, "/Count 1\n"));
    const char *box = find(pdf, "/MediaBox [ 0 0 720 ");
    assert_non_null(box);
    double height_pt = strtod(box + strlen("/MediaBox [ 0 0 720 "), NULL);
    assert_near(height_pt, page_height_pt(*state), 1e-6, 0);
    us_buffer_free(pdf);
}

static void test_pdf_says_what_it_is_and_no_date(void **state)
{
    us_buffer *pdf = draw(*state, US_DRAW_PDF, 0);
    assert_non_null(find(pdf, "/Creator (Undersill " US_VERSION ")"));
    assert_non_null(find(pdf, "/Subject (Flow net, water case flood)"));
    assert_non_null(find(pdf, "/Keywords (Input SHA-256 "));
    /* 'Wall & bed, e' as UTF-16 */
    assert_non_null(find(pdf, "/Title <FEFF00570061006C006C00200026002000620065006400"
                              "2C002000E9"));
    assert_null(find(pdf, "Date"));
    us_buffer_free(pdf);
}

static void test_svg_has_its_size_and_words(void **state)
{
    us_buffer *svg = draw(*state, US_DRAW_SVG, 0);
    assert_begins_and_ends(svg, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg ", "</svg>\n");
    assert_non_null(find(svg, " width=\"720pt\" "));
    const char *height = find(svg, " height=\"");
    assert_non_null(height);
    assert_near(strtod(height + strlen(" height=\""), NULL), page_height_pt(*state), 1e-6, 0);
    assert_non_null(find(svg, "<title>Wall &amp; bed, \xc3\xa9tude &lt;1&gt;</title>"));
    assert_non_null(find(svg, "\na&lt;b &amp; c&gt;d, tip 96.00"));
    assert_non_null(find(svg, "input SHA-256 "));
    us_buffer_free(svg);
}

/* A picture without a title is called by what it shows. */
static void test_svg_without_a_title(void **state)
{
    fixture *on = *state;
    us_section *bare = support_read(on->context, strchr(text, '\n') + 1);
    us_draw_options options = ask(US_DRAW_SVG, 1);
    options.what = US_PICTURE_SECTION;
    us_buffer *svg = NULL;
    assert_int_equal(us_section_draw(on->context, bare, NULL, &options, &svg), US_OK);
    assert_non_null(find(svg, "<title>Section, water case still &lt;&amp;&gt;</title>"));
    us_buffer_free(svg);
    us_section_free(bare);
}

/* Cairo numbers the surfaces of a process: the second picture shows it. */
static void test_same_input_same_bytes(void **state)
{
    const us_draw_format formats[] = {US_DRAW_SVG, US_DRAW_PDF};
    for (size_t i = 0; i < 2; i++) {
        us_buffer *first = draw(*state, formats[i], 0);
        us_buffer *between = draw(*state, US_DRAW_SVG, 1);
        us_buffer *second = draw(*state, formats[i], 0);
        assert_int_equal(us_buffer_length(first), us_buffer_length(second));
        assert_memory_equal(us_buffer_data(first), us_buffer_data(second), us_buffer_length(first));
        us_buffer_free(first);
        us_buffer_free(between);
        us_buffer_free(second);
    }
}

/* Two pictures in one page of HTML must not take each other's letters. */
static void test_ids_are_a_pictures_own(void **state)
{
    us_buffer *flood = draw(*state, US_DRAW_SVG, 0);
    us_buffer *still = draw(*state, US_DRAW_SVG, 1);
    const char *id = find(flood, " id=\"us");
    assert_non_null(id);
    char prefix[] = " id=\"us00000000-";
    memcpy(prefix, id, sizeof prefix - 1);
    assert_int_equal(prefix[sizeof prefix - 2], '-');
    assert_null(find(still, prefix));
    us_buffer_free(flood);
    us_buffer_free(still);
}

static void test_width_is_a_matter_of_png(void **state)
{
    fixture *on = *state;
    us_draw_options options = ask(US_DRAW_PDF, 0);
    options.width_px = 0;
    us_buffer *picture = NULL;
    assert_int_equal(us_section_draw(on->context, on->section, on->solution, &options, &picture),
                     US_OK);
    us_buffer_free(picture);
    picture = NULL;
    options.format = (us_draw_format)3;
    assert_int_equal(us_section_draw(on->context, on->section, on->solution, &options, &picture),
                     US_ERROR_ARGUMENT);
    assert_null(picture);
}

/* The buffer refuses to grow for the n-th time, for every n there is. */
static void test_no_room_is_a_clean_error(void **state)
{
    fixture *on = *state;
    const us_draw_format formats[] = {US_DRAW_PNG, US_DRAW_SVG, US_DRAW_PDF};
    for (size_t i = 0; i < 3; i++) {
        us_draw_options options = ask(formats[i], 0);
        us_status status = US_ERROR_MEMORY;
        int failures = 0;
        for (int growths = 0; status != US_OK; growths++) {
            us_buffer *picture = NULL;
            us_context_clear(on->context);
            growths_left = growths;
            status = us_section_draw(on->context, on->section, on->solution, &options, &picture);
            failures += status != US_OK;
            if (status != US_OK) {
                assert_int_equal(status, US_ERROR_MEMORY);
                assert_null(picture);
                assert_int_equal(us_context_diagnostic_count(on->context), 1);
            }
            us_buffer_free(picture);
        }
        assert_true(failures >= 2);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_pdf_is_one_page_of_the_right_size, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_pdf_says_what_it_is_and_no_date, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_svg_has_its_size_and_words, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_svg_without_a_title, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_same_input_same_bytes, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_ids_are_a_pictures_own, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_width_is_a_matter_of_png, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_no_room_is_a_clean_error, set_up, tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
