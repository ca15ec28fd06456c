/* How one quantity settles from grid to grid. */
#ifndef USI_STUDY_TREND_H
#define USI_STUDY_TREND_H

#include "undersill/convergence.h"

/* Fills the rest of a trend whose steps (`steps`, the trend's own) have their values:
 * differences, orders, extrapolated values, the best value and the errors. A `scale`
 * of 0 becomes the size of the best value. `truncation` is the share of the scale
 * that cutting endless soil may have cost. */
void usi_trend_settle(us_trend *trend, us_trend_step *steps, double truncation);

/* The same for a quantity whose limit is 0 (the width of the bracket): its order
 * shows from two grids, and it is its own error. */
void usi_trend_vanish(us_trend *trend, us_trend_step *steps);

#endif
