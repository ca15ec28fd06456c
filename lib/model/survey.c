#include "model/survey.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "base/context.h"
#include "base/memory.h"

enum { WORD = 64 };

/* Where one is: which layers' tops lie above, which zones around. */
typedef struct state {
    const us_section *section;
    size_t words;
    uint64_t *bits;
    bool under_surface;
    bool above_base;
} state;

typedef struct surveyor {
    us_context *context;
    const us_section *section;
    usi_strands strands;
    usi_survey made;
    double zero_m; /* areas are taken down to this level */
    size_t active_count;
    size_t *active; /* strands over the x at hand */
    state lower;
    state upper;
} surveyor;

/* Far below everything: within no zone, in the lowest layer, under the base. */
static void begin(state *at)
{
    for (size_t i = 0; i < at->words; i++) {
        at->bits[i] = 0;
    }
    for (size_t i = 0; i < at->section->soil_count; i++) {
        if (i == 0 || at->section->soils[i].layer) {
            at->bits[i / WORD] |= UINT64_C(1) << (i % WORD);
        }
    }
    at->under_surface = true;
    at->above_base = false;
}

static void cross(state *at, int toggle)
{
    if (toggle == usi_survey_surface_bit(at->section)) {
        at->under_surface = !at->under_surface;
    } else if (toggle == usi_survey_base_bit(at->section)) {
        at->above_base = !at->above_base;
    } else if (toggle >= 0) {
        at->bits[toggle / WORD] ^= UINT64_C(1) << (unsigned)(toggle % WORD);
    }
}

static bool in_soil(const state *at)
{
    return at->under_surface && at->above_base;
}

/* The last zone, or else the last layer, that one is in. */
static int find_soil(const state *at)
{
    size_t word = at->words;
    while (word > 0 && at->bits[word - 1] == 0) {
        word--;
    }
    if (!in_soil(at) || word == 0) {
        return -1;
    }
    size_t bit = word * WORD - 1 - (size_t)__builtin_clzll(at->bits[word - 1]);
    size_t soils = at->section->soil_count;
    return bit < soils ? (int)bit : (int)at->section->zones[bit - soils].soil;
}

/* Adds what lies below a piece to one state and leaves out what lies above. */
static void add_areas(surveyor *of, const usi_piece *piece)
{
    usi_survey *made = &of->made;
    size_t soils = of->section->soil_count;
    double area_m2 = (piece->b.x_m - piece->a.x_m) *
                     (0.5 * (piece->a.z_m - of->zero_m) + 0.5 * (piece->b.z_m - of->zero_m));
    if (piece->right >= 0) {
        made->soil_areas_m2[piece->right] += area_m2;
    }
    if (piece->left >= 0) {
        made->soil_areas_m2[piece->left] -= area_m2;
    }
    for (size_t i = 0; i < of->lower.words; i++) {
        uint64_t below = in_soil(&of->lower) ? of->lower.bits[i] : 0;
        uint64_t above = in_soil(&of->upper) ? of->upper.bits[i] : 0;
        for (uint64_t left = below ^ above; left != 0; left &= left - 1) {
            unsigned bit = (unsigned)__builtin_ctzll(left);
            size_t place = i * WORD + bit;
            if (place >= soils) {
                made->zone_areas_m2[place - soils] +=
                    ((below >> bit) & 1U) != 0 ? area_m2 : -area_m2;
            }
        }
    }
}

/* The soils above and below the middle of a sloped or level strand and of those
 * that lie on it, `count` together. */
static void judge_flat(surveyor *of, size_t first, size_t count, usi_piece *piece)
{
    const usi_strand *items = of->strands.items;
    double x_m = 0.5 * piece->a.x_m + 0.5 * piece->b.x_m;
    double z_m = usi_strand_level(&items[first], x_m);
    begin(&of->lower);
    for (size_t k = 0; k < of->active_count; k++) {
        size_t i = of->active[k];
        bool itself = i >= first && i < first + count;
        if (!itself && items[i].a.x_m <= x_m && items[i].b.x_m > x_m &&
            usi_strand_level(&items[i], x_m) < z_m) {
            cross(&of->lower, items[i].toggle);
        }
    }
    piece->right = find_soil(&of->lower);
    for (size_t i = 0; i < of->lower.words; i++) {
        of->upper.bits[i] = of->lower.bits[i];
    }
    of->upper.under_surface = of->lower.under_surface;
    of->upper.above_base = of->lower.above_base;
    for (size_t i = first; i < first + count; i++) {
        cross(&of->upper, items[i].toggle);
    }
    piece->left = find_soil(&of->upper);
    add_areas(of, piece);
}

/* The soil beside the middle of an upright strand. */
static int look_beside(surveyor *of, usi_point middle, bool right)
{
    const usi_strand *items = of->strands.items;
    begin(&of->lower);
    for (size_t k = 0; k < of->active_count; k++) {
        const usi_strand *other = &items[of->active[k]];
        bool over = right ? other->a.x_m <= middle.x_m && other->b.x_m > middle.x_m
                          : other->a.x_m < middle.x_m && other->b.x_m >= middle.x_m;
        if (over && usi_strand_level(other, middle.x_m) < middle.z_m) {
            cross(&of->lower, other->toggle);
        }
    }
    return find_soil(&of->lower);
}

/* The pieces, still in the order of the strands; `firsts` says where the strands
 * of each begin. */
static bool list_pieces(surveyor *of, size_t *firsts)
{
    const usi_strands *strands = &of->strands;
    usi_survey *made = &of->made;
    made->pieces = usi_memory_array(of->context, strands->count, sizeof *made->pieces);
    if (made->pieces == NULL) {
        return false;
    }
    for (size_t i = 0; i < strands->count; i++) {
        const usi_strand *strand = &strands->items[i];
        usi_piece *last = made->piece_count > 0 ? &made->pieces[made->piece_count - 1] : NULL;
        if (last != NULL && usi_point_order(last->a, strand->a) == 0 &&
            usi_point_order(last->b, strand->b) == 0) {
            last->roles |= strand->role;
            continue;
        }
        firsts[made->piece_count] = i;
        made->pieces[made->piece_count++] = (usi_piece){strand->a, strand->b, strand->role, -1, -1};
    }
    firsts[made->piece_count] = strands->count;
    return true;
}

/* A piece in the order of the sweep. */
typedef struct stop {
    double x_m;
    size_t piece;
} stop;

static int by_x(const void *a, const void *b)
{
    const stop *first = a;
    const stop *second = b;
    return (first->x_m > second->x_m) - (first->x_m < second->x_m);
}

static void drop_passed(surveyor *of, double x_m)
{
    size_t kept = 0;
    for (size_t k = 0; k < of->active_count; k++) {
        if (of->strands.items[of->active[k]].b.x_m >= x_m) {
            of->active[kept++] = of->active[k];
        }
    }
    of->active_count = kept;
}

/* Sweeps from left to right over the middles of the pieces. */
static void sweep(surveyor *of, const size_t *firsts, stop *stops)
{
    usi_survey *made = &of->made;
    const usi_strands *strands = &of->strands;
    for (size_t i = 0; i < made->piece_count; i++) {
        stops[i] = (stop){0.5 * made->pieces[i].a.x_m + 0.5 * made->pieces[i].b.x_m, i};
    }
    qsort(stops, made->piece_count, sizeof *stops, by_x);
    size_t next = 0;
    for (size_t i = 0; i < made->piece_count; i++) {
        usi_piece *piece = &made->pieces[stops[i].piece];
        drop_passed(of, stops[i].x_m);
        for (; next < strands->count && strands->items[next].a.x_m <= stops[i].x_m; next++) {
            if (strands->items[next].toggle >= 0 &&
                strands->items[next].a.x_m < strands->items[next].b.x_m) {
                of->active[of->active_count++] = next;
            }
        }
        if (piece->a.x_m < piece->b.x_m) {
            size_t first = firsts[stops[i].piece];
            judge_flat(of, first, firsts[stops[i].piece + 1] - first, piece);
        } else {
            usi_point middle = {piece->a.x_m, 0.5 * piece->a.z_m + 0.5 * piece->b.z_m};
            piece->left = look_beside(of, middle, false);
            piece->right = look_beside(of, middle, true);
        }
    }
}

static us_status judge(surveyor *of)
{
    size_t strand_count = of->strands.count;
    size_t words = (of->section->soil_count + of->section->zone_count) / WORD + 1;
    size_t *firsts = usi_memory_array(of->context, strand_count + 1, sizeof *firsts);
    stop *stops = usi_memory_array(of->context, strand_count, sizeof *stops);
    of->active = usi_memory_array(of->context, strand_count, sizeof *of->active);
    uint64_t *bits = usi_memory_array(of->context, 2 * words, sizeof *bits);
    of->made.soil_areas_m2 = usi_memory_array(of->context, of->section->soil_count, sizeof(double));
    of->made.zone_areas_m2 = usi_memory_array(of->context, of->section->zone_count, sizeof(double));
    us_status status = US_ERROR_MEMORY;
    if (firsts != NULL && stops != NULL && of->active != NULL && bits != NULL &&
        of->made.soil_areas_m2 != NULL && of->made.zone_areas_m2 != NULL &&
        list_pieces(of, firsts)) {
        of->lower = (state){of->section, words, bits, false, false};
        of->upper = (state){of->section, words, bits + words, false, false};
        sweep(of, firsts, stops);
        status = US_OK;
    }
    free(firsts);
    free(stops);
    free(of->active);
    free(bits);
    return status;
}

us_status usi_survey_make(us_context *context, const us_section *section,
                          const usi_plan_window *window, usi_survey *survey)
{
    surveyor of = {.context = context,
                   .section = section,
                   .strands = {.context = context, .tolerance_m = usi_section_tolerance(section)}};
    usi_survey_gather(section, window, &of.strands);
    us_status status = usi_strands_part(&of.strands);
    if (status == US_ERROR_INPUT) {
        usi_context_report(context, US_ERROR, NULL, "draw the zones and layers with fewer points",
                           "the lines of the section cross more than 100,000 times");
    }
    if (status == US_OK) {
        of.zero_m = of.strands.zs.values[0];
        status = judge(&of);
    }
    usi_strands_clear(&of.strands);
    if (status == US_OK) {
        *survey = of.made;
    } else {
        usi_survey_clear(&of.made);
    }
    return status;
}

void usi_survey_clear(usi_survey *survey)
{
    free(survey->pieces);
    free(survey->soil_areas_m2);
    free(survey->zone_areas_m2);
    *survey = (usi_survey){.piece_count = 0};
}
