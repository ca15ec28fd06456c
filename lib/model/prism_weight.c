/* What prisms of soil weigh. */
#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "model/prisms.h"
#include "model/survey.h"

/* Of the area of a prism: what is less of a soil lies in it by rounding alone. */
static const double SLIVER = 1e-9;

/* The area between a prism's lower side and the part of a piece of line that lies over it. */
static double area_under(const usi_piece *piece, const usi_prism *prism)
{
    if (piece->b.x_m <= prism->from_m || piece->a.x_m >= prism->to_m ||
        (piece->a.z_m <= prism->level_m && piece->b.z_m <= prism->level_m)) {
        return 0.0;
    }
    double from_m = fmax(piece->a.x_m, prism->from_m);
    double to_m = fmin(piece->b.x_m, prism->to_m);
    if (from_m >= to_m) {
        return 0.0;
    }
    double slope = (piece->b.z_m - piece->a.z_m) / (piece->b.x_m - piece->a.x_m);
    double first_m = piece->a.z_m + slope * (from_m - piece->a.x_m) - prism->level_m;
    double last_m = piece->a.z_m + slope * (to_m - piece->a.x_m) - prism->level_m;
    if (first_m <= 0.0 && last_m <= 0.0) {
        return 0.0;
    }
    double width_m = to_m - from_m;
    if (first_m < 0.0 || last_m < 0.0) {
        double high_m = fmax(first_m, last_m);
        return 0.5 * high_m * width_m * high_m / fabs(last_m - first_m);
    }
    return 0.5 * width_m * (first_m + last_m);
}

/* Down a column, each border of two soils adds its height over the lower side to the soil below
 * it and takes it from the soil above: the sums are the thicknesses. */
static void weigh(const us_section *section, const usi_survey *survey, double *areas_m2,
                  usi_prism *prism)
{
    for (size_t i = 0; i < section->soil_count; i++) {
        areas_m2[i] = 0.0;
    }
    for (size_t k = 0; k < survey->piece_count; k++) {
        const usi_piece *piece = &survey->pieces[k];
        double area_m2 = piece->left != piece->right ? area_under(piece, prism) : 0.0;
        if (area_m2 > 0.0 && piece->right >= 0) {
            areas_m2[piece->right] += area_m2;
        }
        if (area_m2 > 0.0 && piece->left >= 0) {
            areas_m2[piece->left] -= area_m2;
        }
    }
    double whole_m2 = (prism->to_m - prism->from_m) * (prism->bed_mean_m - prism->level_m);
    prism->weight_n_m = 0.0;
    prism->unweighed = -1;
    for (size_t i = 0; i < section->soil_count; i++) {
        const usi_soil *soil = &section->soils[i];
        if (soil->weighs) {
            prism->weight_n_m += soil->unit_weight_n_m3 * areas_m2[i];
        } else if (prism->unweighed < 0 && areas_m2[i] > SLIVER * whole_m2) {
            prism->unweighed = (int)i;
        }
    }
}

us_status usi_prisms_weigh(us_context *context, const us_section *section, usi_prism *prisms,
                           size_t count)
{
    if (count == 0) {
        return US_OK;
    }
    usi_plan_window window = usi_survey_around(section);
    for (size_t k = 0; k < count; k++) {
        window.left_m = fmin(window.left_m, prisms[k].from_m);
        window.right_m = fmax(window.right_m, prisms[k].to_m);
        window.floor_m = fmin(window.floor_m, prisms[k].level_m - 1.0);
    }
    usi_survey survey;
    us_status status = usi_survey_make(context, section, &window, &survey);
    if (status != US_OK) {
        return status;
    }
    double *areas_m2 = usi_memory_array(context, section->soil_count, sizeof *areas_m2);
    for (size_t k = 0; areas_m2 != NULL && k < count; k++) {
        weigh(section, &survey, areas_m2, &prisms[k]);
    }
    status = areas_m2 != NULL ? US_OK : US_ERROR_MEMORY;
    free(areas_m2);
    usi_survey_clear(&survey);
    return status;
}
