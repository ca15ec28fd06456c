/* All cases: the tables one behind the other. */
#include "verify/tables.h"

typedef usi_verify_table (*table_function)(void);

static const table_function tables[] = {
    usi_verify_exact_wall,      usi_verify_exact_floor,       usi_verify_exact_walls,
    usi_verify_exact_apron,     usi_verify_exact_gap,         usi_verify_exact_layers,
    usi_verify_published_floor, usi_verify_published_profile, usi_verify_published_net,
    usi_verify_published_code,
};

const usi_verify_case *usi_verify_case_at(size_t index)
{
    for (size_t t = 0; t < USI_VERIFY_COUNT(tables); t++) {
        usi_verify_table table = tables[t]();
        if (index < table.count) {
            return &table.cases[index];
        }
        index -= table.count;
    }
    return NULL;
}
