/* Depth: how deep a wall must be, and how deep it may be. */
#ifndef UNDERSILL_DEPTH_H
#define UNDERSILL_DEPTH_H

#include "undersill/draw.h"
#include "undersill/table.h"

#ifdef __cplusplus
extern "C" {
#endif

/** A study of one wall's tip level, freed by us_depth_free(). It does not change: any
 * number of threads may read it at once. */
typedef struct us_depth us_depth;

/** How to study. Initialise with `US_DEPTH_OPTIONS_INIT`, then set what is to be other than the
 * default. */
typedef struct us_depth_options {
    size_t size;      /**< sizeof(us_depth_options), set by the initialiser */
    double accuracy;  /**< as in us_solve_options; by default 0.01 */
    const char *wall; /**< name of the wall; NULL: the only one */
    const char *with; /**< name of a second wall, to look at pairs of tips; NULL: none */
    bool ratio;       /**< looks once more with kh / kv doubled in every soil; by default true */
} us_depth_options;

/** The defaults of us_depth_options. */
#define US_DEPTH_OPTIONS_INIT                                                                      \
    {                                                                                              \
        sizeof(us_depth_options), 0.01, NULL, NULL, true                                           \
    }

/** The section with the wall's tip at one level. */
typedef struct us_depth_row {
    double tip_m;                /**< level */
    double length_m;             /**< of the wall, from its top */
    bool drawn;                  /**< the tip is where the section file has it */
    bool passes;                 /**< every requirement is kept, and was checked */
    bool afresh;                 /**< solved by itself, not from the study's factorisations */
    const us_solution *solution; /**< all water cases and checks; it has no notes */
} us_depth_row;

/** One end of an interval of tip levels that pass. */
typedef struct us_depth_end {
    double tip_m;
    double error_m;    /**< how far the errors of what governs may move it; 0 at `edge` */
    bool edge;         /**< no check ends it there: the levels that were looked at end */
    const char *check; /**< name of the check that fails beyond; NULL at `edge` */
    const char *water; /**< the water case in which it does; likewise */
} us_depth_end;

/** Tip levels that pass every requirement. */
typedef struct us_depth_interval {
    us_depth_end high; /**< the shortest wall */
    us_depth_end low;  /**< the longest one */
} us_depth_interval;

/** Tip levels that pass with the tip of a second wall at one level. */
typedef struct us_depth_pair {
    double with_tip_m;    /**< of the second wall */
    double with_length_m; /**< of the second wall */
    size_t interval_count;
    const us_depth_interval *intervals; /**< of the first wall's tip; none where nothing passes */
    us_value total_length_m; /**< least length of both walls together; absent where none passes */
    bool afresh;             /**< some of it was solved by itself, not from the states of pairs */
} us_depth_pair;

/** A length that can be ordered (`lengths` of the section). */
typedef struct us_depth_order {
    double length_m;
    double tip_m;
    bool known;         /**< its tip lies within the levels that were looked at */
    bool passes;        /**< every requirement is kept; meaningless unless `known` */
    double area_m2_m;   /**< of wall, per metre of width */
    us_value area_m2;   /**< of wall, where a channel width is given */
    us_value mass_kg_m; /**< of steel per metre of width, where the sheet has a mass */
    us_value mass_kg;   /**< likewise, over the width */
} us_depth_order;

/** Solves a section for every tip level of one wall.
 *
 * Two nested grids along the wall are factorised once for each set of water cases that share a
 * field; every level follows from these factors (docs/method.md). Values carry errors as those
 * of us_section_solve() do. What is not linear (bed that takes water in where it may only let it
 * out) is solved by itself, level by level.
 *
 * Levels reach from just below the soil's upper edge at the wall to near the base, or, without
 * one, to three times the depth that is drawn. `options` may be NULL for defaults.
 *
 * `*depth` is the caller's on `US_OK`; it refers to `section`, which must outlive it. Else
 * `US_ERROR_ARGUMENT`, `US_ERROR_INPUT` (no such wall, or one whose tip cannot vary),
 * `US_ERROR_NUMERICAL`, `US_ERROR_MEMORY` or `US_CANCELLED`. Threads: as us_section_solve().
 *
 * @code
 * us_depth *depth = NULL;
 * if (us_section_depth(context, section, NULL, &depth) == US_OK) {
 *     for (size_t k = 0; k < us_depth_interval_count(depth); k++) {
 *         const us_depth_interval *passing = us_depth_interval_at(depth, k);
 *         printf("tip from %.2f to %.2f m\n", passing->high.tip_m, passing->low.tip_m);
 *     }
 * }
 * us_depth_free(depth);
 * @endcode
 */
US_API us_status us_section_depth(us_context *context, const us_section *section,
                                  const us_depth_options *options, us_depth **depth);

/** Frees a study and all it holds; NULL is allowed. */
US_API void us_depth_free(us_depth *depth);

/** Gives the name of the wall. */
US_API const char *us_depth_wall(const us_depth *depth);

/** Counts the levels of the table. */
US_API size_t us_depth_row_count(const us_depth *depth);

/** Gives level `index`, counted from 0, from the highest tip to the lowest; NULL when out of
 * range. It lives as long as the study. */
US_API const us_depth_row *us_depth_row_at(const us_depth *depth, size_t index);

/** Solves for one more tip level, between the highest and the lowest that the study looked at.
 *
 * `*solution` is the caller's (us_solution_free()) on `US_OK`; it refers to the study, which must
 * outlive it. `US_ERROR_INPUT` beyond those levels; else as us_section_depth(). One thread at a
 * time for one study. */
US_API us_status us_depth_solve(us_context *context, us_depth *depth, double tip_m,
                                us_solution **solution);

/** Tells whether the section requires anything, without which every level passes. */
US_API bool us_depth_requires(const us_depth *depth);

/** Counts the intervals of tip level that pass every requirement: none where nothing does. */
US_API size_t us_depth_interval_count(const us_depth *depth);

/** Gives interval `index`, counted from 0, from the highest down; NULL when out of range. */
US_API const us_depth_interval *us_depth_interval_at(const us_depth *depth, size_t index);

/** The same intervals were kh / kv twice what it is in every soil, sqrt(kh kv) kept. */
US_API size_t us_depth_ratio_count(const us_depth *depth);

/** Gives one of them; as us_depth_interval_at(). */
US_API const us_depth_interval *us_depth_ratio_at(const us_depth *depth, size_t index);

/** Counts the levels of the second wall that were looked at; 0 without one. Pairs are looked at on
 * coarser grids: solve the pair that is chosen. */
US_API size_t us_depth_pair_count(const us_depth *depth);

/** Gives level `index` of the second wall, from the highest down; NULL when out of range. */
US_API const us_depth_pair *us_depth_pair_at(const us_depth *depth, size_t index);

/** Gives the pair of the least total length; NULL where none passes, or nothing is required. */
US_API const us_depth_pair *us_depth_shortest(const us_depth *depth);

/** Counts the lengths that can be ordered. */
US_API size_t us_depth_order_count(const us_depth *depth);

/** Gives length `index`, counted from 0, the shortest first; NULL when out of range. */
US_API const us_depth_order *us_depth_order_at(const us_depth *depth, size_t index);

/** Counts the notes. */
US_API size_t us_depth_note_count(const us_depth *depth);

/** Gives note `index`, as us_solution_note() does. */
US_API const char *us_depth_note(const us_depth *depth, size_t index);

/** Writes a study as a table, as `undersill depth` prints it: docs/output.md names every field.
 * `*table` is the caller's (us_buffer_free()). `US_OK`, `US_ERROR_ARGUMENT` or
 * `US_ERROR_MEMORY`. */
US_API us_status us_depth_tabulate(us_context *context, const us_depth *depth, us_format format,
                                   us_buffer **table);

/** Draws quantities and factors against the level of the tip, with the section's limits.
 *
 * Of `options` (NULL for defaults) only format and width count. `*picture` is the caller's
 * (us_buffer_free()) on `US_OK`; else `US_ERROR_ARGUMENT`, `US_ERROR_MEMORY`,
 * `US_ERROR_INTERNAL` or `US_CANCELLED`. */
US_API us_status us_depth_draw(us_context *context, const us_depth *depth,
                               const us_draw_options *options, us_buffer **picture);

#ifdef __cplusplus
}
#endif
#endif
