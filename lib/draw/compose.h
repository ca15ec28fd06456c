/* Puts a whole picture together. */
#ifndef USI_DRAW_COMPOSE_H
#define USI_DRAW_COMPOSE_H

#include "draw/sheet.h"

/* Fills the scene of a sheet whose section, water, result and kind are set.
 * US_OK, US_ERROR_MEMORY, US_ERROR_NUMERICAL or US_ERROR_INPUT. */
us_status usi_sheet_compose(usi_sheet *sheet);

#endif
