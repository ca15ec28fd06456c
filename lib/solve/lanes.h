/* Four numbers at a time, in code that is made twice: for any processor, and for those that have
 * such vectors. Sums are by lanes and no product is fused with one, so that the digits are the same
 * whatever that is. */
#ifndef USI_SOLVE_LANES_H
#define USI_SOLVE_LANES_H

#include <stdbool.h>

enum { USI_LANES = 4 };
typedef double usi_four __attribute__((vector_size(32), aligned(8), may_alias));

/* What both make their code of. */
#define USI_TWICE static inline __attribute__((always_inline))

/* Marks what is made for vectors; call it where usi_lanes_wide(). */
#ifdef __x86_64__
#define USI_WIDE __attribute__((target("avx2")))
#else
#define USI_WIDE
#endif

static inline bool usi_lanes_wide(void)
{
#ifdef __x86_64__
    return __builtin_cpu_supports("avx2") != 0;
#else
    return false;
#endif
}

#endif
