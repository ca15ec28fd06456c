/* Worked examples of floors on endless soil, by superposed profiles (Khosla, Bose &
 * Taylor 1936), against the whole floor. */
#include "verify/tables.h"

/* The transcription that most of these were read in names no edition. Heads are in
 * metres above the downstream water, as in the books: a percentage of the head
 * difference is turned into metres. */
#define PUNMIA "B. C. Punmia and Pande B. B. Lal, Irrigation and Water Power Engineering, "
#define SECONDARY " (read in a secondary transcription, not in the book itself)"
#define SAND "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 20}]\n"

/* How far the method of these books is from the whole floor. For two walls of
 * 0.05 to 0.4 of a floor's length, an exact map of the whole (tested in
 * tests/physics/test_published_floors.c) shows its heads to be off by up to 1.4 % of the
 * head difference: 1.5 % is allowed. Charts, three walls and thick floors: 3 %. Its
 * exit gradient is that of the end wall alone: 10 %, for other walls of up to 0.15
 * of the floor. To each the rounding of the printed number is added. */
#define SUPERPOSED                                                                                 \
    "Charts of single walls, with corrections for interference and thickness by straight lines; "  \
    "ours is the whole floor at once."
#define ALONE "The book takes the end wall alone: what the other walls hold back is left out."

static const usi_verify_check punmia_12_5[] = {
    {USI_VERIFY_DOWNSTREAM_FACE_TOP, "up", 1.575, 0.038,
     "Two elementary profiles with a correction for mutual interference; an exact map of the "
     "whole floor gives 1.585 m."},
    {USI_VERIFY_UPSTREAM_FACE_TOP, "down", 1.052, 0.038,
     "Two elementary profiles with a correction for mutual interference; an exact map of the "
     "whole floor gives 1.050 m."},
};

static const usi_verify_check punmia_12_6[] = {
    {USI_VERIFY_DOWNSTREAM_FACE_TOP, "up", 1.08, 0.0275,
     "Two elementary profiles with a correction for mutual interference; an exact map of the "
     "whole floor gives 1.085 m."},
    {USI_VERIFY_UPSTREAM_FACE_TOP, "down", 0.489, 0.023,
     "Two elementary profiles with a correction for mutual interference; an exact map of the "
     "whole floor gives 0.4865 m."},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.123, 0.0128,
     "The book takes the end wall alone: what the other wall holds back is left out. An exact "
     "map of the whole floor gives 0.1165."},
};

static const usi_verify_check punmia_12_2[] = {
    {USI_VERIFY_DOWNSTREAM_FACE_TOP, "up", 3.55, 0.155, SUPERPOSED},
    {USI_VERIFY_UPSTREAM_FACE_TOP, "middle", 3.39, 0.155, SUPERPOSED},
    {USI_VERIFY_DOWNSTREAM_FACE_TOP, "middle", 2.78, 0.155,
     "Superposed as above; the slope of 4 m behind the wall, which the book corrects for, is "
     "drawn as a step in its middle."},
    {USI_VERIFY_UPSTREAM_FACE_TOP, "down", 1.58, 0.155, SUPERPOSED},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.097, 0.0102, ALONE},
};

static const usi_verify_check punmia_12_3[] = {
    {USI_VERIFY_DOWNSTREAM_FACE_TOP, "up", 5.6225, 0.19825, SUPERPOSED},
    {USI_VERIFY_UPSTREAM_FACE_TOP, "down", 1.82325, 0.195325,
     "Superposed as above; where the floor grows thicker is not told: 41 m is taken, and 33 m "
     "lowers this by 0.004 m."},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.13, 0.0135,
     "Read off a chart, for the end wall alone: its closed form gives 0.135. The whole floor "
     "comes out lower."},
};

static const usi_verify_check punmia_18_1[] = {
    {USI_VERIFY_DOWNSTREAM_FACE_TOP, "up", 1.92272, 0.0744, SUPERPOSED},
    {USI_VERIFY_UPSTREAM_FACE_TOP, "down", 0.67832, 0.0744,
     "Superposed as above; where the floor grows thicker is not told: the middle is taken."},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.2, 0.0205, ALONE},
};

static const usi_verify_case cases[] = {
    {
        .name = "punmia_12_5",
        .source = PUNMIA "Example 12.5" SECONDARY,
        .section = "title: A floor of 16 m with walls of 4 and 5 m\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: none\n"
                   "structure: {underside: [[0, 0], [16, 0]]}\n"
                   "walls:\n"
                   "  - {name: up, x: 0, top: 0, tip: -4}\n"
                   "  - {name: down, x: 16, top: 0, tip: -5}\n" SAND
                   "water: [{name: w, upstream: 2.5, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(punmia_12_5),
        .checks = punmia_12_5,
    },
    {
        .name = "punmia_12_6",
        .source = PUNMIA "Example 12.6" SECONDARY,
        .section = "title: A floor of 13 m with walls of 1.5 and 2 m\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: none\n"
                   "structure: {underside: [[0, 0], [13, 0]]}\n"
                   "walls:\n"
                   "  - {name: up, x: 0, top: 0, tip: -1.5}\n"
                   "  - {name: down, x: 13, top: 0, tip: -2}\n" SAND
                   "water: [{name: w, upstream: 1.5, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(punmia_12_6),
        .checks = punmia_12_6,
    },
    {
        .name = "punmia_12_2",
        .source = PUNMIA "Example 12.2" SECONDARY,
        .section = "title: A floor of 54 m with three walls and a drop of 2 m\n"
                   "bed: {upstream: 1.5, downstream: 0}\n"
                   "base: none\n"
                   "structure: {underside: [[0, 0.5], [18.5, 0.5], [18.5, -1.5], [54, -1.5]]}\n"
                   "walls:\n"
                   "  - {name: up, x: 0, top: 0.5, tip: -6.5}\n"
                   "  - {name: middle, x: 16.5, top: 0.5, tip: -6.5}\n"
                   "  - {name: down, x: 54, top: -1.5, tip: -8.5}\n" SAND
                   "water: [{name: w, upstream: 5, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(punmia_12_2),
        .checks = punmia_12_2,
    },
    {
        .name = "punmia_12_3",
        .source = PUNMIA "Example 12.3" SECONDARY,
        .section = "title: A drop weir of 60 m with walls of 2 and 7 m\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: none\n"
                   "structure: {underside: [[0, -1], [41, -1], [41, -1.7], [60, -1.7]]}\n"
                   "walls:\n"
                   "  - {name: up, x: 0, top: -1, tip: -2}\n"
                   "  - {name: down, x: 60, top: -1.7, tip: -7}\n" SAND
                   "water: [{name: w, upstream: 6.5, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(punmia_12_3),
        .checks = punmia_12_3,
    },
    {
        .name = "punmia_18_1",
        .source = PUNMIA "Example 18.1" SECONDARY,
        .section = "title: A fall of 15 m with cut-offs of 1 and 1.8 m\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: none\n"
                   "structure: {underside: [[0, -0.4], [7.5, -0.4], [7.5, -0.6], [15, -0.6]]}\n"
                   "walls:\n"
                   "  - {name: up, x: 0, top: -0.4, tip: -1}\n"
                   "  - {name: down, x: 15, top: -0.6, tip: -1.8}\n" SAND
                   "water: [{name: w, upstream: 2.44, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(punmia_18_1),
        .checks = punmia_18_1,
    },
};

usi_verify_table usi_verify_published_floor(void)
{
    return (usi_verify_table){USI_VERIFY_COUNT(cases), cases};
}
