/* The tables of cases, a function for each file that holds one. A new table is
 * declared here and named once in list.c. */
#ifndef USI_VERIFY_TABLES_H
#define USI_VERIFY_TABLES_H

#include "verify/case.h"

/* Exact: closed forms, worked out a second time by tests/verify. */
usi_verify_table usi_verify_exact_wall(void);   /* bare walls */
usi_verify_table usi_verify_exact_floor(void);  /* floors with at most one wall */
usi_verify_table usi_verify_exact_walls(void);  /* floors with more */
usi_verify_table usi_verify_exact_apron(void);  /* embedded aprons */
usi_verify_table usi_verify_exact_gap(void);    /* walls that leave an opening */
usi_verify_table usi_verify_exact_layers(void); /* layered soil */

/* Published: worked examples as printed. */
usi_verify_table usi_verify_published_floor(void);   /* whole floors, endless soil */
usi_verify_table usi_verify_published_profile(void); /* one wall under a floor, endless soil */
usi_verify_table usi_verify_published_net(void);     /* flow nets */
usi_verify_table usi_verify_published_code(void);    /* Eurocode 7 */

/* All cases, those of all tables in turn; NULL when `index` is out of range. */
const usi_verify_case *usi_verify_case_at(size_t index);

#endif
