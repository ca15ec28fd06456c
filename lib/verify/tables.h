/* The tables of cases, a function for each file that holds one. A new table is
 * declared here and named once in list.c. */
#ifndef USI_VERIFY_TABLES_H
#define USI_VERIFY_TABLES_H

#include "verify/case.h"

/* Exact: closed forms, proved a second time by tests/physics/oracle.py. */
usi_verify_table usi_verify_exact_wall(void);

/* All cases, those of all tables in turn; NULL when `index` is out of range. */
const usi_verify_case *usi_verify_case_at(size_t index);

#endif
