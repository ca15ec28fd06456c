/* Bare walls in one soil: closed forms. */
#include "verify/tables.h"

/* Half of the depth: the section is its own dual. */
static const usi_verify_check wall_half[] = {
    {USI_VERIFY_FLOW, NULL, 1.5e-5, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.17972103521, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 1.5, 0.0, NULL},
};

static const usi_verify_case cases[] = {
    {
        .name = "wall_half",
        .source = "Polubarinova-Kochina 1962; Harr, Groundwater and Seepage, 1962: "
                  "q = k H K'(m) / 2 K(m), m = sin(pi s / 2 T)",
        .section = "title: A wall half-way into the soil\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -10\n"
                   "walls: [{name: sheet, x: 0, top: 0, tip: -5}]\n"
                   "soils: [{name: sand, kh: 1e-5}]\n"
                   "water: [{name: w, upstream: 3, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(wall_half),
        .checks = wall_half,
    },
};

usi_verify_table usi_verify_exact_wall(void)
{
    return (usi_verify_table){USI_VERIFY_COUNT(cases), cases};
}
