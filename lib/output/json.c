/* The whole solution as JSON. */
#include "base/units.h"
#include "output/forms.h"
#include "output/json_text.h"
#include "output/json_tree.h"
#include "undersill/version.h"

static json_t *section_of(usi_json *out)
{
    const us_section *section = out->solution->section;
    json_t *object = json_object();
    usi_json_put(out, object, "title", json_string(section->title));
    usi_json_put(out, object, "sha256", json_string(section->sha256));
    usi_json_put(out, object, "flow_toward", json_string(section->flows_left ? "left" : "right"));
    return object;
}

static bool has_discharge(const us_solution *solution)
{
    for (size_t i = 0; i < solution->water_count; i++) {
        if (solution->water[i].discharge_m3_s.present) {
            return true;
        }
    }
    return false;
}

static json_t *units_of(usi_json *out)
{
    json_t *object = json_object();
    usi_json_put(out, object, "length", json_string(out->scale->length));
    usi_json_put(out, object, "flow", json_string(out->scale->flow));
    usi_json_put(out, object, "total", json_string(out->scale->total));
    usi_json_put(out, object, "force", json_string(out->scale->force));
    usi_json_put(out, object, "pressure", json_string(out->scale->pressure));
    if (has_discharge(out->solution)) {
        const usi_unit *unit = usi_unit_of_discharge(out->solution->section->units.length);
        usi_json_put(out, object, "discharge", json_string(unit->name));
    }
    return object;
}

static json_t *grid_of(usi_json *out)
{
    const us_grid_result *grid = &out->solution->grid;
    json_t *object = json_object();
    usi_json_put(out, object, "unknowns", json_integer((json_int_t)grid->unknowns));
    usi_json_put(out, object, "columns", json_integer((json_int_t)grid->columns));
    usi_json_put(out, object, "rows", json_integer((json_int_t)grid->rows));
    usi_json_put(out, object, "mass_balance", usi_json_number(grid->mass_balance));
    usi_json_put(out, object, "accuracy", usi_json_number(out->solution->accuracy));
    usi_json_put(out, object, "converged", json_boolean(grid->converged));
    return object;
}

static json_t *root_of(usi_json *out)
{
    const us_solution *solution = out->solution;
    json_t *root = json_object();
    usi_json_put(out, root, "undersill", json_string(US_VERSION));
    usi_json_put(out, root, "section", section_of(out));
    usi_json_put(out, root, "units", units_of(out));
    json_t *water = json_array();
    for (size_t i = 0; i < solution->water_count; i++) {
        usi_json_push(out, water, usi_json_water(out, &solution->water[i]));
    }
    usi_json_put(out, root, "water", water);
    usi_json_put(out, root, "register", usi_json_register(out));
    usi_json_put(out, root, "grid", grid_of(out));
    json_t *notes = json_array();
    for (size_t i = 0; i < solution->note_count; i++) {
        usi_json_push(out, notes, json_string(solution->notes[i]));
    }
    usi_json_put(out, root, "notes", notes);
    return root;
}

us_status usi_form_json(us_context *context, us_buffer *out, const us_solution *solution,
                        const usi_scale *scale)
{
    usi_json state = {solution, scale, 0};
    json_t *root = root_of(&state);
    return usi_json_print(context, out, root, state.failures == 0);
}
