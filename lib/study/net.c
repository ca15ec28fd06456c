#include "study/net.h"

#include <math.h>

#include "base/context.h"
#include "study/reading.h"

/* Cells at hard points: enough for smooth lines, the step does the rest. */
static const double CELLS_LEAST = 12.0;
/* At twice as many, no value would change by what a printer resolves. */
static const double CELLS_MOST = 48.0;

static us_status solve_on(us_context *context, const us_section *section,
                          const usi_grid_options *options, usi_net *net)
{
    *net = (usi_net){NULL, NULL};
    us_status status = usi_context_pulse(context, "building a grid", 0, 0.0);
    if (status == US_OK) {
        status = usi_grid_build(context, section, options, &net->grid);
    }
    if (status == US_OK) {
        status = usi_field_solve(context, net->grid, &net->field);
    }
    if (status != US_OK) {
        usi_net_free(net);
    }
    return status;
}

us_status usi_net_solve(us_context *context, const us_section *section,
                        const usi_net_request *request, usi_net *net)
{
    usi_grid_options options = {.cells = fmin(fmax(request->cells, CELLS_LEAST), CELLS_MOST),
                                .step_m = request->step_m,
                                .window_low = request->low,
                                .window_high = request->high};
    us_status status = solve_on(context, section, &options, net);
    if (status == US_NOT_CONVERGED && options.cells > CELLS_LEAST) {
        options.cells = CELLS_LEAST;
        status = solve_on(context, section, &options, net);
    }
    if (status == US_NOT_CONVERGED) {
        usi_reading_report_limit(context);
        status = US_ERROR_NUMERICAL;
    }
    return status;
}

void usi_net_free(usi_net *net)
{
    usi_field_free(net->field);
    usi_grid_free(net->grid);
    *net = (usi_net){NULL, NULL};
}
