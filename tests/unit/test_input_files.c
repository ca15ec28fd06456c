/* Sections from files and streams, and what is no file to read. */
#include "support/support.h"

#include <sys/stat.h>
#include <unistd.h>

static const char section_text[] = "bed: {upstream: 2, downstream: 0}\nbase: -10\n"
                                   "walls: [{name: wall, x: 0, top: 2.5, tip: -5}]\n"
                                   "soils: [{name: sand, kh: 1e-5, kv: 1e-5}]\n"
                                   "water: [{name: flood, upstream: 3, downstream: 1}]\n";

static void check_file_refused(const char *path, const char *message)
{
    us_context *context = us_context_create();
    us_section *section = NULL;
    assert_int_equal(us_section_read_file(context, path, &section), US_ERROR_INPUT);
    assert_int_equal(us_context_diagnostic_count(context), 1);
    assert_non_null(strstr(us_context_diagnostic(context, 0)->message, message));
    assert_string_equal(us_context_diagnostic(context, 0)->file, path);
    us_context_free(context);
}

static void reads_files_and_refuses_what_is_none(void **state)
{
    (void)state;
    char folder[] = "/tmp/undersill-input-XXXXXX";
    assert_non_null(mkdtemp(folder));
    char path[64];
    (void)snprintf(path, sizeof path, "%s/a.yaml", folder);
    check_file_refused(path, "there is no such file");
    check_file_refused(folder, "is a folder");
    check_file_refused("/dev/zero", "not a regular file");
    assert_int_equal(mkfifo(path, 0600), 0);
    check_file_refused(path, "not a regular file");
    assert_int_equal(unlink(path), 0);
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    assert_true(fputs(section_text, file) >= 0);
    assert_int_equal(fclose(file), 0);
    us_context *context = us_context_create();
    us_section *section = NULL;
    assert_int_equal(us_section_read_file(context, path, &section), US_OK);
    us_section_free(section);
    file = fopen(path, "r");
    assert_non_null(file);
    section = NULL;
    assert_int_equal(us_section_read_stream(context, file, "-", &section), US_OK);
    us_section_free(section);
    assert_int_equal(fclose(file), 0);
    us_context_free(context);
    assert_int_equal(truncate(path, 1L << 31), 0);
    check_file_refused(path, "at most 1 MiB");
    assert_int_equal(unlink(path), 0);
    assert_int_equal(rmdir(folder), 0);
}

static void arguments_are_checked(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_section *section = NULL;
    us_buffer *text = NULL;
    assert_int_equal(us_section_read(NULL, "", 0, "", &section), US_ERROR_ARGUMENT);
    assert_int_equal(us_section_read(context, NULL, 0, "", &section), US_ERROR_ARGUMENT);
    assert_int_equal(us_section_read(context, "", 0, "", NULL), US_ERROR_ARGUMENT);
    assert_int_equal(us_section_read_file(context, NULL, &section), US_ERROR_ARGUMENT);
    assert_int_equal(us_section_read_stream(context, NULL, "", &section), US_ERROR_ARGUMENT);
    assert_int_equal(us_section_explain(context, NULL, &text), US_ERROR_ARGUMENT);
    assert_int_equal(us_context_diagnostic_count(context), 0);
    us_section_free(NULL);
    us_context_free(context);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reads_files_and_refuses_what_is_none),
        cmocka_unit_test(arguments_are_checked),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
