/* What becomes of a picture when memory fails inside cairo, or inside Pango and
 * what it stands on. Neither is made for it, which is why a drawing asks for the
 * memory beforehand: this counts, it does not judge. A child for each point, since
 * both keep fonts for the next picture and may end the process. */
#include "support/support.h"

#include <glib.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include "faults/shortage.h"

static const char text[] = "bed: {upstream: 11, downstream: 10}\n"
                           "base: 6\n"
                           "walls: [{name: wall, x: 0, top: 12, tip: 8}]\n"
                           "soils: [{name: sand, kh: 1e-4}]\n"
                           "water: [{upstream: 12, downstream: 10.5}]\n";

enum { SAME = 1, REFUSED, OTHER, HANG_SECONDS = 20 };

static GLogWriterOutput say_nothing(GLogLevelFlags level, const GLogField *fields, gsize count,
                                    gpointer data)
{
    (void)level;
    (void)fields;
    (void)count;
    (void)data;
    return G_LOG_WRITER_HANDLED;
}

static us_status draw(us_context *context, const us_section *section, us_buffer **picture)
{
    us_draw_options options = US_DRAW_OPTIONS_INIT;
    options.what = US_PICTURE_SECTION;
    return us_section_draw(context, section, NULL, &options, picture);
}

/* The test library would catch them and go on with the next test. */
static void let_signals_end(void)
{
    static const int numbers[] = {SIGSEGV, SIGABRT, SIGBUS, SIGFPE, SIGILL, SIGTRAP};
    for (size_t i = 0; i < sizeof numbers / sizeof numbers[0]; i++) {
        (void)signal(numbers[i], SIG_DFL);
    }
}

static int draw_short(shortage_plan plan, int calls_to)
{
    let_signals_end();
    (void)alarm(HANG_SECONDS);
    g_log_set_writer_func(say_nothing, NULL, NULL);
    us_context *context = us_context_create();
    us_section *section = support_read(context, text);
    us_buffer *picture = NULL;
    us_buffer *sound = NULL;
    if (freopen("/dev/null", "w", stderr) == NULL) {
        return OTHER;
    }
    shortage_arm(plan);
    us_status status = draw(context, section, &picture);
    size_t count = shortage_disarm();
    bool told = write(calls_to, &count, sizeof count) == (ssize_t)sizeof count;
    if (status != US_OK) {
        return REFUSED;
    }
    bool same =
        told && draw(context, section, &sound) == US_OK &&
        us_buffer_length(sound) == us_buffer_length(picture) &&
        memcmp(us_buffer_data(sound), us_buffer_data(picture), us_buffer_length(sound)) == 0;
    return same ? SAME : OTHER;
}

/* How a child that draws with this plan ended: SAME, REFUSED, OTHER as its exit
 * status, or a signal. The calls counted come back through a pipe. */
static int try_plan(shortage_plan plan, size_t *calls)
{
    int ends[2];
    assert_int_equal(pipe(ends), 0);
    (void)fflush(NULL);
    pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        _exit(draw_short(plan, ends[1]));
    }
    (void)close(ends[1]);
    if (read(ends[0], calls, sizeof *calls) != (ssize_t)sizeof *calls) {
        *calls = 0;
    }
    (void)close(ends[0]);
    int ended = 0;
    assert_int_equal(waitpid(child, &ended, 0), child);
    return ended;
}

static void survey(shortage_owner owner, size_t stride)
{
    size_t calls = 0;
    int ended = try_plan((shortage_plan){1U << owner, 0, false}, &calls);
    assert_true(WIFEXITED(ended));
    assert_int_equal(WEXITSTATUS(ended), SAME);
    size_t counts[OTHER + 1] = {0}; /* 0: ended by a signal */
    size_t tried = 0;
    for (size_t at = 1; at <= calls; at += stride) {
        size_t unused = 0;
        ended = try_plan((shortage_plan){1U << owner, at, false}, &unused);
        assert_false(WIFSIGNALED(ended) && WTERMSIG(ended) == SIGALRM);
        counts[WIFEXITED(ended) ? WEXITSTATUS(ended) : 0]++;
        tried++;
    }
    print_message("%s: %zu of %zu calls tried: %zu refused, %zu absorbed, %zu gave another "
                  "picture, %zu ended the process\n",
                  shortage_names[owner], tried, calls, counts[REFUSED], counts[SAME], counts[OTHER],
                  counts[0]);
}

static void cairo_runs_short(void **state)
{
    (void)state;
    survey(SHORTAGE_CAIRO, 5);
}

static void pango_runs_short(void **state)
{
    (void)state;
    survey(SHORTAGE_TEXT, 97);
}

int main(void)
{
    shortage_begin();
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(cairo_runs_short),
        cmocka_unit_test(pango_runs_short),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
