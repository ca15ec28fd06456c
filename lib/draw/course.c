/* What the diagrams show, read off a grid made for the picture. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "draw/diagram.h"
#include "quantity/exit_gradient.h"
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
static us_status solve(const usi_sheet *sheet, const usi_window *window, usi_net *net)
{
    enum { ACROSS = 300 };
    usi_net_request request = {0};
    if (window != NULL) {
        request = (usi_net_request){.low = window->low,
                                    .high = window->high,
                                    .step_m = (window->high.x_m - window->low.x_m) / ACROSS,
                                    .cells = sheet->solution->cells};
    }
    return usi_net_solve(sheet->context, sheet->section, &request, net);
}

static us_status make_room(usi_sheet *sheet, const usi_net *net, usi_course *course)
{
    course->points =
        usi_memory_array(sheet->context, 2 * net->grid->columns, sizeof *course->points);
    return course->points != NULL ? US_OK : US_ERROR_MEMORY;
}

/* Keeps the exits where theory gives no finite gradient. */
static us_status find_unbounded(usi_sheet *sheet, const usi_field *field, usi_course *course)
{
    us_status status =
        usi_exits_list(sheet->context, sheet->section, &course->exits, &course->exit_count);
    size_t kept = 0;
    for (size_t e = 0; status == US_OK && e < course->exit_count; e++) {
        if (!usi_exit_read(field, &course->exits[e]).bounded) {
            course->exits[kept++] = course->exits[e];
        }
    }
    course->exit_count = kept;
    return status;
}

/* Solves, and makes room for every point there may be. */
static us_status begin(usi_sheet *sheet, const usi_window *window, usi_net *net, usi_course *course)
{
    *net = (usi_net){0};
    *course = (usi_course){0};
    us_status status = solve(sheet, window, net);
    return status == US_OK ? make_room(sheet, net, course) : status;
}

us_status usi_course_exit(usi_sheet *sheet, const usi_window *window, usi_course *course)
{
    usi_net net;
    us_status status = begin(sheet, window, &net, course);
    if (status == US_OK && net.field->stream != NULL) {
        status = find_unbounded(sheet, net.field, course);
    }
    if (status == US_OK) {
        bool sealed = net.field->stream == NULL;
        course->count = usi_edge_bed(net.field, course->points);
        for (size_t i = 0; i < course->count; i++) {
            course->points[i].value *= sealed ? 0 : sheet->result->head_difference_m;
        }
    }
    usi_net_free(&net);
    if (status != US_OK) {
        usi_course_clear(course);
    }
    return status;
}

us_status usi_course_uplift(usi_sheet *sheet, const usi_window *window, usi_course *course)
{
    usi_net net;
    us_status status = begin(sheet, window, &net, course);
    if (status == US_OK) {
        const us_water_result *water = sheet->result;
        course->count = usi_edge_underside(net.field, course->points);
        for (size_t i = 0; i < course->count; i++) {
            usi_edge_point *point = &course->points[i];
            double head_m = water->downstream_m + point->value * water->head_difference_m;
            point->value = sheet->section->water_unit_weight_n_m3 * (head_m - point->level_m);
        }
    }
    usi_net_free(&net);
    return status;
}
