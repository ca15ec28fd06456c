/* Convergence: a section on a ladder of nested grids, to see how its numbers settle. */
#ifndef UNDERSILL_CONVERGENCE_H
#define UNDERSILL_CONVERGENCE_H

#include "undersill/draw.h"
#include "undersill/table.h"

#ifdef __cplusplus
extern "C" {
#endif

/** A convergence study of a section, freed by us_convergence_free(). It does not
 * change: any number of threads may read it at once. */
typedef struct us_convergence us_convergence;

/** The water case that is taken unless another is named: the first whose levels
 * differ, or the first of all where none do. */
#define US_WATER_FIRST_FLOWING ((size_t)-1)

/** How to study. Initialise with `US_CONVERGE_OPTIONS_INIT`, then set what is to be
 * other than the default. */
typedef struct us_converge_options {
    size_t size;          /**< sizeof(us_converge_options), set by the initialiser */
    size_t rungs;         /**< grids, 2 to 8; by default 5 */
    size_t unknowns_most; /**< no grid after the first has more unknowns, at least 1000;
                               by default 400000 */
    size_t water;         /**< index of the water case whose numbers are told */
} us_converge_options;

/** The defaults of us_converge_options. */
#define US_CONVERGE_OPTIONS_INIT                                                                   \
    {                                                                                              \
        sizeof(us_converge_options), 5, 400000, US_WATER_FIRST_FLOWING                             \
    }

/** What a trend follows. */
typedef enum us_trend_kind {
    US_TREND_FLOW,          /**< geometric mean of the bounds, m2/s */
    US_TREND_FLOW_LOWER,    /**< lower bound of flow, m2/s */
    US_TREND_FLOW_UPPER,    /**< upper bound of flow, m2/s */
    US_TREND_FLOW_BRACKET,  /**< upper less lower bound, as a share of the flow */
    US_TREND_EXIT_GRADIENT, /**< upward gradient at the governing exit */
    US_TREND_EXIT_MEAN,     /**< its mean over a depth, where the gradient is unbounded */
    US_TREND_UPLIFT,        /**< force on the underside, N/m */
    US_TREND_HEAD           /**< total head at a wall or piezometer, m */
} us_trend_kind;

/** One grid of the ladder. Each has every cell of the one before halved both ways. */
typedef struct us_rung {
    size_t unknowns; /**< of the head problem */
    size_t columns;  /**< cells across */
    size_t rows;     /**< cells up */
} us_rung;

/** A quantity on one grid. The errors of the us_value members are 0, but for that of
 * `extrapolated`. */
typedef struct us_trend_step {
    double value;          /**< what this grid gives */
    us_value difference;   /**< less what the grid before gave; absent on the first, and where
                                the limit is known (the bracket tends to 0) */
    us_value order;        /**< observed order in the width of the cells, from this grid and the
                                two before: log2 of how much the difference fell. Absent where
                                the differences change sign, do not fall, or are rounding */
    us_value extrapolated; /**< Richardson's extrapolation of this grid and the one before;
                                absent unless the differences fall about fourfold, as those of
                                second order do */
    us_value error;        /**< estimated: distance from `best` over `scale`; absent without an
                                extrapolated best, and where that is no better known */
} us_trend_step;

/** A quantity along the ladder. Strings and arrays belong to the study. */
typedef struct us_trend {
    us_trend_kind kind;
    const char *place;          /**< where, in words; NULL where that is plain */
    bool leading;               /**< false for the single bounds, and for heads other than the
                                     one farthest from settled */
    us_value best;              /**< what the finest grids say, with its error; absent where
                                     there is one grid only, and for the bracket */
    double scale;               /**< what errors are a share of: the size of the best value; for
                                     heads the head difference; 0 where all values are 0 */
    size_t step_count;          /**< one for each grid */
    const us_trend_step *steps; /**< coarse to fine */
} us_trend;

/** Solves a section on a ladder of nested grids and follows its quantities.
 *
 * The ladder begins with a coarse grid and stops at `rungs` grids, or before the
 * grid that would exceed `unknowns_most`, or where the library's own limits of size
 * and rounding come first (a note says so). Far cuts of endless soil stand where
 * the finest accuracy of us_section_solve() puts them, the same on all grids, so
 * that only the cells make the difference. Flow, gradients and heads of other water
 * cases go with their head differences. `options` may be NULL for defaults.
 *
 * `*study` is the caller's on `US_OK`; it refers to `section`, which must outlive it.
 * Else `US_ERROR_ARGUMENT`, `US_ERROR_INPUT` (soil sealed off from all water),
 * `US_ERROR_NUMERICAL` (not even the first grid could be solved),
 * `US_ERROR_MEMORY` or `US_CANCELLED`. Threads: as us_section_solve().
 *
 * @code
 * us_converge_options options = US_CONVERGE_OPTIONS_INIT;
 * options.rungs = 3;
 * us_convergence *study = NULL;
 * if (us_section_converge(context, section, &options, &study) == US_OK) {
 *     for (size_t t = 0; t < us_convergence_trend_count(study); t++) {
 *         const us_trend *trend = us_convergence_trend(study, t);
 *         const us_trend_step *last = &trend->steps[trend->step_count - 1];
 *         if (trend->kind == US_TREND_EXIT_GRADIENT && last->order.present) {
 *             printf("exit gradient %.4f, observed order %.2f\n", last->value,
 *                    last->order.value);
 *         }
 *     }
 * }
 * us_convergence_free(study);
 * @endcode
 */
US_API us_status us_section_converge(us_context *context, const us_section *section,
                                     const us_converge_options *options, us_convergence **study);

/** Frees a study; NULL is allowed. */
US_API void us_convergence_free(us_convergence *study);

/** Gives the index of the water case whose numbers the study tells. */
US_API size_t us_convergence_water(const us_convergence *study);

/** Counts the grids. */
US_API size_t us_convergence_rung_count(const us_convergence *study);

/** Gives grid `index`, counted from 0, coarse to fine; NULL when out of range. */
US_API const us_rung *us_convergence_rung(const us_convergence *study, size_t index);

/** Counts the quantities. */
US_API size_t us_convergence_trend_count(const us_convergence *study);

/** Gives quantity `index`, counted from 0, in the order of us_trend_kind; NULL when
 * out of range. */
US_API const us_trend *us_convergence_trend(const us_convergence *study, size_t index);

/** Counts the notes (why the ladder ended, what is not followed, ...). */
US_API size_t us_convergence_note_count(const us_convergence *study);

/** Gives note `index`, counted from 0: an English sentence in UTF-8. NULL when out of
 * range. */
US_API const char *us_convergence_note(const us_convergence *study, size_t index);

/** Writes a study as a table, as `undersill converge` prints it.
 *
 * Numbers are in the units of the section file, not in SI; docs/output.md names
 * every field. `*table` is the caller's (us_buffer_free()). Returns `US_OK`,
 * `US_ERROR_ARGUMENT` or `US_ERROR_MEMORY`.
 */
US_API us_status us_convergence_tabulate(us_context *context, const us_convergence *study,
                                         us_format format, us_buffer **table);

/** Draws a study as a chart on logarithmic axes: error of each leading quantity
 * against unknowns, beside the slope of second order.
 *
 * Of `options` only `format` and `width_px` are looked at; NULL for defaults.
 * `*picture` is the caller's (us_buffer_free()). Returns `US_OK`,
 * `US_ERROR_ARGUMENT` (a diagnostic says which), `US_ERROR_MEMORY`,
 * `US_ERROR_INTERNAL` or `US_CANCELLED`.
 *
 * @code
 * us_convergence *ladder = NULL;
 * us_buffer *chart = NULL;
 * if (us_section_converge(context, section, NULL, &ladder) == US_OK &&
 *     us_convergence_draw(context, ladder, NULL, &chart) == US_OK &&
 *     us_buffer_write_file(context, chart, "convergence.png", NULL) == US_OK) {
 *     printf("wrote convergence.png\n");
 * }
 * us_buffer_free(chart);
 * us_convergence_free(ladder);
 * @endcode
 */
US_API us_status us_convergence_draw(us_context *context, const us_convergence *study,
                                     const us_draw_options *options, us_buffer **picture);

#ifdef __cplusplus
}
#endif
#endif
