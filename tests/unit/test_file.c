/* Buffers, and files written whole or not at all. */
#include "support/support.h"

#include <dirent.h>
#include <fcntl.h>
#include <pthread.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/buffer.h"
#include "base/file.h"

typedef struct scene {
    us_context *context;
    char folder[64];
    char home[1024];
} scene;

static int enter(void **state)
{
    scene *made = calloc(1, sizeof *made);
    assert_non_null(made);
    made->context = us_context_create();
    (void)snprintf(made->folder, sizeof made->folder, "/tmp/undersill-test-XXXXXX");
    assert_non_null(getcwd(made->home, sizeof made->home));
    assert_non_null(mkdtemp(made->folder));
    assert_int_equal(chdir(made->folder), 0);
    *state = made;
    return 0;
}

static size_t count_entries(void)
{
    DIR *folder = opendir(".");
    assert_non_null(folder);
    size_t count = 0;
    for (const struct dirent *entry; (entry = readdir(folder)) != NULL;) {
        count += strcmp(entry->d_name, ".") != 0 && strcmp(entry->d_name, "..") != 0;
    }
    closedir(folder);
    return count;
}

static int leave(void **state)
{
    static const char *const names[] = {"a", "b", "link", "pipe", "folder/a", "folder"};
    scene *made = *state;
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        (void)remove(names[i]);
    }
    size_t left = count_entries();
    int moved = chdir(made->home);
    int removed = rmdir(made->folder);
    us_context_free(made->context);
    free(made);
    return left == 0 && moved == 0 && removed == 0 ? 0 : -1;
}

static void put(const char *path, const char *text)
{
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    assert_true(fputs(text, file) >= 0);
    assert_int_equal(fclose(file), 0);
}

static void assert_content(const char *path, const char *expected)
{
    char text[256];
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    size_t length = fread(text, 1, sizeof text - 1, file);
    (void)fclose(file);
    text[length] = '\0';
    assert_string_equal(text, expected);
}

static us_status write_text(scene *made, const char *text, const char *path, const char *input)
{
    us_context_clear(made->context);
    return usi_file_write(made->context, text, strlen(text), path, input);
}

/* The one diagnostic names the path and says why. */
static void assert_refused(scene *made, us_status status, const char *path, const char *why)
{
    assert_int_equal(status, US_ERROR_FILE);
    assert_int_equal(us_context_diagnostic_count(made->context), 1);
    const us_diagnostic *said = us_context_diagnostic(made->context, 0);
    assert_string_equal(said->file, path);
    if (strstr(said->message, why) == NULL) {
        fail_msg("\"%s\" lacks \"%s\"", said->message, why);
    }
}

static void a_buffer_grows(void **state)
{
    scene *made = *state;
    us_buffer *buffer = usi_buffer_create(made->context);
    for (int i = 0; i < 1000; i++) {
        usi_buffer_print(buffer, "%d,%s;", i, "x");
        usi_buffer_add_text(buffer, "-");
        usi_buffer_add(buffer, "ab", 1);
    }
    us_buffer *done = NULL;
    assert_int_equal(usi_buffer_finish(buffer, &done), US_OK);
    assert_int_equal(us_buffer_length(done), 1000 * 5 + 10 + 2 * 90 + 3 * 900);
    assert_int_equal(strlen(us_buffer_data(done)), us_buffer_length(done));
    assert_memory_equal(us_buffer_data(done), "0,x;-a1,x;-a", 12);
    us_buffer_free(done);
}

static void a_buffer_that_failed_says_so(void **state)
{
    scene *made = *state;
    us_buffer *buffer = usi_buffer_create(made->context);
    usi_buffer_add(buffer, "a", SIZE_MAX / 2); /* cannot be had, so "a" is never read past */
    usi_buffer_add_text(buffer, "more");
    us_buffer *done = NULL;
    assert_int_equal(usi_buffer_finish(buffer, &done), US_ERROR_MEMORY);
    assert_null(done);
    assert_int_equal(us_context_diagnostic_count(made->context), 1);
}

static void a_new_file_is_written(void **state)
{
    scene *made = *state;
    mode_t before = umask(027);
    assert_int_equal(write_text(made, "one", "a", NULL), US_OK);
    (void)umask(before);
    struct stat found;
    assert_int_equal(stat("a", &found), 0);
    assert_int_equal(found.st_mode & 0777, 0640);
    assert_content("a", "one");
    assert_int_equal(count_entries(), 1);
}

static void an_old_file_is_replaced_and_keeps_its_permissions(void **state)
{
    scene *made = *state;
    put("a", "a longer old text");
    assert_int_equal(chmod("a", 0604), 0);
    int reader = open("a", O_RDONLY);
    assert_int_equal(write_text(made, "new", "./a", NULL), US_OK);
    struct stat found;
    assert_int_equal(stat("a", &found), 0);
    assert_int_equal(found.st_mode & 0777, 0604);
    assert_content("a", "new");
    char text[32] = "";
    assert_int_equal(read(reader, text, sizeof text - 1), 17);
    assert_string_equal(text, "a longer old text"); /* who reads the old one is not disturbed */
    (void)close(reader);
    assert_int_equal(count_entries(), 1);
}

static void the_input_is_not_overwritten(void **state)
{
    scene *made = *state;
    put("a", "input");
    assert_int_equal(symlink("a", "link"), 0);
    assert_int_equal(link("a", "b"), 0);
    assert_refused(made, write_text(made, "x", "a", "./a"), "a", "input");
    assert_refused(made, write_text(made, "x", "link", "a"), "link", "input");
    assert_refused(made, write_text(made, "x", "b", "a"), "b", "input");
    assert_content("a", "input");
    assert_int_equal(count_entries(), 3);
}

static void a_link_counts_as_its_target(void **state)
{
    scene *made = *state;
    assert_int_equal(mkdir("folder", 0777), 0);
    put("folder/a", "old");
    assert_int_equal(symlink("folder/a", "link"), 0);
    assert_int_equal(write_text(made, "new", "link", NULL), US_OK);
    struct stat found;
    assert_int_equal(lstat("link", &found), 0);
    assert_true(S_ISLNK(found.st_mode));
    assert_content("folder/a", "new");
    assert_int_equal(unlink("folder/a"), 0);
    assert_refused(made, write_text(made, "x", "link", NULL), "link", "leads nowhere");
}

static void what_is_no_file_is_refused(void **state)
{
    scene *made = *state;
    assert_int_equal(mkdir("folder", 0777), 0);
    put("a", "old");
    assert_refused(made, write_text(made, "x", "folder", NULL), "folder", "folder");
    assert_refused(made, write_text(made, "x", "none/b", NULL), "none/b", "does not exist");
    assert_refused(made, write_text(made, "x", "a/b", NULL), "a/b", "no folder");
    assert_refused(made, write_text(made, "x", "b/", NULL), "b/", "does not exist");
    assert_int_equal(write_text(made, "x", "", NULL), US_ERROR_FILE);
    assert_int_equal(us_context_diagnostic_count(made->context), 1);
    assert_int_equal(count_entries(), 2);
}

static void a_full_device_is_reported(void **state)
{
    scene *made = *state;
    assert_refused(made, write_text(made, "x", "/dev/full", NULL), "/dev/full", "no space");
    struct stat found;
    assert_int_equal(stat("/dev/full", &found), 0);
    assert_true(S_ISCHR(found.st_mode));
}

static void a_device_is_a_stream(void **state)
{
    scene *made = *state;
    assert_int_equal(write_text(made, "x", "/dev/null", NULL), US_OK);
    struct stat found;
    assert_int_equal(stat("/dev/null", &found), 0);
    assert_true(S_ISCHR(found.st_mode));
}

static void *read_pipe(void *text)
{
    int reader = open("pipe", O_RDONLY);
    ssize_t length = read(reader, text, 31);
    (void)close(reader);
    return length == 5 ? text : NULL;
}

static void a_pipe_is_a_stream(void **state)
{
    scene *made = *state;
    char text[32] = "";
    assert_int_equal(mkfifo("pipe", 0600), 0);
    pthread_t thread;
    assert_int_equal(pthread_create(&thread, NULL, read_pipe, text), 0);
    assert_int_equal(write_text(made, "bytes", "pipe", NULL), US_OK);
    void *got = NULL;
    assert_int_equal(pthread_join(thread, &got), 0);
    assert_ptr_equal(got, text);
    assert_string_equal(text, "bytes");
}

/* The signal that comes with the size limit would end the process. */
static void a_file_over_the_size_limit_leaves_nothing(void **state)
{
    scene *made = *state;
    put("a", "old");
    struct rlimit before;
    assert_int_equal(getrlimit(RLIMIT_FSIZE, &before), 0);
    struct rlimit small = {.rlim_cur = 4, .rlim_max = before.rlim_max};
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &small), 0);
    us_status status = write_text(made, "five bytes and more", "a", NULL);
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &before), 0);
    assert_refused(made, status, "a", "size");
    assert_content("a", "old");
    assert_int_equal(count_entries(), 1);
}

static void an_unwritable_place_is_respected(void **state)
{
    scene *made = *state;
    if (geteuid() == 0) {
        /* Root may write anywhere but here. */
        assert_int_equal(write_text(made, "x", "/proc/undersill", NULL), US_ERROR_FILE);
        return;
    }
    put("a", "old");
    assert_int_equal(chmod("a", 0444), 0);
    assert_refused(made, write_text(made, "x", "a", NULL), "a", "permission");
    assert_content("a", "old");
}

static void the_contract_is_checked(void **state)
{
    scene *made = *state;
    assert_int_equal(us_buffer_write_file(made->context, NULL, "a", NULL), US_ERROR_ARGUMENT);
    us_buffer *buffer = NULL;
    assert_int_equal(usi_buffer_finish(usi_buffer_create(made->context), &buffer), US_OK);
    assert_int_equal(us_buffer_write_file(made->context, buffer, NULL, NULL), US_ERROR_ARGUMENT);
    assert_int_equal(us_buffer_write_file(made->context, buffer, "a", NULL), US_OK);
    assert_content("a", "");
    us_buffer_free(buffer);
    us_buffer_free(NULL);
}

#define SCENE(test) cmocka_unit_test_setup_teardown(test, enter, leave)

int main(void)
{
    const struct CMUnitTest tests[] = {
        SCENE(a_buffer_grows),
        SCENE(a_buffer_that_failed_says_so),
        SCENE(a_new_file_is_written),
        SCENE(an_old_file_is_replaced_and_keeps_its_permissions),
        SCENE(the_input_is_not_overwritten),
        SCENE(a_link_counts_as_its_target),
        SCENE(what_is_no_file_is_refused),
        SCENE(a_full_device_is_reported),
        SCENE(a_device_is_a_stream),
        SCENE(a_pipe_is_a_stream),
        SCENE(a_file_over_the_size_limit_leaves_nothing),
        SCENE(an_unwritable_place_is_respected),
        SCENE(the_contract_is_checked),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
