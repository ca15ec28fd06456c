/* Memory of the tool as a process. It belongs to the process, so the library leaves it alone. */
#define _DEFAULT_SOURCE /* madvise, sbrk */

#include <malloc.h>
#include <stdint.h>
#include <stdlib.h>
#include <sys/mman.h>
#include <unistd.h>

#include "command.h"

/* Most runs live within AHEAD. Whatever they use beyond comes from the system as before. */
enum { AHEAD = 32 << 20, KEPT = 256 << 20, HUGE = 2 << 20, PAGE = 4096, PROBE = 256 << 10 };

/* From an address to the next one that is a multiple of `size`. */
static size_t up_to(uintptr_t address, size_t size)
{
    return (size - address % size) % size;
}

/* The first touch of every page interrupts the run, and solving takes and returns the same few
 * megabytes many times: freed memory is kept, and the first of it comes in huge pages where the
 * system has them, what lies before the first of these in one go. All of this is a wish; nothing
 * depends on it. */
void cli_heap_prepare(void)
{
    (void)mallopt(M_MMAP_THRESHOLD, AHEAD);
    (void)mallopt(M_TRIM_THRESHOLD, KEPT);
    (void)mallopt(M_TOP_PAD, AHEAD);
    (void)mallopt(M_ARENA_MAX, 1); /* a second thread takes of the same pages */
    char *probe = malloc(PROBE); /* more than what the heap has left: it grows by this and AHEAD */
    if (probe == NULL) {
        return;
    }
    char *first = probe + up_to((uintptr_t)probe, PAGE);
    char *huge = probe + up_to((uintptr_t)probe, HUGE);
    uintptr_t end = (uintptr_t)sbrk(0);
    if ((uintptr_t)huge < end && first < huge) {
        (void)madvise(huge, end - (uintptr_t)huge, MADV_HUGEPAGE);
        (void)madvise(first, (size_t)(huge - first), MADV_POPULATE_WRITE);
    }
    free(probe);
}
