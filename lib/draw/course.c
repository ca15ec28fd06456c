/* What the diagrams show, read off a grid made for the picture. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "draw/diagram.h"
#include "draw/fringe.h"
#include "model/situation.h"
#include "quantity/bed_peak.h"
#include "study/net.h"
#include "study/solution.h"

void usi_course_clear(usi_course *course)
{
    free(course->points);
    free(course->exits);
    memset(course, 0, sizeof *course);
}

/* Solves as finely at hard points as the numbers of the solution were found, and
 * evenly within the window when there is one. */
static us_status solve(usi_sheet *sheet, const usi_window *window, usi_net *net)
{
    enum { ACROSS = 300 };
    usi_net_request request = {0};
    if (window != NULL) {
        request = (usi_net_request){.low = window->low,
                                    .high = window->high,
                                    .step_m = (window->high.x_m - window->low.x_m) / ACROSS,
                                    .cells = sheet->solution->cells};
    }
    us_status status = usi_net_solve(sheet->context, sheet->section, &request, net);
    if (status == US_OK) {
        status = usi_fringe_learn(sheet, net->field);
    }
    return status;
}

/* Keeps the exits where theory gives no finite gradient. */
static void keep_unbounded(const usi_exit_reading *readings, usi_course *course)
{
    size_t kept = 0;
    for (size_t e = 0; e < course->exit_count; e++) {
        if (!readings[e].bounded) {
            course->exits[kept++] = course->exits[e];
        }
    }
    course->exit_count = kept;
}

/* Adds the corner where the bed falls to a closed side: no exit, but as unbounded. */
static us_status add_corner(us_context *context, const usi_bed *bed, double depth_m,
                            usi_course *course)
{
    const us_section *section = bed->field->grid->section;
    bool left = section->flows_left;
    if (bed->run_count == 0 || (left ? section->left : section->right).kind != USI_SIDE_CLOSED) {
        return US_OK;
    }
    const usi_bed_run *run = left ? &bed->runs[0] : &bed->runs[bed->run_count - 1];
    if (run->power[left ? 0 : 1] >= 0) {
        return US_OK;
    }
    usi_exit *grown =
        usi_memory_resize(context, course->exits, course->exit_count + 1, sizeof *grown);
    if (grown == NULL) {
        return US_ERROR_MEMORY;
    }
    const usi_edge_side *side = &bed->sides.list[left ? 0 : bed->sides.count - 1];
    grown[course->exit_count] = (usi_exit){.at = side->ends[left ? 0 : 1],
                                           .bed = left ? USI_FACE_RIGHT : USI_FACE_LEFT,
                                           .mean_depth_m = depth_m,
                                           .growth = {USI_GROWTH_POWER, run->power[left ? 0 : 1]}};
    course->exits = grown;
    course->exit_count++;
    return US_OK;
}

static bool jumps(const usi_course *course, size_t i)
{
    const usi_edge_point *points = course->points;
    return (i > 0 && points[i - 1].x_m == points[i].x_m) ||
           (i + 1 < course->count && points[i + 1].x_m == points[i].x_m);
}

/* Takes the line straight across hollow vertices of a curve, as the table passes over
 * what is read there. */
static void cross_hollows(const us_section *section, usi_course *course)
{
    size_t kept = 0;
    for (size_t i = 0; i < course->count; i++) {
        if (jumps(course, i) || !usi_bed_is_hollow(section, course->points[i].x_m)) {
            course->points[kept++] = course->points[i];
        }
    }
    course->count = kept;
}

static us_status read_bed(usi_sheet *sheet, const usi_field *field, usi_course *course)
{
    us_context *context = sheet->context;
    us_status status = usi_exits_list(context, sheet->section, &course->exits, &course->exit_count);
    if (status != US_OK) {
        return status;
    }
    usi_exit_reading *readings = usi_memory_array(context, course->exit_count, sizeof *readings);
    if (readings == NULL) {
        return US_ERROR_MEMORY;
    }
    for (size_t e = 0; e < course->exit_count; e++) {
        readings[e] = usi_exit_read(field, &course->exits[e]);
    }
    usi_bed bed;
    usi_edge_course line = {0};
    status = usi_bed_open(context, field, course->exits, readings, course->exit_count, &bed);
    keep_unbounded(readings, course);
    free(readings);
    if (status != US_OK) {
        return status;
    }
    status = usi_bed_course(context, &bed, &line);
    course->count = line.count;
    course->points = line.points;
    cross_hollows(sheet->section, course);
    if (status == US_OK) {
        status = add_corner(context, &bed, sheet->result->exit.mean_depth_m, course);
    }
    usi_bed_close(&bed);
    return status;
}

us_status usi_course_exit(usi_sheet *sheet, const usi_window *window, usi_course *course)
{
    usi_net net = {0};
    *course = (usi_course){0};
    us_status status = solve(sheet, window, &net);
    if (status == US_OK) {
        status = read_bed(sheet, net.field, course);
    }
    bool sealed = status == US_OK && net.field->sealed;
    for (size_t i = 0; status == US_OK && i < course->count; i++) {
        course->points[i].value *= sealed ? 0 : usi_datum_of(sheet->section, 0).unit_m;
    }
    course->exit_count = sealed ? 0 : course->exit_count;
    usi_net_free(&net);
    if (status != US_OK) {
        usi_course_clear(course);
    }
    return status;
}

us_status usi_course_uplift(usi_sheet *sheet, const usi_window *window, usi_course *course)
{
    usi_net net = {0};
    usi_edge_course line = {0};
    us_status status = solve(sheet, window, &net);
    if (status == US_OK) {
        status = usi_edge_underside(sheet->context, net.field, &line);
    }
    *course = (usi_course){.count = line.count, .points = line.points};
    usi_datum datum = usi_datum_of(sheet->section, 0);
    for (size_t i = 0; i < course->count; i++) {
        usi_edge_point *point = &course->points[i];
        double head_m = datum.zero_m + point->value * datum.unit_m;
        point->value = sheet->section->water_unit_weight_n_m3 * (head_m - point->level_m);
    }
    usi_net_free(&net);
    return status;
}
