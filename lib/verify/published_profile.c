/* Single walls under a floor on endless soil (the elementary profiles of Khosla, Bose
 * & Taylor 1936), as read off charts in worked examples. */
#include "verify/tables.h"

/* The transcription that most of these were read in names no edition. Heads are in
 * metres above the downstream water, as in the books: a percentage of the head
 * difference is turned into metres. */
#define PUNMIA "B. C. Punmia and Pande B. B. Lal, Irrigation and Water Power Engineering, "
#define SECONDARY " (read in a secondary transcription, not in the book itself)"
#define SAND "soils: [{name: sand, kh: 1e-5, kv: 1e-5, unit_weight: 20}]\n"

static const usi_verify_check punmia_12_5_up[] = {
    {USI_VERIFY_DOWNSTREAM_FACE_TOP, "up", 1.426, 0.000125, NULL},
};

static const usi_verify_check punmia_12_5_down[] = {
    {USI_VERIFY_UPSTREAM_FACE_TOP, "down", 1.1855, 0.000125, NULL},
};

static const usi_verify_check punmia_12_6_down[] = {
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.123, 0.0005, NULL},
};

static const usi_verify_check punmia_12_2_up[] = {
    {USI_VERIFY_DOWNSTREAM_FACE_TOP, "up", 3.325, 0.1525,
     "Printed as 66.5 %, read off a chart; the closed form gives 66.3 %."},
    {USI_VERIFY_TIP, "up", 3.8, 0.175,
     "Printed as 76 %, read off a chart; the closed form gives 76.7 %."},
};

static const usi_verify_check punmia_12_2_middle[] = {
    {USI_VERIFY_UPSTREAM_FACE_TOP, "middle", 3.625, 0.1525,
     "Printed as 72.5 %, read off a chart; the closed form gives 71.9 %."},
    {USI_VERIFY_TIP, "middle", 3.075, 0.1525,
     "Printed as 61.5 %, read off a chart; the closed form gives 61.5 %."},
    {USI_VERIFY_DOWNSTREAM_FACE_TOP, "middle", 2.6, 0.175,
     "Printed as 52 %, read off a chart; the closed form gives 52.3 %."},
};

static const usi_verify_check punmia_12_2_down[] = {
    {USI_VERIFY_UPSTREAM_FACE_TOP, "down", 1.75, 0.175,
     "Printed as 35 %, read off a chart; the closed form gives 34.7 %."},
    {USI_VERIFY_TIP, "down", 1.21, 0.1525,
     "Printed as 24.2 %, read off a chart; the closed form gives 23.9 %."},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.097, 0.0005, NULL},
};

static const usi_verify_check punmia_12_3_up[] = {
    {USI_VERIFY_DOWNSTREAM_FACE_TOP, "up", 5.395, 0.2275,
     "Printed as 83 %, read off a chart; the closed form gives 83.7 %."},
    {USI_VERIFY_TIP, "up", 5.72, 0.2275,
     "Printed as 88 %, read off a chart; the closed form gives 88.5 %."},
};

static const usi_verify_check punmia_12_3_down[] = {
    {USI_VERIFY_UPSTREAM_FACE_TOP, "down", 2.015, 0.2275,
     "Printed as 31 %, read off a chart; the closed form gives 30.1 %."},
    {USI_VERIFY_TIP, "down", 1.365, 0.2275,
     "Printed as 21 %, read off a chart; the closed form gives 20.9 %."},
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.13, 0.0051,
     "The factor 1/(pi sqrt(lambda)) was read off a chart to two digits, 0.14; it is 0.1451, a "
     "gradient of 0.1347."},
};

static const usi_verify_check punmia_12_4_up[] = {
    {USI_VERIFY_DOWNSTREAM_FACE_TOP, "up", 3.168, 0.154,
     "Printed as 72 %, read off a chart; the closed form gives 73.6 %."},
    {USI_VERIFY_TIP, "up", 3.608, 0.154,
     "Printed as 82 %, read off a chart; the closed form gives 81.6 %."},
};

static const usi_verify_check punmia_12_4_middle[] = {
    {USI_VERIFY_UPSTREAM_FACE_TOP, "middle", 2.574, 0.1342,
     "Printed as 58.5 %, read off a chart; the closed form gives 58.8 %."},
    {USI_VERIFY_TIP, "middle", 2.002, 0.1342,
     "Printed as 45.5 %, read off a chart; the closed form gives 45.6 %."},
    {USI_VERIFY_DOWNSTREAM_FACE_TOP, "middle", 1.386, 0.1342,
     "Printed as 31.5 %, read off a chart; the closed form gives 31.6 %."},
};

static const usi_verify_check punmia_12_4_down[] = {
    {USI_VERIFY_UPSTREAM_FACE_TOP, "down", 1.936, 0.154,
     "Printed as 44 %, three points higher than the closed form (40.97 %) that the chart shows."},
    {USI_VERIFY_TIP, "down", 1.276, 0.154,
     "Printed as 29 %, read off a chart; the closed form gives 27.9 %."},
};

static const usi_verify_check punmia_18_1_down[] = {
    {USI_VERIFY_EXIT_GRADIENT, NULL, 0.2, 0.005,
     "Printed to one digit; the closed form gives 0.1991."},
};

static const usi_verify_check lecture_floor_up[] = {
    {USI_VERIFY_DOWNSTREAM_FACE_TOP, "up", 0.7133, 5e-5, NULL},
    {USI_VERIFY_TIP, "up", 0.8, 0.005, NULL},
};

static const usi_verify_check lecture_floor_middle[] = {
    {USI_VERIFY_UPSTREAM_FACE_TOP, "middle", 0.708, 0.0005, NULL},
};

static const usi_verify_case cases[] = {
    {
        .name = "punmia_12_5_up",
        .source = PUNMIA "Example 12.5, before correction" SECONDARY,
        .section = "title: A floor of 16 m with a wall of 4 m at its start\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: none\n"
                   "structure: {underside: [[0, 0], [16, 0]]}\n"
                   "walls:\n"
                   "  - {name: up, x: 0, top: 0, tip: -4}\n" SAND
                   "water: [{name: w, upstream: 2.5, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(punmia_12_5_up),
        .checks = punmia_12_5_up,
    },
    {
        .name = "punmia_12_5_down",
        .source = PUNMIA "Example 12.5, before correction" SECONDARY,
        .section = "title: A floor of 16 m with a wall of 5 m at its end\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: none\n"
                   "structure: {underside: [[0, 0], [16, 0]]}\n"
                   "walls:\n"
                   "  - {name: down, x: 16, top: 0, tip: -5}\n" SAND
                   "water: [{name: w, upstream: 2.5, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(punmia_12_5_down),
        .checks = punmia_12_5_down,
    },
    {
        .name = "punmia_12_6_down",
        .source = PUNMIA "Example 12.6, the end wall alone" SECONDARY,
        .section = "title: A floor of 13 m with a wall of 2 m at its end\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: none\n"
                   "structure: {underside: [[0, 0], [13, 0]]}\n"
                   "walls:\n"
                   "  - {name: down, x: 13, top: 0, tip: -2}\n" SAND
                   "water: [{name: w, upstream: 1.5, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(punmia_12_6_down),
        .checks = punmia_12_6_down,
    },
    {
        .name = "punmia_12_2_up",
        .source = PUNMIA "Example 12.2, before correction" SECONDARY,
        .section = "title: A floor of 54 m with a wall of 8 m at its start\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: none\n"
                   "structure: {underside: [[0, 0], [54, 0]]}\n"
                   "walls:\n"
                   "  - {name: up, x: 0, top: 0, tip: -8}\n" SAND
                   "water: [{name: w, upstream: 5, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(punmia_12_2_up),
        .checks = punmia_12_2_up,
    },
    {
        .name = "punmia_12_2_middle",
        .source = PUNMIA "Example 12.2, before correction" SECONDARY,
        .section = "title: A floor of 54 m with a wall of 8 m inside\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: none\n"
                   "structure: {underside: [[0, 0], [54, 0]]}\n"
                   "walls:\n"
                   "  - {name: middle, x: 16.5, top: 0, tip: -8}\n" SAND
                   "water: [{name: w, upstream: 5, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(punmia_12_2_middle),
        .checks = punmia_12_2_middle,
    },
    {
        .name = "punmia_12_2_down",
        .source = PUNMIA "Example 12.2, before correction" SECONDARY,
        .section = "title: A floor of 54 m with a wall of 8.5 m at its end\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: none\n"
                   "structure: {underside: [[0, 0], [54, 0]]}\n"
                   "walls:\n"
                   "  - {name: down, x: 54, top: 0, tip: -8.5}\n" SAND
                   "water: [{name: w, upstream: 5, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(punmia_12_2_down),
        .checks = punmia_12_2_down,
    },
    {
        .name = "punmia_12_3_up",
        .source = PUNMIA "Example 12.3, before correction" SECONDARY,
        .section = "title: A floor of 60 m with a wall of 2 m at its start\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: none\n"
                   "structure: {underside: [[0, 0], [60, 0]]}\n"
                   "walls:\n"
                   "  - {name: up, x: 0, top: 0, tip: -2}\n" SAND
                   "water: [{name: w, upstream: 6.5, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(punmia_12_3_up),
        .checks = punmia_12_3_up,
    },
    {
        .name = "punmia_12_3_down",
        .source = PUNMIA "Example 12.3, before correction" SECONDARY,
        .section = "title: A floor of 60 m with a wall of 7 m at its end\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: none\n"
                   "structure: {underside: [[0, 0], [60, 0]]}\n"
                   "walls:\n"
                   "  - {name: down, x: 60, top: 0, tip: -7}\n" SAND
                   "water: [{name: w, upstream: 6.5, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(punmia_12_3_down),
        .checks = punmia_12_3_down,
    },
    {
        .name = "punmia_12_4_up",
        .source = PUNMIA "Example 12.4, before correction" SECONDARY,
        .section = "title: A floor of 36 m with a wall of 3.2 m at its start\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: none\n"
                   "structure: {underside: [[0, 0], [36, 0]]}\n"
                   "walls:\n"
                   "  - {name: up, x: 0, top: 0, tip: -3.2}\n" SAND
                   "water: [{name: w, upstream: 4.4, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(punmia_12_4_up),
        .checks = punmia_12_4_up,
    },
    {
        .name = "punmia_12_4_middle",
        .source = PUNMIA "Example 12.4, before correction" SECONDARY,
        .section = "title: A floor of 36 m with a wall of 8.1 m inside\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: none\n"
                   "structure: {underside: [[0, 0], [36, 0]]}\n"
                   "walls:\n"
                   "  - {name: middle, x: 21, top: 0, tip: -8.1}\n" SAND
                   "water: [{name: w, upstream: 4.4, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(punmia_12_4_middle),
        .checks = punmia_12_4_middle,
    },
    {
        .name = "punmia_12_4_down",
        .source = PUNMIA "Example 12.4, before correction" SECONDARY,
        .section = "title: A floor of 36 m with a wall of 8.1 m at its end\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: none\n"
                   "structure: {underside: [[0, 0], [36, 0]]}\n"
                   "walls:\n"
                   "  - {name: down, x: 36, top: 0, tip: -8.1}\n" SAND
                   "water: [{name: w, upstream: 4.4, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(punmia_12_4_down),
        .checks = punmia_12_4_down,
    },
    {
        .name = "punmia_18_1_down",
        .source = PUNMIA "Example 18.1, the end wall alone" SECONDARY,
        .section = "title: A floor of 15 m with a cut-off of 1.8 m at its end\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: none\n"
                   "structure: {underside: [[0, 0], [15, 0]]}\n"
                   "walls:\n"
                   "  - {name: down, x: 15, top: 0, tip: -1.8}\n" SAND
                   "water: [{name: w, upstream: 2.44, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(punmia_18_1_down),
        .checks = punmia_18_1_down,
    },
    {
        .name = "lecture_floor_up",
        .source = "A worked floor with three walls in a lecture of 2024, whose author is not "
                  "known, on the method of Khosla, Bose and Taylor, Design of Weirs on Permeable "
                  "Foundations, 1936; before correction",
        .section = "title: A floor of 57 m with a wall of 6 m at its start\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: none\n"
                   "structure: {underside: [[0, 0], [57, 0]]}\n"
                   "walls:\n"
                   "  - {name: up, x: 0, top: 0, tip: -6}\n" SAND
                   "water: [{name: w, upstream: 1, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(lecture_floor_up),
        .checks = lecture_floor_up,
    },
    {
        .name = "lecture_floor_middle",
        .source = "A worked floor with three walls in a lecture of 2024, whose author is not "
                  "known, on the method of Khosla, Bose and Taylor, Design of Weirs on Permeable "
                  "Foundations, 1936; before correction",
        .section = "title: A floor of 57 m with a wall of 6 m inside\n"
                   "bed: {upstream: 0, downstream: 0}\n"
                   "base: none\n"
                   "structure: {underside: [[0, 0], [57, 0]]}\n"
                   "walls:\n"
                   "  - {name: middle, x: 16.4, top: 0, tip: -6}\n" SAND
                   "water: [{name: w, upstream: 1, downstream: 0}]\n",
        .check_count = USI_VERIFY_COUNT(lecture_floor_middle),
        .checks = lecture_floor_middle,
    },
};

usi_verify_table usi_verify_published_profile(void)
{
    return (usi_verify_table){USI_VERIFY_COUNT(cases), cases};
}
