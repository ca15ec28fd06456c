/* Walls that leave an opening. Expected values are exact, or known to
 * the digits given; SI. tests/verify works each out once more. */
#include <math.h>

#include "verify/tables.h"

static const usi_verify_check slot[] = {
    {USI_VERIFY_FLOW, NULL, 1.9496721635e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.28453532273, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "upstream_above_slot", 3.3945574727, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "downstream_above_slot", 0.60544252726, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "slot_middle", 2.0, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "wall_foot_downstream", 1.0829682084, 0.0, NULL},
};

static const usi_verify_check slot_low[] = {
    {USI_VERIFY_FLOW, NULL, 1.3040994929e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.12152621989, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "upstream_above_slot", 3.4755064691, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "downstream_above_slot", 0.52449353095, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "slot_middle", 2.0, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "wall_foot_downstream", 1.207800136, 0.0, NULL},
};

static const usi_verify_check gap_under_floor[] = {
    {USI_VERIFY_FLOW, NULL, 1.1789103623e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, INFINITY, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "floor_above_wall", 2.0, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "wall_top", 2.0, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "wall_foot_upstream", 3.268020104, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "wall_foot_downstream", 0.73197989601, 0.0, NULL},
};

static const usi_verify_check gap_under_floor_uneven[] = {
    {USI_VERIFY_FLOW, NULL, 1.1057309295e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, INFINITY, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "floor_above_wall", 2.4753417747, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "wall_top", 2.4585463552, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "wall_foot_upstream", 3.647157525, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "wall_foot_downstream", 1.0060000002, 0.0, NULL},
};

static const usi_verify_check gaps_both[] = {
    {USI_VERIFY_FLOW, NULL, 1.978158152e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, INFINITY, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "floor_above_wall", 2.0, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "base_under_wall", 2.0, 0.0, NULL},
};

static const usi_verify_check slot_confined[] = {
    {USI_VERIFY_FLOW, NULL, 1.0673440299e-05, 0.0, NULL},
};

static const usi_verify_case cases[] = {
    {
        .name = "slot",
        .source = "Half strip on a half-plane, then the cross ratio of two segments",
        .section = "title: A wall to the base with a slot\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -10\n"
                   "walls:\n"
                   "  - {name: above, x: 0, top: 0, tip: -4}\n"
                   "  - {name: below, x: 0, top: -6, tip: -10, keyed: true}\n"
                   "soils: [{name: sand, kh: 1e-05, kv: 1e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 4, downstream: 0}]\n"
                   "piezometers:\n"
                   "  - {name: upstream_above_slot, at: [0, -2], side: left}\n"
                   "  - {name: downstream_above_slot, at: [0, -2], side: right}\n"
                   "  - {name: slot_middle, at: [0, -5]}\n"
                   "  - {name: wall_foot_downstream, at: [0, -10], side: right}\n",
        .check_count = USI_VERIFY_COUNT(slot),
        .checks = slot,
    },
    {
        .name = "slot_low",
        .source = "Half strip on a half-plane, then the cross ratio of two segments",
        .section = "title: A wall to the base with a low slot\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -12\n"
                   "walls:\n"
                   "  - {name: above, x: 0, top: 0, tip: -8}\n"
                   "  - {name: below, x: 0, top: -9, tip: -12, keyed: true}\n"
                   "soils: [{name: sand, kh: 1e-05, kv: 1e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 4, downstream: 0}]\n"
                   "piezometers:\n"
                   "  - {name: upstream_above_slot, at: [0, -4], side: left}\n"
                   "  - {name: downstream_above_slot, at: [0, -4], side: right}\n"
                   "  - {name: slot_middle, at: [0, -8.5]}\n"
                   "  - {name: wall_foot_downstream, at: [0, -12], side: right}\n",
        .check_count = USI_VERIFY_COUNT(slot_low),
        .checks = slot_low,
    },
    {
        .name = "gap_under_floor",
        .source = "Half strip on a half-plane, then the cross ratio of two segments",
        .section = "title: A wall on the base that ends below the floor\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -10\n"
                   "structure: {underside: [[-6, 0], [6, 0]]}\n"
                   "walls:\n"
                   "  - {name: sill, x: 0, top: -2, tip: -10, keyed: true}\n"
                   "soils: [{name: sand, kh: 1e-05, kv: 1e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 4, downstream: 0}]\n"
                   "piezometers:\n"
                   "  - {name: floor_above_wall, at: [0, 0]}\n"
                   "  - {name: wall_top, at: [0, -2], side: left}\n"
                   "  - {name: wall_foot_upstream, at: [0, -10], side: left}\n"
                   "  - {name: wall_foot_downstream, at: [0, -10], side: right}\n",
        .check_count = USI_VERIFY_COUNT(gap_under_floor),
        .checks = gap_under_floor,
    },
    {
        .name = "gap_under_floor_uneven",
        .source = "Half strip on a half-plane, then the cross ratio of two segments",
        .section = "title: A wall on the base that ends below a floor off its middle\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -10\n"
                   "structure: {underside: [[-3, 0], [9, 0]]}\n"
                   "walls:\n"
                   "  - {name: sill, x: 0, top: -1.5, tip: -10, keyed: true}\n"
                   "soils: [{name: sand, kh: 1e-05, kv: 1e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 4, downstream: 0}]\n"
                   "piezometers:\n"
                   "  - {name: floor_above_wall, at: [0, 0]}\n"
                   "  - {name: wall_top, at: [0, -1.5], side: left}\n"
                   "  - {name: wall_foot_upstream, at: [0, -10], side: left}\n"
                   "  - {name: wall_foot_downstream, at: [0, -10], side: right}\n",
        .check_count = USI_VERIFY_COUNT(gap_under_floor_uneven),
        .checks = gap_under_floor_uneven,
    },
    {
        .name = "gaps_both",
        .source = "Hyperelliptic integrals of the half strip, the flow through each gap "
                  "found by equal heads",
        .section = "title: A floating wall with gaps above and below\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -10\n"
                   "structure: {underside: [[-5, 0], [5, 0]]}\n"
                   "walls:\n"
                   "  - {name: floating, x: 0, top: -2, tip: -6}\n"
                   "soils: [{name: sand, kh: 1e-05, kv: 1e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 4, downstream: 0}]\n"
                   "piezometers:\n"
                   "  - {name: floor_above_wall, at: [0, 0]}\n"
                   "  - {name: base_under_wall, at: [0, -10]}\n",
        .check_count = USI_VERIFY_COUNT(gaps_both),
        .checks = gaps_both,
    },
    {
        .name = "slot_confined",
        .source = "Rectangle on a half-plane by the elliptic sine, then the cross ratio",
        .section = "title: A confined layer parted by a wall with a slot\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -10\n"
                   "structure: {underside: [[-15, 0], [15, 0]]}\n"
                   "walls:\n"
                   "  - {name: above, x: 0, top: 0, tip: -4}\n"
                   "  - {name: below, x: 0, top: -6, tip: -10, keyed: true}\n"
                   "sides: {left: {x: -15, kind: fixed_head}, right: {x: 15, kind: fixed_head}}\n"
                   "soils: [{name: sand, kh: 1e-05, kv: 1e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 4, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(slot_confined),
        .checks = slot_confined,
    },
};

usi_verify_table usi_verify_exact_gap(void)
{
    return (usi_verify_table){USI_VERIFY_COUNT(cases), cases};
}
