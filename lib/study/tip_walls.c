#include "study/tip_walls.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "model/panes.h"

/* Of the range of tips, from an opening to the highest tip below it that its strip is laid for. */
static const double CLEAR_SHARE = 0.1;
/* From there on, in widths of the strip, tips are far enough from it. */
static const double CLEAR_WIDTHS = 10.0;

/* A tip that leaves all openings in the wall which the lowest one does, and is not near them. */
static double clear_tip(const usi_wall *wall, const usi_tip_levels *levels)
{
    double clear_m = CLEAR_SHARE * (levels->high_m - levels->low_m);
    double tip_m = HUGE_VAL;
    for (size_t k = 0; k < wall->opening_count; k++) {
        if (wall->openings[k].low_m > levels->low_m) {
            tip_m = fmin(tip_m, wall->openings[k].low_m - clear_m);
        }
    }
    return tip_m < HUGE_VAL ? fmax(tip_m, levels->low_m) : levels->low_m;
}

static us_status draw(us_context *context, const usi_tip_plan *plan, usi_tipped **made)
{
    usi_tip tips[2];
    for (size_t a = 0; a < plan->axis_count; a++) {
        const usi_tip_levels *levels = &plan->axes[a].levels;
        tips[a] = (usi_tip){levels->wall, clear_tip(&plan->section->walls[levels->wall], levels)};
    }
    us_status status = usi_tipped_make(context, plan->section, tips, plan->axis_count, made);
    for (size_t a = 0; status == US_OK && a < plan->axis_count; a++) {
        const usi_tip_levels *levels = &plan->axes[a].levels;
        usi_wall *wall = &(*made)->section.walls[levels->wall];
        wall->tip_m = levels->low_m;
        wall->solved_tip_m = levels->low_m;
        if (wall->pane_count > 0) {
            wall->panes[wall->pane_count - 1].low_m = levels->low_m;
        }
    }
    return status;
}

/* Below its top the wall is tight; a gap above is what it is. */
static void close_openings(usi_wall *wall)
{
    wall->pane_count = wall->cap_void ? 1 : 0;
    wall->panes[wall->pane_count++] =
        (usi_pane){USI_PANE_TIGHT, wall->solved_tip_m, wall->top_m, 0.0, false};
}

static void list_spans(const usi_wall *wall, const usi_tip_levels *levels, usi_tip_walls *walls)
{
    usi_wall_span *spans = walls->spans;
    double from_m = levels->low_m;
    for (size_t p = wall->pane_count; p-- > 0;) {
        const usi_pane *pane = &wall->panes[p];
        if (pane->kind == USI_PANE_STRIP && pane->high_m <= wall->top_m) {
            spans[walls->span_count++] =
                (usi_wall_span){.wall = levels->wall, .low_m = from_m, .high_m = pane->low_m};
            spans[walls->span_count++] =
                (usi_wall_span){levels->wall, pane->low_m, pane->high_m, true, pane->series_s_m};
            from_m = pane->high_m;
        }
    }
    double high_m = usi_panes_pass(wall) ? wall->top_m : levels->high_m;
    spans[walls->span_count++] =
        (usi_wall_span){.wall = levels->wall, .low_m = from_m, .high_m = high_m};
}

us_status usi_tip_walls_make(us_context *context, const usi_tip_plan *plan, usi_tip_walls *walls)
{
    *walls = (usi_tip_walls){.plan = plan};
    us_status status = draw(context, plan, &walls->drawn);
    if (status != US_OK) {
        return status;
    }
    size_t panes = 0;
    bool passes = false;
    for (size_t a = 0; a < plan->axis_count; a++) {
        const usi_wall *wall = &walls->drawn->section.walls[plan->axes[a].levels.wall];
        panes += wall->pane_count + 1;
        passes = passes || usi_panes_pass(wall);
    }
    walls->spans = usi_memory_array(context, 2 * panes, sizeof *walls->spans);
    if (walls->spans == NULL) {
        return US_ERROR_MEMORY;
    }
    status = passes ? draw(context, plan, &walls->standing) : US_OK;
    for (size_t a = 0; status == US_OK && a < plan->axis_count; a++) {
        const usi_tip_levels *levels = &plan->axes[a].levels;
        list_spans(&walls->drawn->section.walls[levels->wall], levels, walls);
        if (passes && usi_panes_pass(&walls->standing->section.walls[levels->wall])) {
            close_openings(&walls->standing->section.walls[levels->wall]);
        }
    }
    return status;
}

void usi_tip_walls_free(usi_tip_walls *walls)
{
    usi_tipped_free(walls->drawn);
    usi_tipped_free(walls->standing);
    free(walls->spans);
    *walls = (usi_tip_walls){0};
}

double usi_tip_walls_pass(const usi_tip_walls *walls, const usi_segment *segment)
{
    const us_section *section = &walls->drawn->section;
    const usi_wall *wall = &section->walls[segment->wall];
    usi_point middle = {wall->x_m, 0.5 * (segment->low_m + segment->high_m)};
    usi_pane whole;
    size_t count;
    const usi_pane *panes = usi_panes_of(wall, &whole, &count);
    for (size_t p = 0; p < count; p++) {
        if (middle.z_m < panes[p].low_m || middle.z_m > panes[p].high_m) {
            continue;
        }
        if (panes[p].kind == USI_PANE_LEAKY) {
            const usi_soil *left =
                &section->soils[usi_section_soil_at(section, middle, false, false)];
            const usi_soil *right =
                &section->soils[usi_section_soil_at(section, middle, true, false)];
            return usi_interlock_conductance(&wall->interlock, left, right) *
                   (segment->high_m - segment->low_m);
        }
        return panes[p].kind == USI_PANE_STRIP ? -1.0 : 0.0;
    }
    return HUGE_VAL;
}

bool usi_tip_walls_clear(const usi_tip_walls *walls, size_t axis, double level_m)
{
    const usi_tip_levels *levels = &walls->plan->axes[axis].levels;
    const usi_wall *wall = &walls->drawn->section.walls[levels->wall];
    bool clear = !usi_panes_pass(wall) || level_m < levels->high_m;
    for (size_t p = 0; p < wall->pane_count; p++) {
        const usi_pane *pane = &wall->panes[p];
        double width_m = pane->high_m - pane->low_m;
        clear = clear && !(pane->stands_in && level_m < pane->high_m &&
                           level_m > pane->low_m - CLEAR_WIDTHS * width_m);
    }
    return clear;
}

bool usi_tip_walls_alike(const usi_tip_plan *plan, const us_section *one, const us_section *other)
{
    bool alike = true;
    for (size_t k = 0; k < plan->axis_count; k++) {
        const usi_wall *a = &one->walls[plan->axes[k].levels.wall];
        const usi_wall *b = &other->walls[plan->axes[k].levels.wall];
        alike = alike && a->opening_count == b->opening_count && a->solved_tip_m == a->tip_m &&
                b->solved_tip_m == b->tip_m;
    }
    return alike;
}
