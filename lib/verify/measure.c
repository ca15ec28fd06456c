/* One case: its section goes the ordinary way, its results beside what is known. */
#include <math.h>
#include <string.h>

#include "base/memory.h"
#include "verify/verification.h"

typedef struct kind {
    const char *quantity;
    const char *unit;
} kind;

static const kind kinds[] = {
    [USI_VERIFY_FLOW] = {"flow", "m^2/s"},
    [USI_VERIFY_EXIT_GRADIENT] = {"exit_gradient", ""},
    [USI_VERIFY_EXIT_MEAN] = {"exit_gradient.mean", ""},
    [USI_VERIFY_UPLIFT_FORCE] = {"uplift.force", "N/m"},
    [USI_VERIFY_UPSTREAM_FACE_TOP] = {"wall.upstream_face_top", "m"},
    [USI_VERIFY_TIP] = {"wall.tip", "m"},
    [USI_VERIFY_DOWNSTREAM_FACE_TOP] = {"wall.downstream_face_top", "m"},
    [USI_VERIFY_PIEZOMETER] = {"piezometer.head", "m"},
    [USI_VERIFY_FACTOR] = {"check.piping", ""},
};

/* A row before anything is computed: what is known. */
static us_verification_row row_of(const usi_verify_case *one, const usi_verify_check *check)
{
    const kind *of = &kinds[check->quantity];
    us_verification_row row = {
        .name = one->name,
        .title = "",
        .source = one->source,
        .section = one->section,
        .quantity = of->quantity,
        .place = check->at != NULL ? check->at : "",
        .unit = of->unit,
        .why = check->why != NULL ? check->why : "",
    };
    if (isfinite(check->expected)) {
        row.expected = (us_value){check->expected, check->tolerance, true};
    }
    return row;
}

static us_value wall_head(const us_water_result *water, const usi_verify_check *check)
{
    for (size_t i = 0; i < water->wall_count; i++) {
        const us_wall_result *wall = &water->walls[i];
        if (check->at == NULL || strcmp(wall->name, check->at) != 0) {
            continue;
        }
        if (check->quantity == USI_VERIFY_TIP) {
            return wall->tip_m;
        }
        return check->quantity == USI_VERIFY_UPSTREAM_FACE_TOP ? wall->upstream_face_top_m
                                                               : wall->downstream_face_top_m;
    }
    return (us_value){0};
}

static us_value piezometer_head(const us_water_result *water, const char *name)
{
    for (size_t i = 0; i < water->piezometer_count; i++) {
        if (name != NULL && strcmp(water->piezometers[i].name, name) == 0) {
            return water->piezometers[i].head_m;
        }
    }
    return (us_value){0};
}

static us_value value_of(const us_water_result *water, const usi_verify_check *check)
{
    switch (check->quantity) {
    case USI_VERIFY_FLOW:
        return water->flow.rate_m2_s;
    case USI_VERIFY_EXIT_GRADIENT:
        return water->exit.gradient;
    case USI_VERIFY_EXIT_MEAN:
        return water->exit.mean;
    case USI_VERIFY_UPLIFT_FORCE:
        return water->uplift.force_n_m;
    case USI_VERIFY_FACTOR:
        return water->exit.piping_factor;
    case USI_VERIFY_PIEZOMETER:
        return piezometer_head(water, check->at);
    default:
        return wall_head(water, check);
    }
}

/* Rounding of the expected value, of the computed one and of the bounds, where a
 * solution is exact on any grid. */
static const double ROUNDING = 1e-9;

bool usi_verify_passes(const us_verification_row *row)
{
    if (!row->expected.present || !row->computed.present) {
        return row->expected.present == row->computed.present;
    }
    double slack = ROUNDING * fabs(row->expected.value);
    bool bounded = row->upper_m2_s > 0.0 && !(row->expected.error > 0.0);
    if (bounded && (row->expected.value < row->lower_m2_s - slack ||
                    row->expected.value > row->upper_m2_s + slack)) {
        return false;
    }
    double allowed = row->computed.error + row->expected.error;
    return fabs(row->computed.value - row->expected.value) <= allowed + slack;
}

static void compare(const usi_verify_check *check, const us_solution *solution,
                    us_verification_row *row)
{
    const us_water_result *water = us_solution_water(solution, 0);
    row->computed = value_of(water, check);
    row->accuracy = us_solution_accuracy(solution);
    row->converged = us_solution_grid(solution)->converged;
    if (check->quantity == USI_VERIFY_FLOW) {
        row->lower_m2_s = water->flow.lower_m2_s;
        row->upper_m2_s = water->flow.upper_m2_s;
    }
    row->pass = usi_verify_passes(row);
}

static us_status solve(us_context *context, const usi_verify_case *one, us_section **section,
                       us_solution **solution)
{
    us_solve_options options = US_SOLVE_OPTIONS_INIT;
    options.accuracy = one->accuracy > 0.0 ? one->accuracy : options.accuracy;
    us_status status =
        us_section_read(context, one->section, strlen(one->section), one->name, section);
    return status == US_OK ? us_section_solve(context, *section, &options, solution) : status;
}

static char *copy(us_context *context, const char *text)
{
    return usi_memory_text(context, text, strlen(text));
}

static char *first_error(us_context *context)
{
    const us_diagnostic *said = NULL;
    for (size_t i = 0; said == NULL && i < us_context_diagnostic_count(context); i++) {
        const us_diagnostic *each = us_context_diagnostic(context, i);
        said = each->severity == US_ERROR ? each : NULL;
    }
    return copy(context, said != NULL ? said->message : "no reason given");
}

us_status usi_verify_job_run(us_context *context, usi_verify_job *job)
{
    const usi_verify_case *one = job->one;
    us_section *section = NULL;
    us_solution *solution = NULL;
    us_context_clear(context);
    us_status status = solve(context, one, &section, &solution);
    if (status == US_ERROR_MEMORY || status == US_CANCELLED) {
        us_section_free(section);
        return status;
    }
    job->title = copy(context, section != NULL ? us_section_title(section) : "");
    job->trouble = solution == NULL ? first_error(context) : NULL;
    for (size_t i = 0; i < one->check_count; i++) {
        us_verification_row *row = &job->rows[i];
        *row = row_of(one, &one->checks[i]);
        row->title = job->title;
        if (solution != NULL) {
            compare(&one->checks[i], solution, row);
        }
    }
    bool short_of_memory = job->title == NULL || (solution == NULL && job->trouble == NULL);
    us_solution_free(solution);
    us_section_free(section);
    return short_of_memory ? US_ERROR_MEMORY : US_OK;
}
