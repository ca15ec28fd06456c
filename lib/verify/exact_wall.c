/* Bare walls in one soil. Expected values are exact, or known to
 * the digits given; SI. tests/verify works each out once more. */

#include "verify/tables.h"

static const usi_verify_check wall_half[] = {
    {USI_VERIFY_FLOW, NULL, 1.5e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.17972103521, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "upstream_face", 2.6278302151, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "downstream_face", 0.37216978492, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 1.5, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "base_under_wall", 1.5, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "base_downstream", 0.62905447538, 0.0, NULL},
};

static const usi_verify_check wall_quarter[] = {
    {USI_VERIFY_FLOW, NULL, 2.9384360632e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.50253709806, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "upstream_face", 3.4822443917, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "downstream_face", 0.51775560833, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 2.0, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "base_under_wall", 2.0, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "base_downstream", 0.92114191591, 0.0, NULL},
};

static const usi_verify_check wall_80[] = {
    {USI_VERIFY_FLOW, NULL, 2.4777935719e-06, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.12705750176, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "upstream_face", 3.5729159721, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "downstream_face", 0.42708402794, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 2.0, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "base_under_wall", 2.0, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "base_downstream", 0.62542370686, 0.0, NULL},
};

static const usi_verify_check wall_30[] = {
    {USI_VERIFY_FLOW, NULL, 0.00013493280859, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.20809183843, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "upstream_face", 24.485111827, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "downstream_face", 21.514888173, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 23.0, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "base_under_wall", 23.0, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "base_downstream", 21.90975493, 0.0, NULL},
};

static const usi_verify_check wall_95[] = {
    {USI_VERIFY_FLOW, NULL, 9.9925225436e-07, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.083399716773, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "upstream_face", 5.5946842797, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "downstream_face", 1.4053157203, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 3.5, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "base_under_wall", 3.5, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "base_downstream", 1.5221980615, 0.0, NULL},
};

static const usi_verify_check wall_step_3[] = {
    {USI_VERIFY_FLOW, NULL, 2.244621445e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.3613026609, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", -1.268001792, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "upstream_face", -0.1739013453, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "downstream_face", -2.430431639, 0.0, NULL},
};

static const usi_verify_check wall_step_4[] = {
    {USI_VERIFY_FLOW, NULL, 4.741730857e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.2222094886, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", -1.729361543, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "upstream_face", -0.6053063307, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "downstream_face", -2.916465802, 0.0, NULL},
};

static const usi_verify_check wall_endless[] = {
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.23873241464, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "upstream_face", 2.6070303587, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "downstream_face", 0.3929696413, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 1.5, 0.0, NULL},
};

static const usi_verify_check wall_anisotropic_4[] = {
    {USI_VERIFY_FLOW, NULL, 3e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.17972103521, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "upstream_face", 2.6278302151, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "downstream_face", 0.37216978492, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 1.5, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "base_under_wall", 1.5, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "base_downstream", 0.9955947193, 0.0, NULL},
};

static const usi_verify_check wall_05[] = {
    {USI_VERIFY_FLOW, NULL, 7.5056122889e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.95443816561, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 21.5, 0.0, NULL},
    {USI_VERIFY_FACTOR, NULL, 1.0883219271, 0.0, NULL},
};

static const usi_verify_check wall_10[] = {
    {USI_VERIFY_FLOW, NULL, 5.149032955e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.79413017912, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 11.25, 0.0, NULL},
    {USI_VERIFY_FACTOR, NULL, 1.3080172634, 0.0, NULL},
};

static const usi_verify_check wall_40[] = {
    {USI_VERIFY_FLOW, NULL, 2.890134152e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.19181736327, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 11.25, 0.0, NULL},
    {USI_VERIFY_FACTOR, NULL, 5.4152343979, 0.0, NULL},
};

static const usi_verify_check wall_60[] = {
    {USI_VERIFY_FLOW, NULL, 2.1625293746e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.1205510408, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 11.25, 0.0, NULL},
    {USI_VERIFY_FACTOR, NULL, 8.6165658696, 0.0, NULL},
};

static const usi_verify_check wall_90[] = {
    {USI_VERIFY_FLOW, NULL, 1.213820159e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.061068682733, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 11.25, 0.0, NULL},
    {USI_VERIFY_FACTOR, NULL, 17.00930718, 0.0, NULL},
};

static const usi_verify_check wall_anisotropic_100[] = {
    {USI_VERIFY_FLOW, NULL, 1.3493280859e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.17340986536, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 13.0, 0.0, NULL},
    {USI_VERIFY_FACTOR, NULL, 5.9900628003, 0.0, NULL},
};

static const usi_verify_check wall_anisotropic_quarter[] = {
    {USI_VERIFY_FLOW, NULL, 1.4822192029e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.07857843368, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 11.0, 0.0, NULL},
    {USI_VERIFY_FACTOR, NULL, 13.219097595, 0.0, NULL},
};

static const usi_verify_check wall_left[] = {
    {USI_VERIFY_FLOW, NULL, 2.2233288044e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.07857843368, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 11.0, 0.0, NULL},
    {USI_VERIFY_FACTOR, NULL, 13.219097595, 0.0, NULL},
};

static const usi_verify_check wall_feet[] = {
    {USI_VERIFY_FLOW, NULL, 9.3011830086e-06, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.12858777685, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 10.9728, 0.0, NULL},
    {USI_VERIFY_FACTOR, NULL, 7.1667713164, 0.0, NULL},
};

static const usi_verify_check wall_keyed[] = {
    {USI_VERIFY_FLOW, NULL, 0.0, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.0, 0.0, NULL},
    {USI_VERIFY_UPSTREAM_FACE_TOP, "sheet", 13.0, 0.0, NULL},
    {USI_VERIFY_DOWNSTREAM_FACE_TOP, "sheet", 11.0, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "upstream_foot", 13.0, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "downstream_foot", 11.0, 0.0, NULL},
};

static const usi_verify_case cases[] = {
    {
        .name = "wall_half",
        .source = "Polubarinova-Kochina 1962; Harr, Groundwater and Seepage, 1962: q = k "
                  "H K'(m) / 2 K(m), exit gradient pi H / (4 T m K(m)), m = sin(pi s / 2 "
                  "T)",
        .section = "title: A wall half-way into the soil\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -10\n"
                   "walls:\n"
                   "  - {name: sheet, x: 0, top: 0, tip: -5}\n"
                   "soils: [{name: sand, kh: 1e-05, kv: 1e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 3, downstream: 0}]\n"
                   "piezometers:\n"
                   "  - {name: upstream_face, at: [0, -2], side: left}\n"
                   "  - {name: downstream_face, at: [0, -2], side: right}\n"
                   "  - {name: base_under_wall, at: [0, -10]}\n"
                   "  - {name: base_downstream, at: [6, -10]}\n",
        .check_count = USI_VERIFY_COUNT(wall_half),
        .checks = wall_half,
    },
    {
        .name = "wall_quarter",
        .source = "Polubarinova-Kochina 1962; Harr, Groundwater and Seepage, 1962: q = k "
                  "H K'(m) / 2 K(m), exit gradient pi H / (4 T m K(m)), m = sin(pi s / 2 "
                  "T)",
        .section = "title: A wall of a quarter of the depth\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -10\n"
                   "walls:\n"
                   "  - {name: sheet, x: 0, top: 0, tip: -2.5}\n"
                   "soils: [{name: sand, kh: 1e-05, kv: 1e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 4, downstream: 0}]\n"
                   "piezometers:\n"
                   "  - {name: upstream_face, at: [0, -1], side: left}\n"
                   "  - {name: downstream_face, at: [0, -1], side: right}\n"
                   "  - {name: base_under_wall, at: [0, -10]}\n"
                   "  - {name: base_downstream, at: [6, -10]}\n",
        .check_count = USI_VERIFY_COUNT(wall_quarter),
        .checks = wall_quarter,
    },
    {
        .name = "wall_80",
        .source = "Polubarinova-Kochina 1962; Harr, Groundwater and Seepage, 1962: q = k "
                  "H K'(m) / 2 K(m), exit gradient pi H / (4 T m K(m)), m = sin(pi s / 2 "
                  "T)",
        .section = "title: A wall of 0.8 of the depth\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -10\n"
                   "walls:\n"
                   "  - {name: sheet, x: 0, top: 0, tip: -8}\n"
                   "soils: [{name: sand, kh: 2e-06, kv: 2e-06, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 4, downstream: 0}]\n"
                   "piezometers:\n"
                   "  - {name: upstream_face, at: [0, -3.2], side: left}\n"
                   "  - {name: downstream_face, at: [0, -3.2], side: right}\n"
                   "  - {name: base_under_wall, at: [0, -10]}\n"
                   "  - {name: base_downstream, at: [6, -10]}\n",
        .check_count = USI_VERIFY_COUNT(wall_80),
        .checks = wall_80,
    },
    {
        .name = "wall_30",
        .source = "Polubarinova-Kochina 1962; Harr, Groundwater and Seepage, 1962: q = k "
                  "H K'(m) / 2 K(m), exit gradient pi H / (4 T m K(m)), m = sin(pi s / 2 "
                  "T)",
        .section = "title: A wall of 0.3 of the depth\n"
                   "bed: {upstream: 20, downstream: 20}\n"
                   "base: 0\n"
                   "walls:\n"
                   "  - {name: sheet, x: 0, top: 20, tip: 14}\n"
                   "soils: [{name: sand, kh: 5e-05, kv: 5e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 25, downstream: 21}]\n"
                   "piezometers:\n"
                   "  - {name: upstream_face, at: [0, 17.6], side: left}\n"
                   "  - {name: downstream_face, at: [0, 17.6], side: right}\n"
                   "  - {name: base_under_wall, at: [0, 0]}\n"
                   "  - {name: base_downstream, at: [12, 0]}\n",
        .check_count = USI_VERIFY_COUNT(wall_30),
        .checks = wall_30,
    },
    {
        .name = "wall_95",
        .source = "Polubarinova-Kochina 1962; Harr, Groundwater and Seepage, 1962: q = k "
                  "H K'(m) / 2 K(m), exit gradient pi H / (4 T m K(m)), m = sin(pi s / 2 "
                  "T)",
        .section = "title: A wall of 0.95 of the depth\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -12\n"
                   "walls:\n"
                   "  - {name: sheet, x: 0, top: 0, tip: -11.4}\n"
                   "soils: [{name: sand, kh: 1e-06, kv: 1e-06, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 6, downstream: 1}]\n"
                   "piezometers:\n"
                   "  - {name: upstream_face, at: [0, -4.56], side: left}\n"
                   "  - {name: downstream_face, at: [0, -4.56], side: right}\n"
                   "  - {name: base_under_wall, at: [0, -12]}\n"
                   "  - {name: base_downstream, at: [7.2, -12]}\n",
        .check_count = USI_VERIFY_COUNT(wall_95),
        .checks = wall_95,
    },
    {
        .name = "wall_step_3",
        .source = "Schwarz-Christoffel map, its parameters found numerically",
        .section = "title: A wall, the downstream bed 3 m lower\n"
                   "bed: {upstream: 0, downstream: -3}\n"
                   "base: -12\n"
                   "walls:\n"
                   "  - {name: sheet, x: 0, top: 0, tip: -6}\n"
                   "soils: [{name: sand, kh: 1e-05, kv: 1e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 1, downstream: -3}]\n"
                   "piezometers:\n"
                   "  - {name: upstream_face, at: [0, -4.5], side: left}\n"
                   "  - {name: downstream_face, at: [0, -4.5], side: right}\n",
        .check_count = USI_VERIFY_COUNT(wall_step_3),
        .checks = wall_step_3,
    },
    {
        .name = "wall_step_4",
        .source = "Schwarz-Christoffel map, its parameters found numerically",
        .section = "title: A wall, the downstream bed 4 m lower\n"
                   "bed: {upstream: 0, downstream: -4}\n"
                   "base: -20\n"
                   "walls:\n"
                   "  - {name: sheet, x: 0, top: 0, tip: -9}\n"
                   "soils: [{name: sand, kh: 2e-05, kv: 2e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 0.5, downstream: -3.5}]\n"
                   "piezometers:\n"
                   "  - {name: upstream_face, at: [0, -6.5], side: left}\n"
                   "  - {name: downstream_face, at: [0, -6.5], side: right}\n",
        .check_count = USI_VERIFY_COUNT(wall_step_4),
        .checks = wall_step_4,
    },
    {
        .name = "wall_endless",
        .source = "Khosla, Bose and Taylor 1936; Harr 1962: exit gradient H / (pi s)",
        .section = "title: A wall in soil without a base\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: none\n"
                   "walls:\n"
                   "  - {name: sheet, x: 0, top: 0, tip: -4}\n"
                   "soils: [{name: sand, kh: 1e-05, kv: 1e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 3, downstream: 0}]\n"
                   "piezometers:\n"
                   "  - {name: upstream_face, at: [0, -1.6], side: left}\n"
                   "  - {name: downstream_face, at: [0, -1.6], side: right}\n",
        .check_count = USI_VERIFY_COUNT(wall_endless),
        .checks = wall_endless,
    },
    {
        .name = "wall_anisotropic_4",
        .source = "Polubarinova-Kochina 1962; Harr, Groundwater and Seepage, 1962: q = k "
                  "H K'(m) / 2 K(m), exit gradient pi H / (4 T m K(m)), m = sin(pi s / 2 "
                  "T), x times sqrt(kv / kh)",
        .section = "title: A wall half-way, kh four times kv\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -10\n"
                   "walls:\n"
                   "  - {name: sheet, x: 0, top: 0, tip: -5}\n"
                   "soils: [{name: sand, kh: 4e-05, kv: 1e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 3, downstream: 0}]\n"
                   "piezometers:\n"
                   "  - {name: upstream_face, at: [0, -2], side: left}\n"
                   "  - {name: downstream_face, at: [0, -2], side: right}\n"
                   "  - {name: base_under_wall, at: [0, -10]}\n"
                   "  - {name: base_downstream, at: [6, -10]}\n",
        .check_count = USI_VERIFY_COUNT(wall_anisotropic_4),
        .checks = wall_anisotropic_4,
    },
    {
        .name = "wall_05",
        .source = "Polubarinova-Kochina 1962; Harr, Groundwater and Seepage, 1962: q = k "
                  "H K'(m) / 2 K(m), exit gradient pi H / (4 T m K(m)), m = sin(pi s / 2 "
                  "T)",
        .section = "title: A wall of 0.05 of the depth\n"
                   "bed: {upstream: 20, downstream: 20}\n"
                   "base: 0\n"
                   "walls: [{name: sheet, x: 0, top: 20, tip: 19}]\n"
                   "soils: [{name: sand, kh: 2e-05, kv: 2e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 23, downstream: 20}]\n",
        .check_count = USI_VERIFY_COUNT(wall_05),
        .checks = wall_05,
    },
    {
        .name = "wall_10",
        .source = "Polubarinova-Kochina 1962; Harr, Groundwater and Seepage, 1962: q = k "
                  "H K'(m) / 2 K(m), exit gradient pi H / (4 T m K(m)), m = sin(pi s / 2 "
                  "T)",
        .section = "title: A wall of 0.1 of the depth\n"
                   "bed: {upstream: 10, downstream: 10}\n"
                   "base: 0\n"
                   "walls: [{name: sheet, x: 0, top: 10, tip: 9}]\n"
                   "soils: [{name: sand, kh: 2e-05, kv: 2e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 12.5, downstream: 10}]\n",
        .check_count = USI_VERIFY_COUNT(wall_10),
        .checks = wall_10,
    },
    {
        .name = "wall_40",
        .source = "Polubarinova-Kochina 1962; Harr, Groundwater and Seepage, 1962: q = k "
                  "H K'(m) / 2 K(m), exit gradient pi H / (4 T m K(m)), m = sin(pi s / 2 "
                  "T)",
        .section = "title: A wall of 0.4 of the depth\n"
                   "bed: {upstream: 10, downstream: 10}\n"
                   "base: 0\n"
                   "walls: [{name: sheet, x: 0, top: 10, tip: 6}]\n"
                   "soils: [{name: sand, kh: 2e-05, kv: 2e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 12.5, downstream: 10}]\n",
        .check_count = USI_VERIFY_COUNT(wall_40),
        .checks = wall_40,
    },
    {
        .name = "wall_60",
        .source = "Polubarinova-Kochina 1962; Harr, Groundwater and Seepage, 1962: q = k "
                  "H K'(m) / 2 K(m), exit gradient pi H / (4 T m K(m)), m = sin(pi s / 2 "
                  "T)",
        .section = "title: A wall of 0.6 of the depth\n"
                   "bed: {upstream: 10, downstream: 10}\n"
                   "base: 0\n"
                   "walls: [{name: sheet, x: 0, top: 10, tip: 4}]\n"
                   "soils: [{name: sand, kh: 2e-05, kv: 2e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 12.5, downstream: 10}]\n",
        .check_count = USI_VERIFY_COUNT(wall_60),
        .checks = wall_60,
    },
    {
        .name = "wall_90",
        .source = "Polubarinova-Kochina 1962; Harr, Groundwater and Seepage, 1962: q = k "
                  "H K'(m) / 2 K(m), exit gradient pi H / (4 T m K(m)), m = sin(pi s / 2 "
                  "T)",
        .section = "title: A wall of 0.9 of the depth\n"
                   "bed: {upstream: 10, downstream: 10}\n"
                   "base: 0\n"
                   "walls: [{name: sheet, x: 0, top: 10, tip: 1}]\n"
                   "soils: [{name: sand, kh: 2e-05, kv: 2e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 12.5, downstream: 10}]\n",
        .check_count = USI_VERIFY_COUNT(wall_90),
        .checks = wall_90,
    },
    {
        .name = "wall_anisotropic_100",
        .source = "Polubarinova-Kochina 1962; Harr, Groundwater and Seepage, 1962: q = k "
                  "H K'(m) / 2 K(m), exit gradient pi H / (4 T m K(m)), m = sin(pi s / 2 "
                  "T), x times sqrt(kv / kh)",
        .section = "title: A wall of 0.3 of the depth, kh a hundred times kv\n"
                   "bed: {upstream: 12, downstream: 12}\n"
                   "base: 0\n"
                   "walls: [{name: sheet, x: 0, top: 12, tip: 8.4}]\n"
                   "soils: [{name: sand, kh: 0.0001, kv: 1e-06, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 14, downstream: 12}]\n",
        .check_count = USI_VERIFY_COUNT(wall_anisotropic_100),
        .checks = wall_anisotropic_100,
    },
    {
        .name = "wall_anisotropic_quarter",
        .source = "Polubarinova-Kochina 1962; Harr, Groundwater and Seepage, 1962: q = k "
                  "H K'(m) / 2 K(m), exit gradient pi H / (4 T m K(m)), m = sin(pi s / 2 "
                  "T), x times sqrt(kv / kh)",
        .section = "title: A wall of 0.7 of the depth, kh a quarter of kv\n"
                   "bed: {upstream: 10, downstream: 10}\n"
                   "base: 0\n"
                   "walls: [{name: sheet, x: 0, top: 10, tip: 3}]\n"
                   "soils: [{name: sand, kh: 1e-05, kv: 4e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 12, downstream: 10}]\n",
        .check_count = USI_VERIFY_COUNT(wall_anisotropic_quarter),
        .checks = wall_anisotropic_quarter,
    },
    {
        .name = "wall_left",
        .source = "Polubarinova-Kochina 1962; Harr, Groundwater and Seepage, 1962: q = k "
                  "H K'(m) / 2 K(m), exit gradient pi H / (4 T m K(m)), m = sin(pi s / 2 "
                  "T)",
        .section = "title: A wall of 0.7 of the depth, water flowing to the left\n"
                   "flow_toward: left\n"
                   "bed: {upstream: 10, downstream: 10}\n"
                   "base: 0\n"
                   "walls: [{name: sheet, x: 0, top: 10, tip: 3}]\n"
                   "soils: [{name: sand, kh: 3e-05, kv: 3e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 12, downstream: at_bed}]\n",
        .check_count = USI_VERIFY_COUNT(wall_left),
        .checks = wall_left,
    },
    {
        .name = "wall_feet",
        .source = "Polubarinova-Kochina 1962; Harr, Groundwater and Seepage, 1962: q = k "
                  "H K'(m) / 2 K(m), exit gradient pi H / (4 T m K(m)), m = sin(pi s / 2 "
                  "T)",
        .section = "title: A wall of 0.6 of the depth, in feet\n"
                   "units: us\n"
                   "bed: {upstream: 30, downstream: 30}\n"
                   "base: 0\n"
                   "walls: [{name: sheet, x: 12+50, top: 32, tip: 12}]\n"
                   "soils: [{name: sand, kh: 2.5, unit_weight: 120}]\n"
                   "water: [{name: w, upstream: 40, downstream: 32}]\n",
        .check_count = USI_VERIFY_COUNT(wall_feet),
        .checks = wall_feet,
    },
    {
        .name = "wall_keyed",
        .source = "A wall sealed into the base lets nothing through: the soil on each "
                  "side has the head of its own water",
        .section = "title: A wall keyed into the base\n"
                   "bed: {upstream: 10, downstream: 10}\n"
                   "base: 0\n"
                   "walls: [{name: sheet, x: 0, top: 10, tip: 0, keyed: true}]\n"
                   "soils: [{name: sand, kh: 1e-5}]\n"
                   "water: [{name: w, upstream: 13, downstream: 11}]\n"
                   "piezometers:\n"
                   "  - {name: upstream_foot, at: [0, 0], side: left}\n"
                   "  - {name: downstream_foot, at: [0, 0], side: right}\n",
        .check_count = USI_VERIFY_COUNT(wall_keyed),
        .checks = wall_keyed,
    },
};

usi_verify_table usi_verify_exact_wall(void)
{
    return (usi_verify_table){USI_VERIFY_COUNT(cases), cases};
}
