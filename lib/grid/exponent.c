#include "grid/exponent.h"

#include <math.h>

/* Soil around a node, gone through counter-clockwise from one no-flow or
 * fixed-head ray to the other. */
typedef struct soil_fan {
    int count;             /* quadrants, 1 to 4 */
    bool closed;           /* soil all round, nothing cuts it */
    double conductance[4]; /* sqrt(kh kv) */
    double stretch[4];     /* sqrt(kv / kh) */
    bool first_is_level;   /* the first ray is level, so the second stands, and so on */
    bool fixed_first;
    bool fixed_last;
} soil_fan;

/* The rays of ring cell r, in counter-clockwise order, as sides of that cell. */
static const usi_direction FIRST_SIDE[4] = {USI_DOWN, USI_RIGHT, USI_UP, USI_LEFT};
static const usi_direction LAST_SIDE[4] = {USI_LEFT, USI_DOWN, USI_RIGHT, USI_UP};

static bool is_fixed(usi_border border)
{
    return border == USI_BORDER_LEFT_BED || border == USI_BORDER_RIGHT_BED ||
           border == USI_BORDER_LEFT_FIXED || border == USI_BORDER_RIGHT_FIXED ||
           border == USI_BORDER_LEFT_END || border == USI_BORDER_RIGHT_END;
}

static usi_border ray(const usi_grid *grid, size_t node_i, size_t node_j, int r, bool last)
{
    usi_cell cell = usi_grid_cell_at(node_i, node_j, (usi_corner)r);
    return usi_grid_border(grid, (size_t)cell.i, (size_t)cell.j,
                           last ? LAST_SIDE[r] : FIRST_SIDE[r]);
}

static soil_fan gather(const usi_grid *grid, size_t node_i, size_t node_j, int start)
{
    soil_fan fan = {.count = 0};
    int first = start;
    for (int step = 0; step < 3 && ray(grid, node_i, node_j, first, false) == USI_BORDER_NONE;
         step++) {
        first = (first + 3) % 4;
    }
    usi_border before = ray(grid, node_i, node_j, first, false);
    fan.closed = before == USI_BORDER_NONE;
    fan.fixed_first = is_fixed(before);
    fan.first_is_level = first % 2 == 0;
    for (int r = first; fan.count < 4; r = (r + 1) % 4) {
        usi_cell cell = usi_grid_cell_at(node_i, node_j, (usi_corner)r);
        const usi_soil *soil = &grid->section->soils[usi_grid_soil(grid, cell.i, cell.j)];
        fan.conductance[fan.count] = sqrt(soil->kh_m_s * soil->kv_m_s);
        fan.stretch[fan.count] = sqrt(soil->kv_m_s / soil->kh_m_s);
        fan.count++;
        usi_border after = ray(grid, node_i, node_j, r, true);
        if (after != USI_BORDER_NONE) {
            fan.fixed_last = is_fixed(after);
            break;
        }
    }
    return fan;
}

/* Misfit at the last ray of the solution that fits the first one. */
static double misfit(const soil_fan *fan, double lambda)
{
    const double turn = lambda * acos(0.0);
    double value = fan->fixed_first ? 0.0 : 1.0;
    double flux = fan->fixed_first ? 1.0 : 0.0;
    bool level = fan->first_is_level;
    for (int q = 0; q < fan->count; q++) {
        /* On a level ray both carry the factor stretch^lambda of the mapping. */
        double factor = pow(fan->stretch[q], lambda);
        double v = level ? value / factor : value;
        double w = level ? flux / factor : flux;
        double k = fan->conductance[q];
        value = v * cos(turn) + w / k * sin(turn);
        flux = w * cos(turn) - v * k * sin(turn);
        if (!level) {
            value *= factor;
            flux *= factor;
        }
        level = !level;
    }
    return fan->fixed_last ? value : flux;
}

enum { LAMBDA_STEPS = 256 };

static double smallest_root(const soil_fan *fan)
{
    double low = 0.5 / LAMBDA_STEPS;
    double at_low = misfit(fan, low);
    for (int step = 1; step < LAMBDA_STEPS; step++) {
        double high = (step + 0.5) / LAMBDA_STEPS;
        double at_high = misfit(fan, high);
        if ((at_low < 0.0) != (at_high < 0.0)) {
            for (int k = 0; k < 60; k++) {
                double middle = 0.5 * (low + high);
                if ((misfit(fan, middle) < 0.0) == (at_low < 0.0)) {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            return 0.5 * (low + high);
        }
        low = high;
        at_low = at_high;
    }
    return 1.0;
}

double usi_exponent_at(const usi_grid *grid, size_t i, size_t j, usi_corner corner)
{
    soil_fan fan =
        gather(grid, usi_grid_node_i(i, corner), usi_grid_node_j(j, corner), (int)corner);
    return fan.closed ? 1.0 : smallest_root(&fan);
}
