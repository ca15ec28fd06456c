/* What a picture needs: fields on a grid fine enough to draw. */
#ifndef USI_STUDY_NET_H
#define USI_STUDY_NET_H

#include "solve/field.h"

typedef struct usi_net {
    usi_grid *grid;
    usi_field *field;
} usi_net;

/* What of a section is drawn, and how finely. */
typedef struct usi_net_request {
    usi_point low; /* the window */
    usi_point high;
    double step_m; /* no cell inside the window is longer; 0 where none is drawn */
    double cells;  /* at hard points, as in usi_grid_options; what is fewer than lines need
                      to be smooth, or more than a picture can show, is not taken */
} usi_net_request;

/* Solves the section for a picture. `net` is filled on US_OK; free it with
 * usi_net_free(). */
us_status usi_net_solve(us_context *context, const us_section *section,
                        const usi_net_request *request, usi_net *net);
void usi_net_free(usi_net *net);

#endif
