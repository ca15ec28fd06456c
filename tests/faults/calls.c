#include "faults/calls.h"

#include <unistd.h>

/* Small, yet with a structure, walls, layers, piezometers, two water cases,
 * one of them `at_bed`, and a check that fails. */
const char calls_good_text[] =
    "title: Tiny & <b>small</b>\n"
    "width: 5\n"
    "bed: {upstream: 11, downstream: 10}\n"
    "base: 6\n"
    "structure:\n"
    "  underside: [[0, 9.5], [4, 9.5]]\n"
    "  top: [[0, 11], [1, 11], [1, 10], [4, 10]]\n"
    "  unit_weight: 23\n"
    "  joints: [2]\n"
    "walls:\n"
    "  - {name: crest, x: 0, top: 11, tip: 8, load: 5, sheet: "
    "{thickness: 8 mm, mass: 60}, corrosion: {loss_per_side: 1 mm}}\n"
    "  - {name: toe, x: 4, top: 9.5, tip: 8.5}\n"
    "  - {name: low, x: 2, top: 9.4, tip: 9}\n"
    "soils:\n"
    "  - {name: sand, kh: 1e-4, unit_weight: 20, d85: 1 mm, creep_class: "
    "fine_sand, shaft: {beta: 0.3}}\n"
    "  - {name: gravel, top: 8, kh: 2e-4, kv: 1e-4}\n"
    "piezometers: [{name: P1, at: [2, 9]}]\n"
    "water:\n"
    "  - {name: high, upstream: 12, downstream: 10.5, surface: 10.5}\n"
    "  - {name: low, upstream: 12, downstream: at_bed, pressures_from: high}\n"
    "require: {piping: 30, heave: 20, blow_up: 2, creep: {rule: lane}}\n"
    "banks: {left: {key_in: 2}, right: {key_in: 3}}\n"
    "limit_states: {hyd: {dst: 1.35}, upl: {}}\n";

/* Needs further solves beside its own: the flush edge has advice, the open contact
 * its sealed answer. */
const char calls_aside_text[] = "bed: {upstream: 10, downstream: 10}\n"
                                "base: 8\n"
                                "structure: {underside: [[0, 10], [2, 10]]}\n"
                                "walls: [{name: crest, x: 0, top: 10, tip: 8}]\n"
                                "soils: [{name: sand, kh: 1e-4, kv: 1e-4, unit_weight: 20}]\n"
                                "water: [{name: high, upstream: 12, downstream: 10.5}]\n";

/* A mistake of each layer: key, number, geometry. */
static const char bad_text[] = "titel: x\n"
                               "bed: {upstream: 11, downstream: 1,5}\n"
                               "base: 16\n"
                               "walls: [{name: crest, x: 0, top: 9, tip: 10}]\n"
                               "soils: [{name: sand, kh: 1e-4}]\n"
                               "water: [{upstream: 12, downstream: 10.5}]\n";
static const char misplaced_text[] = "bed: {upstream: 11, downstream: 10}\n"
                                     "base: 16\n"
                                     "soils: [{name: sand, kh: 1e-4}]\n"
                                     "walls: [{x: 0, top: 12, tip: 10}]\n"
                                     "water: [{upstream: 12, downstream: 10.5}]\n";
static const char broken_text[] = "bed: {upstream: 11\nbase: [}\n";

/* All that stands at the edges, a bed of its own, one that undermines, a table of cases. */
static const char edges_text[] =
    "bed: {upstream: 11, downstream: 10}\n"
    "base: {level: 0, head: 12, thickness: 1, kv: 1e-9}\n"
    "structure: {underside: [[0, 9], [10, 9]], permeable: [[1, 2]], contact_lost: [[3, 4]]}\n"
    "walls: [{name: toe, x: 10, top: 9.5, tip: 7}]\n"
    "soils: [{name: sand, kh: 1e-4, kv: 1e-4}, {name: gravel, kh: 1e-2}]\n"
    "zones: [{soil: gravel, outline: [[10, 9.5], [14, 9.5], [14, 10.5], [10, 10.5]]}]\n"
    "piezometers: [{at: [20, 9.5]}]\n"
    "drains: [{at: [6, 9], diameter: 0.1, spacing: 2, outlet: tailwater},\n"
    "  {from: [15, 9], to: [16, 9], outlet: 9}]\n"
    "water:\n  - {upstream: 12, downstream: 10.5, seal: [[20, 30], [12, 13]], shut: [drain_1]}\n"
    "  - {upstream: 12, downstream: at_bed, beds: {downstream: 8.5}, drains: off}\n"
    "  - {upstream: 12, downstream: at_bed, beds: {downstream: 6}}\n";
static const char cases_text[] = "name,upstream,downstream,discharge\nhigh,13,11,40\n";

us_status calls_read_edges(fixture *with, outcome *out)
{
    us_input section = {.text = edges_text, .length = strlen(edges_text)};
    us_input cases = {.text = cases_text, .length = strlen(cases_text)};
    return us_section_read_cases(with->context, &section, &cases, &out->section);
}

static us_status read_text(fixture *with, const char *text, outcome *out)
{
    return us_section_read(with->context, text, strlen(text), "tiny.yaml", &out->section);
}

us_status calls_read_good(fixture *with, outcome *out)
{
    return read_text(with, calls_good_text, out);
}

us_status calls_read_bad(fixture *with, outcome *out)
{
    return read_text(with, bad_text, out);
}

us_status calls_read_misplaced(fixture *with, outcome *out)
{
    return read_text(with, misplaced_text, out);
}

us_status calls_read_broken(fixture *with, outcome *out)
{
    return read_text(with, broken_text, out);
}

us_status calls_read_file(fixture *with, outcome *out)
{
    return us_section_read_file(with->context, with->path, &out->section);
}

us_status calls_explain(fixture *with, outcome *out)
{
    return us_section_explain(with->context, with->section, &out->bytes);
}

us_status calls_solve(fixture *with, outcome *out)
{
    us_solve_options options = US_SOLVE_OPTIONS_INIT;
    options.accuracy = 0.2;
    return us_section_solve(with->context, with->section, &options, &out->solution);
}

us_status calls_solve_aside(fixture *with, outcome *out)
{
    us_solve_options options = US_SOLVE_OPTIONS_INIT;
    options.accuracy = 0.2;
    return us_section_solve(with->context, with->aside, &options, &out->solution);
}

us_status calls_tabulate_text(fixture *with, outcome *out)
{
    return us_solution_tabulate(with->context, with->solution, US_FORMAT_TEXT, &out->bytes);
}

us_status calls_tabulate_csv(fixture *with, outcome *out)
{
    return us_solution_tabulate(with->context, with->solution, US_FORMAT_CSV, &out->bytes);
}

us_status calls_tabulate_json(fixture *with, outcome *out)
{
    return us_solution_tabulate(with->context, with->solution, US_FORMAT_JSON, &out->bytes);
}

/* A built-in case and its table. */
us_status calls_verify(fixture *with, outcome *out)
{
    us_verify_options options = US_VERIFY_OPTIONS_INIT;
    options.only = "layers_side_by_side";
    us_verification *made = NULL;
    us_status status = us_verification_run(with->context, &options, &made);
    if (status == US_OK) {
        status = us_verification_tabulate(with->context, made, US_FORMAT_JSON, &out->bytes);
    }
    us_verification_free(made);
    return status;
}

static us_status draw(fixture *with, us_picture what, outcome *out)
{
    us_draw_options options = US_DRAW_OPTIONS_INIT;
    options.what = what;
    options.width_px = 900;
    return us_section_draw(with->context, with->section, with->solution, &options, &out->bytes);
}

us_status calls_draw_net(fixture *with, outcome *out)
{
    return draw(with, US_PICTURE_NET, out);
}

us_status calls_draw_section(fixture *with, outcome *out)
{
    return draw(with, US_PICTURE_SECTION, out);
}

us_status calls_draw_uplift(fixture *with, outcome *out)
{
    return draw(with, US_PICTURE_UPLIFT, out);
}

us_status calls_draw_exit(fixture *with, outcome *out)
{
    return draw(with, US_PICTURE_EXIT, out);
}

static us_status draw_vector(fixture *with, us_draw_format format, outcome *out)
{
    us_draw_options options = US_DRAW_OPTIONS_INIT;
    options.what = US_PICTURE_SECTION;
    options.format = format;
    return us_section_draw(with->context, with->section, NULL, &options, &out->bytes);
}

us_status calls_draw_svg(fixture *with, outcome *out)
{
    return draw_vector(with, US_DRAW_SVG, out);
}

us_status calls_draw_pdf(fixture *with, outcome *out)
{
    return draw_vector(with, US_DRAW_PDF, out);
}

/* A study of two grids, which is not kept: what it gives is `out->bytes`. */
static us_status study(fixture *with, bool chart, outcome *out)
{
    us_converge_options options = US_CONVERGE_OPTIONS_INIT;
    us_draw_options how = US_DRAW_OPTIONS_INIT;
    options.rungs = 2;
    how.width_px = 900;
    us_convergence *made = NULL;
    us_status status = us_section_converge(with->context, with->section, &options, &made);
    if (status == US_OK && chart) {
        status = us_convergence_draw(with->context, made, &how, &out->bytes);
    } else if (status == US_OK) {
        status = us_convergence_tabulate(with->context, made, US_FORMAT_JSON, &out->bytes);
    }
    us_convergence_free(made);
    return status;
}

us_status calls_study_table(fixture *with, outcome *out)
{
    return study(with, false, out);
}

us_status calls_study_chart(fixture *with, outcome *out)
{
    return study(with, true, out);
}

us_status calls_write_file(fixture *with, outcome *out)
{
    (void)out;
    char path[128];
    (void)snprintf(path, sizeof path, "%s/table", with->folder);
    us_status status = us_buffer_write_file(with->context, with->table, path, NULL);
    if (status == US_OK) {
        assert_int_equal(unlink(path), 0);
    }
    return status;
}

us_status calls_replace_file(fixture *with, outcome *out)
{
    (void)out;
    return us_buffer_write_file(with->context, with->table, with->spare, NULL);
}
