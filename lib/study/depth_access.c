/* What a study of tip levels tells. */
#include <math.h>
#include <stdlib.h>

#include "base/context.h"
#include "base/memory.h"
#include "study/depth.h"
#include "study/text.h"

const char *us_depth_wall(const us_depth *depth)
{
    return depth == NULL ? NULL : depth->section->walls[depth->solver.levels.wall].name;
}

size_t us_depth_row_count(const us_depth *depth)
{
    return depth == NULL ? 0 : depth->row_count;
}

const us_depth_row *us_depth_row_at(const us_depth *depth, size_t index)
{
    return depth != NULL && index < depth->row_count ? &depth->rows[index] : NULL;
}

static us_status refuse_level(us_context *context, const us_depth *depth)
{
    char high[USI_TEXT_ROOM];
    char low[USI_TEXT_ROOM];
    usi_context_report(context, US_ERROR, NULL, NULL, "the tip has to lie between %s and %s",
                       usi_text_length(depth->section, depth->solver.high_m, high),
                       usi_text_length(depth->section, depth->solver.low_m, low));
    return US_ERROR_INPUT;
}

us_status us_depth_solve(us_context *context, us_depth *depth, double tip_m, us_solution **solution)
{
    if (context == NULL || depth == NULL || solution == NULL) {
        return US_ERROR_ARGUMENT;
    }
    if (!(tip_m <= depth->solver.high_m) || !(tip_m >= depth->solver.low_m)) {
        return refuse_level(context, depth);
    }
    usi_tipped **grown =
        usi_memory_resize(context, depth->kept, depth->kept_count + 1, sizeof(usi_tipped *));
    if (grown == NULL) {
        return US_ERROR_MEMORY;
    }
    depth->kept = grown;
    usi_depth_point point;
    us_status status = usi_depth_point_refine(context, &depth->solver, tip_m, &point);
    if (status == US_OK) {
        depth->kept[depth->kept_count++] = point.tipped;
        *solution = point.solution;
    } else {
        usi_depth_point_free(&point);
    }
    return status;
}

bool us_depth_requires(const us_depth *depth)
{
    return depth != NULL && depth->requires_any;
}

size_t us_depth_interval_count(const us_depth *depth)
{
    return depth == NULL ? 0 : depth->passing.count;
}

const us_depth_interval *us_depth_interval_at(const us_depth *depth, size_t index)
{
    return depth != NULL && index < depth->passing.count ? &depth->passing.list[index] : NULL;
}

size_t us_depth_ratio_count(const us_depth *depth)
{
    return depth == NULL ? 0 : depth->ratio.count;
}

const us_depth_interval *us_depth_ratio_at(const us_depth *depth, size_t index)
{
    return depth != NULL && index < depth->ratio.count ? &depth->ratio.list[index] : NULL;
}

size_t us_depth_pair_count(const us_depth *depth)
{
    return depth == NULL ? 0 : depth->pair_count;
}

const us_depth_pair *us_depth_pair_at(const us_depth *depth, size_t index)
{
    return depth != NULL && index < depth->pair_count ? &depth->pairs[index] : NULL;
}

const us_depth_pair *us_depth_shortest(const us_depth *depth)
{
    const us_depth_pair *best = NULL;
    for (size_t k = 0; depth != NULL && k < depth->pair_count; k++) {
        const us_depth_pair *pair = &depth->pairs[k];
        if (pair->total_length_m.present &&
            (best == NULL || pair->total_length_m.value < best->total_length_m.value)) {
            best = pair;
        }
    }
    return best;
}

size_t us_depth_order_count(const us_depth *depth)
{
    return depth == NULL ? 0 : depth->order_count;
}

const us_depth_order *us_depth_order_at(const us_depth *depth, size_t index)
{
    return depth != NULL && index < depth->order_count ? &depth->orders[index] : NULL;
}

size_t us_depth_note_count(const us_depth *depth)
{
    return depth == NULL ? 0 : depth->note_count;
}

const char *us_depth_note(const us_depth *depth, size_t index)
{
    return depth != NULL && index < depth->note_count ? depth->notes[index] : NULL;
}
