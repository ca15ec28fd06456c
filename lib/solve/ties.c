#include "solve/ties.h"

#include "base/memory.h"

int32_t *usi_ties_begin(us_context *context, size_t count)
{
    int32_t *ties = usi_memory_array(context, count, sizeof *ties);
    for (size_t i = 0; ties != NULL && i < count; i++) {
        ties[i] = (int32_t)i;
    }
    return ties;
}

int32_t usi_ties_find(int32_t *ties, int32_t item)
{
    while (ties[item] != item) {
        ties[item] = ties[ties[item]];
        item = ties[item];
    }
    return item;
}

void usi_ties_join(int32_t *ties, int32_t a, int32_t b)
{
    int32_t low = usi_ties_find(ties, a);
    int32_t high = usi_ties_find(ties, b);
    if (low > high) {
        int32_t swap = low;
        low = high;
        high = swap;
    }
    ties[high] = low;
}
