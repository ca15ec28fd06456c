/* Watching a command at work: a line of progress, and Ctrl-C.
 *
 * Only what computes is watched. A signal that comes while a section is read or
 * a table is printed ends the tool as it ends any other; the library itself
 * holds signals back while it writes a file. */
#include <signal.h>
#include <string.h>
#include <sys/ioctl.h>
#include <time.h>
#include <unistd.h>

#include "command.h"

enum { LINE_ROOM = 120, SIGNALS = CLI_SIGNALS };

static const int watched_signals[SIGNALS] = {SIGINT, SIGTERM};

typedef struct watch {
    struct sigaction before[SIGNALS];
    struct timespec begun;
    bool active;
    bool shown; /* whether progress may be shown at all */
    int width;  /* of the line that stands there now */
} watch;

static watch watching;
/* The first signal that came, 0 for none, and when: all that the handler writes. */
static volatile sig_atomic_t stopped_by;
static volatile sig_atomic_t stopped_at_ms;

static sig_atomic_t clock_ms(void)
{
    enum { WRAP_S = 1000000, MS_PER_S = 1000, NS_PER_MS = 1000000 };
    struct timespec now = {0, 0};
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (sig_atomic_t)(now.tv_sec % WRAP_S * MS_PER_S + now.tv_nsec / NS_PER_MS);
}

/* The first signal is a request. A second one means it: the tool ends at once,
 * by that signal. But timeout(1) and the like send theirs twice in one go. */
static void note_signal(int number)
{
    enum { SAME_GO_MS = 200 };
    if (stopped_by == 0) {
        stopped_at_ms = clock_ms();
        stopped_by = number;
    } else if (clock_ms() - stopped_at_ms > SAME_GO_MS) {
        (void)signal(number, SIG_DFL);
        (void)raise(number); /* delivered when this handler returns */
    }
}

static double seconds_since(const struct timespec *then)
{
    struct timespec now = {0, 0};
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)(now.tv_sec - then->tv_sec) + 1e-9 * (double)(now.tv_nsec - then->tv_nsec);
}

static int terminal_columns(void)
{
    enum { USUAL = 80 };
    struct winsize size = {0};
    bool known = ioctl(STDERR_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0;
    return known && size.ws_col < LINE_ROOM ? size.ws_col : USUAL;
}

/* Puts `text` in place of the line that stands there. Blanks, not an escape
 * sequence, cover what is longer: they work on every terminal. */
static void rewrite(const char *text)
{
    int width = (int)strlen(text);
    int columns = terminal_columns() - 1; /* a full line would move the cursor on */
    width = width < columns ? width : columns;
    int blanks = watching.width > width ? watching.width - width : 0;
    (void)fprintf(stderr, "\r%.*s%*s\r%.*s", width, text, blanks, "", width, text);
    (void)fflush(stderr);
    watching.width = width;
}

static void show(const us_progress *progress)
{
    const double patience_s = 1.0;
    double seconds = seconds_since(&watching.begun);
    if (!watching.shown || seconds < patience_s) {
        return;
    }
    const double gibibyte = 1024.0 * 1024.0 * 1024.0;
    char text[LINE_ROOM];
    if (progress->bytes >= gibibyte) {
        (void)snprintf(text, sizeof text, "undersill: %s, %zu unknowns, about %.1f GiB (%.0f s)",
                       progress->stage, progress->unknowns, progress->bytes / gibibyte, seconds);
    } else if (progress->unknowns > 0) {
        (void)snprintf(text, sizeof text, "undersill: %s, %zu unknowns (%.0f s)", progress->stage,
                       progress->unknowns, seconds);
    } else {
        (void)snprintf(text, sizeof text, "undersill: %s (%.0f s)", progress->stage, seconds);
    }
    rewrite(text);
}

static bool watch_progress(const us_progress *progress, void *data)
{
    (void)data;
    if (!watching.active) {
        return true; /* the file that is written at the end */
    }
    if (stopped_by == 0) {
        show(progress);
    }
    return stopped_by == 0;
}

void cli_watch_begin(us_context *context, bool quiet)
{
    watching = (watch){.active = true, .shown = !quiet && isatty(STDERR_FILENO) == 1};
    (void)clock_gettime(CLOCK_MONOTONIC, &watching.begun);
    us_context_set_progress(context, watch_progress, NULL);
    struct sigaction action = {.sa_handler = note_signal, .sa_flags = SA_RESTART};
    (void)sigemptyset(&action.sa_mask);
    for (int i = 0; i < SIGNALS; i++) {
        bool known = sigaction(watched_signals[i], NULL, &watching.before[i]) == 0;
        /* What the caller had ignored (nohup, a job in the background) stays so. */
        if (known && watching.before[i].sa_handler != SIG_IGN) {
            (void)sigaction(watched_signals[i], &action, NULL);
        }
    }
}

/* The signal that came while a file was written, 0 for none. */
static volatile sig_atomic_t held;

static void hold_signal(int number)
{
    held = number;
}

void cli_watch_hold(struct sigaction before[CLI_SIGNALS])
{
    struct sigaction action = {.sa_handler = hold_signal, .sa_flags = SA_RESTART};
    (void)sigemptyset(&action.sa_mask);
    for (int i = 0; i < SIGNALS; i++) {
        before[i] = (struct sigaction){.sa_handler = SIG_IGN};
        bool known = sigaction(watched_signals[i], NULL, &before[i]) == 0;
        if (known && before[i].sa_handler != SIG_IGN) {
            (void)sigaction(watched_signals[i], &action, NULL);
        }
    }
}

void cli_watch_release(const struct sigaction before[CLI_SIGNALS])
{
    for (int i = 0; i < SIGNALS; i++) {
        (void)sigaction(watched_signals[i], &before[i], NULL);
    }
    if (held != 0) {
        (void)raise(held);
    }
}

bool cli_watch_end(void)
{
    if (!watching.active) {
        return false;
    }
    for (int i = 0; i < SIGNALS; i++) {
        (void)sigaction(watched_signals[i], &watching.before[i], NULL);
    }
    if (watching.width > 0) {
        rewrite("");
    }
    watching.active = false;
    return stopped_by != 0;
}

int cli_watch_leave(void)
{
    enum { SHELL_BASE = 128 };
    struct sigaction plain = {.sa_handler = SIG_DFL};
    (void)sigemptyset(&plain.sa_mask);
    (void)sigaction(stopped_by, &plain, NULL);
    (void)raise(stopped_by);
    return SHELL_BASE + stopped_by;
}
