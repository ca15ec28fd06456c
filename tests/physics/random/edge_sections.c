/* Random sections with drains, seals, dry bed, voids, water below: what must hold of any
 * solution of one holds of it. tests/physics/edges/wild_edges.py makes them.
 *
 *   edge_sections [ACCURACY]   checks sections from standard input, as random_sections does
 */
#include "model/section.h"
#include "physics/random/trial.h"

/* Steps that open and closed dry bed are told apart in. */
enum { STEPS_MOST = 30 };
static const double HEAD_SLACK_M = 1e-6;

/* Lowest and highest head that any water of the section has. */
typedef struct range {
    double low_m;
    double high_m;
} range;

static void take(range *of, double head_m)
{
    of->low_m = fmin(of->low_m, head_m);
    of->high_m = fmax(of->high_m, head_m);
}

/* Dry bed and permeable underside let water out at their own level, and supply none. */
static void take_line(range *of, const usi_line *line)
{
    for (size_t k = 0; k < line->count; k++) {
        of->low_m = fmin(of->low_m, line->points[k].z_m);
    }
}

static range range_of(const us_section *section, const us_water_result *water, size_t index)
{
    range found = {water->downstream_m, water->upstream_m};
    take(&found, water->downstream_m);
    take(&found, water->upstream_m);
    for (size_t d = 0; d < section->drain_count; d++) {
        if (!section->drains[d].tailwater) {
            take(&found, section->drains[d].outlet_m);
        }
    }
    if (section->artesian.acts) {
        take(&found, section->artesian.head_m);
    }
    const usi_side *sides[2] = {&section->left, &section->right};
    for (int side = 0; side < 2; side++) {
        if (sides[side]->kind == USI_SIDE_FIXED_HEAD && sides[side]->has_head) {
            take(&found, sides[side]->head_m);
        }
    }
    if (section->permeable_count > 0) {
        take_line(&found, &section->underside);
    }
    if (water->at_bed) {
        const us_section *ground = section->waters[index].ground;
        take_line(&found, usi_section_downstream_bed(ground != NULL ? ground : section));
    }
    return found;
}

static void check_bounds(trial *of, const char *what, us_value flow, double lower_m2_s,
                         double upper_m2_s)
{
    if (!trial_sane(of, what, flow)) {
        return;
    }
    if (!(lower_m2_s <= upper_m2_s && flow.value >= lower_m2_s && flow.value <= upper_m2_s)) {
        trial_fault(of, "%s %.12g, bounds %.12g and %.12g", what, flow.value, lower_m2_s,
                    upper_m2_s);
    }
}

static void check_dry(trial *of, const us_dry_result *dry, tally *sum)
{
    if (!dry->present) {
        return;
    }
    (void)trial_sane(of, "open length", dry->open_m);
    (void)trial_sane(of, "closed length", dry->closed_m);
    if (trial_sane(of, "outflow", dry->flow_m2_s) && dry->flow_m2_s.value < -dry->flow_m2_s.error) {
        trial_fault(of, "%g m2/s enters through a dry bed", -dry->flow_m2_s.value);
    }
    if (dry->open_m.value < 0.0 || dry->closed_m.value < 0.0) {
        trial_fault(of, "%g m open, %g m closed", dry->open_m.value, dry->closed_m.value);
    }
    sum->steps = dry->rounds > sum->steps ? dry->rounds : sum->steps;
    if (dry->rounds > STEPS_MOST) {
        trial_fault(of, "%d steps", dry->rounds);
    }
}

static void check_works(trial *of, const us_water_result *water)
{
    for (size_t d = 0; d < water->drain_count; d++) {
        const us_drain_result *drain = &water->drains[d];
        check_bounds(of, drain->name, drain->flow_m2_s, drain->lower_m2_s, drain->upper_m2_s);
        (void)trial_sane(of, drain->name, drain->face_m);
        if (drain->flow_m2_s.present && drain->feeds && drain->flow_m2_s.value > 0.0) {
            trial_fault(of, "%s feeds %g", drain->name, drain->flow_m2_s.value);
        }
    }
    for (size_t s = 0; s < water->stretch_count; s++) {
        (void)trial_sane(of, "flow of a stretch", water->stretches[s].flow_m2_s);
        (void)trial_sane(of, "head of a stretch", water->stretches[s].head_m);
    }
}

static void check_exit(trial *of, const us_exit_result *leave)
{
    (void)trial_sane(of, "mean gradient", leave->mean);
    (void)trial_sane(of, "piping factor", leave->piping_factor);
    if (trial_sane(of, "exit gradient", leave->gradient) &&
        leave->gradient.value + leave->gradient.error < 0.0) {
        trial_fault(of, "exit gradient %g", leave->gradient.value);
    }
    for (size_t p = 0; p < leave->profile_count; p++) {
        (void)trial_sane(of, "gradient beside the exit", leave->profile[p].gradient);
    }
}

static void check_case(trial *of, const us_water_result *water, range heads, tally *sum)
{
    check_bounds(of, "flow", water->flow.rate_m2_s, water->flow.lower_m2_s, water->flow.upper_m2_s);
    check_exit(of, &water->exit);
    (void)trial_sane(of, "uplift", water->uplift.force_n_m);
    (void)trial_sane(of, "line of uplift", water->uplift.x_m);
    (void)trial_sane(of, "flow of the base", water->base_flow_m2_s);
    trial_check_walls(of, water, heads.low_m - HEAD_SLACK_M, heads.high_m + HEAD_SLACK_M);
    check_works(of, water);
    check_dry(of, &water->dry, sum);
}

/* Nothing was solved: there are no numbers. */
static void check_undermined(trial *of, const us_water_result *water)
{
    if (water->flow.rate_m2_s.present || water->exit.present || water->uplift.present ||
        water->wall_count > 0 || water->drain_count > 0 || water->dry.present ||
        water->drains_shut != NULL) {
        trial_fault(of, "%s is undermined and has numbers", water->name);
    }
}

static void check(trial *of, const us_solution *solution, tally *sum)
{
    trial_check_balance(of, solution, sum);
    for (size_t w = 0; w < us_solution_water_count(solution); w++) {
        const us_water_result *water = us_solution_water(solution, w);
        range heads = range_of(of->section, water, w);
        if (water->undermined != NULL) {
            check_undermined(of, water);
            continue;
        }
        check_case(of, water, heads, sum);
        if (water->drains_shut != NULL) {
            check_case(of, water->drains_shut, heads, sum);
        }
    }
}

int main(int count, char **words)
{
    tally sum = {.accuracy = count > 1 ? strtod(words[1], NULL) : 0.2};
    trial_run_input(check, &sum);
    return trial_end(&sum);
}
