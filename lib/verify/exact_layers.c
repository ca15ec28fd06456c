/* Layered soil. Expected values are exact, or known to
 * the digits given; SI. tests/verify works each out once more. */

#include "verify/tables.h"

static const usi_verify_check layers_tight_over_10[] = {
    {USI_VERIFY_FLOW, NULL, 6.61049e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.352651, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "downstream_face", 0.72748, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "upstream_face", 3.27252, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 2.0, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "base_downstream", 1.50169, 0.0, NULL},
};

static const usi_verify_check layers_pervious_over_10[] = {
    {USI_VERIFY_FLOW, NULL, 0.0001687078, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.2851806, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "downstream_face", 0.6079103, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "upstream_face", 3.39209, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 2.0, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "base_downstream", 0.8345807, 0.0, NULL},
};

static const usi_verify_check layers_through[] = {
    {USI_VERIFY_FLOW, NULL, 4.579562e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.2628124, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "downstream_face", 1.094232, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "upstream_face", 2.905768, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 2.0, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "base_downstream", 1.248827, 0.0, NULL},
};

static const usi_verify_check layers_tip_4[] = {
    {USI_VERIFY_FLOW, NULL, 4e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.311355, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "downstream_face", 0.804445, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "upstream_face", 3.19555, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 2.0, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "base_downstream", 1.2936, 0.0, NULL},
};

static const usi_verify_check layers_tight_over_100[] = {
    {USI_VERIFY_FLOW, NULL, 1.515901e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.280571, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 1.5, 0.0, NULL},
};

static const usi_verify_check layers_pervious_over_100[] = {
    {USI_VERIFY_FLOW, NULL, 0.0001093429, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.163851, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 1.5, 0.0, NULL},
};

static const usi_verify_check tip_on_interface_10[] = {
    {USI_VERIFY_FLOW, NULL, 3.1622776602e-05, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 1.0, 0.0, NULL},
};

static const usi_verify_check tip_on_interface_tenth[] = {
    {USI_VERIFY_FLOW, NULL, 3.1622776602e-05, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 1.0, 0.0, NULL},
};

static const usi_verify_check tip_on_interface_100[] = {
    {USI_VERIFY_FLOW, NULL, 1e-05, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 1.0, 0.0, NULL},
};

static const usi_verify_check tip_on_interface_hundredth[] = {
    {USI_VERIFY_FLOW, NULL, 1e-05, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 1.0, 0.0, NULL},
};

static const usi_verify_check tip_on_interface_anisotropic[] = {
    {USI_VERIFY_FLOW, NULL, 1.4142135624e-05, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 1.0, 0.0, NULL},
};

static const usi_verify_check layers_equal_upper[] = {
    {USI_VERIFY_FLOW, NULL, 3.228678971e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.31563790129, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 1.0, 0.0, NULL},
};

static const usi_verify_check layers_equal_interface[] = {
    {USI_VERIFY_FLOW, NULL, 2.3121073216e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.15345389062, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 1.0, 0.0, NULL},
};

static const usi_verify_check layers_equal_lower[] = {
    {USI_VERIFY_FLOW, NULL, 1.4822192029e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.07857843368, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 1.0, 0.0, NULL},
};

static const usi_verify_check layers_equal_floor[] = {
    {USI_VERIFY_FLOW, NULL, 1.0755387539e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.068268992854, 0.0, NULL},
    {USI_VERIFY_TIP, "cutoff", 1.6404146483, 0.0, NULL},
    {USI_VERIFY_DOWNSTREAM_FACE_TOP, "cutoff", 1.493023948, 0.0, NULL},
    {USI_VERIFY_UPSTREAM_FACE_TOP, "toe", 0.92765815298, 0.0, NULL},
    {USI_VERIFY_TIP, "toe", 0.57134985433, 0.0, NULL},
};

static const usi_verify_check layers_side_by_side[] = {
    {USI_VERIFY_FLOW, NULL, 0.000218, 0.0, NULL},
    {USI_VERIFY_UPLIFT_FORCE, NULL, 588600.0, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "quarter", 12.0, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "three_quarters", 10.0, 0.0, NULL},
};

static const usi_verify_case cases[] = {
    {
        .name = "layers_tight_over_10",
        .source = "Modes of the layers with the singularity of the tip; bounds from the "
                  "section and its dual. First by finite elements of high order with two-"
                  "sided bounds",
        .section = "title: A wall in a tight layer, the one below ten times as pervious\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -12\n"
                   "walls:\n"
                   "  - {name: sheet, x: 0, top: 0, tip: -4}\n"
                   "soils:\n"
                   "  - {name: upper, kh: 1e-05, kv: 1e-05, unit_weight: 20}\n"
                   "  - {name: lower, top: -6, kh: 0.0001, kv: 0.0001, unit_weight: 20}\n"
                   "water: [{name: w, upstream: 4, downstream: 0}]\n"
                   "piezometers:\n"
                   "  - {name: downstream_face, at: [0, -2], side: right}\n"
                   "  - {name: upstream_face, at: [0, -2], side: left}\n"
                   "  - {name: base_downstream, at: [6, -12]}\n",
        .check_count = USI_VERIFY_COUNT(layers_tight_over_10),
        .checks = layers_tight_over_10,
    },
    {
        .name = "layers_pervious_over_10",
        .source = "Modes of the layers with the singularity of the tip; bounds from the "
                  "section and its dual. First by finite elements of high order with two-"
                  "sided bounds",
        .section = "title: A wall in a pervious layer, the one below ten times as tight\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -12\n"
                   "walls:\n"
                   "  - {name: sheet, x: 0, top: 0, tip: -4}\n"
                   "soils:\n"
                   "  - {name: upper, kh: 0.0001, kv: 0.0001, unit_weight: 20}\n"
                   "  - {name: lower, top: -6, kh: 1e-05, kv: 1e-05, unit_weight: 20}\n"
                   "water: [{name: w, upstream: 4, downstream: 0}]\n"
                   "piezometers:\n"
                   "  - {name: downstream_face, at: [0, -2], side: right}\n"
                   "  - {name: upstream_face, at: [0, -2], side: left}\n"
                   "  - {name: base_downstream, at: [6, -12]}\n",
        .check_count = USI_VERIFY_COUNT(layers_pervious_over_10),
        .checks = layers_pervious_over_10,
    },
    {
        .name = "layers_through",
        .source = "Modes of the layers with the singularity of the tip; bounds from the "
                  "section and its dual. First by finite elements of high order with two-"
                  "sided bounds",
        .section = "title: A wall through the upper layer, the lower five times as pervious\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -12\n"
                   "walls:\n"
                   "  - {name: sheet, x: 0, top: 0, tip: -8}\n"
                   "soils:\n"
                   "  - {name: upper, kh: 1e-05, kv: 1e-05, unit_weight: 20}\n"
                   "  - {name: lower, top: -5, kh: 5e-05, kv: 5e-05, unit_weight: 20}\n"
                   "water: [{name: w, upstream: 4, downstream: 0}]\n"
                   "piezometers:\n"
                   "  - {name: downstream_face, at: [0, -4], side: right}\n"
                   "  - {name: upstream_face, at: [0, -4], side: left}\n"
                   "  - {name: base_downstream, at: [6, -12]}\n",
        .check_count = USI_VERIFY_COUNT(layers_through),
        .checks = layers_through,
    },
    {
        .name = "layers_tip_4",
        .source = "Modes of the layers with the singularity of the tip; bounds from the "
                  "section and its dual. First by finite elements of high order with two-"
                  "sided bounds; flow H sqrt(k1 k2) / 2",
        .section = "title: A wall with its tip on the interface, four times as pervious below\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -10\n"
                   "walls:\n"
                   "  - {name: sheet, x: 0, top: 0, tip: -5}\n"
                   "soils:\n"
                   "  - {name: upper, kh: 1e-05, kv: 1e-05, unit_weight: 20}\n"
                   "  - {name: lower, top: -5, kh: 4e-05, kv: 4e-05, unit_weight: 20}\n"
                   "water: [{name: w, upstream: 4, downstream: 0}]\n"
                   "piezometers:\n"
                   "  - {name: downstream_face, at: [0, -2.5], side: right}\n"
                   "  - {name: upstream_face, at: [0, -2.5], side: left}\n"
                   "  - {name: base_downstream, at: [5, -10]}\n",
        .check_count = USI_VERIFY_COUNT(layers_tip_4),
        .checks = layers_tip_4,
    },
    {
        .name = "layers_tight_over_100",
        .source = "Modes of the layers with the singularity of the tip; lower bound from "
                  "the section, upper from its dual",
        .section = "title: A wall in a tight layer, the one below a hundred times as pervious\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -12\n"
                   "walls: [{name: sheet, x: 0, top: 0, tip: -4}]\n"
                   "soils:\n"
                   "  - {name: upper, kh: 1e-06}\n"
                   "  - {name: lower, top: -6, kh: 0.0001}\n"
                   "water: [{name: w, upstream: 3, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(layers_tight_over_100),
        .checks = layers_tight_over_100,
    },
    {
        .name = "layers_pervious_over_100",
        .source = "Modes of the layers with the singularity of the tip; lower bound from "
                  "the section, upper from its dual",
        .section = "title: A wall in a pervious layer, the one below a hundred times as tight\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -12\n"
                   "walls: [{name: sheet, x: 0, top: 0, tip: -5}]\n"
                   "soils:\n"
                   "  - {name: upper, kh: 0.0001}\n"
                   "  - {name: lower, top: -7, kh: 1e-06}\n"
                   "water: [{name: w, upstream: 3, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(layers_pervious_over_100),
        .checks = layers_pervious_over_100,
    },
    {
        .name = "tip_on_interface_10",
        .source = "Exact by duality: the stream function is the head of the section "
                  "upside down with 1 / k, here the section itself; q = H sqrt(k1 k2) / 2",
        .section = "title: A wall with its tip on the interface in mid-depth, ten times as "
                   "pervious below\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -10\n"
                   "walls: [{name: sheet, x: 0, top: 0, tip: -5}]\n"
                   "soils:\n"
                   "  - {name: upper, kh: 1e-5}\n"
                   "  - {name: lower, top: -5, kh: 1e-4}\n"
                   "water: [{name: w, upstream: 2, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(tip_on_interface_10),
        .checks = tip_on_interface_10,
    },
    {
        .name = "tip_on_interface_tenth",
        .source = "Exact by duality: the stream function is the head of the section "
                  "upside down with 1 / k, here the section itself; q = H sqrt(k1 k2) / 2",
        .section =
            "title: A wall with its tip on the interface in mid-depth, ten times as tight below\n"
            "bed: {upstream: 0, downstream: 0}\n"
            "base: -10\n"
            "walls: [{name: sheet, x: 0, top: 0, tip: -5}]\n"
            "soils:\n"
            "  - {name: upper, kh: 1e-4}\n"
            "  - {name: lower, top: -5, kh: 1e-5}\n"
            "water: [{name: w, upstream: 2, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(tip_on_interface_tenth),
        .checks = tip_on_interface_tenth,
    },
    {
        .name = "tip_on_interface_100",
        .source = "Exact by duality: the stream function is the head of the section "
                  "upside down with 1 / k, here the section itself; q = H sqrt(k1 k2) / 2",
        .section = "title: A wall with its tip on the interface in mid-depth, a hundred times as "
                   "pervious below\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -10\n"
                   "walls: [{name: sheet, x: 0, top: 0, tip: -5}]\n"
                   "soils:\n"
                   "  - {name: upper, kh: 1e-6}\n"
                   "  - {name: lower, top: -5, kh: 1e-4}\n"
                   "water: [{name: w, upstream: 2, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(tip_on_interface_100),
        .checks = tip_on_interface_100,
    },
    {
        .name = "tip_on_interface_hundredth",
        .source = "Exact by duality: the stream function is the head of the section "
                  "upside down with 1 / k, here the section itself; q = H sqrt(k1 k2) / 2",
        .section = "title: A wall with its tip on the interface in mid-depth, a hundred times as "
                   "tight below\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -10\n"
                   "walls: [{name: sheet, x: 0, top: 0, tip: -5}]\n"
                   "soils:\n"
                   "  - {name: upper, kh: 1e-4}\n"
                   "  - {name: lower, top: -5, kh: 1e-6}\n"
                   "water: [{name: w, upstream: 2, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(tip_on_interface_hundredth),
        .checks = tip_on_interface_hundredth,
    },
    {
        .name = "tip_on_interface_anisotropic",
        .source = "Exact by duality: the stream function is the head of the section "
                  "upside down with 1 / k, here the section itself; q = H sqrt(k1 k2) / "
                  "2, k = sqrt(kh kv), heights times sqrt(kh / kv)",
        .section = "title: A wall with its tip on the interface of two anisotropic layers\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -6\n"
                   "walls: [{name: sheet, x: 0, top: 0, tip: -4}]\n"
                   "soils:\n"
                   "  - {name: upper, kh: 1e-5, kv: 1e-5}\n"
                   "  - {name: lower, top: -4, kh: 4e-5, kv: 1e-5}\n"
                   "water: [{name: w, upstream: 2, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(tip_on_interface_anisotropic),
        .checks = tip_on_interface_anisotropic,
    },
    {
        .name = "layers_equal_upper",
        .source = "Two layers with the same sqrt(kh kv) are one soil when heights are "
                  "stretched by sqrt(kh / kv); then Polubarinova-Kochina 1962; Harr, "
                  "Groundwater and Seepage, 1962: q = k H K'(m) / 2 K(m), exit gradient "
                  "pi H / (4 T m K(m)), m = sin(pi s / 2 T)",
        .section = "title: Two layers that stretch to one soil, a wall 2 m deep\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -7\n"
                   "walls: [{name: sheet, x: 0, top: 0, tip: -2}]\n"
                   "soils:\n"
                   "  - {name: upper, kh: 2e-5, kv: 2e-5}\n"
                   "  - {name: lower, top: -4, kh: 4e-5, kv: 1e-5}\n"
                   "water: [{name: w, upstream: 2, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(layers_equal_upper),
        .checks = layers_equal_upper,
    },
    {
        .name = "layers_equal_interface",
        .source = "Two layers with the same sqrt(kh kv) are one soil when heights are "
                  "stretched by sqrt(kh / kv); then Polubarinova-Kochina 1962; Harr, "
                  "Groundwater and Seepage, 1962: q = k H K'(m) / 2 K(m), exit gradient "
                  "pi H / (4 T m K(m)), m = sin(pi s / 2 T)",
        .section = "title: Two layers that stretch to one soil, a wall 4 m deep\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -7\n"
                   "walls: [{name: sheet, x: 0, top: 0, tip: -4}]\n"
                   "soils:\n"
                   "  - {name: upper, kh: 2e-5, kv: 2e-5}\n"
                   "  - {name: lower, top: -4, kh: 4e-5, kv: 1e-5}\n"
                   "water: [{name: w, upstream: 2, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(layers_equal_interface),
        .checks = layers_equal_interface,
    },
    {
        .name = "layers_equal_lower",
        .source = "Two layers with the same sqrt(kh kv) are one soil when heights are "
                  "stretched by sqrt(kh / kv); then Polubarinova-Kochina 1962; Harr, "
                  "Groundwater and Seepage, 1962: q = k H K'(m) / 2 K(m), exit gradient "
                  "pi H / (4 T m K(m)), m = sin(pi s / 2 T)",
        .section = "title: Two layers that stretch to one soil, a wall 5.5 m deep\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -7\n"
                   "walls: [{name: sheet, x: 0, top: 0, tip: -5.5}]\n"
                   "soils:\n"
                   "  - {name: upper, kh: 2e-5, kv: 2e-5}\n"
                   "  - {name: lower, top: -4, kh: 4e-5, kv: 1e-5}\n"
                   "water: [{name: w, upstream: 2, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(layers_equal_lower),
        .checks = layers_equal_lower,
    },
    {
        .name = "layers_equal_floor",
        .source = "Two layers with the same sqrt(kh kv) are one soil when heights are "
                  "stretched by sqrt(kh / kv); then Schwarz-Christoffel",
        .section = "title: Two layers that stretch to one soil, under a floor with two walls\n"
                   "bed: {upstream: 0, downstream: -1}\n"
                   "base: -7\n"
                   "structure: {underside: [[0, -1], [14, -1]]}\n"
                   "walls:\n"
                   "  - {name: cutoff, x: 0, top: 0, tip: -3}\n"
                   "  - {name: toe, x: 14, top: -1, tip: -5}\n"
                   "soils:\n"
                   "  - {name: upper, kh: 2e-5, kv: 2e-5}\n"
                   "  - {name: lower, top: -4, kh: 4e-5, kv: 1e-5}\n"
                   "water: [{name: w, upstream: 2, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(layers_equal_floor),
        .checks = layers_equal_floor,
    },
    {
        .name = "layers_side_by_side",
        .source = "Darcy 1856: level flow through layers between fixed heads, q = H / L "
                  "times the sum of kh d",
        .section = "title: Two confined layers between fixed heads\n"
                   "bed: {upstream: 8, downstream: 8}\n"
                   "base: 0\n"
                   "structure: {underside: [[0, 8], [20, 8]]}\n"
                   "sides: {left: {x: 0, kind: fixed_head}, right: {x: 20, kind: fixed_head}}\n"
                   "soils:\n"
                   "  - {name: upper, kh: 3e-5, kv: 1e-5}\n"
                   "  - {name: lower, top: 5, kh: 2e-4, kv: 1e-4}\n"
                   "water: [{name: w, upstream: 13, downstream: 9}]\n"
                   "piezometers:\n"
                   "  - {name: quarter, at: [5, 6]}\n"
                   "  - {name: three_quarters, at: [15, 1]}\n",
        .check_count = USI_VERIFY_COUNT(layers_side_by_side),
        .checks = layers_side_by_side,
    },
};

usi_verify_table usi_verify_exact_layers(void)
{
    return (usi_verify_table){USI_VERIFY_COUNT(cases), cases};
}
