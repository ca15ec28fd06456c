/* Results at drains, at stretches of the underside, on dry bed and at the base. */
#include <math.h>

#include "base/memory.h"
#include "model/situation.h"
#include "study/criterion.h"
#include "study/estimate.h"
#include "study/results.h"

/* Flow out of the soil at terminal `index`; the two after the last are dry bed. */
static us_value outflow(const usi_nest *nest, usi_datum datum, size_t index)
{
    us_value found = usi_nest_outflow(nest, index);
    if (usi_nest_finest(nest)->outflows[index].endless) {
        return (us_value){0.0, 0.0, false};
    }
    found.value *= datum.unit_m;
    found.error *= datum.unit_m;
    return found;
}

static us_value face_head(const usi_nest *nest, usi_datum datum, size_t index)
{
    us_value found = usi_nest_head(nest, usi_pick_face, index);
    return (us_value){datum.zero_m + found.value * datum.unit_m, found.error * datum.unit_m, true};
}

/* A head that is given has no error. */
static us_value given_head(const usi_terminal *terminal, us_value face)
{
    bool given = !terminal->floating && terminal->series_s_m == 0.0;
    return given ? (us_value){terminal->head_m, 0.0, true} : face;
}

static void fill_drain(const us_section *section, const usi_nest *nest, size_t terminal,
                       us_drain_result *drain)
{
    usi_datum datum = usi_datum_of(section, 0);
    const usi_outflow *finest = &usi_nest_finest(nest)->outflows[terminal];
    const usi_terminal *of = &section->situation->terminals[terminal];
    drain->open = true;
    drain->flow_m2_s = outflow(nest, datum, terminal);
    if (drain->flow_m2_s.present) {
        drain->lower_m2_s = finest->lower_m_s * datum.unit_m;
        drain->upper_m2_s = finest->upper_m_s * datum.unit_m;
        usi_estimate_hold(usi_nest_finest(nest)->bracketed, &drain->flow_m2_s, &drain->lower_m2_s,
                          &drain->upper_m2_s);
    }
    drain->head_m = of->head_m;
    if (of->resistance_s == 0.0) {
        drain->face_m = given_head(of, face_head(nest, datum, terminal));
    }
    drain->feeds = drain->flow_m2_s.value < -drain->flow_m2_s.error;
    if (section->width_m > 0.0) {
        us_value flow = drain->flow_m2_s;
        drain->total_m3_s =
            (us_value){flow.value * section->width_m, flow.error * section->width_m, flow.present};
    }
}

static us_status fill_drains(us_context *context, const us_section *section, const usi_nest *nest,
                             us_water_result *result)
{
    us_drain_result *drains = usi_memory_array(context, section->drain_count, sizeof *drains);
    if (drains == NULL) {
        return US_ERROR_MEMORY;
    }
    for (size_t d = 0; d < section->drain_count; d++) {
        drains[d].name = section->drains[d].name;
    }
    const usi_situation *situation = section->situation;
    for (size_t t = 0; situation != NULL && t < situation->terminal_count; t++) {
        if (situation->terminals[t].kind == USI_TERMINAL_DRAIN) {
            fill_drain(section, nest, t, &drains[situation->terminals[t].index]);
        }
    }
    result->drains = drains;
    result->drain_count = section->drain_count;
    return US_OK;
}

static us_status fill_stretches(us_context *context, const us_section *section,
                                const usi_nest *nest, us_water_result *result)
{
    const usi_situation *situation = section->situation;
    size_t count = 0;
    usi_datum datum = usi_datum_of(section, 0);
    us_stretch_result *list = usi_memory_array(context, situation->terminal_count, sizeof *list);
    if (list == NULL) {
        return US_ERROR_MEMORY;
    }
    for (size_t t = 0; t < situation->terminal_count; t++) {
        const usi_terminal *of = &situation->terminals[t];
        bool lost = of->kind == USI_TERMINAL_VOID;
        if (!lost && of->kind != USI_TERMINAL_PERMEABLE) {
            continue;
        }
        us_stretch_result *stretch = &list[count++];
        stretch->kind = lost ? US_STRETCH_CONTACT_LOST : US_STRETCH_PERMEABLE;
        stretch->from_m = of->from_m;
        stretch->to_m = of->to_m;
        if (lost) {
            stretch->head_m = face_head(nest, datum, t);
        } else {
            stretch->flow_m2_s = outflow(nest, datum, t);
            if (!of->one_way) {
                stretch->head_m = (us_value){of->head_m, 0.0, true};
            }
        }
    }
    result->stretches = list;
    result->stretch_count = count;
    return US_OK;
}

static bool has_dry_bed(const usi_situation *situation)
{
    for (size_t m = 0; m < situation->mark_count; m++) {
        if (situation->marks[m].kind == USI_MARK_DRY) {
            return true;
        }
    }
    return false;
}

static void fill_dry(const us_section *section, const usi_nest *nest, us_water_result *result)
{
    const usi_reading *finest = usi_nest_finest(nest);
    us_dry_result *dry = &result->dry;
    if (!has_dry_bed(section->situation)) {
        return;
    }
    usi_datum datum = usi_datum_of(section, 0);
    size_t terminals = section->situation->terminal_count;
    us_value left = outflow(nest, datum, terminals);
    us_value right = outflow(nest, datum, terminals + 1);
    dry->present = true;
    dry->flow_m2_s = (us_value){left.value + right.value, left.error + right.error, true};
    dry->open_m = usi_nest_value(nest, usi_pick_open, 0);
    dry->open_m.error = fmax(dry->open_m.error, finest->doubt_m);
    dry->closed_m = (us_value){finest->closed_m, dry->open_m.error, true};
    for (size_t k = 0; k < nest->count; k++) {
        int rounds = nest->readings[k].rounds;
        dry->rounds = rounds > dry->rounds ? rounds : dry->rounds;
    }
}

static void fill_base(const us_section *section, const usi_nest *nest, us_water_result *result)
{
    const usi_situation *situation = section->situation;
    for (size_t t = 0; t < situation->terminal_count; t++) {
        if (situation->terminals[t].kind == USI_TERMINAL_BASE && !situation->endless_base) {
            us_value out = outflow(nest, usi_datum_of(section, 0), t);
            result->base_flow_m2_s = (us_value){-out.value, out.error, out.present};
        }
    }
}

us_status usi_results_water(us_context *context, const us_section *section, const usi_nest *nest,
                            us_water_result *result)
{
    us_status status = fill_drains(context, section, nest, result);
    if (status == US_OK && section->situation != NULL) {
        status = fill_stretches(context, section, nest, result);
    }
    if (status == US_OK && section->situation != NULL) {
        fill_dry(section, nest, result);
        fill_base(section, nest, result);
    }
    return status;
}
