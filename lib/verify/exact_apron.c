/* Aprons embedded in the soil. Expected values are exact, or known to
 * the digits given; SI. tests/verify works each out once more. */

#include "verify/tables.h"

static const usi_verify_check apron_endless[] = {
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.16041376536, 0.0, NULL},
    {USI_VERIFY_UPLIFT_FORCE, NULL, 294300.0, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "upstream_corner", 1.6904511021, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "downstream_corner", 0.30954889792, 0.0, NULL},
    {USI_VERIFY_EXIT_MEAN, NULL, 0.20636593195, 0.0, NULL},
    {USI_VERIFY_FACTOR, NULL, 6.4753544145, 0.0, NULL},
};

static const usi_verify_check apron_endless_deep[] = {
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.12712662725, 0.0, NULL},
    {USI_VERIFY_UPLIFT_FORCE, NULL, 235440.0, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "upstream_corner", 1.5, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "downstream_corner", 0.5, 0.0, NULL},
    {USI_VERIFY_EXIT_MEAN, NULL, 0.16666666667, 0.0, NULL},
    {USI_VERIFY_FACTOR, NULL, 8.1708765988, 0.0, NULL},
};

static const usi_verify_check apron_endless_anisotropic[] = {
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.25790827349, 0.0, NULL},
    {USI_VERIFY_UPLIFT_FORCE, NULL, 588600.0, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "upstream_corner", 2.5014868392, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "downstream_corner", 0.49851316075, 0.0, NULL},
    {USI_VERIFY_EXIT_MEAN, NULL, 0.33234210717, 0.0, NULL},
    {USI_VERIFY_FACTOR, NULL, 4.0275403717, 0.0, NULL},
};

static const usi_verify_check apron_embedded[] = {
    {USI_VERIFY_FLOW, NULL, 6.8247228186e-06, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.17630605952, 0.0, NULL},
    {USI_VERIFY_UPLIFT_FORCE, NULL, 235440.0, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "upstream_corner", 1.7702984058, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "downstream_corner", 0.22970159421, 0.0, NULL},
};

static const usi_verify_check apron_embedded_step[] = {
    {USI_VERIFY_FLOW, NULL, 3.6345999721e-05, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.1879090657, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "upstream_corner", 0.6575689543, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "downstream_corner", -0.75515025034, 0.0, NULL},
};

static const usi_verify_check apron_embedded_deep[] = {
    {USI_VERIFY_FLOW, NULL, 9.3592628246e-06, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.060419496556, 0.0, NULL},
    {USI_VERIFY_UPLIFT_FORCE, NULL, 343350.0, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "upstream_corner", 1.384833897, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "downstream_corner", 0.61516610304, 0.0, NULL},
};

static const usi_verify_check apron_stepped[] = {
    {USI_VERIFY_FLOW, NULL, 8.9541163843e-06, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.067683164853, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "key_upstream", 1.2215470509, 0.0, NULL},
    {USI_VERIFY_PIEZOMETER, "key_downstream", 0.94106908755, 0.0, NULL},
    {USI_VERIFY_UPSTREAM_FACE_TOP, "toe", 0.56599771439, 0.0, NULL},
    {USI_VERIFY_TIP, "toe", 0.37412022061, 0.0, NULL},
};

static const usi_verify_case cases[] = {
    {
        .name = "apron_endless",
        .source = "Derived by Schwarz-Christoffel: b / 2 d = (E(m) - m'^2 K(m)) / (E(m') "
                  "- m^2 K(m')), exit gradient H / (pi c m'), c = d / (E(m') - m^2 "
                  "K(m')), corner at 1/2 +- asin(m) / pi of H",
        .section = "title: \"Soil without a base: an embedded apron without a wall\"\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: none\n"
                   "structure: {underside: [[0, -1.5], [12, -1.5]]}\n"
                   "soils: [{name: sand, kh: 1e-5, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 2, downstream: 0}]\n"
                   "piezometers:\n"
                   "  - {name: upstream_corner, at: [0, -1.5]}\n"
                   "  - {name: downstream_corner, at: [12, -1.5], side: right}\n",
        .check_count = USI_VERIFY_COUNT(apron_endless),
        .checks = apron_endless,
    },
    {
        .name = "apron_endless_deep",
        .source = "Derived by Schwarz-Christoffel: b / 2 d = (E(m) - m'^2 K(m)) / (E(m') "
                  "- m^2 K(m')), exit gradient H / (pi c m'), c = d / (E(m') - m^2 "
                  "K(m')), corner at 1/2 +- asin(m) / pi of H",
        .section = "title: \"Soil without a base: a deeply embedded apron\"\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: none\n"
                   "structure: {underside: [[0, -3], [6, -3]]}\n"
                   "soils: [{name: sand, kh: 1e-5, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 2, downstream: 0}]\n"
                   "piezometers:\n"
                   "  - {name: upstream_corner, at: [0, -3]}\n"
                   "  - {name: downstream_corner, at: [6, -3], side: right}\n",
        .check_count = USI_VERIFY_COUNT(apron_endless_deep),
        .checks = apron_endless_deep,
    },
    {
        .name = "apron_endless_anisotropic",
        .source = "Derived by Schwarz-Christoffel: b / 2 d = (E(m) - m'^2 K(m)) / (E(m') "
                  "- m^2 K(m')), exit gradient H / (pi c m'), c = d / (E(m') - m^2 "
                  "K(m')), corner at 1/2 +- asin(m) / pi of H, x times sqrt(kv / kh)",
        .section = "title: \"Soil without a base, kh four times kv: an embedded apron\"\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: none\n"
                   "structure: {underside: [[0, -1.5], [20, -1.5]]}\n"
                   "soils: [{name: sand, kh: 4e-5, kv: 1e-5, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 3, downstream: 0}]\n"
                   "piezometers:\n"
                   "  - {name: upstream_corner, at: [0, -1.5]}\n"
                   "  - {name: downstream_corner, at: [20, -1.5], side: right}\n",
        .check_count = USI_VERIFY_COUNT(apron_endless_anisotropic),
        .checks = apron_endless_anisotropic,
    },
    {
        .name = "apron_embedded",
        .source = "Derived by Schwarz-Christoffel: edge of right angles, the parameters "
                  "found in 20 digits",
        .section = "title: An embedded apron without a wall\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -8\n"
                   "structure: {underside: [[0, -1], [12, -1]]}\n"
                   "soils: [{name: sand, kh: 1e-5}]\n"
                   "water: [{name: w, upstream: 2, downstream: 0}]\n"
                   "piezometers:\n"
                   "  - {name: upstream_corner, at: [0, -1]}\n"
                   "  - {name: downstream_corner, at: [12, -1]}\n",
        .check_count = USI_VERIFY_COUNT(apron_embedded),
        .checks = apron_embedded,
    },
    {
        .name = "apron_embedded_step",
        .source = "Derived by Schwarz-Christoffel: edge of right angles, the parameters "
                  "found in 20 digits",
        .section = "title: An embedded apron, the downstream bed 1 m lower\n"
                   "bed: {upstream: 0, downstream: -1}\n"
                   "base: -9\n"
                   "structure: {underside: [[0, -2], [10, -2]]}\n"
                   "soils: [{name: sand, kh: 5e-5}]\n"
                   "water: [{name: w, upstream: 1, downstream: at_bed}]\n"
                   "piezometers:\n"
                   "  - {name: upstream_corner, at: [0, -2]}\n"
                   "  - {name: downstream_corner, at: [10, -2]}\n",
        .check_count = USI_VERIFY_COUNT(apron_embedded_step),
        .checks = apron_embedded_step,
    },
    {
        .name = "apron_embedded_deep",
        .source = "Derived by Schwarz-Christoffel: edge of right angles, the parameters "
                  "found in 20 digits",
        .section = "title: An apron embedded in three quarters of the soil, kh four times kv\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -8\n"
                   "structure: {underside: [[0, -6], [5, -6]]}\n"
                   "soils: [{name: sand, kh: 4e-5, kv: 1e-5}]\n"
                   "water: [{name: w, upstream: 2, downstream: 0}]\n"
                   "piezometers:\n"
                   "  - {name: upstream_corner, at: [0, -6]}\n"
                   "  - {name: downstream_corner, at: [5, -6]}\n",
        .check_count = USI_VERIFY_COUNT(apron_embedded_deep),
        .checks = apron_embedded_deep,
    },
    {
        .name = "apron_stepped",
        .source = "Derived by Schwarz-Christoffel: edge of right angles, the parameters "
                  "found in 20 digits",
        .section = "title: An apron with a key under its upstream end\n"
                   "bed: {upstream: 0, downstream: -0.5}\n"
                   "base: -9\n"
                   "structure: {underside: [[0, -3], [2, -3], [2, -1], [11, -1]]}\n"
                   "walls: [{name: toe, x: 11, top: -0.5, tip: -4}]\n"
                   "soils: [{name: sand, kh: 2e-5}]\n"
                   "water: [{name: w, upstream: 1.5, downstream: 0}]\n"
                   "piezometers:\n"
                   "  - {name: key_upstream, at: [0, -3]}\n"
                   "  - {name: key_downstream, at: [2, -3]}\n",
        .check_count = USI_VERIFY_COUNT(apron_stepped),
        .checks = apron_stepped,
    },
};

usi_verify_table usi_verify_exact_apron(void)
{
    return (usi_verify_table){USI_VERIFY_COUNT(cases), cases};
}
