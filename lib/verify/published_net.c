/* Worked examples solved by flow nets in textbooks. */
#include "verify/tables.h"

static const usi_verify_check craig_sheet_pile[] = {
    {USI_VERIFY_FLOW, NULL, 2.15e-5, 2.15e-6,
     "A hand-drawn net, good for a tenth; the closed form of Harr (1962) gives 2.232e-5."},
    {USI_VERIFY_FLOW, NULL, 2.2317855433e-5, 0.0, "The closed form itself."},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.18361217794, 0.0,
     "The closed form itself; the book prints none."},
};

static const usi_verify_check budhu_dam[] = {
    {USI_VERIFY_FLOW, NULL, 5.7e-6, 5.7e-7,
     "A hand-drawn net of 4 by 14 squares, good for a tenth."},
    {USI_VERIFY_UPLIFT_FORCE, NULL, 1946000.0, 39000.0,
     "Simpson's rule over pressures of a net: 2 % are allowed."},
    {USI_VERIFY_PIEZOMETER, "P0", 5.9894, 0.18,
     "Printed as 82.3 kPa, from a net of 14 drops, read to a quarter of one. The statement "
     "leaves open from where its 7 m of wall and 20.3 m of soil count: from the base of the dam "
     "and from the bed is what fits all eleven."},
    {USI_VERIFY_PIEZOMETER, "P1", 5.8467, 0.18, "Printed as 80.9 kPa, from the net."},
    {USI_VERIFY_PIEZOMETER, "P2", 5.5613, 0.18, "Printed as 78.1 kPa, from the net."},
    {USI_VERIFY_PIEZOMETER, "P3", 5.0618, 0.18, "Printed as 73.2 kPa, from the net."},
    {USI_VERIFY_PIEZOMETER, "P4", 4.705, 0.18, "Printed as 69.7 kPa, from the net."},
    {USI_VERIFY_PIEZOMETER, "P5", 4.2769, 0.18, "Printed as 65.5 kPa, from the net."},
    {USI_VERIFY_PIEZOMETER, "P6", 3.706, 0.18, "Printed as 59.9 kPa, from the net."},
    {USI_VERIFY_PIEZOMETER, "P7", 3.2779, 0.18, "Printed as 55.7 kPa, from the net."},
    {USI_VERIFY_PIEZOMETER, "P8", 2.6357, 0.18, "Printed as 49.4 kPa, from the net."},
    {USI_VERIFY_PIEZOMETER, "P9", 2.075, 0.18, "Printed as 43.9 kPa, from the net."},
    {USI_VERIFY_PIEZOMETER, "P10", 1.076, 0.18, "Printed as 34.1 kPa, from the net."},
};

static const usi_verify_check das_sheet_pile[] = {
    {USI_VERIFY_FLOW, NULL, 7.35e-5, 0.0, NULL},
};

static const usi_verify_check das_problem_8_1[] = {
    {USI_VERIFY_FLOW, NULL, 9e-6, 0.0, NULL},
};

static const usi_verify_check verruijt_pit[] = {
    {USI_VERIFY_FLOW, NULL, 2.5e-5, 0.0, NULL},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.15, 0.0005, NULL},
};

static const usi_verify_check sheet_pile_in_clay[] = {
    {USI_VERIFY_FLOW, NULL, 9e-6, 0.0, NULL},
};

static const usi_verify_check craig_cofferdam[] = {
    {USI_VERIFY_FLOW, NULL, 3.47222222222e-5, 3.47222222222e-6,
     "Half of the inflow. A hand-drawn net, good for a tenth."},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.5, 0.1, "From memory; read off a net, good for a fifth."},
};

static const usi_verify_check gate_2012_factor[] = {
    {USI_VERIFY_FACTOR, NULL, 2.6, 0.05,
     "A bare wall that has exactly the exit gradient of the net (8.5/24) stands in for the "
     "drawing; only the factor is the example."},
};

static const usi_verify_check slides_factor_a[] = {
    {USI_VERIFY_FACTOR, NULL, 3.53, 0.005,
     "A bare wall that has exactly the exit gradient of the net (5/16.5) stands in for the "
     "drawing; only the factor is the example."},
};

static const usi_verify_check slides_factor_b[] = {
    {USI_VERIFY_FACTOR, NULL, 7.35, 0.03,
     "A bare wall stands in for the drawing, as before. The slides round the gradient to 0.136 "
     "before they divide."},
};

static const usi_verify_case cases[] = {
    {
        .name = "craig_sheet_pile",
        .source = "R. F. Craig, Soil Mechanics, section 2.4, flow under a row of sheet piles "
                  "(the counts of the net, 4.3 and 12, from memory)",
        .section = "title: Sheet piles 6 m into 8.6 m of soil\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -8.6\n"
                   "walls: [{name: wall, x: 0, top: 4.5, tip: -6}]\n"
                   "soils: [{name: sand, kh: 1.5e-5, kv: 1.5e-5, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 4.5, downstream: 0.5}]\n",
        .check_count = USI_VERIFY_COUNT(craig_sheet_pile),
        .checks = craig_sheet_pile,
    },
    {
        .name = "budhu_dam",
        .source = "M. Budhu, Soil Mechanics and Foundations, chapter on two-dimensional flow, "
                  "the dam that retains 10 m (solution read in a secondary transcription, not in "
                  "the book itself)",
        .section = "title: A dam of 30.6 m with a wall under its heel\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -20.3\n"
                   "structure: {underside: [[0, -2.4], [30.6, -2.4]]}\n"
                   "walls: [{name: wall, x: 0, top: -2.4, tip: -9.4}]\n"
                   "piezometers:\n"
                   "  - {name: P0, at: [0, -2.4], side: right}\n"
                   "  - {name: P1, at: [3.06, -2.4]}\n"
                   "  - {name: P2, at: [6.12, -2.4]}\n"
                   "  - {name: P3, at: [9.18, -2.4]}\n"
                   "  - {name: P4, at: [12.24, -2.4]}\n"
                   "  - {name: P5, at: [15.3, -2.4]}\n"
                   "  - {name: P6, at: [18.36, -2.4]}\n"
                   "  - {name: P7, at: [21.42, -2.4]}\n"
                   "  - {name: P8, at: [24.48, -2.4]}\n"
                   "  - {name: P9, at: [27.54, -2.4]}\n"
                   "  - {name: P10, at: [30.6, -2.4]}\n"
                   "soils: [{name: silty_sand, kh: 2e-4 cm/s, kv: 2e-4 cm/s, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 10, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(budhu_dam),
        .checks = budhu_dam,
    },
    {
        .name = "das_sheet_pile",
        .source = "B. M. Das, Principles of Geotechnical Engineering, flow under a sheet pile, "
                  "by a net of 3 by 6 squares and by a chart (read in a secondary transcription, "
                  "not in the book itself)",
        .section = "title: A sheet pile half-way into the soil\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -9\n"
                   "walls: [{name: wall, x: 0, top: 0, tip: -4.5}]\n"
                   "soils: [{name: sand, kh: 4.2e-5, kv: 4.2e-5, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 3.5, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(das_sheet_pile),
        .checks = das_sheet_pile,
    },
    {
        .name = "das_problem_8_1",
        .source = "B. M. Das, Principles of Geotechnical Engineering, 9th edition, Problem 8.1 "
                  "(conductivity from memory; the answer is not printed: closed form of Harr, "
                  "Groundwater and Seepage, 1962, with D1 as the whole layer)",
        .section = "title: A sheet pile of 3 m in 6 m of soil\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -6\n"
                   "walls: [{name: wall, x: 0, top: 6, tip: -3}]\n"
                   "soils: [{name: sand, kh: 4e-4 cm/s, kv: 4e-4 cm/s, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 6, downstream: 1.5}]\n",
        .check_count = USI_VERIFY_COUNT(das_problem_8_1),
        .checks = das_problem_8_1,
    },
    {
        .name = "verruijt_pit",
        .source = "A. Verruijt, Soil Mechanics, problem on a building pit (no answer is printed: "
                  "closed form of Harr, Groundwater and Seepage, 1962)",
        .section = "title: A wall of 10 m in 20 m of soil\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -20\n"
                   "walls: [{name: wall, x: 0, top: 5, tip: -10}]\n"
                   "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 5, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(verruijt_pit),
        .checks = verruijt_pit,
    },
    {
        .name = "sheet_pile_in_clay",
        .source = "A problem set on seepage, Problem 3.7, author not known: a net of 5 by 10 "
                  "squares, which is also the closed form",
        .section = "title: A sheet pile of 6 m in 12 m of clay\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -12\n"
                   "walls: [{name: wall, x: 0, top: 4.5, tip: -6}]\n"
                   "soils: [{name: sand, kh: 4e-6, kv: 4e-6, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 4.5, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(sheet_pile_in_clay),
        .checks = sheet_pile_in_clay,
    },
    {
        .name = "craig_cofferdam",
        .source = "R. F. Craig, Soil Mechanics, problem on a long cofferdam 5.5 m wide: an "
                  "inflow of 0.25 m^3/h per metre gives k = 2.6e-5 m/s by a net of 6 by 10 "
                  "squares (exit gradient from memory)",
        .section = "title: Half of a cofferdam 5.5 m wide\n"
                   "bed: {upstream: 0, downstream: -2}\n"
                   "base: -8.25\n"
                   "walls: [{name: wall, x: 0, top: 2.5, tip: -6}]\n"
                   "sides: {right: {x: 2.75, kind: closed}}\n"
                   "soils: [{name: sand, kh: 2.6e-5, kv: 2.6e-5, unit_weight: 20}]\n"
                   "water: [{name: w, upstream: 2.5, downstream: -2}]\n",
        .check_count = USI_VERIFY_COUNT(craig_cofferdam),
        .checks = craig_cofferdam,
    },
    {
        .name = "gate_2012_factor",
        .source = "GATE 2012, Civil Engineering, questions 48 and 49: 8.5 m over 8 drops, last "
                  "square 3 m, G 2.70, e 0.85",
        .section = "title: A wall with an exit gradient of 0.3542\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -10\n"
                   "walls: [{name: wall, x: 0, top: 0, tip: -5}]\n"
                   "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 18.8245946}]\n"
                   "water: [{name: w, upstream: 5.91194013, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(gate_2012_factor),
        .checks = gate_2012_factor,
    },
    {
        .name = "slides_factor_a",
        .source = "A set of slides with examples on seepage, author not known: 5 m over 11 "
                  "drops, last square 1.5 m, G 2.68, e 0.57",
        .section = "title: A wall with an exit gradient of 0.303\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -10\n"
                   "walls: [{name: wall, x: 0, top: 0, tip: -5}]\n"
                   "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 20.3073248}]\n"
                   "water: [{name: w, upstream: 5.05834449, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(slides_factor_a),
        .checks = slides_factor_a,
    },
    {
        .name = "slides_factor_b",
        .source = "A set of slides with examples on seepage, author not known: 12 m over 10.4 "
                  "drops, last square 8.5 m; the critical gradient is not given: 1 is what the "
                  "answer needs",
        .section = "title: A wall with an exit gradient of 0.1357\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: -10\n"
                   "walls: [{name: wall, x: 0, top: 0, tip: -5}]\n"
                   "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 19.62}]\n"
                   "water: [{name: w, upstream: 2.26595523, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(slides_factor_b),
        .checks = slides_factor_b,
    },
};

usi_verify_table usi_verify_published_net(void)
{
    return (usi_verify_table){USI_VERIFY_COUNT(cases), cases};
}
