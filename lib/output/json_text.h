/* JSON as text, for all that is written as such. */
#ifndef USI_OUTPUT_JSON_TEXT_H
#define USI_OUTPUT_JSON_TEXT_H

#include <jansson.h>
#include <stdbool.h>

#include "undersill/buffer.h"
#include "undersill/context.h"

/* Appends `root`, nine digits a number, and lets it go. `complete` is false when some
 * part of it could not be made: then, and short of memory, US_ERROR_MEMORY with a
 * diagnostic. */
us_status usi_json_print(us_context *context, us_buffer *out, json_t *root, bool complete);

#endif
