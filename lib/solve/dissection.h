/* Nested dissection taken from the grid: an order of elimination with little fill.
 *
 * Soil is cut in two by a line of unknowns, each half again, and so on; what lies on a line
 * is eliminated after both halves. In the five-point scheme a line that runs askew, from
 * each place to the one beside and above it, parts the grid as well as a straight one does,
 * has fewer unknowns for its length, and leaves pieces of less outline: so only such lines
 * are tried, in both directions and at every place, and the one with the fewest unknowns
 * for the two parts it leaves is taken. */
#ifndef USI_SOLVE_DISSECTION_H
#define USI_SOLVE_DISSECTION_H

#include "solve/problem.h"

/* Fills `order`, one row of the matrix (free places, then gates) an entry: what is
 * eliminated k-th. The problem's spots are known, and its links are all there: what a link
 * joins is never parted without one of its ends, whatever else lies between. The rows of
 * `problem->last`, or the gates, come last, in that order. `starts`, false before, becomes
 * true of each entry where a block may start (solve/blocks.h): lines, pieces that were not cut,
 * what comes last. US_OK or US_ERROR_MEMORY. */
us_status usi_dissection_order(us_context *context, const usi_problem *problem, int32_t *order,
                               bool *starts);

#endif
