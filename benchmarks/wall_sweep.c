#include "wall_sweep.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

#include "solve/dense.h"

void *wall_room(size_t count, size_t size)
{
    void *made = calloc(count + 1, size);
    need(made != NULL);
    return made;
}

/* Rows of F in an order of the stitches. */
static double *permuted(const side *of, const size_t *order)
{
    double *square = wall_room(of->count * of->count, sizeof *square);
    const double *response = usi_seam_response(of->seam);
    for (size_t i = 0; i < of->count; i++) {
        for (size_t j = 0; j < of->count; j++) {
            square[i * of->count + j] = response[order[i] * of->count + order[j]];
        }
    }
    return square;
}

void wall_sweep(const side *of, const size_t *order, double *out)
{
    size_t count = of->count;
    size_t width = count + 1;
    double *square = permuted(of, order);
    double *rows = wall_room((of->sum_count + 1) * count, sizeof *rows);
    for (size_t k = 0; k < count; k++) {
        rows[k] = of->gaps[order[k]];
        for (size_t s = 0; s < of->sum_count; s++) {
            rows[(s + 1) * count + k] = of->seen[s * count + order[k]];
        }
    }
    need(usi_dense_factor(square, count, count, 1e-14));
    usi_dense_forward_rows(square, count, count, rows, of->sum_count + 1, count);
    for (size_t s = 0; s <= of->sum_count; s++) {
        double sum = 0.0;
        double first = s > 0 ? of->at_first[s - 1] : 0.0;
        for (size_t k = 0; k <= count; k++) {
            out[s * width + k] = s > 0 ? first - sum : sum;
            sum += k < count ? rows[s * count + k] * rows[k] : 0.0;
        }
    }
    free(rows);
    free(square);
}

/* Stitches left to eliminate, and sums so far. */
typedef struct remains {
    size_t count;
    size_t rows_count;
    double *square;
    double *rows;
    double *base;
} remains;

/* One more stitch of the first wall. */
static void eliminate(remains *of, size_t i)
{
    size_t count = of->count;
    double *square = of->square;
    double pivot = sqrt(square[i * count + i]);
    square[i * count + i] = pivot;
    for (size_t k = i + 1; k < count; k++) {
        square[k * count + i] /= pivot;
    }
    for (size_t s = of->rows_count; s-- > 0;) {
        of->rows[s * count + i] /= pivot;
    }
    for (size_t s = 0; s < of->rows_count; s++) {
        double *row = of->rows + s * count;
        of->base[s] += row[i] * of->rows[i];
        for (size_t k = i + 1; k < count; k++) {
            row[k] -= square[k * count + i] * row[i];
        }
    }
    for (size_t k = i + 1; k < count; k++) {
        double share = square[k * count + i];
        for (size_t m = i + 1; m <= k; m++) {
            square[k * count + m] -= share * square[m * count + i];
        }
    }
}

double wall_sweep_pairs(const side *of, const size_t *order, size_t one)
{
    size_t count = of->count;
    size_t two = count - one;
    size_t rows_count = of->sum_count + 1;
    double *square = permuted(of, order);
    double *rows = wall_room(rows_count * count, sizeof *rows);
    double *rest = wall_room(two * two, sizeof *rest);
    double *sums = wall_room(rows_count * two, sizeof *sums);
    double *base = wall_room(rows_count, sizeof *base);
    double total = 0.0;
    for (size_t k = 0; k < count; k++) {
        rows[k] = of->gaps[order[k]];
        for (size_t s = 0; s < of->sum_count; s++) {
            rows[(s + 1) * count + k] = of->seen[s * count + order[k]];
        }
    }
    for (size_t i = 0; i <= one; i++) {
        for (size_t a = 0; a < two; a++) {
            memcpy(rest + a * two, square + (one + a) * count + one, (a + 1) * sizeof *rest);
        }
        for (size_t s = 0; s < rows_count; s++) {
            memcpy(sums + s * two, rows + s * count + one, two * sizeof *sums);
        }
        need(usi_dense_factor(rest, two, two, 1e-14));
        usi_dense_forward_rows(rest, two, two, sums, rows_count, two);
        for (size_t s = 0; s < rows_count; s++) {
            double sum = base[s];
            for (size_t k = 0; k < two; k++) {
                sum += sums[s * two + k] * sums[k];
                total += sum;
            }
        }
        if (i == one) {
            break;
        }
        eliminate(&(remains){count, rows_count, square, rows, base}, i);
    }
    free(square);
    free(rows);
    free(rest);
    free(sums);
    free(base);
    return total;
}

double wall_try_defects(const side *of)
{
    double square[DEFECTS_MOST * DEFECTS_MOST];
    double flows[DEFECTS_MOST];
    size_t set[DEFECTS_MOST];
    uint64_t random = 5;
    double total = 0.0;
    const double *response = usi_seam_response(of->seam);
    for (int state = 0; state < STATES; state++) {
        random = random * 6364136223846793005ULL + 1442695040888963407ULL;
        size_t count = 1 + (size_t)(random >> 33) % DEFECTS_MOST;
        for (size_t i = 0; i < count; i++) {
            random = random * 6364136223846793005ULL + 1442695040888963407ULL;
            set[i] = (i * of->count + (size_t)(random >> 33) % (of->count - count)) / count;
            for (size_t j = 0; j <= i; j++) {
                square[i * DEFECTS_MOST + j] = response[set[i] * of->count + set[j]];
            }
            square[i * DEFECTS_MOST + i] += (random >> 20) % 2 == 0 ? 0.0 : 1.0 + (double)i;
            flows[i] = of->gaps[set[i]];
        }
        need(usi_dense_factor(square, count, DEFECTS_MOST, 1e-14));
        usi_dense_forward(square, count, DEFECTS_MOST, 0, flows);
        usi_dense_backward(square, count, DEFECTS_MOST, flows);
        for (size_t i = 0; i < count; i++) {
            total += flows[i] * of->gaps[set[i]];
            for (size_t s = 0; s < of->sum_count; s++) {
                total -= flows[i] * of->seen[s * of->count + set[i]];
            }
        }
    }
    return total;
}
