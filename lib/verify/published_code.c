/* Worked examples of Eurocode 7, as far as they are seepage. The checks themselves
 * (EN 1997-1, HYD and UPL) are arithmetic on these values. */
#include "verify/tables.h"

static const usi_verify_check bond_harris_weir[] = {
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.29, 0.005,
     "Floor and head are not printed where this was read: they are inferred, and give every "
     "printed result (0.2922)."},
};

static const usi_verify_check bond_harris_basement[] = {
    {USI_VERIFY_UPLIFT_FORCE, NULL, 795000.0, 500.0, NULL},
};

static const usi_verify_check bond_harris_two_storeys[] = {
    {USI_VERIFY_UPLIFT_FORCE, NULL, 1324000.0, 500.0, NULL},
};

static const usi_verify_case cases[] = {
    {
        .name = "bond_harris_weir",
        .source = "A. Bond and A. Harris, Decoding Eurocode 7, 2008, heave at a weir: i = 0.29",
        .section = "title: A weir of 15 m with a wall of 3.2 m at its end\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: none\n"
                   "structure: {underside: [[0, 0], [15, 0]]}\n"
                   "walls:\n"
                   "  - {name: end, x: 15, top: 0, tip: -3.2}\n"
                   "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 19.5}]\n"
                   "water: [{name: w, upstream: 5, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(bond_harris_weir),
        .checks = bond_harris_weir,
    },
    {
        .name = "bond_harris_basement",
        .source = "A. Bond and A. Harris, Decoding Eurocode 7, 2008, Example 7.4: water at "
                  "ground level",
        .section = "title: A basement 4.5 m deep under still water\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -12\n"
                   "structure: {underside: [[0, -4.5], [18, -4.5]]}\n"
                   "soils: [{name: soil, kh: 1e-6, kv: 1e-6, unit_weight: 20}]\n"
                   "water: [{name: still, upstream: 0, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(bond_harris_basement),
        .checks = bond_harris_basement,
    },
    {
        .name = "bond_harris_two_storeys",
        .source = "A. Bond and A. Harris, Decoding Eurocode 7, 2008, Example 7.4, with two "
                  "storeys: water at ground level",
        .section = "title: A basement 7.5 m deep under still water\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -20\n"
                   "structure: {underside: [[0, -7.5], [18, -7.5]]}\n"
                   "soils: [{name: soil, kh: 1e-6, kv: 1e-6, unit_weight: 20}]\n"
                   "water: [{name: still, upstream: 0, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(bond_harris_two_storeys),
        .checks = bond_harris_two_storeys,
    },
};

usi_verify_table usi_verify_published_code(void)
{
    return (usi_verify_table){USI_VERIFY_COUNT(cases), cases};
}
