#include "model/works.h"

typedef struct ratios {
    double bligh;
    double lane;
} ratios;

const char *const usi_creep_classes[] = {
    "very_fine_sand_or_silt",
    "fine_sand",
    "medium_sand",
    "coarse_sand",
    "light_sand_and_mud",
    "fine_gravel",
    "medium_gravel",
    "coarse_gravel_with_cobbles",
    "boulders_gravel_and_sand",
    "boulders_and_cobbles",
    "soft_clay",
    "medium_clay",
    "hard_clay",
    "very_hard_clay",
    NULL,
};

/* In the order of the classes. */
static const ratios required[] = {
    {18.0, 8.5}, {15.0, 7.0}, {0.0, 6.0}, {12.0, 5.0}, {8.0, 0.0}, {0.0, 4.0}, {0.0, 3.5},
    {0.0, 3.0},  {9.0, 0.0},  {6.0, 2.5}, {0.0, 3.0},  {0.0, 2.0}, {0.0, 1.8}, {0.0, 1.6},
};

const char *const usi_environments[] = {
    "natural_soil",         "polluted_soil",
    "aggressive_soil",      "loose_fill",
    "aggressive_fill",      "fresh_water",
    "polluted_fresh_water", "sea_water_high",
    "sea_water_immersed",   NULL,
};

enum { SOILS = 5, YEARS = 6 };

static const double years_of[YEARS] = {0.0, 5.0, 25.0, 50.0, 75.0, 100.0};

/* In mm, in the order of the surroundings. */
static const double lost_mm[][YEARS] = {
    {0.0, 0.00, 0.30, 0.60, 0.90, 1.20}, {0.0, 0.15, 0.75, 1.50, 2.25, 3.00},
    {0.0, 0.20, 1.00, 1.75, 2.50, 3.25}, {0.0, 0.18, 0.70, 1.20, 1.70, 2.20},
    {0.0, 0.50, 2.00, 3.25, 4.50, 5.75}, {0.0, 0.15, 0.55, 0.90, 1.15, 1.40},
    {0.0, 0.30, 1.30, 2.30, 3.30, 4.30}, {0.0, 0.55, 1.90, 3.75, 5.60, 7.50},
    {0.0, 0.25, 0.90, 1.75, 2.60, 3.50},
};

double usi_creep_ratio(size_t creep_class, usi_creep_rule rule)
{
    return rule == USI_CREEP_BLIGH ? required[creep_class].bligh : required[creep_class].lane;
}

bool usi_environment_is_soil(size_t environment)
{
    return environment < SOILS;
}

double usi_environment_loss(size_t environment, double years)
{
    const double mm_m = 1e-3;
    const double *lost = lost_mm[environment];
    size_t next = 1;
    while (next + 1 < YEARS && years > years_of[next]) {
        next++;
    }
    double share = (years - years_of[next - 1]) / (years_of[next] - years_of[next - 1]);
    return mm_m * (lost[next - 1] + share * (lost[next] - lost[next - 1]));
}
