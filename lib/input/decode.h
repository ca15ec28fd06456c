/* From the tree to a raw section, by the table of keys. */
#ifndef USI_INPUT_DECODE_H
#define USI_INPUT_DECODE_H

#include "input/schema.h"

/* Fills the structure at `into` (zeroed, of schema->size bytes) from a mapping.
 * `path` is the dotted path of the mapping, "" for the section. Every mistake
 * is reported; what could not be read stays absent. */
void usi_decode_mapping(usi_reader *reader, const usi_node *node, const char *path,
                        const usi_schema *schema, void *into);

/* Reads the units of bare numbers into reader->units, before anything else. */
void usi_decode_units(usi_reader *reader, const usi_node *root, usi_raw_units *units);

#endif
