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
    int first; /* ring cell of the first quadrant */
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
    fan.first = first;
    fan.fixed_first = is_fixed(before);
    fan.first_is_level = first % 2 == 0;
    for (int r = first; fan.count < 4; r = (r + 1) % 4) {
        usi_cell cell = usi_grid_cell_at(node_i, node_j, (usi_corner)r);
        int index = usi_grid_soil(grid, cell.i, cell.j);
        if (index < 0) {
            /* A sloping edge leaves the node: no fan of quadrants. */
            fan.closed = true;
            break;
        }
        const usi_soil *soil = &grid->section->soils[index];
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

/* Goes through the fan with the solution that fits the first ray, leaves the
 * misfit at the last one; keeps what each quadrant begins with in `local`, which
 * may be NULL. */
static double misfit(const soil_fan *fan, double lambda, usi_local *local)
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
        if (local != NULL) {
            local->quadrants[q] = (usi_local_quadrant){k, fan->stretch[q], v, w};
        }
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

static double bisect(const soil_fan *fan, double low, double high)
{
    bool sign = misfit(fan, low, NULL) < 0.0;
    for (int k = 0; k < 60; k++) {
        double middle = 0.5 * (low + high);
        if ((misfit(fan, middle, NULL) < 0.0) == sign) {
            low = middle;
        } else {
            high = middle;
        }
    }
    return 0.5 * (low + high);
}

/* Far below what contrasts within the limits of a section can make. */
static const double LAMBDA_LEAST = 1e-10;
enum { LAMBDA_STEPS = 256 };

static double smallest_root(const soil_fan *fan)
{
    double low = LAMBDA_LEAST;
    bool sign = misfit(fan, low, NULL) < 0.0;
    while (low < 1.0) {
        /* A contrast of soils makes the root small by orders of magnitude. */
        double high = low < 1.0 / LAMBDA_STEPS ? 2.0 * low : low + 1.0 / LAMBDA_STEPS;
        high = fmin(high, 1.0 + 0.5 / LAMBDA_STEPS);
        if ((misfit(fan, high, NULL) < 0.0) != sign) {
            return fmin(bisect(fan, low, high), 1.0);
        }
        low = high;
    }
    return 1.0;
}

double usi_exponent_at(const usi_grid *grid, size_t i, size_t j, usi_corner corner)
{
    soil_fan fan =
        gather(grid, usi_grid_node_i(i, corner), usi_grid_node_j(j, corner), (int)corner);
    return fan.closed ? 1.0 : smallest_root(&fan);
}

bool usi_local_find(const usi_grid *grid, size_t i, size_t j, usi_corner corner, usi_local *local)
{
    size_t node_i = usi_grid_node_i(i, corner);
    size_t node_j = usi_grid_node_j(j, corner);
    soil_fan fan = gather(grid, node_i, node_j, (int)corner);
    double lambda = fan.closed ? 1.0 : smallest_root(&fan);
    if (lambda >= 1.0) {
        return false;
    }
    *local = (usi_local){.node_i = node_i,
                         .node_j = node_j,
                         .lambda = lambda,
                         .first = fan.first,
                         .count = fan.count};
    misfit(&fan, lambda, local);
    return true;
}

usi_local_value usi_local_at(const usi_local *local, usi_corner ring, double dx_m, double dz_m)
{
    int q = ((int)ring - local->first + 4) % 4;
    if (q >= local->count) {
        return (usi_local_value){0.0, 0.0};
    }
    const usi_local_quadrant *quadrant = &local->quadrants[q];
    double along_m = dx_m * quadrant->stretch;
    double p[4] = {along_m, dz_m, -along_m, -dz_m};
    double r_m = hypot(along_m, dz_m);
    if (r_m == 0.0) {
        return (usi_local_value){0.0, 0.0};
    }
    double angle = local->lambda * atan2(p[((int)ring + 1) % 4], p[ring]);
    double size = pow(r_m, local->lambda);
    double k = quadrant->conductance;
    return (usi_local_value){
        size * (quadrant->value * cos(angle) + quadrant->flux / k * sin(angle)),
        size * (quadrant->flux * cos(angle) - quadrant->value * k * sin(angle))};
}
