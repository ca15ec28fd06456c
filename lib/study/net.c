#include "study/net.h"

#include "base/context.h"
#include "study/reading.h"

/* Cells at hard points: enough for smooth lines, the step does the rest. */
static const double NET_CELLS = 12.0;

us_status usi_net_solve(us_context *context, const us_section *section, usi_point window_low,
                        usi_point window_high, double step_m, usi_net *net)
{
    usi_grid_options options = {
        .cells = NET_CELLS, .step_m = step_m, .window_low = window_low, .window_high = window_high};
    *net = (usi_net){NULL, NULL};
    us_status status = usi_context_pulse(context, "building a grid", 0, 0.0);
    if (status == US_OK) {
        status = usi_grid_build(context, section, &options, &net->grid);
    }
    if (status == US_NOT_CONVERGED) {
        usi_reading_report_limit(context);
        status = US_ERROR_NUMERICAL;
    }
    if (status == US_OK) {
        status = usi_field_solve(context, net->grid, &net->field);
    }
    if (status != US_OK) {
        usi_net_free(net);
    }
    return status;
}

void usi_net_free(usi_net *net)
{
    usi_field_free(net->field);
    usi_grid_free(net->grid);
    *net = (usi_net){NULL, NULL};
}
