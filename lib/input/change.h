/* Other values in place of some that a section file gives. */
#ifndef USI_INPUT_CHANGE_H
#define USI_INPUT_CHANGE_H

#include "input/tree.h"
#include "model/section.h"

/* Puts the changes into the tree of a section file. A key that is not there
 * yet joins the mapping it belongs to; whether there is such a key is judged
 * later, as for the text itself. False after an error for each change that
 * finds no place, or when memory is short (see the arena). */
bool usi_change_apply(us_context *context, const usi_source *source, usi_arena *arena,
                      usi_node *root, const usi_origin *origin);

/* The text and the changes of a section, copied from `source` and from two
 * lists, `before` (may be NULL) first. US_OK, US_ERROR_ARGUMENT (a key or text
 * missing or not fit to print), US_ERROR_MEMORY; free with usi_origin_free()
 * whatever comes back. */
us_status usi_change_gather(us_context *context, const usi_origin *before, const us_change *changes,
                            size_t count, usi_origin *into);

#endif
