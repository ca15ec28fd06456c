/* Lengths of wall that can be ordered. */
#ifndef USI_STUDY_DEPTH_ORDERS_H
#define USI_STUDY_DEPTH_ORDERS_H

#include "study/depth.h"

us_status usi_depth_orders_fill(us_context *context, us_depth *depth);

#endif
