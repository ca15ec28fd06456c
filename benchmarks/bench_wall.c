/* All states of walls from one factorisation, in plain single solves of the same grid and run.
 *
 *   bench_wall [CELLS]
 *
 * Prints medians of rounds in which the parts alternate, and how far sums for single tips are
 * from a state solved as a field. A single solve is that of the head problem, from its grid on; all
 * else is from the same grid on as well. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "command.h"
#include "quantity/edge.h"
#include "support/support.h"
#include "wall/engine_parts.h"
#include "wall_sweep.h"

enum { ROUNDS = 5 };

static double now(void)
{
    struct timespec at;
    (void)clock_gettime(CLOCK_MONOTONIC, &at);
    return (double)at.tv_sec + 1e-9 * (double)at.tv_nsec;
}

/* The engine's own way to the head problem, without the other one. */
static void open_heads(us_context *context, const usi_grid *grid, const usi_segments *segments,
                       usi_head *head, side *of)
{
    usi_face_pair *pairs = NULL;
    need(usi_segments_pair(context, segments, &pairs, &of->count) == US_OK);
    need(usi_head_lay(context, grid, 0, head) == US_OK);
    usi_stitch *stitches = wall_room(of->count, sizeof *stitches);
    for (size_t k = 0; k < of->count; k++) {
        stitches[k] = (usi_stitch){head->places[pairs[k].left], head->places[pairs[k].right]};
    }
    need(usi_seam_make(context, &head->problem, stitches, of->count, &of->seam) == US_OK);
    need(usi_seam_load(context, of->seam, (usi_seam_key){NULL, 0}, NULL, NULL, head->free_count) ==
         US_OK);
    of->gaps = wall_room(of->count, sizeof *of->gaps);
    for (size_t k = 0; k < of->count; k++) {
        of->gaps[k] = usi_seam_gap(of->seam, 0, k);
    }
    free(stitches);
    free(pairs);
}

static void open_streams(us_context *context, const usi_grid *open, const usi_segments *segments,
                         usi_stream *stream, side *of)
{
    need(usi_stream_lay(context, open, 0, stream) == US_OK);
    of->count = segments->count;
    usi_stitch *stitches = wall_room(of->count, sizeof *stitches);
    for (size_t k = 0; k < of->count; k++) {
        const int32_t *place = segments->list[k].place;
        stitches[k] = (usi_stitch){stream->places[place[0]], stream->places[place[1]]};
    }
    need(usi_seam_make(context, &stream->problem, stitches, of->count, &of->seam) == US_OK);
    need(usi_seam_load(context, of->seam, (usi_seam_key){NULL, 0}, NULL, NULL,
                       stream->free_count) == US_OK);
    of->gaps = wall_room(of->count, sizeof *of->gaps);
    for (size_t k = 0; k < of->count; k++) {
        of->gaps[k] = usi_seam_gap(of->seam, 0, k);
    }
    free(stitches);
}

typedef struct weights {
    size_t count;
    usi_seam_weight *list;
} weights;

static double sum_of(const side *of, const weights *sum)
{
    const double *values = usi_seam_base(of->seam, 0);
    double total = 0.0;
    for (size_t k = 0; k < sum->count; k++) {
        total += sum->list[k].weight * values[sum->list[k].place];
    }
    return total;
}

static void add_sum(us_context *context, side *of, weights *sum)
{
    double *grown = realloc(of->seen, (of->sum_count + 1) * (of->count + 1) * sizeof *grown);
    need(grown != NULL);
    of->seen = grown;
    of->at_first[of->sum_count] = sum_of(of, sum);
    need(usi_seam_weigh(context, of->seam, sum->list, sum->count,
                        of->seen + of->sum_count * of->count) == US_OK);
    of->sum_count++;
    sum->count = 0;
}

static void weigh(const usi_head *head, int32_t unknown, double weight, weights *sum)
{
    if (head->places[unknown] >= 0) {
        sum->list[sum->count++] = (usi_seam_weight){head->places[unknown], weight};
    }
}

/* Head below the toe's bed at the wall, then force and moment of each of `panels` parts. */
static void add_sums(us_context *context, const usi_grid *grid, const usi_head *head, int panels,
                     side *of)
{
    usi_edge_sides sides;
    double from_m = grid->section->left_end_m;
    double width_m = (grid->section->right_end_m - from_m) / panels;
    need(usi_edge_list(context, grid, USI_BORDER_STRUCTURE, &sides) == US_OK);
    weights sum = {0, wall_room(2 * sides.count + 1, sizeof *sum.list)};
    size_t line = usi_grid_x_line(grid, grid->section->right_end_m);
    size_t row = usi_grid_z_line(grid, 0.0) - 1;
    weigh(head, usi_grid_unknown(grid, line, row, USI_LOWER_LEFT), 1.0, &sum);
    add_sum(context, of, &sum);
    for (int p = 0; p < panels; p++) {
        for (int moment = 0; moment < 2; moment++) {
            for (size_t k = 0; k < sides.count; k++) {
                const usi_edge_side *piece = &sides.list[k];
                double middle_m = 0.5 * (piece->ends[0].x_m + piece->ends[1].x_m);
                for (int e = 0; (int)((middle_m - from_m) / width_m) == p && e < 2; e++) {
                    double arm_m = moment ? piece->ends[e].x_m : 1.0;
                    weigh(head, piece->unknowns[e],
                          0.5 * (piece->ends[1].x_m - piece->ends[0].x_m) * arm_m, &sum);
                }
            }
            add_sum(context, of, &sum);
        }
    }
    free(sum.list);
    free(sides.list);
}

/* Mean head under a prism as deep as the wall and half as wide, for the tip at the lower place
 * of each segment; the bed is at 0. */
static void add_prisms(us_context *context, const usi_grid *grid, const usi_head *head,
                       const usi_segments *segments, side *of)
{
    size_t first = usi_grid_x_line(grid, grid->section->right_end_m);
    weights sum = {0, wall_room(2 * grid->columns, sizeof *sum.list)};
    of->prism_count = segments->count;
    of->prisms = wall_room(of->prism_count * of->count, sizeof *of->prisms);
    of->prisms_at_first = wall_room(of->prism_count, sizeof *of->prisms_at_first);
    for (size_t k = 0; k < segments->count; k++) {
        double width_m = -0.5 * segments->list[k].low_m;
        double end_m = grid->x_m[first] + width_m;
        sum.count = 0;
        for (size_t i = first; i < grid->columns && grid->x_m[i] < end_m; i++) {
            double share = (fmin(grid->x_m[i + 1], end_m) - grid->x_m[i]) / width_m;
            size_t row = segments->list[k].row;
            weigh(head, usi_grid_unknown(grid, i, row, USI_LOWER_LEFT), 0.5 * share, &sum);
            weigh(head, usi_grid_unknown(grid, i, row, USI_LOWER_RIGHT), 0.5 * share, &sum);
        }
        of->prisms_at_first[k] = sum_of(of, &sum);
        need(usi_seam_weigh(context, of->seam, sum.list, sum.count, of->prisms + k * of->count) ==
             US_OK);
    }
    free(sum.list);
}

static void close_side(side *of)
{
    usi_seam_free(of->seam);
    free(of->gaps);
    free(of->seen);
    free(of->prisms);
    free(of->prisms_at_first);
    *of = (side){0};
}

/* What is timed, in order. */
enum { SINGLE, DEPTHS, DEPTHS_ALL, DEFECTS, PAIRS, PAIRS_ALL, PARTS };
static const char *const names[PARTS] = {
    "single solve: laid, ordered, factorised, solved",
    "all depths of one wall: flow, exit, force and line of action",
    "the same with lower bounds, five panels, and all checks: piping, heave, uplift",
    "10,000 random states of 200 links: up to 40 open or leaky, else tight or leaky; flow, exit, "
    "five panels",
    "10,000 pairs of tips of two walls: flow and exit",
    "the same with lower bounds and five panels",
};

typedef struct scene {
    us_context *context;
    us_section *section;
    usi_grid *grid;
    usi_segments segments;
    usi_walled open;
    size_t first; /* segments of the first wall */
    double seconds[PARTS][ROUNDS];
} scene;

static void count_up(size_t *order, size_t count, size_t first, bool down)
{
    for (size_t k = 0; k < count; k++) {
        size_t low = k < first ? 0 : first;
        size_t high = k < first ? first : count;
        order[k] = down ? high - 1 - (k - low) : k;
    }
}

static void time_single(scene *of, int round)
{
    usi_head head;
    double start = now();
    need(usi_head_lay(of->context, of->grid, 0, &head) == US_OK);
    double *values = wall_room(head.free_count, sizeof *values);
    need(usi_problem_solve(of->context, &head.problem, values) == US_OK);
    of->seconds[SINGLE][round] = now() - start;
    free(values);
    usi_head_free(&head);
}

/* The least margin of every depth, all of them added up: critical over exit gradient, weight of
 * each panel over its uplift, weight of the prism under water over what lifts it. */
static double check_all(const scene *of, const usi_segments *segments, const side *heads,
                        const double *out)
{
    size_t width = heads->count + 1;
    const double *prisms = out + (heads->sum_count + 1) * width;
    const us_section *section = of->grid->section;
    const double critical = 1.04;
    const double weight = 3.0; /* of a panel, over that of water */
    size_t row = usi_grid_z_line(of->grid, 0.0) - 1;
    double below_m = of->grid->z_m[row + 1] - of->grid->z_m[row];
    double head_m = section->waters[0].upstream_m - section->waters[0].downstream_m;
    double total = 0.0;
    for (size_t k = 0; k < segments->count; k++) {
        size_t at = k < heads->count ? k : heads->count;
        double margin = critical * below_m / (head_m * out[width + at]);
        for (size_t p = 2; p < heads->sum_count; p += 2) { /* forces; moments lie between */
            margin = fmin(margin, weight / (head_m * out[p * width + at]));
        }
        double depth_m = -segments->list[k].low_m;
        margin = fmin(margin, critical * depth_m / (head_m * prisms[k]));
        total += margin;
    }
    return total;
}

/* One wall, or both where `two`; with bounds and panels where `all`. */
static double run(scene *of, bool two, bool all)
{
    usi_head head;
    usi_stream stream = {0};
    side heads = {0};
    side streams = {0};
    usi_segments segments = of->segments;
    segments.count = two ? of->segments.count : of->first;
    double start = now();
    open_heads(of->context, of->grid, &segments, &head, &heads);
    add_sums(of->context, of->grid, &head, all ? 5 : two ? 0 : 1, &heads);
    if (all && !two) {
        add_prisms(of->context, of->grid, &head, &segments, &heads);
    }
    size_t *order = wall_room(heads.count + segments.count, sizeof *order);
    double *out =
        wall_room((heads.sum_count + 1) * (heads.count + 1) + heads.prism_count, sizeof *out);
    /* Pairs of the first wall lie before those of the second. */
    size_t pairs = heads.count * of->first / segments.count;
    count_up(order, heads.count, two ? pairs : heads.count, false);
    double total = two ? wall_sweep_pairs(&heads, order, pairs) : 0.0;
    if (!two) {
        wall_sweep(&heads, order, out);
        total += heads.prism_count > 0 ? check_all(of, &segments, &heads, out) : 0.0;
    }
    if (all) {
        open_streams(of->context, &of->open.grid, &segments, &stream, &streams);
        count_up(order, streams.count, two ? of->first : streams.count, true);
        total += two ? wall_sweep_pairs(&streams, order, of->first) : 0.0;
        if (!two) {
            wall_sweep(&streams, order, out);
        }
    }
    double seconds = now() - start;
    need(isfinite(total));
    free(order);
    free(out);
    close_side(&heads);
    close_side(&streams);
    usi_head_free(&head);
    usi_stream_free(&stream);
    return seconds;
}

static double run_defects(scene *of)
{
    usi_head head;
    side heads = {0};
    usi_segments segments = of->segments;
    segments.count = of->first;
    double start = now();
    open_heads(of->context, of->grid, &segments, &head, &heads);
    add_sums(of->context, of->grid, &head, 5, &heads);
    double total = wall_try_defects(&heads);
    double seconds = now() - start;
    need(isfinite(total));
    close_side(&heads);
    usi_head_free(&head);
    return seconds;
}

static int by_size(const void *a, const void *b)
{
    double x = *(const double *)a;
    double y = *(const double *)b;
    return (x > y) - (x < y);
}

/* As add_prisms() has it. */
static double read_prism(const usi_grid *grid, const usi_field *field, const usi_segment *at)
{
    size_t first = usi_grid_x_line(grid, grid->section->right_end_m);
    double width_m = -0.5 * at->low_m;
    double end_m = grid->x_m[first] + width_m;
    double mean = 0.0;
    for (size_t i = first; i < grid->columns && grid->x_m[i] < end_m; i++) {
        double share = (fmin(grid->x_m[i + 1], end_m) - grid->x_m[i]) / width_m;
        mean += 0.5 * share *
                (usi_field_head(field, i, at->row, USI_LOWER_LEFT) +
                 usi_field_head(field, i, at->row, USI_LOWER_RIGHT));
    }
    return mean;
}

/* Flow and prisms by running sums against a state solved as a field. */
static double check_depths(scene *of)
{
    usi_head head;
    side heads = {0};
    usi_engine *engine = NULL;
    usi_segments segments = of->segments;
    segments.count = of->first;
    usi_wall_span span = {.wall = 0, .low_m = -1e9, .high_m = 1e9};
    open_heads(of->context, of->grid, &segments, &head, &heads);
    need(usi_engine_make(of->context, of->grid, &span, 1, &engine) == US_OK);
    double *pass_m_s = wall_room(segments.count, sizeof *pass_m_s);
    add_prisms(of->context, of->grid, &head, &segments, &heads);
    double *out = wall_room(heads.count + 1 + heads.prism_count, sizeof *out);
    size_t *order = wall_room(heads.count, sizeof *order);
    count_up(order, heads.count, heads.count, false);
    wall_sweep(&heads, order, out);
    double first = usi_problem_energy(&head.problem, usi_seam_base(heads.seam, 0));
    double worst = 0.0;
    for (size_t k = segments.count / 5; k < segments.count; k += segments.count / 5) {
        usi_wall_state *state = NULL;
        for (size_t m = 0; m < segments.count; m++) {
            pass_m_s[m] = m < k ? HUGE_VAL : 0.0;
        }
        need(usi_engine_state(of->context, engine, of->section, pass_m_s, &state) == US_OK);
        size_t tied = k; /* the lowest place has one value */
        double flow = head.scale_m_s * (first + out[tied]);
        worst = fmax(worst, fabs(flow / state->field->upper_m_s - 1.0));
        double prism = out[(heads.sum_count + 1) * (heads.count + 1) + k];
        worst = fmax(worst, fabs(prism - read_prism(of->grid, state->field, &segments.list[k])));
        usi_wall_state_free(state);
    }
    free(pass_m_s);
    free(out);
    free(order);
    usi_engine_free(engine);
    close_side(&heads);
    usi_head_free(&head);
    return worst;
}

/* Walls of so many pieces each. */
static void open_scene(scene *of, double cells, int pieces)
{
    of->context = us_context_create();
    of->section = support_read(of->context,
                               "bed: {upstream: 1, downstream: 0}\nbase: -10\n"
                               "structure: {underside: [[0, -1], [12, -1]]}\n"
                               "walls: [{x: 12, top: -0.5, tip: -9.5}, {x: 0, top: 0, tip: -9.5}]\n"
                               "soils: [{name: s1, kh: 1e-4, kv: 5e-5, unit_weight: 20}, "
                               "{name: s2, top: -5, kh: 3e-5, kv: 2e-5, unit_weight: 20}]\n"
                               "water: [{upstream: 4, downstream: 1.5}]\n");
    double step_m = cells * 8.5 / pieces;
    usi_tip_range ranges[2] = {
        {.x_m = 12, .low_m = -9.5, .high_m = -1, .first_m = step_m, .across_m = step_m},
        {.x_m = 0, .low_m = -9.5, .high_m = -1, .first_m = step_m, .across_m = step_m}};
    usi_grid_options options = {.cells = cells, .range_count = 2, .ranges = ranges};
    usi_wall_span spans[2] = {{.wall = 0, .low_m = -1e9, .high_m = 1e9},
                              {.wall = 1, .low_m = -1e9, .high_m = 1e9}};
    need(usi_grid_build(of->context, of->section, &options, &of->grid) == US_OK);
    need(usi_segments_list(of->context, of->grid, spans, 2, &of->segments) == US_OK);
    need(usi_walled_make(of->context, of->grid, &of->segments, NULL, &of->open) == US_OK);
    while (of->first < of->segments.count && of->segments.list[of->first].wall == 0) {
        of->first++;
    }
}

static void close_scene(scene *of)
{
    usi_walled_free(&of->open);
    free(of->segments.list);
    usi_grid_free(of->grid);
    us_section_free(of->section);
    us_context_free(of->context);
}

/* Medians of the parts from `from` on, beside that of a single solve of the same scene. */
static void tell(scene *of, int from, int to)
{
    qsort(of->seconds[SINGLE], ROUNDS, sizeof(double), by_size);
    double single = of->seconds[SINGLE][ROUNDS / 2];
    printf("%zu unknowns; walls of %zu and %zu pieces\n", of->grid->unknowns, of->first,
           of->segments.count - of->first);
    printf("%7.1f ms              %s\n", 1e3 * single, names[SINGLE]);
    for (int part = from; part < to; part++) {
        qsort(of->seconds[part], ROUNDS, sizeof(double), by_size);
        double median = of->seconds[part][ROUNDS / 2];
        printf("%7.1f ms %6.2f times: %s\n", 1e3 * median, median / single, names[part]);
    }
}

int main(int count, char **arguments)
{
    cli_heap_prepare();
    double cells = count > 1 ? strtod(arguments[1], NULL) : 52.0;
    scene of = {0};
    open_scene(&of, cells, 200);
    for (int round = 0; round < ROUNDS; round++) {
        time_single(&of, round);
        of.seconds[DEPTHS][round] = run(&of, false, false);
        of.seconds[DEPTHS_ALL][round] = run(&of, false, true);
        of.seconds[DEFECTS][round] = run_defects(&of);
    }
    tell(&of, DEPTHS, PAIRS);
    printf("flow and prisms of single tips, from a state as a field: %.1e\n", check_depths(&of));
    close_scene(&of);
    of = (scene){0};
    open_scene(&of, 1.3 * cells, 100);
    for (int round = 0; round < ROUNDS; round++) {
        time_single(&of, round);
        of.seconds[PAIRS][round] = run(&of, true, false);
        of.seconds[PAIRS_ALL][round] = run(&of, true, true);
    }
    tell(&of, PAIRS, PARTS);
    close_scene(&of);
    return 0;
}
