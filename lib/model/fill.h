/* What stands at the edges of the soil, from the raw section into the section. */
#ifndef USI_MODEL_FILL_H
#define USI_MODEL_FILL_H

#include "model/check.h"

/* Water below the base and behind the sides, leaks and voids of the underside,
 * drains. */
void usi_fill_edges(usi_check *check);

/* What a water case has of its own, but for beds; after the drains. */
void usi_fill_case(usi_check *check, const usi_raw_water *raw, usi_water *water);

/* Partial factors of limit states, the recommended ones where none are given. */
void usi_fill_limit_states(usi_check *check);
/* What works, soils and banks are made of (model/fill_works.c); after walls, soils, drains. */
void usi_fill_works(usi_check *check);
/* What walls let through (model/check_openings.c); after the walls. */
void usi_fill_openings(usi_check *check);
void usi_fill_work_limits(const usi_raw_require *raw, usi_requirements *require);

/* The name given, or one made up from `what` and the place in the list. */
char *usi_fill_name(usi_check *check, const usi_raw_text *raw, const char *what, size_t index);

/* `count` zeroed items; NULL, and the check has failed, when memory is short. */
void *usi_fill_array(usi_check *check, size_t count, size_t size);

#endif
