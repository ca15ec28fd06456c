/* For madvise(), which POSIX has not. */
#define _DEFAULT_SOURCE

#include "base/memory.h"

#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>

#include "base/context.h"

static void report_shortage(us_context *context, size_t count, size_t size)
{
    const double kilo = 1024.0;
    double kilobytes = ceil((double)count * (double)size / kilo);
    bool large = kilobytes >= 10.0 * kilo;
    usi_context_report(context, US_ERROR, NULL,
                       "free memory, or ask for less accuracy (--accuracy)",
                       "out of memory: %.0f %s more are needed",
                       large ? ceil(kilobytes / kilo) : kilobytes, large ? "MiB" : "KiB");
}

void usi_memory_advise(void *block, size_t bytes)
{
#ifdef MADV_HUGEPAGE
    enum { LARGE = 4 << 20, PAGE = 2 << 20 };
    size_t skipped = PAGE - (uintptr_t)block % PAGE;
    if (block != NULL && bytes >= LARGE) {
        /* Whether it is heard or not, all goes on. */
        (void)madvise((char *)block + skipped, (bytes - skipped) / PAGE * PAGE, MADV_HUGEPAGE);
    }
#else
    (void)block;
    (void)bytes;
#endif
}

void *usi_memory_array(us_context *context, size_t count, size_t size)
{
    void *block = calloc(count > 0 ? count : 1, size);
    if (block == NULL) {
        report_shortage(context, count, size);
    } else {
        usi_memory_advise(block, count * size);
    }
    return block;
}

void *usi_memory_resize(us_context *context, void *block, size_t count, size_t size)
{
    if (size != 0 && count > SIZE_MAX / size) {
        report_shortage(context, count, size);
        return NULL;
    }
    size_t bytes = count * size;
    void *resized = realloc(block, bytes > 0 ? bytes : 1);
    if (resized == NULL) {
        report_shortage(context, count, size);
    }
    return resized;
}

void *usi_memory_room(us_context *context, size_t count, size_t size)
{
    void *block = usi_memory_resize(context, NULL, count, size);
    if (block != NULL) {
        usi_memory_advise(block, count * size);
    }
    return block;
}

char *usi_memory_text(us_context *context, const char *text, size_t length)
{
    char *copy = usi_memory_array(context, length + 1, 1);
    if (copy != NULL) {
        memcpy(copy, text, length);
    }
    return copy;
}

us_status usi_memory_afford(us_context *context, size_t bytes)
{
    void *block = usi_memory_array(context, bytes, 1);
    free(block);
    return block != NULL ? US_OK : US_ERROR_MEMORY;
}
