#include "wall/strips.h"

#include <math.h>

#include "base/memory.h"

us_status usi_strips_list(us_context *context, const usi_segments *segments,
                          const usi_wall_span *spans, size_t span_count, usi_strip_seams *strips)
{
    *strips = (usi_strip_seams){0, usi_memory_array(context, span_count + 1, sizeof *strips->list)};
    if (strips->list == NULL) {
        return US_ERROR_MEMORY;
    }
    for (size_t k = 0; k < segments->count; k++) {
        size_t span = segments->list[k].span;
        if (!spans[span].strip) {
            continue;
        }
        if (k == 0 || segments->list[k - 1].span != span) {
            strips->list[strips->count++] = (usi_strip_seam){k, 0, spans[span].series_s_m};
        }
        strips->list[strips->count - 1].count++;
    }
    return US_OK;
}

static size_t stitches_of(const usi_strip_seam *strip)
{
    return strip->series_s_m > 0.0 ? 2 * strip->count + 1 : strip->count;
}

size_t usi_strips_head_count(const usi_strip_seams *strips)
{
    size_t count = 0;
    for (size_t s = 0; s < strips->count; s++) {
        count += stitches_of(&strips->list[s]);
    }
    return count;
}

void usi_strips_head_stitches(const usi_strip_seams *strips, const usi_segments *segments,
                              const int32_t *places, usi_stitch *stitches)
{
    for (size_t s = 0; s < strips->count; s++) {
        const usi_strip_seam *strip = &strips->list[s];
        const usi_segment *first = &segments->list[strip->first];
        for (size_t k = 0; k < strip->count; k++) {
            *stitches++ = (usi_stitch){places[first[k].left[0]], places[first[k].left[1]]};
        }
        for (size_t k = 0; k < strip->count && strip->series_s_m > 0.0; k++) {
            *stitches++ = (usi_stitch){places[first[k].right[0]], places[first[k].right[1]]};
        }
        if (strip->series_s_m > 0.0) {
            *stitches++ = (usi_stitch){places[first->left[0]], places[first->right[0]]};
        }
    }
}

void usi_strips_stream_stitches(const usi_strip_seams *strips, const usi_segments *segments,
                                const int32_t *places, usi_stitch *stitches)
{
    for (size_t s = 0; s < strips->count; s++) {
        const usi_strip_seam *strip = &strips->list[s];
        const usi_segment *first = &segments->list[strip->first];
        stitches[s] =
            (usi_stitch){places[first->place[0]], places[first[strip->count - 1].place[1]]};
    }
}

void usi_strips_set_heads(const usi_strip_seams *strips, const double *pass_m_s, double scale_m_s,
                          double *tie)
{
    for (size_t s = 0; s < strips->count; s++) {
        const usi_strip_seam *strip = &strips->list[s];
        bool acts = pass_m_s[strip->first] < 0.0;
        size_t along = strip->series_s_m > 0.0 ? 2 * strip->count : strip->count;
        for (size_t k = 0; k < along; k++) {
            *tie++ = acts ? HUGE_VAL : 0.0;
        }
        if (strip->series_s_m > 0.0) {
            *tie++ = acts ? 1.0 / (strip->series_s_m * scale_m_s) : 0.0;
        }
    }
}

void usi_strips_set_streams(const usi_strip_seams *strips, const double *pass_m_s, double scale_m_s,
                            double *tie)
{
    for (size_t s = 0; s < strips->count; s++) {
        const usi_strip_seam *strip = &strips->list[s];
        tie[s] = pass_m_s[strip->first] < 0.0 ? strip->series_s_m * scale_m_s : 0.0;
    }
}

bool usi_strips_joined(const usi_strip_seams *strips, size_t segment)
{
    for (size_t s = 0; s < strips->count; s++) {
        const usi_strip_seam *strip = &strips->list[s];
        if (segment >= strip->first && segment < strip->first + strip->count) {
            return !(strip->series_s_m > 0.0);
        }
    }
    return false;
}
