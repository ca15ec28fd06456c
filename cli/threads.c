/* How many threads a command may use. */
#include <unistd.h>

#include "command.h"

size_t cli_count_threads(const cli_options *options)
{
    enum { MOST_THREADS = 256 };
    if (options->threads > 0) {
        return options->threads;
    }
    long processors = sysconf(_SC_NPROCESSORS_ONLN);
    if (processors < 1) {
        return 1;
    }
    return processors < MOST_THREADS ? (size_t)processors : MOST_THREADS;
}
