/* Pictures as files: what us_section_draw() promises of its bytes. */
#include "support/support.h"

#include "draw/picture.h"

static const char text[] = "title: \"Wall & bed, \\u00e9tude <1>\"\n"
                           "bed: {upstream: 100, downstream: 100}\n"
                           "base: 91\n"
                           "walls: [{name: wall, x: 0, top: 101, tip: 96}]\n"
                           "soils: [{name: sand, kh: 1e-5, unit_weight: 20}]\n"
                           "water:\n"
                           "  - {name: flood, upstream: 103, downstream: 101}\n"
                           "  - {name: still, upstream: 103, downstream: 103}\n";

typedef struct fixture {
    us_context *context;
    us_section *section;
    us_solution *solution;
} fixture;

static int set_up(void **state)
{
    fixture *made = calloc(1, sizeof *made);
    made->context = us_context_create();
    made->section = support_read(made->context, text);
    made->solution = support_solve(made->context, made->section, 0.02);
    *state = made;
    return 0;
}

static int tear_down(void **state)
{
    fixture *made = *state;
    us_solution_free(made->solution);
    us_section_free(made->section);
    us_context_free(made->context);
    free(made);
    return 0;
}

static us_buffer *draw(fixture *on, us_picture what, int width_px)
{
    us_draw_options options = US_DRAW_OPTIONS_INIT;
    options.what = what;
    options.width_px = width_px;
    us_buffer *png = NULL;
    us_status status = us_section_draw(
        on->context, on->section, what == US_PICTURE_NET ? on->solution : NULL, &options, &png);
    if (status != US_OK) {
        support_print_diagnostics(on->context);
    }
    assert_int_equal(status, US_OK);
    return png;
}

static uint32_t read_number(const unsigned char *bytes)
{
    return (uint32_t)bytes[0] << 24 | (uint32_t)bytes[1] << 16 | (uint32_t)bytes[2] << 8 | bytes[3];
}

/* The body of the first chunk of a kind that contains `part`; NULL if none. */
static const unsigned char *find_chunk(const us_buffer *png, const char *kind, const char *part)
{
    const unsigned char *bytes = us_buffer_data(png);
    size_t at = 8;
    while (at + 12 <= us_buffer_length(png)) {
        size_t length = read_number(bytes + at);
        const unsigned char *body = bytes + at + 8;
        size_t wanted = strlen(part);
        for (size_t i = 0; memcmp(bytes + at + 4, kind, 4) == 0 && i + wanted <= length; i++) {
            if (memcmp(body + i, part, wanted) == 0) {
                return body;
            }
        }
        at += length + 12;
    }
    return NULL;
}

static void test_width_is_what_was_asked(void **state)
{
    const int widths[] = {900, 1600, 6000};
    for (size_t i = 0; i < 3; i++) {
        us_buffer *png = draw(*state, US_PICTURE_SECTION, widths[i]);
        const unsigned char *header = find_chunk(png, "IHDR", "");
        assert_non_null(header);
        assert_int_equal(read_number(header), widths[i]);
        assert_true(read_number(header + 4) > (uint32_t)widths[i] / 4);
        const unsigned char *dots = find_chunk(png, "pHYs", "");
        assert_non_null(dots);
        assert_int_equal(read_number(dots), lround(widths[i] / 0.254));
        us_buffer_free(png);
    }
}

static void test_text_chunks(void **state)
{
    us_buffer *png = draw(*state, US_PICTURE_NET, 900);
    assert_non_null(find_chunk(png, "tEXt", "Undersill " US_VERSION));
    assert_non_null(find_chunk(png, "iTXt", "Wall & bed, \xc3\xa9tude <1>"));
    /* SHA-256 of the text above is a matter of the reader; 64 digits are ours. */
    const unsigned char *digest = find_chunk(png, "tEXt", "Input SHA-256");
    assert_non_null(digest);
    for (size_t i = 0; i < 64; i++) {
        assert_non_null(strchr("0123456789abcdef", digest[sizeof "Input SHA-256" + i]));
    }
    assert_null(find_chunk(png, "tIME", ""));
    us_buffer_free(png);
}

static void test_same_input_same_bytes(void **state)
{
    us_buffer *first = draw(*state, US_PICTURE_NET, 900);
    us_buffer *second = draw(*state, US_PICTURE_NET, 900);
    assert_int_equal(us_buffer_length(first), us_buffer_length(second));
    assert_memory_equal(us_buffer_data(first), us_buffer_data(second), us_buffer_length(first));
    us_buffer_free(first);
    us_buffer_free(second);
}

static void test_net_and_section_differ(void **state)
{
    us_buffer *net = draw(*state, US_PICTURE_NET, 900);
    us_buffer *section = draw(*state, US_PICTURE_SECTION, 900);
    assert_true(us_buffer_length(net) > us_buffer_length(section));
    us_buffer_free(net);
    us_buffer_free(section);
}

static void expect_refusal(fixture *on, const us_draw_options *options, const us_solution *solution)
{
    us_buffer *png = NULL;
    us_status status = us_section_draw(on->context, on->section, solution, options, &png);
    assert_int_equal(status, US_ERROR_ARGUMENT);
    assert_null(png);
}

static void test_bad_requests_are_refused(void **state)
{
    fixture *on = *state;
    us_draw_options options = US_DRAW_OPTIONS_INIT;
    options.width_px = 899;
    expect_refusal(on, &options, on->solution);
    options.width_px = 6001;
    expect_refusal(on, &options, on->solution);
    options.width_px = 1600;
    options.water = 2;
    expect_refusal(on, &options, on->solution);
    options.water = 0;
    expect_refusal(on, &options, NULL);
    options.size = 1;
    expect_refusal(on, &options, on->solution);
    us_draw_options other = US_DRAW_OPTIONS_INIT;
    other.what = (us_picture)7;
    expect_refusal(on, &other, on->solution);
    assert_int_equal(us_section_draw(on->context, on->section, on->solution, NULL, NULL),
                     US_ERROR_ARGUMENT);
    assert_true(us_context_diagnostic_count(on->context) >= 6);
}

static void test_defaults_draw_a_net(void **state)
{
    fixture *on = *state;
    us_buffer *png = NULL;
    assert_int_equal(us_section_draw(on->context, on->section, on->solution, NULL, &png), US_OK);
    us_buffer *net = draw(on, US_PICTURE_NET, 1600);
    assert_int_equal(us_buffer_length(png), us_buffer_length(net));
    us_buffer_free(png);
    us_buffer_free(net);
}

/* No section is so tall, at the widths that are allowed, that this is reached: it
 * stands between a later width, or a longer key, and the memory of the machine. */
static void test_too_many_pixels_are_refused(void **state)
{
    fixture *on = *state;
    const usi_words words = {"title", "subject", "digest"};
    static const double heights[] = {2000.0, 1e12};
    for (size_t i = 0; i < sizeof heights / sizeof heights[0]; i++) {
        us_context_clear(on->context);
        usi_scene scene;
        assert_int_equal(usi_scene_start(on->context, &scene), US_OK);
        scene.view.page_height = heights[i];
        us_buffer *png = NULL;
        assert_int_equal(usi_png_write(&scene, &words, 10001, &png), US_ERROR_INPUT);
        assert_null(png);
        assert_int_equal(us_context_diagnostic_count(on->context), 1);
        const char *message = us_context_diagnostic(on->context, 0)->message;
        assert_non_null(strstr(message, "200 million"));
        usi_scene_clear(&scene);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_width_is_what_was_asked, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_text_chunks, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_same_input_same_bytes, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_net_and_section_differ, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_bad_requests_are_refused, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_defaults_draw_a_net, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_too_many_pixels_are_refused, set_up, tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
