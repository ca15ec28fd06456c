/* How many drops and channels a net has. */
#include <math.h>

#include "draw/netting.h"
#include "model/situation.h"

enum { CHANNELS_LEAST = 2, CHANNELS_MOST = 12, DROPS_MOST = 72, UNBOUNDED_DROPS = 12 };

/* Meshes this far from squares are none: density alone decides. */
static const double squares_forgone = 8;

/* Weighs how far meshes are from squares (a per cent counts for much) against
 * how far the numbers are from a readable density. */
static double mesh_cost(double shape, int drops, int channels)
{
    double off = log(channels / (drops * shape));
    double uneven = fmin(400 * off * off, squares_forgone);
    double dense = log(drops / 14.0);
    double wide = log(channels / 5.0);
    return uneven + dense * dense + wide * wide;
}

usi_mesh usi_mesh_choose(double shape, double *cost)
{
    usi_mesh best = {2, CHANNELS_LEAST};
    *cost = INFINITY;
    for (int channels = CHANNELS_LEAST; channels <= CHANNELS_MOST; channels++) {
        for (int drops = 2; drops <= DROPS_MOST; drops++) {
            double here = mesh_cost(shape, drops, channels);
            if (here < *cost) {
                *cost = here;
                best = (usi_mesh){drops, channels};
            }
        }
    }
    return best;
}

static bool is_isotropic(const usi_soil *soil)
{
    return fabs(soil->kh_m_s / soil->kv_m_s - 1) < 1e-6;
}

static size_t exit_soil(const us_section *section)
{
    const usi_line *bed = usi_section_downstream_bed(section);
    double toe_x_m = usi_section_toe_x(section);
    bool right = !section->flows_left;
    usi_point toe = {toe_x_m, usi_line_level(bed, toe_x_m, right)};
    return usi_section_soil_at(section, toe, right, false);
}

/* The soil whose meshes are made squares, and the mesh: the isotropic soil at
 * the exit if its net is readable, else the layer with the most readable net,
 * isotropic ones first. In an anisotropic one squares hold in the section
 * whose distances are transformed. */
static void choose_reference(const us_section *section, double flow_m_s, usi_netting *netting)
{
    size_t exit = exit_soil(section);
    double least = INFINITY;
    for (size_t i = 0; i < section->soil_count; i++) {
        const usi_soil *soil = &section->soils[i];
        if (!soil->layer && i != exit) {
            continue;
        }
        double cost = 0;
        double shape = flow_m_s / sqrt(soil->kh_m_s * soil->kv_m_s);
        usi_mesh mesh = usi_mesh_choose(shape, &cost);
        cost += (is_isotropic(soil) ? 0 : 4) + (i == exit ? 0 : 1);
        if (cost < least) {
            least = cost;
            netting->reference = soil;
            netting->shape = shape;
            netting->mesh = mesh;
        }
    }
}

/* Without a base only the drops are chosen; channels follow from squares. */
static void choose_unbounded(const us_section *section, double flow_m_s, usi_netting *netting)
{
    netting->reference = &section->soils[exit_soil(section)];
    for (size_t i = 0; i < section->soil_count && !is_isotropic(netting->reference); i++) {
        if (section->soils[i].layer && is_isotropic(&section->soils[i])) {
            netting->reference = &section->soils[i];
        }
    }
    netting->shape = flow_m_s / sqrt(netting->reference->kh_m_s * netting->reference->kv_m_s);
    netting->mesh = (usi_mesh){UNBOUNDED_DROPS, 0};
}

/* Takes in a value. */
static void widen(double *least, double *most, double value)
{
    *least = fmin(*least, value);
    *most = fmax(*most, value);
}

static bool is_seen(const usi_sheet *sheet, usi_point at)
{
    const usi_window *window = &sheet->window;
    return at.x_m >= window->low.x_m && at.x_m <= window->high.x_m && at.z_m >= window->low.z_m &&
           at.z_m <= window->high.z_m;
}

static void widen_at(const usi_field *field, size_t place, int32_t unknown, usi_netting *netting)
{
    widen(&netting->low, &netting->high, field->reduced[unknown]);
    if (netting->flows) {
        widen(&netting->least, &netting->most, field->stream[place]);
    }
}

/* Corners of a whole cell. */
static void widen_on(const usi_sheet *sheet, const usi_field *field, size_t i, size_t j,
                     usi_netting *netting)
{
    const usi_grid *grid = field->grid;
    static const usi_corner corners[4] = {USI_LOWER_LEFT, USI_LOWER_RIGHT, USI_UPPER_LEFT,
                                          USI_UPPER_RIGHT};
    for (size_t k = 0; k < 4; k++) {
        size_t column = i + k % 2;
        size_t row = j + k / 2;
        if (is_seen(sheet, (usi_point){grid->x_m[column], grid->z_m[row]})) {
            widen_at(field, row * (grid->columns + 1) + column,
                     usi_grid_unknown(grid, i, j, corners[k]), netting);
        }
    }
}

/* Ranges of both functions in the picture: where more than two waters act, heads and
 * flows of the section as a whole say little of it. */
static void find_ranges(const usi_sheet *sheet, const usi_field *field, usi_netting *netting)
{
    const usi_grid *grid = field->grid;
    netting->low = netting->least = HUGE_VAL;
    netting->high = netting->most = -HUGE_VAL;
    for (size_t j = 0; j < grid->rows; j++) {
        for (size_t i = 0; i < grid->columns; i++) {
            if (usi_grid_soil(grid, (ptrdiff_t)i, (ptrdiff_t)j) >= 0) {
                widen_on(sheet, field, i, j, netting);
            }
        }
    }
    for (size_t t = 0; t < grid->triangle_count; t++) {
        const usi_triangle *part = &grid->triangles[t];
        for (int k = 0; k < 3; k++) {
            if (is_seen(sheet, usi_grid_place(grid, part->place[k]))) {
                widen_at(field, (size_t)part->place[k], part->unknown[k], netting);
            }
        }
    }
}

/* Where a situation acts. */
static void choose_acted(const usi_sheet *sheet, const usi_field *field, usi_netting *netting)
{
    const us_section *section = sheet->section;
    usi_datum datum = usi_datum_of(section, 0);
    netting->flows = field->stream != NULL && field->stream_unit_m_s > 0;
    find_ranges(sheet, field, netting);
    double heads = netting->high - netting->low;
    netting->heads = !field->sealed && heads > 1e-9;
    netting->flows = netting->flows && netting->heads && netting->most - netting->least > 1e-9;
    netting->counted = true;
    netting->lowest_m = datum.zero_m + datum.unit_m * netting->low;
    netting->highest_m = datum.zero_m + datum.unit_m * netting->high;
    netting->mesh = (usi_mesh){2 * UNBOUNDED_DROPS, 0};
    if (netting->flows) {
        double flow_m_s = field->stream_unit_m_s * (netting->most - netting->least);
        choose_reference(section, flow_m_s / heads, netting);
        netting->channel_m2_s = flow_m_s * datum.unit_m / netting->mesh.channels;
    }
}

void usi_netting_choose(const usi_sheet *sheet, const usi_field *field, usi_netting *netting)
{
    const us_section *section = sheet->section;
    double head_m = sheet->water->upstream_m - sheet->water->downstream_m;
    netting->sealed = field->sealed;
    if (section->situation != NULL) {
        choose_acted(sheet, field, netting);
        return;
    }
    netting->flows = head_m > 0 && field->stream != NULL;
    netting->heads = netting->flows;
    netting->high = netting->most = 1;
    if (!netting->flows) {
        return;
    }
    netting->counted = section->has_base;
    if (netting->counted) {
        choose_reference(section, field->flow_m_s, netting);
        netting->channel_m2_s = field->flow_m_s * head_m / netting->mesh.channels;
    } else {
        choose_unbounded(section, field->upper_m_s, netting);
        netting->channel_m2_s = field->upper_m_s * head_m / (netting->shape * netting->mesh.drops);
    }
}
