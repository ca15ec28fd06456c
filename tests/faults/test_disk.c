/* Every call to the file system fails in turn while a result is written: in each
 * case the target holds the old content or the new one, nothing else is left in
 * its folder, and the one message names the file and the reason. */
#include "support/support.h"

#include <dirent.h>
#include <errno.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/file.h"
#include "faults/disk.h"

static const char section_text[] = "bed: {upstream: 11, downstream: 10}\n"
                                   "base: 6\n"
                                   "walls: [{name: wall, x: 0, top: 12, tip: 8}]\n"
                                   "soils: [{name: sand, kh: 1e-4}]\n"
                                   "water: [{upstream: 12, downstream: 10.5}]\n";

typedef struct fixture {
    us_context *context;
    char folder[64];
    char target[96];
    char input[96];
} fixture;

/* What stands at the target beforehand. */
typedef enum before { NOTHING, OLD_FILE, LINK_TO_OLD_FILE, DEVICE } before;

static void put(const char *path, const char *text)
{
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    assert_true(fputs(text, file) >= 0);
    assert_int_equal(fclose(file), 0);
}

static size_t count_entries(const char *path)
{
    DIR *folder = opendir(path);
    assert_non_null(folder);
    size_t count = 0;
    for (const struct dirent *entry; (entry = readdir(folder)) != NULL;) {
        count += strcmp(entry->d_name, ".") != 0 && strcmp(entry->d_name, "..") != 0;
    }
    assert_int_equal(closedir(folder), 0);
    return count;
}

static bool holds(const char *path, const char *text)
{
    char found[64] = "";
    FILE *file = fopen(path, "r");
    if (file == NULL) {
        return text == NULL;
    }
    size_t length = fread(found, 1, sizeof found - 1, file);
    (void)fclose(file);
    return text != NULL && length == strlen(text) && memcmp(found, text, length) == 0;
}

/* Removes the neighbours that could not be removed when nothing worked any more. */
static void sweep(const char *path)
{
    DIR *folder = opendir(path);
    assert_non_null(folder);
    for (const struct dirent *entry; (entry = readdir(folder)) != NULL;) {
        if (strncmp(entry->d_name, ".undersill-", 11) == 0) {
            assert_int_equal(unlinkat(dirfd(folder), entry->d_name, 0), 0);
        }
    }
    assert_int_equal(closedir(folder), 0);
}

/* The folder afterwards: the input, and what the state wants. */
static size_t set_up(const fixture *with, before state)
{
    static const size_t entries[] = {
        [NOTHING] = 1, [OLD_FILE] = 2, [LINK_TO_OLD_FILE] = 3, [DEVICE] = 1};
    sweep(with->folder);
    char real[128];
    (void)snprintf(real, sizeof real, "%s/real", with->folder);
    (void)unlink(with->target);
    (void)unlink(real);
    if (state == OLD_FILE) {
        put(with->target, "old");
    } else if (state == LINK_TO_OLD_FILE) {
        put(real, "old");
        assert_int_equal(symlink("real", with->target), 0);
    }
    return entries[state];
}

static const char *target_of(const fixture *with, before state)
{
    return state == DEVICE ? "/dev/null" : with->target;
}

typedef struct tally {
    size_t points;
    size_t refused;
    size_t carried_on;
    size_t faults;
    size_t by_call[DISK_CALLS];
} tally;

static void complain(const fixture *with, disk_plan plan, tally *sum, const char *what)
{
    sum->faults++;
    print_error("call %zu (%s), error %d%s: %s\n", plan.at, disk_names[disk_failed()], plan.error,
                plan.and_later ? " and later" : "", what);
    support_print_diagnostics(with->context);
}

static bool says_why(const fixture *with, const char *path)
{
    if (us_context_diagnostic_count(with->context) != 1) {
        return false;
    }
    const us_diagnostic *said = us_context_diagnostic(with->context, 0);
    return said->file != NULL && strcmp(said->file, path) == 0 &&
           strstr(said->message, "cannot be written: ") == said->message;
}

/* What an interruption or a short count may not hinder. */
static bool must_carry_on(disk_plan plan)
{
    return (plan.error == DISK_SHORT || plan.error == EINTR) && !plan.and_later;
}

static void run_point(const fixture *with, before state, disk_plan plan, tally *sum)
{
    const char *path = target_of(with, state);
    size_t entries = set_up(with, state);
    disk_arm(plan);
    us_status status = usi_file_write(with->context, "brand new", 9, path, with->input);
    (void)disk_disarm();
    if (disk_failed() == DISK_CALLS) {
        return;
    }
    sum->points++;
    sum->by_call[disk_failed()]++;
    if (status == US_OK) {
        sum->carried_on++;
        if (!must_carry_on(plan) || us_context_diagnostic_count(with->context) > 0) {
            complain(with, plan, sum, "passed over");
        }
        if (state != DEVICE && !holds(path, "brand new")) {
            complain(with, plan, sum, "said to be written, and is not");
        }
        entries += state == NOTHING;
    } else {
        sum->refused++;
        if (must_carry_on(plan)) {
            complain(with, plan, sum, "given up");
        }
        if (status != US_ERROR_FILE || !says_why(with, path)) {
            complain(with, plan, sum, us_status_name(status));
        }
        if (state != DEVICE && !holds(path, state == NOTHING ? NULL : "old")) {
            complain(with, plan, sum, "the old content is gone");
        }
    }
    /* Where nothing works any more, the neighbour cannot be removed either. */
    size_t left = count_entries(with->folder);
    if (left != entries && !(plan.and_later && left == entries + 1)) {
        complain(with, plan, sum, "something is left in the folder");
    }
    us_context_clear(with->context);
}

static bool applies(int error, disk_call call)
{
    if (error == DISK_SHORT) {
        return call == DISK_WRITE || call == DISK_READ;
    }
    return error != EINTR || call == DISK_OPEN || call == DISK_READ || call == DISK_WRITE ||
           call == DISK_FSYNC || call == DISK_CLOSE;
}

/* Which call comes at `at`. */
static disk_call call_at(const fixture *with, before state, size_t at)
{
    (void)set_up(with, state);
    disk_arm((disk_plan){at, EIO, false});
    (void)usi_file_write(with->context, "brand new", 9, target_of(with, state), with->input);
    (void)disk_disarm();
    us_context_clear(with->context);
    return disk_failed();
}

static void run_state(const fixture *with, const char *name, before state)
{
    static const int errors[] = {EIO, ENOSPC, EACCES, EROFS, EDQUOT, EINTR, DISK_SHORT};
    tally sum = {0};
    size_t descriptors = count_entries("/proc/self/fd");
    for (size_t at = 1; call_at(with, state, at) != DISK_CALLS; at++) {
        disk_call call = disk_failed();
        for (size_t e = 0; e < sizeof errors / sizeof errors[0]; e++) {
            if (applies(errors[e], call)) {
                run_point(with, state, (disk_plan){at, errors[e], false}, &sum);
            }
        }
        run_point(with, state, (disk_plan){at, EIO, true}, &sum);
    }
    print_message("%-18s %3zu points: %zu refused, %zu carried on;", name, sum.points, sum.refused,
                  sum.carried_on);
    for (int call = 0; call < DISK_CALLS; call++) {
        if (sum.by_call[call] > 0) {
            print_message(" %s %zu", disk_names[call], sum.by_call[call]);
        }
    }
    print_message("\n");
    assert_int_equal(sum.faults, 0);
    assert_true(sum.points > 0);
    assert_int_equal(count_entries("/proc/self/fd"), descriptors);
    (void)set_up(with, NOTHING);
}

static void writing_fails(void **state)
{
    run_state(*state, "a new file", NOTHING);
    run_state(*state, "over an old file", OLD_FILE);
    run_state(*state, "through a link", LINK_TO_OLD_FILE);
    run_state(*state, "to a device", DEVICE);
    struct stat about;
    assert_int_equal(stat("/dev/null", &about), 0);
    assert_true(S_ISCHR(about.st_mode));
}

/* A neighbour of the same name, a hundred times over. */
static void no_name_is_free(void **state)
{
    const fixture *with = *state;
    (void)set_up(with, NOTHING);
    disk_arm((disk_plan){1, EEXIST, true});
    us_status status = usi_file_write(with->context, "new", 3, with->target, NULL);
    (void)disk_disarm();
    assert_int_equal(status, US_ERROR_FILE);
    assert_true(says_why(with, with->target));
    us_context_clear(with->context);
}

static void reading_fails(void **state)
{
    const fixture *with = *state;
    static const int errors[] = {EIO, EINTR, DISK_SHORT};
    size_t points = 0;
    size_t descriptors = count_entries("/proc/self/fd");
    for (size_t e = 0; e < sizeof errors / sizeof errors[0]; e++) {
        for (size_t at = 1; at == 1 || disk_failed() != DISK_CALLS; at++) {
            us_section *section = NULL;
            disk_arm((disk_plan){at, errors[e], false});
            us_status status = us_section_read_file(with->context, with->input, &section);
            (void)disk_disarm();
            /* What close() says of a file that was only read is of no interest. */
            bool goes_on =
                disk_failed() == DISK_CALLS || disk_failed() == DISK_CLOSE || errors[e] != EIO;
            if (errors[e] == EIO || applies(errors[e], disk_failed())) {
                points += disk_failed() != DISK_CALLS;
                assert_int_equal(status, goes_on ? US_OK : US_ERROR_INPUT);
                assert_int_equal(us_context_diagnostic_count(with->context), goes_on ? 0 : 1);
            }
            us_section_free(section);
            us_context_clear(with->context);
        }
    }
    print_message("read a file        %3zu points\n", points);
    assert_true(points >= 8);
    assert_int_equal(count_entries("/proc/self/fd"), descriptors);
}

static int enter(void **state)
{
    fixture *with = calloc(1, sizeof *with);
    assert_non_null(with);
    with->context = us_context_create();
    (void)snprintf(with->folder, sizeof with->folder, "/tmp/undersill-test-XXXXXX");
    assert_non_null(mkdtemp(with->folder));
    (void)snprintf(with->target, sizeof with->target, "%s/result", with->folder);
    (void)snprintf(with->input, sizeof with->input, "%s/input", with->folder);
    put(with->input, section_text);
    *state = with;
    return 0;
}

static int leave(void **state)
{
    fixture *with = *state;
    (void)set_up(with, NOTHING);
    int left = unlink(with->input) + rmdir(with->folder);
    us_context_free(with->context);
    free(with);
    return left;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(writing_fails, enter, leave),
        cmocka_unit_test_setup_teardown(no_name_is_free, enter, leave),
        cmocka_unit_test_setup_teardown(reading_fails, enter, leave),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
