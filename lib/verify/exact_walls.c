/* Floors with two and three walls. Expected values are exact, or known to
 * the digits given; SI. tests/verify works each out once more. */

#include "verify/tables.h"

static const usi_verify_check two_walls[] = {
    {USI_VERIFY_FLOW, NULL, 1.457185814e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.1716883937, 0.0, NULL},
    {USI_VERIFY_UPLIFT_FORCE, NULL, 490500.0, 0.0, NULL},
    {USI_VERIFY_TIP, "cutoff", 3.937251327, 0.0, NULL},
    {USI_VERIFY_DOWNSTREAM_FACE_TOP, "cutoff", 3.366719472, 0.0, NULL},
    {USI_VERIFY_UPSTREAM_FACE_TOP, "toe", 1.633280528, 0.0, NULL},
    {USI_VERIFY_TIP, "toe", 1.062748673, 0.0, NULL},
};

static const usi_verify_check two_walls_unequal[] = {
    {USI_VERIFY_FLOW, NULL, 1.04717114e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.1164182178, 0.0, NULL},
    {USI_VERIFY_UPLIFT_FORCE, NULL, 353947.4262, 0.0, NULL},
    {USI_VERIFY_TIP, "cutoff", 3.287730004, 0.0, NULL},
    {USI_VERIFY_DOWNSTREAM_FACE_TOP, "cutoff", 2.917393367, 0.0, NULL},
    {USI_VERIFY_UPSTREAM_FACE_TOP, "toe", 1.956543196, 0.0, NULL},
    {USI_VERIFY_TIP, "toe", 1.192936564, 0.0, NULL},
};

static const usi_verify_check two_walls_step[] = {
    {USI_VERIFY_FLOW, NULL, 1.557793304e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.1585810403, 0.0, NULL},
    {USI_VERIFY_UPLIFT_FORCE, NULL, 457739.5222, 0.0, NULL},
    {USI_VERIFY_TIP, "cutoff", 3.752692724, 0.0, NULL},
    {USI_VERIFY_DOWNSTREAM_FACE_TOP, "cutoff", 3.06461814, 0.0, NULL},
    {USI_VERIFY_UPSTREAM_FACE_TOP, "toe", 1.653760104, 0.0, NULL},
    {USI_VERIFY_TIP, "toe", 0.5742269803, 0.0, NULL},
};

static const usi_verify_check two_walls_step_3[] = {
    {USI_VERIFY_FLOW, NULL, 9.129057999e-06, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.2165597261, 0.0, NULL},
    {USI_VERIFY_UPLIFT_FORCE, NULL, 626335.4164, 0.0, NULL},
    {USI_VERIFY_TIP, "cutoff", 4.336392906, 0.0, NULL},
    {USI_VERIFY_DOWNSTREAM_FACE_TOP, "cutoff", 3.444998196, 0.0, NULL},
    {USI_VERIFY_UPSTREAM_FACE_TOP, "toe", 0.8804224872, 0.0, NULL},
    {USI_VERIFY_TIP, "toe", -0.3090022442, 0.0, NULL},
};

static const usi_verify_check two_walls_embedded[] = {
    {USI_VERIFY_FLOW, NULL, 1.257886831e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.1066961051, 0.0, NULL},
    {USI_VERIFY_UPLIFT_FORCE, NULL, 1226550.957, 0.0, NULL},
    {USI_VERIFY_TIP, "cutoff", 5.052766758, 0.0, NULL},
    {USI_VERIFY_DOWNSTREAM_FACE_TOP, "cutoff", 4.634131587, 0.0, NULL},
    {USI_VERIFY_UPSTREAM_FACE_TOP, "toe", 2.85604169, 0.0, NULL},
    {USI_VERIFY_TIP, "toe", 2.217579681, 0.0, NULL},
};

static const usi_verify_check three_walls[] = {
    {USI_VERIFY_FLOW, NULL, 1.201972804e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.128057412, 0.0, NULL},
    {USI_VERIFY_UPLIFT_FORCE, NULL, 553512.5112, 0.0, NULL},
    {USI_VERIFY_TIP, "cutoff", 4.144655553, 0.0, NULL},
    {USI_VERIFY_DOWNSTREAM_FACE_TOP, "cutoff", 3.728743597, 0.0, NULL},
    {USI_VERIFY_UPSTREAM_FACE_TOP, "middle", 3.4357689, 0.0, NULL},
    {USI_VERIFY_TIP, "middle", 2.797896144, 0.0, NULL},
    {USI_VERIFY_DOWNSTREAM_FACE_TOP, "middle", 2.148138833, 0.0, NULL},
    {USI_VERIFY_UPSTREAM_FACE_TOP, "toe", 1.568814862, 0.0, NULL},
    {USI_VERIFY_TIP, "toe", 1.0130471, 0.0, NULL},
};

static const usi_verify_check two_walls_endless[] = {
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.1695245788, 0.0, NULL},
    {USI_VERIFY_UPLIFT_FORCE, NULL, 479022.4981, 0.0, NULL},
    {USI_VERIFY_TIP, "cutoff", 3.814993821, 0.0, NULL},
    {USI_VERIFY_DOWNSTREAM_FACE_TOP, "cutoff", 3.290004878, 0.0, NULL},
    {USI_VERIFY_UPSTREAM_FACE_TOP, "toe", 2.193310994, 0.0, NULL},
    {USI_VERIFY_TIP, "toe", 1.48967986, 0.0, NULL},
};

static const usi_verify_check two_walls_anisotropic[] = {
    {USI_VERIFY_FLOW, NULL, 3.49706826e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.1964564754, 0.0, NULL},
    {USI_VERIFY_UPLIFT_FORCE, NULL, 556371.3436, 0.0, NULL},
    {USI_VERIFY_TIP, "cutoff", 3.747271776, 0.0, NULL},
    {USI_VERIFY_DOWNSTREAM_FACE_TOP, "cutoff", 3.120615941, 0.0, NULL},
    {USI_VERIFY_UPSTREAM_FACE_TOP, "toe", 2.571864215, 0.0, NULL},
    {USI_VERIFY_TIP, "toe", 1.58172172, 0.0, NULL},
};

static const usi_verify_check apron_40[] = {
    {USI_VERIFY_FLOW, NULL, 2.6788337418e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.2391697228, 0.0, NULL},
    {USI_VERIFY_UPLIFT_FORCE, NULL, 784800.0, 0.0, NULL},
    {USI_VERIFY_TIP, "cutoff", 3.6573013196, 0.0, NULL},
    {USI_VERIFY_DOWNSTREAM_FACE_TOP, "cutoff", 3.5089936459, 0.0, NULL},
    {USI_VERIFY_UPSTREAM_FACE_TOP, "toe", 0.49100635411, 0.0, NULL},
    {USI_VERIFY_TIP, "toe", 0.34269868038, 0.0, NULL},
};

static const usi_verify_check apron_40_toe[] = {
    {USI_VERIFY_FLOW, NULL, 2.726361095e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.24342998495, 0.0, NULL},
    {USI_VERIFY_UPSTREAM_FACE_TOP, "toe", 0.499760743, 0.0, NULL},
    {USI_VERIFY_TIP, "toe", 0.34880577966, 0.0, NULL},
};

static const usi_verify_check two_walls_feet_left[] = {
    {USI_VERIFY_FLOW, NULL, 7.8010534969e-06, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.11596917923, 0.0, NULL},
    {USI_VERIFY_TIP, "cutoff", 16.967138709, 0.0, NULL},
    {USI_VERIFY_UPSTREAM_FACE_TOP, "toe", 16.557682406, 0.0, NULL},
    {USI_VERIFY_TIP, "toe", 15.965373016, 0.0, NULL},
};

static const usi_verify_case cases[] = {
    {
        .name = "two_walls",
        .source = "Schwarz-Christoffel map, its parameters found numerically",
        .section = "title: A floor with equal walls at both ends\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -12\n"
                   "structure: {underside: [[0, 0], [20, 0]]}\n"
                   "walls:\n"
                   "  - {name: cutoff, x: 0, top: 0, tip: -4}\n"
                   "  - {name: toe, x: 20, top: 0, tip: -4}\n"
                   "soils: [{name: sand, kh: 1e-05, kv: 1e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 5, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(two_walls),
        .checks = two_walls,
    },
    {
        .name = "two_walls_unequal",
        .source = "Schwarz-Christoffel map, its parameters found numerically",
        .section = "title: A floor with unequal walls at both ends\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -10\n"
                   "structure: {underside: [[0, 0], [15, 0]]}\n"
                   "walls:\n"
                   "  - {name: cutoff, x: 0, top: 0, tip: -3}\n"
                   "  - {name: toe, x: 15, top: 0, tip: -6}\n"
                   "soils: [{name: sand, kh: 1e-05, kv: 1e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 4, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(two_walls_unequal),
        .checks = two_walls_unequal,
    },
    {
        .name = "two_walls_step",
        .source = "Schwarz-Christoffel map, its parameters found numerically",
        .section = "title: A floor with two walls, the downstream bed 1.5 m lower\n"
                   "bed: {upstream: 0, downstream: -1.5}\n"
                   "base: -13\n"
                   "structure: {underside: [[0, 0], [20, 0]]}\n"
                   "walls:\n"
                   "  - {name: cutoff, x: 0, top: 0, tip: -5}\n"
                   "  - {name: toe, x: 20, top: 0, tip: -7.5}\n"
                   "soils: [{name: sand, kh: 1e-05, kv: 1e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 5, downstream: -1}]\n",
        .check_count = USI_VERIFY_COUNT(two_walls_step),
        .checks = two_walls_step,
    },
    {
        .name = "two_walls_step_3",
        .source = "Schwarz-Christoffel map, its parameters found numerically",
        .section = "title: A floor with two walls, the downstream bed 3 m lower\n"
                   "bed: {upstream: 0, downstream: -3}\n"
                   "base: -18\n"
                   "structure: {underside: [[0, 0], [30, 0]]}\n"
                   "walls:\n"
                   "  - {name: cutoff, x: 0, top: 0, tip: -6}\n"
                   "  - {name: toe, x: 30, top: 0, tip: -8}\n"
                   "soils: [{name: sand, kh: 4e-06, kv: 4e-06, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 6, downstream: -2}]\n",
        .check_count = USI_VERIFY_COUNT(two_walls_step_3),
        .checks = two_walls_step_3,
    },
    {
        .name = "two_walls_embedded",
        .source = "Schwarz-Christoffel map, its parameters found numerically",
        .section = "title: An embedded floor with two walls\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -14\n"
                   "structure: {underside: [[0, -1.5], [24, -1.5]]}\n"
                   "walls:\n"
                   "  - {name: cutoff, x: 0, top: -1.5, tip: -5}\n"
                   "  - {name: toe, x: 24, top: -1.5, tip: -7}\n"
                   "soils: [{name: sand, kh: 1e-05, kv: 1e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 6, downstream: 1}]\n",
        .check_count = USI_VERIFY_COUNT(two_walls_embedded),
        .checks = two_walls_embedded,
    },
    {
        .name = "three_walls",
        .source = "Schwarz-Christoffel map, its parameters found numerically",
        .section = "title: A floor with three walls\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -12\n"
                   "structure: {underside: [[0, 0], [22, 0]]}\n"
                   "walls:\n"
                   "  - {name: cutoff, x: 0, top: 0, tip: -4}\n"
                   "  - {name: middle, x: 9, top: 0, tip: -6}\n"
                   "  - {name: toe, x: 22, top: 0, tip: -5}\n"
                   "soils: [{name: sand, kh: 1e-05, kv: 1e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 5, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(three_walls),
        .checks = three_walls,
    },
    {
        .name = "two_walls_endless",
        .source = "Schwarz-Christoffel map, its parameters found numerically",
        .section = "title: \"Soil without a base: a floor with two walls\"\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: none\n"
                   "structure: {underside: [[0, 0], [18, 0]]}\n"
                   "walls:\n"
                   "  - {name: cutoff, x: 0, top: 0, tip: -4}\n"
                   "  - {name: toe, x: 18, top: 0, tip: -6}\n"
                   "soils: [{name: sand, kh: 1e-05, kv: 1e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 5, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(two_walls_endless),
        .checks = two_walls_endless,
    },
    {
        .name = "two_walls_anisotropic",
        .source = "Schwarz-Christoffel map, its parameters found numerically",
        .section = "title: A floor with two walls and a step, kh four times kv\n"
                   "bed: {upstream: 0, downstream: -1}\n"
                   "base: -12\n"
                   "structure: {underside: [[0, 0], [20, 0]]}\n"
                   "walls:\n"
                   "  - {name: cutoff, x: 0, top: 0, tip: -4}\n"
                   "  - {name: toe, x: 20, top: 0, tip: -6}\n"
                   "soils: [{name: sand, kh: 4e-05, kv: 1e-05, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 5, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(two_walls_anisotropic),
        .checks = two_walls_anisotropic,
    },
    {
        .name = "apron_40",
        .source = "Schwarz-Christoffel map, its parameters found numerically, in 20 "
                  "digits",
        .section = "title: A floor forty times as long as its walls\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -20\n"
                   "structure: {underside: [[0, 0], [40, 0]]}\n"
                   "walls:\n"
                   "  - {name: cutoff, x: 0, top: 0, tip: -1}\n"
                   "  - {name: toe, x: 40, top: 0, tip: -1}\n"
                   "soils: [{name: sand, kh: 2e-5}]\n"
                   "water: [{name: w, upstream: 4, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(apron_40),
        .checks = apron_40,
    },
    {
        .name = "apron_40_toe",
        .source = "Schwarz-Christoffel map, its parameters found numerically, in 20 "
                  "digits",
        .section = "title: A floor forty times as long as its one wall\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -20\n"
                   "structure: {underside: [[0, 0], [40, 0]]}\n"
                   "walls: [{name: toe, x: 40, top: 0, tip: -1}]\n"
                   "soils: [{name: sand, kh: 2e-5}]\n"
                   "water: [{name: w, upstream: 4, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(apron_40_toe),
        .checks = apron_40_toe,
    },
    {
        .name = "two_walls_feet_left",
        .source = "Schwarz-Christoffel map, its parameters found numerically, in 20 "
                  "digits",
        .section = "title: A floor with unequal walls, in feet, water flowing to the left\n"
                   "units: us\n"
                   "flow_toward: left\n"
                   "bed: {upstream: 50, downstream: 48}\n"
                   "base: 10\n"
                   "structure: {underside: [[100, 49], [140, 49]]}\n"
                   "walls:\n"
                   "  - {name: cutoff, x: 140, top: 50, tip: 38}\n"
                   "  - {name: toe, x: 100, top: 49, tip: 30}\n"
                   "soils: [{name: sand, kh: 4, kv: 1, unit_weight: 125}]\n"
                   "water: [{name: w, upstream: 58, downstream: 49}]\n",
        .check_count = USI_VERIFY_COUNT(two_walls_feet_left),
        .checks = two_walls_feet_left,
    },
};

usi_verify_table usi_verify_exact_walls(void)
{
    return (usi_verify_table){USI_VERIFY_COUNT(cases), cases};
}
