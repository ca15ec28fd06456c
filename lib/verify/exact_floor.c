/* Floors with at most one wall. Expected values are exact, or known to
 * the digits given; SI. tests/verify works each out once more. */
#include <math.h>

#include "verify/tables.h"

static const usi_verify_check floor_plain[] = {
    {USI_VERIFY_FLOW, NULL, 1.3878070922e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, INFINITY, 0.0, NULL},
    {USI_VERIFY_UPLIFT_FORCE, NULL, 392400.0, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "under_floor", 1.2581009714, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "base_under_wall", 2.0, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "base_upstream", 2.8968371486, 0.0, NULL},
};

static const usi_verify_check floor_wall_middle[] = {
    {USI_VERIFY_FLOW, NULL, 1.7771871892e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, INFINITY, 0.0, NULL},
    {USI_VERIFY_UPLIFT_FORCE, NULL, 196200.0, 0.0, NULL},
    {USI_VERIFY_UPSTREAM_FACE_TOP, "sheet", 2.9099353993, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 2.0, 0.0, NULL},
    {USI_VERIFY_DOWNSTREAM_FACE_TOP, "sheet", 1.0900646007, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "under_floor", 0.89412927226, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "base_under_wall", 2.0, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "base_upstream", 3.1578720048, 0.0, NULL},
};

static const usi_verify_check floor_wall_middle_long[] = {
    {USI_VERIFY_FLOW, NULL, 1.4341997332e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, INFINITY, 0.0, NULL},
    {USI_VERIFY_UPLIFT_FORCE, NULL, 706320.0, 0.0, NULL},
    {USI_VERIFY_UPSTREAM_FACE_TOP, "sheet", 3.660223799, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 3.0, 0.0, NULL},
    {USI_VERIFY_DOWNSTREAM_FACE_TOP, "sheet", 2.339776201, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "under_floor", 2.0440811117, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "base_under_wall", 3.0, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "base_upstream", 4.0451469137, 0.0, NULL},
};

static const usi_verify_check floor_wall_head[] = {
    {USI_VERIFY_FLOW, NULL, 1.7413411521e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, INFINITY, 0.0, NULL},
    {USI_VERIFY_UPLIFT_FORCE, NULL, 184899.02531, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 3.3026138977, 0.0, NULL},
    {USI_VERIFY_DOWNSTREAM_FACE_TOP, "sheet", 2.2673211634, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "under_floor", 1.6902937812, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "base_under_wall", 3.2131432697, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "base_upstream", 4.3698623663, 0.0, NULL},
};

static const usi_verify_check floor_wall_toe[] = {
    {USI_VERIFY_FLOW, NULL, 1.7413411521e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.20718170318, 0.0, NULL},
    {USI_VERIFY_UPLIFT_FORCE, NULL, 403700.97469, 0.0, NULL},
    {USI_VERIFY_UPSTREAM_FACE_TOP, "sheet", 2.7326788366, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 1.6973861023, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "under_floor", 3.3097062188, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "base_under_wall", 1.7868567303, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "base_upstream", 3.2442029709, 0.0, NULL},
};

static const usi_verify_check floor_wall_between[] = {
    {USI_VERIFY_FLOW, NULL, 6.576865208e-06, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, INFINITY, 0.0, NULL},
    {USI_VERIFY_UPLIFT_FORCE, NULL, 351117.80259, 0.0, NULL},
    {USI_VERIFY_UPSTREAM_FACE_TOP, "sheet", 3.9261987665, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 3.1822652722, 0.0, NULL},
    {USI_VERIFY_DOWNSTREAM_FACE_TOP, "sheet", 2.5388013555, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "under_floor", 1.8420843376, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "base_under_wall", 3.030134772, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "base_upstream", 4.1956762568, 0.0, NULL},
};

static const usi_verify_check floor_anisotropic_9[] = {
    {USI_VERIFY_FLOW, NULL, 6.2921838363e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, INFINITY, 0.0, NULL},
    {USI_VERIFY_UPLIFT_FORCE, NULL, 313920.0, 0.0, NULL},
    {USI_VERIFY_UPSTREAM_FACE_TOP, "sheet", 3.2807091066, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 2.0, 0.0, NULL},
    {USI_VERIFY_DOWNSTREAM_FACE_TOP, "sheet", 0.71929089342, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "under_floor", 0.61126891499, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "base_under_wall", 2.0, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "base_upstream", 2.4854370637, 0.0, NULL},
};

static const usi_verify_check endless_wall_toe[] = {
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.15910669593, 0.0, NULL},
    {USI_VERIFY_UPSTREAM_FACE_TOP, "sheet", 1.718590333, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 1.1653013636, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "under_floor", 2.3392736645, 0.0, NULL},
};

static const usi_verify_check endless_wall_head[] = {
    {USI_VERIFY_EXIT_GRADIENT, NULL, INFINITY, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 2.746957223, 0.0, NULL},
    {USI_VERIFY_DOWNSTREAM_FACE_TOP, "sheet", 2.1367069606, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "under_floor", 1.593189406, 0.0, NULL},
};

static const usi_verify_check endless_wall_between[] = {
    {USI_VERIFY_EXIT_GRADIENT, NULL, INFINITY, 0.0, NULL},
    {USI_VERIFY_UPSTREAM_FACE_TOP, "sheet", 3.5466627479, 0.0, NULL},
    {USI_VERIFY_TIP, "sheet", 2.9795016717, 0.0, NULL},
    {USI_VERIFY_DOWNSTREAM_FACE_TOP, "sheet", 2.4717267314, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "under_floor", 3.8294776909, 0.0, NULL},
};

static const usi_verify_check floor_short[] = {
    {USI_VERIFY_FLOW, NULL, 0.00019209029443, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, INFINITY, 0.0, NULL},
    {USI_VERIFY_UPLIFT_FORCE, NULL, 19620.0, 0.0, NULL},
};

static const usi_verify_check floor_square[] = {
    {USI_VERIFY_FLOW, NULL, 0.0001066359113, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, INFINITY, 0.0, NULL},
    {USI_VERIFY_UPLIFT_FORCE, NULL, 78480.0, 0.0, NULL},
};

static const usi_verify_check floor_long[] = {
    {USI_VERIFY_FLOW, NULL, 3.3998905098e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, INFINITY, 0.0, NULL},
    {USI_VERIFY_UPLIFT_FORCE, NULL, 392400.0, 0.0, NULL},
};

static const usi_verify_check endless_toe_1[] = {
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.43457880516, 0.0, NULL},
    {USI_VERIFY_UPSTREAM_FACE_TOP, "toe", 2.1843399826, 0.0, NULL},
    {USI_VERIFY_TIP, "toe", 1.3353453009, 0.0, NULL},
};

static const usi_verify_check endless_toe_8[] = {
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.22430459947, 0.0, NULL},
    {USI_VERIFY_UPSTREAM_FACE_TOP, "toe", 0.93400587064, 0.0, NULL},
    {USI_VERIFY_TIP, "toe", 0.64671774801, 0.0, NULL},
};

static const usi_verify_check endless_toe_40[] = {
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.10543827032, 0.0, NULL},
    {USI_VERIFY_UPSTREAM_FACE_TOP, "toe", 0.42525840424, 0.0, NULL},
    {USI_VERIFY_TIP, "toe", 0.2994498827, 0.0, NULL},
};

static const usi_verify_check endless_toe_feet[] = {
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.3382935989, 0.0, NULL},
    {USI_VERIFY_UPSTREAM_FACE_TOP, "toe", 32.176701132, 0.0, NULL},
    {USI_VERIFY_TIP, "toe", 31.837059596, 0.0, NULL},
};

static const usi_verify_case cases[] = {
    {
        .name = "floor_plain",
        .source = "Strip with a slit mapped on a half-plane, then the head between two "
                  "segments; with the wall in the middle that is the formula of Harr 1962",
        .section = "title: A level floor twice as long as the soil is deep\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -10\n"
                   "structure: {underside: [[-10, 0], [10, 0]]}\n"
                   "soils: [{name: sand, kh: 1e-05, kv: 1e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 4, downstream: 0}]\n"
                   "piezometers:\n"
                   "  - {name: under_floor, at: [5, 0]}\n"
                   "  - {name: base_under_wall, at: [0, -10]}\n"
                   "  - {name: base_upstream, at: [-7, -10]}\n",
        .check_count = USI_VERIFY_COUNT(floor_plain),
        .checks = floor_plain,
    },
    {
        .name = "floor_wall_middle",
        .source = "Strip with a slit mapped on a half-plane, then the head between two "
                  "segments; with the wall in the middle that is the formula of Harr 1962",
        .section = "title: A floor with a wall in the middle\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -10\n"
                   "structure: {underside: [[-5, 0], [5, 0]]}\n"
                   "walls:\n"
                   "  - {name: sheet, x: 0, top: 0, tip: -4}\n"
                   "soils: [{name: sand, kh: 1e-05, kv: 1e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 4, downstream: 0}]\n"
                   "piezometers:\n"
                   "  - {name: under_floor, at: [2.5, 0]}\n"
                   "  - {name: base_under_wall, at: [0, -10]}\n"
                   "  - {name: base_upstream, at: [-7, -10]}\n",
        .check_count = USI_VERIFY_COUNT(floor_wall_middle),
        .checks = floor_wall_middle,
    },
    {
        .name = "floor_wall_middle_long",
        .source = "Strip with a slit mapped on a half-plane, then the head between two "
                  "segments; with the wall in the middle that is the formula of Harr 1962",
        .section = "title: A longer floor with a wall in the middle\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -15\n"
                   "structure: {underside: [[-12, 0], [12, 0]]}\n"
                   "walls:\n"
                   "  - {name: sheet, x: 0, top: 0, tip: -6}\n"
                   "soils: [{name: sand, kh: 1e-05, kv: 1e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 5, downstream: 1}]\n"
                   "piezometers:\n"
                   "  - {name: under_floor, at: [6, 0]}\n"
                   "  - {name: base_under_wall, at: [0, -15]}\n"
                   "  - {name: base_upstream, at: [-10.5, -15]}\n",
        .check_count = USI_VERIFY_COUNT(floor_wall_middle_long),
        .checks = floor_wall_middle_long,
    },
    {
        .name = "floor_wall_head",
        .source = "Strip with a slit mapped on a half-plane, then the head between two "
                  "segments; with the wall in the middle that is the formula of Harr 1962",
        .section = "title: A floor with a wall at its upstream end\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -10\n"
                   "structure: {underside: [[0, 0], [12, 0]]}\n"
                   "walls:\n"
                   "  - {name: sheet, x: 0, top: 0, tip: -5}\n"
                   "soils: [{name: sand, kh: 1e-05, kv: 1e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 5, downstream: 0}]\n"
                   "piezometers:\n"
                   "  - {name: under_floor, at: [6, 0]}\n"
                   "  - {name: base_under_wall, at: [0, -10]}\n"
                   "  - {name: base_upstream, at: [-7, -10]}\n",
        .check_count = USI_VERIFY_COUNT(floor_wall_head),
        .checks = floor_wall_head,
    },
    {
        .name = "floor_wall_toe",
        .source = "Strip with a slit mapped on a half-plane, then the head between two "
                  "segments; with the wall in the middle that is the formula of Harr 1962",
        .section = "title: A floor with a wall at its downstream end\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -10\n"
                   "structure: {underside: [[-12, 0], [0, 0]]}\n"
                   "walls:\n"
                   "  - {name: sheet, x: 0, top: 0, tip: -5}\n"
                   "soils: [{name: sand, kh: 1e-05, kv: 1e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 5, downstream: 0}]\n"
                   "piezometers:\n"
                   "  - {name: under_floor, at: [-6, 0]}\n"
                   "  - {name: base_under_wall, at: [0, -10]}\n"
                   "  - {name: base_upstream, at: [-7, -10]}\n",
        .check_count = USI_VERIFY_COUNT(floor_wall_toe),
        .checks = floor_wall_toe,
    },
    {
        .name = "floor_wall_between",
        .source = "Strip with a slit mapped on a half-plane, then the head between two "
                  "segments; with the wall in the middle that is the formula of Harr 1962",
        .section = "title: A floor with a wall nearer to its upstream end\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -12\n"
                   "structure: {underside: [[-4, 0], [11, 0]]}\n"
                   "walls:\n"
                   "  - {name: sheet, x: 0, top: 0, tip: -3}\n"
                   "soils: [{name: sand, kh: 3e-06, kv: 3e-06, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 5, downstream: 0}]\n"
                   "piezometers:\n"
                   "  - {name: under_floor, at: [5.5, 0]}\n"
                   "  - {name: base_under_wall, at: [0, -12]}\n"
                   "  - {name: base_upstream, at: [-8.4, -12]}\n",
        .check_count = USI_VERIFY_COUNT(floor_wall_between),
        .checks = floor_wall_between,
    },
    {
        .name = "floor_anisotropic_9",
        .source = "Strip with a slit mapped on a half-plane, then the head between two "
                  "segments; with the wall in the middle that is the formula of Harr 1962",
        .section = "title: A floor with a wall in the middle, kh nine times kv\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -10\n"
                   "structure: {underside: [[-8, 0], [8, 0]]}\n"
                   "walls:\n"
                   "  - {name: sheet, x: 0, top: 0, tip: -4}\n"
                   "soils: [{name: sand, kh: 9e-05, kv: 1e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 4, downstream: 0}]\n"
                   "piezometers:\n"
                   "  - {name: under_floor, at: [4, 0]}\n"
                   "  - {name: base_under_wall, at: [0, -10]}\n"
                   "  - {name: base_upstream, at: [-7, -10]}\n",
        .check_count = USI_VERIFY_COUNT(floor_anisotropic_9),
        .checks = floor_anisotropic_9,
    },
    {
        .name = "endless_wall_toe",
        .source = "Khosla, Bose and Taylor, Design of Weirs on Permeable Foundations, "
                  "1936",
        .section = "title: \"Soil without a base: a floor with a wall at its downstream end\"\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: none\n"
                   "structure: {underside: [[-20, 0], [0, 0]]}\n"
                   "walls:\n"
                   "  - {name: sheet, x: 0, top: 0, tip: -5}\n"
                   "soils: [{name: sand, kh: 1e-05, kv: 1e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 4, downstream: 0}]\n"
                   "piezometers:\n"
                   "  - {name: under_floor, at: [-10, 0]}\n",
        .check_count = USI_VERIFY_COUNT(endless_wall_toe),
        .checks = endless_wall_toe,
    },
    {
        .name = "endless_wall_head",
        .source = "Khosla, Bose and Taylor, Design of Weirs on Permeable Foundations, "
                  "1936",
        .section = "title: \"Soil without a base: a floor with a wall at its upstream end\"\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: none\n"
                   "structure: {underside: [[0, 0], [20, 0]]}\n"
                   "walls:\n"
                   "  - {name: sheet, x: 0, top: 0, tip: -6}\n"
                   "soils: [{name: sand, kh: 1e-05, kv: 1e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 4, downstream: 0}]\n"
                   "piezometers:\n"
                   "  - {name: under_floor, at: [10, 0]}\n",
        .check_count = USI_VERIFY_COUNT(endless_wall_head),
        .checks = endless_wall_head,
    },
    {
        .name = "endless_wall_between",
        .source = "Khosla, Bose and Taylor, Design of Weirs on Permeable Foundations, "
                  "1936",
        .section = "title: \"Soil without a base: a floor with a wall in between\"\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: none\n"
                   "structure: {underside: [[-8, 0], [16, 0]]}\n"
                   "walls:\n"
                   "  - {name: sheet, x: 0, top: 0, tip: -4}\n"
                   "soils: [{name: sand, kh: 1e-05, kv: 1e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 5, downstream: 0}]\n"
                   "piezometers:\n"
                   "  - {name: under_floor, at: [-4, 0]}\n",
        .check_count = USI_VERIFY_COUNT(endless_wall_between),
        .checks = endless_wall_between,
    },
    {
        .name = "floor_short",
        .source = "Harr 1962: q = k H K'(m) / 2 K(m), m = tanh(pi B / 4 T); by symmetry "
                  "the floor carries half the head",
        .section = "title: A level floor a quarter as long as the soil is deep\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -8\n"
                   "structure: {underside: [[0, 0], [2, 0]]}\n"
                   "soils: [{name: sand, kh: 1e-4}]\n"
                   "water: [{name: w, upstream: 2, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(floor_short),
        .checks = floor_short,
    },
    {
        .name = "floor_square",
        .source = "Harr 1962: q = k H K'(m) / 2 K(m), m = tanh(pi B / 4 T); by symmetry "
                  "the floor carries half the head",
        .section = "title: A level floor as long as the soil is deep\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -8\n"
                   "structure: {underside: [[0, 0], [8, 0]]}\n"
                   "soils: [{name: sand, kh: 1e-4}]\n"
                   "water: [{name: w, upstream: 2, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(floor_square),
        .checks = floor_square,
    },
    {
        .name = "floor_long",
        .source = "Harr 1962: q = k H K'(m) / 2 K(m), m = tanh(pi B / 4 T); by symmetry "
                  "the floor carries half the head",
        .section = "title: A level floor five times as long as the soil is deep\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -8\n"
                   "structure: {underside: [[0, 0], [40, 0]]}\n"
                   "soils: [{name: sand, kh: 1e-4}]\n"
                   "water: [{name: w, upstream: 2, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(floor_long),
        .checks = floor_long,
    },
    {
        .name = "endless_toe_1",
        .source = "Khosla, Bose and Taylor, Design of Weirs on Permeable Foundations, "
                  "1936: E = acos((l - 2) / l) / pi, D = acos((l - 1) / l) / pi, exit "
                  "gradient H / (pi d sqrt(l)), l = (1 + sqrt(1 + (b / d)^2)) / 2",
        .section =
            "title: \"Soil without a base: a floor, its wall as deep as the floor is long\"\n"
            "bed: {upstream: 0, downstream: 0}\n"
            "base: none\n"
            "structure: {underside: [[0, 0], [2, 0]]}\n"
            "walls: [{name: toe, x: 2, top: 0, tip: -2}]\n"
            "soils: [{name: sand, kh: 1e-5}]\n"
            "water: [{name: w, upstream: 3, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(endless_toe_1),
        .checks = endless_toe_1,
    },
    {
        .name = "endless_toe_8",
        .source = "Khosla, Bose and Taylor, Design of Weirs on Permeable Foundations, "
                  "1936: E = acos((l - 2) / l) / pi, D = acos((l - 1) / l) / pi, exit "
                  "gradient H / (pi d sqrt(l)), l = (1 + sqrt(1 + (b / d)^2)) / 2",
        .section = "title: \"Soil without a base: a floor, eight times as long as its wall\"\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: none\n"
                   "structure: {underside: [[0, 0], [16, 0]]}\n"
                   "walls: [{name: toe, x: 16, top: 0, tip: -2}]\n"
                   "soils: [{name: sand, kh: 1e-5}]\n"
                   "water: [{name: w, upstream: 3, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(endless_toe_8),
        .checks = endless_toe_8,
    },
    {
        .name = "endless_toe_40",
        .source = "Khosla, Bose and Taylor, Design of Weirs on Permeable Foundations, "
                  "1936: E = acos((l - 2) / l) / pi, D = acos((l - 1) / l) / pi, exit "
                  "gradient H / (pi d sqrt(l)), l = (1 + sqrt(1 + (b / d)^2)) / 2",
        .section = "title: \"Soil without a base: a floor, forty times as long as its wall\"\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: none\n"
                   "structure: {underside: [[0, 0], [80, 0]]}\n"
                   "walls: [{name: toe, x: 80, top: 0, tip: -2}]\n"
                   "soils: [{name: sand, kh: 1e-5}]\n"
                   "water: [{name: w, upstream: 3, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(endless_toe_40),
        .checks = endless_toe_40,
    },
    {
        .name = "endless_toe_feet",
        .source = "Khosla, Bose and Taylor, Design of Weirs on Permeable Foundations, "
                  "1936, x times sqrt(kv / kh)",
        .section =
            "title: Soil without a base, kh four times kv, in feet, water flowing to the left\n"
            "units: us\n"
            "flow_toward: left\n"
            "bed: {upstream: 100, downstream: 100}\n"
            "base: none\n"
            "structure: {underside: [[0, 100], [60, 100]]}\n"
            "walls: [{name: toe, x: 0, top: 101, tip: 95}]\n"
            "soils: [{name: sand, kh: 8, kv: 2}]\n"
            "water: [{name: w, upstream: 112, downstream: 102}]\n",
        .check_count = USI_VERIFY_COUNT(endless_toe_feet),
        .checks = endless_toe_feet,
    },
};

usi_verify_table usi_verify_exact_floor(void)
{
    return (usi_verify_table){USI_VERIFY_COUNT(cases), cases};
}
