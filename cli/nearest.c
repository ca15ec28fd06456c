/* What a mistyped word may have meant. */
#include <string.h>

#include "command.h"

enum { LONGEST = 32 };

static size_t least(size_t a, size_t b, size_t c)
{
    size_t smaller = a < b ? a : b;
    return smaller < c ? smaller : c;
}

/* Insertions, deletions, replacements and swaps of neighbours that turn one
 * word into the other; both at most LONGEST long. */
static size_t distance(const char *from, const char *to)
{
    size_t rows = strlen(from);
    size_t columns = strlen(to);
    size_t cost[LONGEST + 1][LONGEST + 1];
    for (size_t i = 0; i <= rows; i++) {
        for (size_t j = 0; j <= columns; j++) {
            if (i == 0 || j == 0) {
                cost[i][j] = i + j;
                continue;
            }
            size_t replaced = cost[i - 1][j - 1] + (from[i - 1] != to[j - 1]);
            cost[i][j] = least(cost[i - 1][j] + 1, cost[i][j - 1] + 1, replaced);
            if (i > 1 && j > 1 && from[i - 1] == to[j - 2] && from[i - 2] == to[j - 1]) {
                cost[i][j] = least(cost[i][j], cost[i - 2][j - 2] + 1, cost[i][j]);
            }
        }
    }
    return cost[rows][columns];
}

const char *cli_nearest(const char *typed, const char *const *known)
{
    size_t length = strlen(typed);
    if (length == 0 || length > LONGEST) {
        return NULL;
    }
    const char *best = NULL;
    size_t allowed = length / 3 + 1; /* a third of the letters may be wrong */
    for (; *known != NULL; known++) {
        if (strlen(*known) > LONGEST) {
            continue;
        }
        size_t steps = distance(typed, *known);
        if (steps <= allowed && steps < length) {
            best = *known;
            allowed = steps == 0 ? 0 : steps - 1;
        }
        if (steps == 0) {
            break;
        }
    }
    return best;
}
