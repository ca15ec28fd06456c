/* The bytes of an input, wherever they come from. */
#ifndef USI_INPUT_SUPPLY_H
#define USI_INPUT_SUPPLY_H

#include "input/text.h"
#include "undersill/section.h"

typedef struct usi_bytes {
    const char *name; /* for messages; never NULL */
    const char *text;
    size_t length; /* more than the cap where there is more: the text is refused then */
    char *owned;   /* to be freed, or NULL */
} usi_bytes;

/* True when the input names one place that bytes come from. */
bool usi_supply_is_one(const us_input *input);

/* Reads to the end, or until there is more than such a text may have. `bytes->owned`
 * is the caller's whatever comes back. US_ERROR_INPUT, reported, where nothing can be
 * read; US_ERROR_MEMORY. */
us_status usi_supply_read(us_context *context, const us_input *input, usi_text_kind what,
                          usi_bytes *bytes);

#endif
