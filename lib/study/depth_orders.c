#include "study/depth_orders.h"

#include <math.h>

#include "base/memory.h"

static us_value times(us_value value, double factor)
{
    return (us_value){value.value * factor, value.error * factor, value.present};
}

us_status usi_depth_orders_fill(us_context *context, us_depth *depth)
{
    const us_section *section = depth->section;
    const usi_wall *wall = &section->walls[depth->solver.levels.wall];
    depth->orders = usi_memory_array(context, section->length_count + 1, sizeof *depth->orders);
    us_status status = depth->orders != NULL ? US_OK : US_ERROR_MEMORY;
    for (size_t k = 0; status == US_OK && k < section->length_count; k++) {
        us_depth_order *order = &depth->orders[depth->order_count++];
        order->length_m = section->lengths_m[k];
        order->tip_m = wall->top_m - order->length_m;
        order->area_m2_m = order->length_m;
        order->area_m2 =
            (us_value){order->length_m * section->width_m, 0.0, section->width_m > 0.0};
        if (wall->sheet.given && wall->sheet.mass_kg_m2 > 0.0) {
            order->mass_kg_m = (us_value){order->length_m * wall->sheet.mass_kg_m2, 0.0, true};
            if (section->width_m > 0.0) {
                order->mass_kg = times(order->mass_kg_m, section->width_m);
            }
        }
        order->known = order->tip_m <= depth->solver.high_m && order->tip_m >= depth->solver.low_m;
        if (order->known) {
            usi_depth_point point;
            status = usi_depth_point_solve(context, &depth->solver, order->tip_m, &point);
            order->passes = point.passes;
            usi_depth_point_free(&point);
        }
    }
    return status;
}
