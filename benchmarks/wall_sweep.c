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

/* With the factor of all stitches and what their gaps become through it. */
static void find_prisms(const side *of, const double *square, const double *gaps, double *out)
{
    size_t count = of->count;
    double *four = wall_room(4 * count, sizeof *four);
    for (size_t k = 0; k < of->prism_count; k += 4) {
        size_t together = of->prism_count - k < 4 ? of->prism_count - k : 4;
        size_t reach = k + together < count ? k + together : count;
        memcpy(four, of->prisms + k * count, together * count * sizeof *four);
        usi_dense_forward_rows(square, reach, count, &(usi_dense_rows){together, count, four});
        for (size_t m = 0; m < together; m++) {
            size_t set = k + m < count ? k + m : count;
            out[k + m] = of->prisms_at_first[k + m] - usi_dense_dot(four + m * count, gaps, set);
        }
    }
    free(four);
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
    usi_dense_forward_rows(square, count, count, &(usi_dense_rows){of->sum_count + 1, count, rows});
    for (size_t s = 0; s <= of->sum_count; s++) {
        double sum = 0.0;
        double first = s > 0 ? of->at_first[s - 1] : 0.0;
        for (size_t k = 0; k <= count; k++) {
            out[s * width + k] = s > 0 ? first - sum : sum;
            sum += k < count ? rows[s * count + k] * rows[k] : 0.0;
        }
    }
    find_prisms(of, square, rows, out + (of->sum_count + 1) * width);
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
        usi_dense_forward_rows(rest, two, two, &(usi_dense_rows){rows_count, two, sums});
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

/* A wall as it is before some links change: what links then see of each other, and what a change
 * of each does. */
typedef struct sound {
    double leak; /* resistance of every link, 0 where all are tight */
    double *square;
    double *rows; /* gaps, then sums: one row each */
    double growth;
    double sums[SUMS_MOST];
} sound;

static sound tight(const side *of)
{
    size_t count = of->count;
    sound made = {.square = wall_room(count * count, sizeof(double)),
                  .rows = wall_room((of->sum_count + 1) * count, sizeof(double))};
    memcpy(made.square, usi_seam_response(of->seam), count * count * sizeof(double));
    memcpy(made.rows, of->gaps, count * sizeof(double));
    memcpy(made.rows + count, of->seen, of->sum_count * count * sizeof(double));
    memcpy(made.sums, of->at_first, of->sum_count * sizeof(double));
    return made;
}

/* Every link leaks: the inverse of what it was takes its place. */
static sound leaky(const side *of, double leak)
{
    size_t count = of->count;
    sound made = tight(of);
    double *factor = wall_room(count * count, sizeof *factor);
    double *halves = wall_room(count * count, sizeof *halves);
    made.leak = leak;
    memcpy(factor, made.square, count * count * sizeof *factor);
    for (size_t k = 0; k < count; k++) {
        factor[k * count + k] += leak;
        halves[k * count + k] = 1.0;
    }
    need(usi_dense_factor(factor, count, count, 1e-14));
    usi_dense_forward_rows(factor, count, count, &(usi_dense_rows){count, count, halves});
    usi_dense_forward_rows(factor, count, count,
                           &(usi_dense_rows){of->sum_count + 1, count, made.rows});
    made.growth = usi_dense_dot(made.rows, made.rows, count);
    for (size_t s = 0; s < of->sum_count; s++) {
        made.sums[s] -= usi_dense_dot(made.rows, made.rows + (s + 1) * count, count);
    }
    for (size_t s = 0; s <= of->sum_count; s++) {
        usi_dense_backward(factor, count, count, made.rows + s * count);
    }
    usi_dense_products(&(usi_dense_rows){count, count, halves}, count, made.square);
    free(factor);
    free(halves);
    return made;
}

static uint64_t next(uint64_t *random)
{
    *random = *random * 6364136223846793005ULL + 1442695040888963407ULL;
    return *random >> 33;
}

/* One state: energy growth and all sums. */
static double try_state(const side *of, const sound *wall, const size_t *set, size_t count,
                        uint64_t *random)
{
    double square[DEFECTS_MOST * DEFECTS_MOST];
    double flows[DEFECTS_MOST];
    double sign = wall->leak > 0.0 ? -1.0 : 1.0;
    for (size_t i = 0; i < count; i++) {
        const double *row = wall->square + set[i] * of->count;
        for (size_t j = 0; j <= i; j++) {
            square[i * DEFECTS_MOST + j] = sign * row[set[j]];
        }
        double slot = next(random) % 2 == 0 ? 0.0 : 1.0 + (double)i; /* open, or it leaks more */
        double change = slot < wall->leak ? 1.0 / (wall->leak - slot) : 1.0;
        square[i * DEFECTS_MOST + i] += wall->leak > 0.0 ? change : slot;
        flows[i] = wall->rows[set[i]];
    }
    need(usi_dense_factor(square, count, DEFECTS_MOST, 1e-14));
    usi_dense_forward(square, count, DEFECTS_MOST, 0, flows);
    usi_dense_backward(square, count, DEFECTS_MOST, flows);
    double total = wall->growth;
    for (size_t s = 0; s <= of->sum_count; s++) {
        const double *row = wall->rows + s * of->count;
        double sum = 0.0;
        for (size_t i = 0; i < count; i++) {
            sum += flows[i] * row[set[i]];
        }
        total += s == 0 ? sum : wall->sums[s - 1] - sum;
    }
    return total;
}

double wall_try_defects(const side *of)
{
    size_t set[DEFECTS_MOST];
    uint64_t random = 5;
    double total = 0.0;
    sound walls[LEAKS + 1] = {tight(of)};
    for (int k = 1; k <= LEAKS; k++) {
        walls[k] = leaky(of, 100.0 * pow(10.0, k));
    }
    for (int state = 0; state < STATES; state++) {
        size_t count = 1 + (size_t)next(&random) % DEFECTS_MOST;
        for (size_t i = 0; i < count; i++) {
            set[i] = (i * of->count + (size_t)next(&random) % (of->count - count)) / count;
        }
        total += try_state(of, &walls[next(&random) % (LEAKS + 1)], set, count, &random);
    }
    for (int k = 0; k <= LEAKS; k++) {
        free(walls[k].square);
        free(walls[k].rows);
    }
    return total;
}
