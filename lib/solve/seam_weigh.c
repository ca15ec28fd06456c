/* Sums of values as stitches see them. */
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "solve/dense.h"
#include "solve/seam_parts.h"
#include "solve/substitute.h"

/* What weighing takes beside the factor. */
static us_status prepare_weights(us_context *context, usi_seam *seam)
{
    const usi_factor *factor = seam->factor;
    seam->row_of = usi_memory_array(context, factor->rows + 1, sizeof *seam->row_of);
    seam->reached = usi_memory_array(context, factor->blocks.count + 1, sizeof *seam->reached);
    if (seam->row_of == NULL || seam->reached == NULL) {
        return US_ERROR_MEMORY;
    }
    seam->kept_from = factor->rows;
    for (size_t row = factor->rows; row-- > 0;) {
        seam->row_of[factor->order[row]] = (int32_t)row;
        seam->kept_from = seam->rank[row] >= 0 ? row : seam->kept_from;
    }
    return US_OK;
}

static size_t block_of(const usi_blocks *blocks, int32_t row)
{
    size_t low = 0;
    size_t high = blocks->count;
    while (high - low > 1) {
        size_t middle = low + (high - low) / 2;
        low = blocks->first[middle] <= row ? middle : low;
        high = blocks->first[middle] <= row ? high : middle;
    }
    return low;
}

/* Marks the block of a row and all that hang on it, and clears their values. */
static void reach(usi_seam *seam, int32_t row, double *values)
{
    const usi_blocks *blocks = &seam->factor->blocks;
    int32_t index = (int32_t)block_of(blocks, row);
    while (index >= 0 && !seam->reached[index]) {
        seam->reached[index] = true;
        memset(values + blocks->first[index], 0,
               usi_blocks_columns(blocks, (size_t)index) * sizeof *values);
        index = blocks->above[index];
    }
}

/* The first half of a solution for weights as a load; gives it at those that are kept. */
static const double *substitute(usi_seam *seam, const usi_seam_weight *weights, size_t count)
{
    usi_factor *factor = seam->factor;
    bool blocks = factor->cholmod == NULL;
    double *values = blocks ? factor->solution->x : factor->load->x;
    size_t from = blocks ? seam->kept_from : 0;
    memset(values + from, 0, (factor->rows - from) * sizeof *values);
    memset(seam->reached, 0, factor->blocks.count * sizeof *seam->reached);
    for (size_t k = 0; blocks && k < count; k++) {
        if (usi_seam_is_free(seam, weights[k].place)) {
            reach(seam, seam->row_of[weights[k].place], values);
        }
    }
    for (size_t k = 0; k < count; k++) {
        if (usi_seam_is_free(seam, weights[k].place)) {
            values[seam->row_of[weights[k].place]] += weights[k].weight;
        }
    }
    if (!blocks) {
        return usi_factor_substitute(factor, CHOLMOD_L);
    }
    usi_substitute_reach(&factor->blocks, seam->reached, values, factor->ends->x);
    return values;
}

us_status usi_seam_weigh(us_context *context, usi_seam *seam, const usi_seam_weight *weights,
                         size_t count, double *seen)
{
    usi_factor *factor = seam->factor;
    size_t width = seam->kept_count;
    double *at_kept = usi_memory_array(context, width + 1, sizeof *at_kept);
    us_status status = at_kept != NULL ? US_OK : US_ERROR_MEMORY;
    if (status == US_OK && seam->row_of == NULL) {
        status = prepare_weights(context, seam);
    }
    if (status == US_OK && factor->rows > 0) {
        const double *to = substitute(seam, weights, count);
        status = to != NULL ? US_OK : usi_factor_report(context, &factor->common);
        for (size_t row = seam->kept_from; to != NULL && row < factor->rows; row++) {
            if (seam->rank[row] >= 0) {
                at_kept[seam->rank[row]] = to[row];
            }
        }
    }
    if (status == US_OK) {
        usi_dense_rows rows = {seam->count, width, seam->halves};
        usi_dense_apply(&rows, width, at_kept, seen);
    }
    free(at_kept);
    return status;
}
