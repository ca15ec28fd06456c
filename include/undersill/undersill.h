/* Undersill: seepage under grade-control structures with cut-off walls.
 * This header brings in all the others. */
#ifndef UNDERSILL_UNDERSILL_H
#define UNDERSILL_UNDERSILL_H

#include "undersill/buffer.h"
#include "undersill/context.h"
#include "undersill/convergence.h"
#include "undersill/depth.h"
#include "undersill/draw.h"
#include "undersill/section.h"
#include "undersill/solution.h"
#include "undersill/status.h"
#include "undersill/table.h"
#include "undersill/verify.h"
#include "undersill/version.h"
#include "undersill/works.h"

#endif
