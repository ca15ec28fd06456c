/* The solution: seepage quantities of a section for each of its water cases. */
#ifndef UNDERSILL_SOLUTION_H
#define UNDERSILL_SOLUTION_H

#include <stdbool.h>
#include <stddef.h>

#include "undersill/section.h"

#ifdef __cplusplus
extern "C" {
#endif

/** A number with its estimated numerical error, or no number at all.
 *
 * The error says how far the value may be from the exact solution of the section
 * as described. Look at `present` before the value: an absent number is 0, and
 * means that there is none, not that it is small. */
typedef struct us_value {
    double value; /**< 0 when absent */
    double error; /**< estimated, in the unit of the value; 0 when absent */
    bool present; /**< false where the quantity has no meaning or no bound */
} us_value;

/** How a stated error stands to the accuracy asked for. */
typedef enum us_accuracy {
    US_ACCURACY_REACHED,  /**< within it, relative to the value */
    US_ACCURACY_ON_SCALE, /**< the value tends to zero: within it as a share of 1/1000 of its scale,
                               which is k H for flow (k: sqrt(kh kv) of the tightest layer) and
                               H over the depth of the mean for an exit gradient */
    US_ACCURACY_MISSED    /**< refinement ended first: the value has not converged */
} us_accuracy;

/** Flow under the structure, per metre of width.
 *
 * The bounds come from two problems on one grid: the energy of the head cannot be
 * too small, that of the stream function not too large (Thomson and Dirichlet
 * principles). */
typedef struct us_flow_result {
    us_value rate_m2_s;   /**< absent when unbounded (`base: none`) */
    double lower_m2_s;    /**< lower bound or estimate (see `certified`), 0 when unbounded */
    double upper_m2_s;    /**< upper bound or estimate, 0 when unbounded */
    bool certified;       /**< the flow of the section as described lies between them by theory,
                               rounding included; false: they are estimates */
    bool bounded;         /**< false when the soil has no base, or when water from below the
                               base enters endless soil */
    us_value total_m3_s;  /**< rate times channel width, where a width is given */
    us_accuracy accuracy; /**< of the rate */
} us_flow_result;

/** A point of the bed beside the governing exit. */
typedef struct us_profile_point {
    double x_m;
    us_value gradient; /**< upward gradient there; absent at an exit that is unbounded */
    us_value factor;   /**< critical over that, as at an exit; absent where there is none */
} us_profile_point;

/** A place where water leaves the soil.
 *
 * The critical gradient on level ground is i_c = (saturated unit weight - water) / water; on
 * bed at angle b, of soil with an angle of friction phi, i_c (cos b - sin b / tan phi) under
 * water and i_c cos b - (i_c + 1) sin b / tan phi where none stands on it (docs/checks.md). */
typedef struct us_exit_place {
    const char *kind; /**< `toe` (beside the structure or the bare wall), `wall`, `step`, `seal`
                           (its end), `waterline`, `bed` (elsewhere on it), `drain`, `weeps`,
                           `permeable` (a stretch of the underside) */
    const char *name; /**< of a drain or a wall; NULL elsewhere */
    double x_m;       /**< the middle of a drain or stretch */
    double level_m;
    us_value gradient;   /**< square to the bed; absent where unbounded, and at drains */
    us_value mean;       /**< mean gradient over `mean_depth_m` below the bed, or over the face of a
                              drain or stretch: what is judged where there is no `gradient` */
    double mean_depth_m; /**< 0: over a face */
    const char *soil;    /**< name of the soil that the water leaves */
    double slope_rad;    /**< of the bed there, from 0 on */
    bool emerges;        /**< no water stands on the bed there */
    us_value critical;   /**< critical gradient there, slope included, at least 0; absent where
                              something is lacking, and where water does not leave upwards */
    us_value factor;   /**< critical over gradient or mean; absent as those, where no water leaves,
                            and where the error is over half the gradient */
    const char *lacks; /**< the key of the soil that is missing; NULL: none */
    bool retained;     /**< the section says that something retains the soil there: the check
                                  `retention` judges it, and the factor does not count for piping */
} us_exit_place;

/** The governing exit: where the upward gradient on the downstream bed is largest.
 *
 * The critical gradient is (saturated unit weight - water) / water. */
typedef struct us_exit_result {
    bool present;           /**< false where no downstream bed is used */
    bool bounded;           /**< false where theory gives no finite value at the exit */
    bool enters;            /**< no water leaves the downstream bed, some enters it: there is no
                                 gradient and no mean */
    us_value gradient;      /**< upward hydraulic gradient; absent when unbounded */
    double x_m;             /**< where it occurs */
    double level_m;         /**< bed level there */
    us_value mean;          /**< mean upward gradient over `mean_depth_m` below the exit */
    double mean_depth_m;    /**< depth of that mean */
    const char *soil;       /**< name of the soil at the exit */
    us_value critical;      /**< critical gradient of that soil; absent without unit weight */
    us_value piping_factor; /**< critical, less what a slope takes of it, over exit gradient (or
                                 over the mean when unbounded); absent without exit flow, where the
                                 error is over half the gradient, or where the soil lacks a value */
    us_accuracy accuracy;   /**< of the gradient, or of the mean where it is unbounded */
    bool falls_fast;        /**< the gradient falls by more than half within `fall_m` along the
                                 bed: the value holds for that spot alone */
    double fall_m;          /**< a tenth of the floor, at most a quarter of the soil's thickness,
                                 or of the embedment if that is more; 0 where unbounded */
    size_t profile_count;   /**< 0 where nothing flows out, else up to 7 */
    const us_profile_point *profile; /**< along the bed beside the exit, outwards from it, up to
                                          a wall or a side: at 0, 0.1, 0.25, 0.5, 1, 2, 4 times the
                                        larger of embedment and the depth of a flush edge's mean */
    us_value with_cutoff;       /**< where unbounded: largest gradient on the bed if a cut-off of
                                     `cutoff_m` stood at the exit; absent where none was found */
    double cutoff_m;            /**< depth of that cut-off below the bed; 0 where bounded */
    size_t exit_count;          /**< also where no downstream bed is used, but a drain */
    const us_exit_place *exits; /**< all places where water leaves the soil, or may; those where
                                     it cannot move a grain are left out */
    size_t worst;               /**< the one of the smallest factor; `exit_count`: none has one */
} us_exit_result;

/** A panel of the structure between joints, per metre of width. */
typedef struct us_uplift_panel {
    double from_m;             /**< x */
    double to_m;               /**< x */
    us_value force_n_m;        /**< U of the panel, suction clipped at zero */
    us_value x_m;              /**< its line of action; absent when the force may be zero */
    us_value weight_n_m;       /**< W; absent without `top` and `unit_weight` */
    us_value water_on_top_n_m; /**< Ww; 0 without a water surface over the structure */
    us_value net_n_m;          /**< U - W - Ww, positive lifts; absent without a weight */
    us_value factor;           /**< (W + Ww) / U; absent without a weight or where U may be zero */
    bool suction;              /**< true where suction was clipped somewhere */
} us_uplift_panel;

/** Thickness that a floor needs at a place of the underside to hold by its own weight there,
 * without any factor. docs/checks.md says what each form assumes. */
typedef struct us_thickness {
    double x_m;
    double level_m;       /**< of the underside; at a step there is a place on either side */
    us_value head_m;      /**< total head there */
    us_value pressure_m;  /**< pressure head there, clipped at zero */
    us_value provided_m;  /**< top less underside; absent without a top */
    us_value submerged_m; /**< head above the top, or above the water on it, over (G - 1); absent
                               without top and unit weight, or where G is at most 1 */
    us_value allowed_m;   /**< 4/3 of that */
    us_value dry_m;       /**< pressure head over G; absent without a unit weight */
} us_thickness;

/** Water pressure on the underside, per metre of width; positive is upward.
 *
 * U is the sum of the unit weight of water times max(head - level, 0) along the
 * underside; W is the weight of the structure, Ww that of water on it, counted where the
 * water case has a `surface`. */
typedef struct us_uplift_result {
    bool present;              /**< false without a structure */
    us_value force_n_m;        /**< U: suction clipped at zero */
    us_value x_m;              /**< line of action; absent when the force may be zero */
    us_value weight_n_m;       /**< W of the structure; absent without `top` and `unit_weight` */
    us_value water_on_top_n_m; /**< Ww; 0 without a water surface over the structure */
    us_value net_n_m;          /**< U - W - Ww, positive lifts; absent without a weight */
    us_value factor;           /**< (W + Ww) / U; absent without a weight or where U may be zero */
    bool suction;              /**< true where suction was clipped somewhere */
    us_value overturning_n;    /**< moment of U about the toe, the downstream end of the structure;
                                    absent where U may be zero */
    us_value holding_n;        /**< moment of W and Ww about it; absent without a weight */
    us_value moment_factor;    /**< holding over overturning moment; absent without either */
    size_t panel_count;
    const us_uplift_panel *panels; /**< from left to right; one without joints */
    size_t thickness_count;
    const us_thickness *thickness; /**< at ends, vertices and joints of the underside and some
                                        places between, from left to right */
    const char *pressures_from;    /**< the water case that U is from; NULL: this one. Where that
                                        case is undermined, force and heads are absent */
    us_value steady_s;             /**< with it: time that the ground takes to reach a new steady
                                        state, L^2 Ss / k; absent where Ss is not known */
    double steady_length_m;        /**< L */
    const char *steady_soil;       /**< the soil that takes longest, or one whose specific storage
                                        is not known; NULL without `pressures_from` */
} us_uplift_result;

/** Heads at a wall, absent where a face touches no soil, or the tip is sealed or goes on below. */
typedef struct us_wall_result {
    const char *name;               /**< as in the section file, or `wall_1` and so on */
    us_value upstream_face_top_m;   /**< total head at the highest soil contact of that face */
    us_value tip_m;                 /**< total head at the tip */
    us_value downstream_face_top_m; /**< total head at the highest soil contact of that face */
    us_value rise;         /**< mean upward gradient along the downstream face, tip to top */
    bool passes;           /**< it has leaky interlocks, openings or a gap under the cap */
    us_value through_m2_s; /**< flow through these per unit width, positive downstream */
} us_wall_result;

/** Head at a piezometer. */
typedef struct us_piezometer_result {
    const char *name; /**< as in the section file, or `P1` and so on */
    us_value head_m;  /**< total head */
} us_piezometer_result;

/** Outcome of a check. */
typedef enum us_verdict {
    US_NOT_REQUIRED, /**< the section sets no limit */
    US_PASS,         /**< the value keeps to the limit */
    US_FAIL,         /**< it does not */
    US_NOT_CHECKED   /**< something that the check needs is not known: never a pass */
} us_verdict;

/** A quantity against the user's own limit. */
typedef struct us_check_result {
    const char *name;  /**< `piping`, `heave` and so on; docs/checks.md lists them */
    us_value value;    /**< the factor or other number that is judged; absent where there is none */
    us_value required; /**< the user's limit; absent when none is set */
    bool at_most;      /**< the value may be at most the limit; else it must be at least that */
    us_value margin;   /**< value over limit, or limit over value for `at_most`: 1 is just enough;
                            absent without either */
    us_verdict verdict;
    const char *where; /**< place, in words */
    const char *basis; /**< how the number came about, in words */
} us_check_result;

/** A line of the register of checks: a kind of check, in the water case where it is nearest to
 * its limit or furthest beyond; where no limit is set, where its value is least favourable. */
typedef struct us_register_entry {
    const us_check_result *check; /**< of that water case; never NULL */
    const char *water;            /**< name of the case */
    bool governs;                 /**< of all checks with a limit this one is nearest to it */
} us_register_entry;

/** A drain, open in this water case or not. */
typedef struct us_drain_result {
    const char *name;    /**< as in the section file, or `drain_1` and so on */
    bool open;           /**< false: shut in this water case, the rest is absent */
    us_value flow_m2_s;  /**< water that leaves the soil by it, per metre of width; absent where
                              it touches water of another head, so that it has no limit */
    double lower_m2_s;   /**< bounds where the flow of the case is certified, else estimates; 0
                              where the flow is absent */
    double upper_m2_s;   /**< likewise */
    us_value total_m3_s; /**< flow times channel width, where a width is given */
    double head_m;       /**< where it lets out: the higher of outlet and tailwater */
    us_value face_m;     /**< total head where soil touches it; above `head_m` where water
                              loses head on its way into the drain */
    bool feeds;          /**< water flows out of the drain into the soil */
} us_drain_result;

/** What happens at a stretch of the underside. */
typedef enum us_stretch_kind {
    US_STRETCH_PERMEABLE,   /**< water passes up through the structure */
    US_STRETCH_CONTACT_LOST /**< a void below the structure */
} us_stretch_kind;

/** A stretch of the underside that is not tight, or without contact. */
typedef struct us_stretch_result {
    us_stretch_kind kind;
    double from_m;      /**< x */
    double to_m;        /**< x */
    us_value flow_m2_s; /**< water that leaves the soil there; absent at a void */
    us_value head_m;    /**< total head there */
} us_stretch_result;

/** Bed above the water, where head is the level of the bed as far as water comes out,
 * and where no water goes in. */
typedef struct us_dry_result {
    bool present;       /**< false where all bed lies under water */
    us_value open_m;    /**< length of it where water comes out */
    us_value closed_m;  /**< length of it, as far as it is modelled, where none does */
    us_value flow_m2_s; /**< water that comes out there, on both sides, per metre of width */
    int rounds;         /**< most steps that any of the nested grids took to tell the two apart */
} us_dry_result;

/** Where a prism of soil stands. */
typedef enum us_prism_kind {
    US_PRISM_TOE,   /**< beside the toe's wall or end face, down to its tip */
    US_PRISM_DEPTH, /**< beside the toe, of the depth that is worst there */
    US_PRISM_BED    /**< the worst that begins elsewhere on the bed downstream */
} us_prism_kind;

/** A prism of soil below the downstream bed, half as wide as deep, and what would lift it; per
 * metre of width.
 *
 * The effective factor is W' / S: the submerged weight W' of the soil over the seepage force
 * S = unit weight of water * mean excess head * width (Terzaghi 1943). The excess is that of the
 * mean head along the lower side over the water above the prism, or over the bed where that lies
 * out of the water. The total factor is the weight of saturated soil and water over the pore
 * pressure on the lower side. */
typedef struct us_prism_result {
    us_prism_kind kind;
    double from_m; /**< x of its sides, the smaller first */
    double to_m;
    double level_m;         /**< of its lower side */
    double depth_m;         /**< below the bed, at the side that it was laid from */
    bool narrow;            /**< a wall, the works or a side keep it from half its depth */
    us_value head_m;        /**< mean total head along the lower side */
    us_value corner_m;      /**< total head below the side it was laid from: at a wall, the tip */
    double water_m;         /**< mean level of the water above it, of the bed where that is dry */
    us_value weight_n_m;    /**< of the saturated soil; absent where a soil has no unit weight */
    double water_n_m;       /**< weight of the water that stands on it */
    us_value submerged_n_m; /**< W'; absent with the weight */
    us_value seepage_n_m;   /**< S; below zero where water goes down */
    us_value pressure_n_m;  /**< pore pressure on the lower side */
    us_value factor;        /**< W' / S; absent without a weight, or where S may be zero */
    us_value total_factor;  /**< absent without a weight, or where the pressure may be zero */
    const char *unweighed;  /**< name of a soil in it without unit weight, or NULL */
} us_prism_result;

enum { US_PRISMS_MOST = 3 };

/** Prisms of soil that seepage might lift. Fixed ones of many depths and places are looked at. */
typedef struct us_heave_result {
    size_t prism_count;
    us_prism_result prisms[US_PRISMS_MOST]; /**< at most one of each kind, in that order */
    const char *unweighed; /**< name of a soil without unit weight that kept some prism from being
                                judged, or NULL */
} us_heave_result;

/** Where a tight layer lies over a pervious one downstream, kv of which is at least ten times
 * that of the tightest soil above: the place with the least total stress over pore pressure. */
typedef struct us_blow_up_result {
    bool present; /**< false: there is no such place */
    double x_m;
    double level_m;         /**< of the lower side of the tight soil */
    const char *upper;      /**< name of the tightest soil above */
    const char *lower;      /**< name of the soil below; NULL for water below the base */
    us_value head_m;        /**< total head there */
    us_value stress_n_m2;   /**< of saturated soil and water above; absent where a soil has no unit
                                 weight */
    us_value pressure_n_m2; /**< pore pressure */
    us_value factor;        /**< stress over pressure; absent without a stress, or where the
                                 pressure may be zero */
    const char *unweighed;  /**< name of a soil without unit weight that kept some place from being
                                 judged, or NULL */
} us_blow_up_result;

struct us_works_result;

/** Everything about one water case. Strings and arrays belong to the solution. */
typedef struct us_water_result {
    const char *name;         /**< as in the section file, or `case_1` and so on */
    double upstream_m;        /**< upstream water level */
    double downstream_m;      /**< downstream water level; the bed level for `at_bed` */
    bool at_bed;              /**< true where no water stands on the downstream bed */
    double head_difference_m; /**< upstream minus downstream */
    us_flow_result flow;
    us_exit_result exit;
    us_uplift_result uplift;
    size_t wall_count;
    const us_wall_result *walls; /**< `wall_count` entries, in file order */
    size_t piezometer_count;
    const us_piezometer_result *piezometers; /**< `piezometer_count` entries, in file order */
    us_heave_result heave;
    us_blow_up_result blow_up;
    size_t check_count;
    const us_check_result *checks; /**< `check_count` entries */
    const char *undermined;        /**< what the beds of this case leave without ground, a sentence:
                                        nothing could be solved. NULL otherwise */
    us_value discharge_m3_s;       /**< of a table of cases; absent without */
    us_value return_period_years;  /**< likewise */
    size_t drain_count;
    const us_drain_result *drains; /**< `drain_count` entries, in file order */
    size_t stretch_count;
    const us_stretch_result *stretches; /**< `stretch_count` entries: permeable ones, then voids */
    us_dry_result dry;
    us_value base_flow_m2_s; /**< water that enters through the base where water stands under
                                  pressure below it; absent elsewhere, in endless soil, and where
                                  it meets a side of another head */
    const struct us_works_result *works;         /**< creep, openings, walls (works.h); NULL for an
                                                      undermined case */
    const struct us_water_result *drains_shut;   /**< the same case with all drains shut; NULL
                                                      where none is open */
    const struct us_water_result *without_apron; /**< the same case where all of the underside
                                                      lets water up; NULL where not asked for, or
                                                      where its flow would have no limit (a
                                                      note says so) */
} us_water_result;

/** The grid the reported values come from. */
typedef struct us_grid_result {
    size_t unknowns;     /**< of the head problem on the finest grid */
    size_t columns;      /**< cells across */
    size_t rows;         /**< cells up */
    double mass_balance; /**< |inflow - outflow| over (k H), or over the flow where more, at most */
    bool converged;      /**< false when the size limit stopped refinement first */
} us_grid_result;

/** The solution of a section, freed by us_solution_free(). It does not change: any
 * number of threads may read it at once. */
typedef struct us_solution us_solution;

/** How to solve. Initialise with `US_SOLVE_OPTIONS_INIT`, then set what is to be
 * other than the default. */
typedef struct us_solve_options {
    size_t size;        /**< sizeof(us_solve_options), set by the initialiser */
    double accuracy;    /**< stated relative error of exit gradient and flow: a share (not a
                             percentage) from 1e-5 to 0.2; by default 0.01 */
    bool without_apron; /**< solves each case once more without credit for the apron; by
                             default false */
    bool other_ratios;  /**< adds a note with what kh / kv of 4 and of 10 would do, roughly, to the
                             case with the largest head difference; by default false */
} us_solve_options;

/** The defaults of us_solve_options. */
#define US_SOLVE_OPTIONS_INIT                                                                      \
    {                                                                                              \
        sizeof(us_solve_options), 0.01, false, false                                               \
    }

/** Solves a section for all its water cases.
 *
 * Steady Darcy flow, d/dx(kh dh/dx) + d/dz(kv dh/dz) = 0, on a pair of nested
 * graded grids that is refined until the stated error of flow and exit gradient
 * is within the accuracy asked for; docs/method.md tells how. `options` may be
 * NULL for defaults.
 *
 * `*solution` is the caller's (us_solution_free()) on `US_OK` and on
 * `US_NOT_CONVERGED`: then the size limit stopped refinement and the values are
 * the best there are. It refers to `section`, which must outlive it. Other
 * statuses: `US_ERROR_ARGUMENT`, `US_ERROR_INPUT` (soil sealed off from all
 * water), `US_ERROR_NUMERICAL`, `US_ERROR_MEMORY`, `US_CANCELLED`.
 *
 * Several threads may solve at once, also the same section, each with its own
 * context: the results have the same bytes as one after the other. A solve has
 * one thread unless us_context_set_threads() allows two, and touches no setting
 * of the process.
 *
 * @code
 * us_solve_options options = US_SOLVE_OPTIONS_INIT;
 * options.accuracy = 0.005;
 * us_solution *finer = NULL;
 * us_status status = us_section_solve(context, section, &options, &finer);
 * if (status == US_OK || status == US_NOT_CONVERGED) {
 *     const us_flow_result *flow = &us_solution_water(finer, 0)->flow;
 *     if (flow->rate_m2_s.present) {
 *         printf("flow %.4g m2/s, between %.4g and %.4g\n", flow->rate_m2_s.value,
 *                flow->lower_m2_s, flow->upper_m2_s);
 *     }
 *     us_solution_free(finer);
 * }
 * @endcode
 */
US_API us_status us_section_solve(us_context *context, const us_section *section,
                                  const us_solve_options *options, us_solution **solution);

/** Frees a solution and all results in it; NULL is allowed. */
US_API void us_solution_free(us_solution *solution);

/** Counts the water cases of a solution: those of its section. */
US_API size_t us_solution_water_count(const us_solution *solution);

/** Gives the results of water case `index`, counted from 0 in file order; NULL when
 * out of range. They live as long as the solution.
 *
 * @code
 * for (size_t w = 0; w < us_solution_water_count(solution); w++) {
 *     const us_water_result *water = us_solution_water(solution, w);
 *     printf("%s: head difference %.2f m\n", water->name, water->head_difference_m);
 *     for (size_t i = 0; i < water->wall_count; i++) {
 *         if (water->walls[i].tip_m.present) {
 *             printf("  head at the tip of %s: %.2f m\n", water->walls[i].name,
 *                    water->walls[i].tip_m.value);
 *         }
 *     }
 * }
 * @endcode
 */
US_API const us_water_result *us_solution_water(const us_solution *solution, size_t index);

/** Gives the grid behind the results. It lives as long as the solution. */
US_API const us_grid_result *us_solution_grid(const us_solution *solution);

/** Gives the accuracy that was asked for, a share. */
US_API double us_solution_accuracy(const us_solution *solution);

/** Counts the notes (defaults taken, unbounded points, suction, ...). */
US_API size_t us_solution_note_count(const us_solution *solution);

/** Gives note `index`, counted from 0: an English sentence in UTF-8, numbers in the
 * units of the section file. NULL when out of range; lives as long as the solution. */
US_API const char *us_solution_note(const us_solution *solution, size_t index);

/** Counts the kinds of check that were made. */
US_API size_t us_solution_register_count(const us_solution *solution);

/** Gives entry `index` of the register of checks, counted from 0; NULL when out of range. It
 * lives as long as the solution.
 *
 * @code
 * for (size_t k = 0; k < us_solution_register_count(solution); k++) {
 *     const us_register_entry *entry = us_solution_register(solution, k);
 *     printf("%s in %s%s\n", entry->check->name, entry->water,
 *            entry->governs ? ": governs" : "");
 * }
 * @endcode
 */
US_API const us_register_entry *us_solution_register(const us_solution *solution, size_t index);

/** Tells whether a required check fails in any water case, or could not be made: what is not
 * checked has not passed. */
US_API bool us_solution_fails(const us_solution *solution);

#ifdef __cplusplus
}
#endif
#endif
