/* What a flow net needs: fields on a grid fine enough to draw. */
#ifndef USI_STUDY_NET_H
#define USI_STUDY_NET_H

#include "solve/field.h"

typedef struct usi_net {
    usi_grid *grid;
    usi_field *field;
} usi_net;

/* Solves the section on a grid with no cell longer than `step_m` inside the
 * window. `net` is filled on US_OK; free it with usi_net_free(). */
us_status usi_net_solve(us_context *context, const us_section *section, usi_point window_low,
                        usi_point window_high, double step_m, usi_net *net);
void usi_net_free(usi_net *net);

#endif
