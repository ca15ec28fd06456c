/* One long table: water,quantity,place,value,error,unit,note. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/number.h"
#include "output/csv_rows.h"
#include "undersill/version.h"

typedef usi_csv_row row;

void usi_form_csv_cell(us_buffer *out, const char *text)
{
    if (text == NULL) {
        return;
    }
    bool formula = text[0] != '\0' && strchr("=+-@\t\r", text[0]) != NULL;
    bool quoted = strpbrk(text, ",\"\r\n") != NULL;
    usi_buffer_add_text(out, quoted ? "\"" : "");
    usi_buffer_add_text(out, formula ? "'" : "");
    for (; *text != '\0'; text++) {
        usi_buffer_add(out, text, 1);
        if (*text == '"') {
            usi_buffer_add(out, text, 1);
        }
    }
    usi_buffer_add_text(out, quoted ? "\"" : "");
}

static void add_number(us_buffer *out, bool present, double value)
{
    enum { DIGITS = 9 };
    char text[USI_NUMBER_ROOM];
    if (present && isfinite(value)) {
        usi_buffer_add_text(out, usi_number_write(text, value == 0.0 ? 0.0 : value, DIGITS));
    }
}

void usi_csv_add(const usi_csv *to, usi_csv_row about, us_value value, double unit)
{
    us_buffer *out = to->out;
    usi_buffer_add_text(out, to->lead != NULL ? to->lead : "");
    usi_form_csv_cell(out, to->water);
    usi_buffer_add_text(out, ",");
    usi_buffer_add_text(out, to->prefix);
    usi_form_csv_cell(out, about.quantity);
    usi_buffer_add_text(out, ",");
    usi_form_csv_cell(out, about.place);
    usi_buffer_add_text(out, ",");
    add_number(out, value.present, value.value / unit);
    usi_buffer_add_text(out, ",");
    add_number(out, value.present && value.error > 0.0, value.error / unit);
    usi_buffer_add_text(out, ",");
    usi_form_csv_cell(out, about.unit);
    usi_buffer_add_text(out, ",");
    usi_form_csv_cell(out, about.note);
    usi_buffer_add_text(out, "\r\n");
}

us_value usi_csv_exact(double value)
{
    return (us_value){.value = value, .error = 0.0, .present = true};
}

static void add_levels(const usi_csv *to, const us_water_result *water)
{
    const char *length = to->scale->length;
    double unit = to->scale->length_m;
    usi_csv_add(to, (row){.quantity = "upstream", .unit = length}, usi_csv_exact(water->upstream_m),
                unit);
    usi_csv_add(to,
                (row){.quantity = "downstream",
                      .unit = length,
                      .note = water->at_bed ? "no water stands on the bed" : NULL},
                usi_csv_exact(water->downstream_m), unit);
    usi_csv_add(to, (row){.quantity = "head_difference", .unit = length},
                usi_csv_exact(water->head_difference_m), unit);
}

/* What becomes of a value's accuracy, or NULL where it is reached as it should be. */
static const char *shortcoming(us_accuracy accuracy)
{
    switch (accuracy) {
    case US_ACCURACY_REACHED:
        break;
    case US_ACCURACY_ON_SCALE:
        return "tends to zero";
    case US_ACCURACY_MISSED:
        return "not converged";
    }
    return NULL;
}

static void add_flow(const usi_csv *to, const us_flow_result *flow)
{
    const char *unit = to->scale->flow;
    double size = to->scale->flow_m2_s;
    us_value lower = {flow->lower_m2_s, 0.0, flow->bounded};
    us_value upper = {flow->upper_m2_s, 0.0, flow->bounded};
    const char *note = flow->bounded ? shortcoming(flow->accuracy) : "unbounded";
    usi_csv_add(to, (row){.quantity = "flow", .unit = unit, .note = note}, flow->rate_m2_s, size);
    const char *kind = flow->certified ? "bound" : "estimate";
    note = flow->bounded ? kind : NULL;
    usi_csv_add(to, (row){.quantity = "flow.lower", .unit = unit, .note = note}, lower, size);
    usi_csv_add(to, (row){.quantity = "flow.upper", .unit = unit, .note = note}, upper, size);
    if (to->solution->section->width_m > 0.0) {
        usi_csv_add(to, (row){.quantity = "flow.total", .unit = to->scale->total}, flow->total_m3_s,
                    to->scale->total_m3_s);
    }
}

/* A row a point; its place is where along the bed it lies. */
static void add_profile(const usi_csv *to, const us_exit_result *exit)
{
    for (size_t i = 0; i < exit->profile_count; i++) {
        char number[USI_NUMBER_ROOM];
        char place[USI_NUMBER_ROOM + 32];
        double x = exit->profile[i].x_m / to->scale->length_m;
        (void)snprintf(place, sizeof place, "bed at x = %s %s", usi_number_write(number, x, 9),
                       to->scale->length);
        usi_csv_add(to,
                    (row){.quantity = "exit_gradient.profile",
                          .place = place,
                          .note = exit->profile[i].gradient.present ? NULL
                                  : i == 0 && !exit->bounded        ? "unbounded"
                                                                    : "near an unbounded place"},
                    exit->profile[i].gradient, 1.0);
        if (exit->profile[i].factor.present) {
            usi_csv_add(to, (row){.quantity = "exit_gradient.profile.factor", .place = place},
                        exit->profile[i].factor, 1.0);
        }
    }
}

static const char *exit_note(const us_exit_result *exit)
{
    if (exit->enters) {
        return "water enters the bed";
    }
    if (!exit->bounded) {
        return "unbounded";
    }
    const char *missed = shortcoming(exit->accuracy);
    const char *fall = exit->falls_fast ? "falls fast along the bed" : NULL;
    return missed != NULL ? missed : fall;
}

static void add_exit(const usi_csv *to, const us_exit_result *exit)
{
    if (!exit->present) {
        return;
    }
    const char *soil = exit->soil;
    const char *missed = shortcoming(exit->accuracy);
    const char *length = to->scale->length;
    double size = to->scale->length_m;
    usi_csv_add(to, (row){.quantity = "exit_gradient", .place = soil, .note = exit_note(exit)},
                exit->gradient, 1.0);
    usi_csv_add(to, (row){.quantity = "exit_gradient.x", .unit = length}, usi_csv_exact(exit->x_m),
                size);
    usi_csv_add(to, (row){.quantity = "exit_gradient.level", .unit = length},
                usi_csv_exact(exit->level_m), size);
    usi_csv_add(to,
                (row){.quantity = "exit_gradient.mean",
                      .place = soil,
                      .note = exit->bounded ? NULL : missed},
                exit->mean, 1.0);
    usi_csv_add(to, (row){.quantity = "exit_gradient.mean.depth", .unit = length},
                (us_value){exit->mean_depth_m, 0.0, exit->mean.present}, size);
    if (exit->with_cutoff.present) {
        usi_csv_add(to, (row){.quantity = "exit_gradient.with_cutoff", .place = soil},
                    exit->with_cutoff, 1.0);
        usi_csv_add(to, (row){.quantity = "exit_gradient.with_cutoff.depth", .unit = length},
                    usi_csv_exact(exit->cutoff_m), size);
    }
    add_profile(to, exit);
    usi_csv_add(to, (row){.quantity = "exit_gradient.critical", .place = soil}, exit->critical,
                1.0);
}

static void add_heads(const usi_csv *to, const us_water_result *water)
{
    const char *length = to->scale->length;
    double size = to->scale->length_m;
    for (size_t i = 0; i < water->wall_count; i++) {
        const us_wall_result *wall = &water->walls[i];
        usi_csv_add(to, (row){"wall.upstream_face_top", wall->name, length, NULL},
                    wall->upstream_face_top_m, size);
        usi_csv_add(to, (row){"wall.tip", wall->name, length, NULL}, wall->tip_m, size);
        usi_csv_add(to, (row){"wall.downstream_face_top", wall->name, length, NULL},
                    wall->downstream_face_top_m, size);
        if (wall->passes) {
            usi_csv_add(to, (row){"wall.through", wall->name, to->scale->flow, NULL},
                        wall->through_m2_s, to->scale->flow_m2_s);
        }
    }
    for (size_t i = 0; i < water->piezometer_count; i++) {
        const us_piezometer_result *piezometer = &water->piezometers[i];
        usi_csv_add(to, (row){"piezometer.head", piezometer->name, length, NULL},
                    piezometer->head_m, size);
    }
}

static void add_checks(const usi_csv *to, const us_water_result *water)
{
    static const char *const verdicts[] = {[US_NOT_REQUIRED] = "not required",
                                           [US_PASS] = "pass",
                                           [US_FAIL] = "fail",
                                           [US_NOT_CHECKED] = "not checked"};
    for (size_t i = 0; i < water->check_count; i++) {
        const us_check_result *check = &water->checks[i];
        char quantity[64];
        (void)snprintf(quantity, sizeof quantity, "check.%s", check->name);
        usi_csv_add(to, (row){quantity, check->where, NULL, verdicts[check->verdict]}, check->value,
                    1.0);
        (void)snprintf(quantity, sizeof quantity, "check.%s.required", check->name);
        usi_csv_add(to, (row){quantity, check->where, NULL, check->basis}, check->required, 1.0);
        (void)snprintf(quantity, sizeof quantity, "check.%s.margin", check->name);
        usi_csv_add(to, (row){quantity, check->where, NULL, NULL}, check->margin, 1.0);
    }
}

void usi_csv_results(const usi_csv *to, const us_water_result *water)
{
    add_flow(to, &water->flow);
    add_exit(to, &water->exit);
    usi_csv_exits(to, water);
    usi_csv_uplift(to, &water->uplift);
    add_heads(to, water);
    usi_csv_heave(to, water);
    usi_csv_works(to, water);
    add_checks(to, water);
    usi_csv_edges(to, water);
}

/* Of each kind of check, the case nearest to its limit. */
static void add_register(const usi_csv *to)
{
    for (size_t k = 0; k < to->solution->register_count; k++) {
        const us_register_entry *entry = &to->solution->entries[k];
        usi_csv row_of = *to;
        char quantity[64];
        row_of.water = entry->water;
        (void)snprintf(quantity, sizeof quantity, "register.%s", entry->check->name);
        usi_csv_add(&row_of,
                    (row){quantity, entry->check->where, NULL, entry->governs ? "governs" : NULL},
                    entry->check->value, 1.0);
    }
}

static void add_source(const usi_csv *to)
{
    const us_section *section = to->solution->section;
    const us_value none = {0};
    usi_csv_add(to, (row){.quantity = "undersill", .note = us_version()}, none, 1.0);
    usi_csv_add(to, (row){.quantity = "section.title", .note = section->title}, none, 1.0);
    usi_csv_add(to, (row){.quantity = "section.sha256", .note = section->sha256}, none, 1.0);
}

static void add_grid(const usi_csv *to)
{
    const us_grid_result *grid = &to->solution->grid;
    usi_csv_add(to, (row){.quantity = "grid.unknowns"}, usi_csv_exact((double)grid->unknowns), 1.0);
    usi_csv_add(to, (row){.quantity = "grid.columns"}, usi_csv_exact((double)grid->columns), 1.0);
    usi_csv_add(to, (row){.quantity = "grid.rows"}, usi_csv_exact((double)grid->rows), 1.0);
    usi_csv_add(to, (row){.quantity = "grid.mass_balance"}, usi_csv_exact(grid->mass_balance), 1.0);
    usi_csv_add(
        to,
        (row){.quantity = "grid.accuracy", .note = grid->converged ? "converged" : "not converged"},
        usi_csv_exact(to->solution->accuracy), 1.0);
}

void usi_form_csv(us_buffer *out, const us_solution *solution, const usi_scale *scale)
{
    usi_csv to = {out, solution, scale, NULL, "", NULL};
    usi_buffer_add_text(out, "water,quantity,place,value,error,unit,note\r\n");
    for (size_t i = 0; i < solution->water_count; i++) {
        const us_water_result *water = &solution->water[i];
        to.water = water->name;
        add_levels(&to, water);
        usi_csv_flood(&to, water);
        if (water->undermined == NULL) {
            usi_csv_results(&to, water);
        }
    }
    add_register(&to);
    to.water = NULL;
    add_source(&to);
    add_grid(&to);
    for (size_t i = 0; i < solution->note_count; i++) {
        usi_csv_add(&to, (row){.quantity = "note", .note = solution->notes[i]}, (us_value){0}, 1.0);
    }
}
