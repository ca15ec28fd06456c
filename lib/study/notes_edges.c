/* Notes on drains, dry bed, stretches of the underside and water below the base. */
#include <stdio.h>

#include "model/situation.h"
#include "study/notes.h"
#include "study/text.h"

typedef struct teller {
    us_context *context;
    const usi_nest *nest;
    const us_section *section;
    const usi_situation *situation;
    us_solution *solution;
} teller;

static us_status tell(const teller *of, const char *text)
{
    return usi_note_add(of->context, of->solution, "%s", text);
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

static const usi_terminal *find(const usi_situation *situation, usi_terminal_kind kind)
{
    for (size_t t = 0; t < situation->terminal_count; t++) {
        if (situation->terminals[t].kind == kind) {
            return &situation->terminals[t];
        }
    }
    return NULL;
}

static us_status note_one_way(const teller *of)
{
    if (!of->situation->dry) {
        return US_OK;
    }
    if (!has_dry_bed(of->situation)) {
        return tell(of, "Where the underside is permeable above the water downstream, water may "
                        "pass up and none goes down. Heads then do not follow the water levels in "
                        "proportion, so that flows are estimates and have no bounds.");
    }
    return tell(of, "Bed above the water lets water out, where its head is the level of the bed, "
                    "and none in. Where the one ends and the other begins depends on the flow "
                    "itself: heads do not follow the water levels in proportion, so that flows "
                    "are estimates and have no bounds. Rain on it is not counted.");
}

static us_status note_endless_base(const teller *of)
{
    if (!of->situation->endless_base) {
        return US_OK;
    }
    return tell(of, "Water below the base passes through it all along soil that has no end: the "
                    "total is without bound, so no flow is given. Heads, uplift and exit gradient "
                    "are finite and given; a section that ends at `sides` has a flow.");
}

/* Held heads that differ touch: what passes from one to the other has no limit. */
static us_status note_touching(const teller *of)
{
    const char *name = of->solution->water[0].name;
    const usi_outflow *outflows = usi_nest_finest(of->nest)->outflows;
    us_status status = US_OK;
    for (size_t t = 0; status == US_OK && t < of->situation->terminal_count; t++) {
        const usi_terminal *one = &of->situation->terminals[t];
        if (!outflows[t].endless) {
            continue;
        }
        if (one->kind == USI_TERMINAL_DRAIN) {
            status = usi_note_add(of->context, of->solution,
                                  "%s: drain `%s` touches water of another head. Flow from one to "
                                  "the other has no limit, so none is given for it; leave a gap "
                                  "between them, or let both out at one level.",
                                  name, of->section->drains[one->index].name);
        } else if (one->kind == USI_TERMINAL_PERMEABLE) {
            status = usi_note_add(of->context, of->solution,
                                  "%s: a permeable stretch of the underside touches water of "
                                  "another head. Flow from one to the other has no limit, so none "
                                  "is given for it; leave a gap between them.",
                                  name);
        } else if (one->kind == USI_TERMINAL_BASE && !of->situation->endless_base) {
            status = usi_note_add(
                of->context, of->solution,
                "%s: water below the base meets a side of another head. Flow from one to the "
                "other has no limit, so none is given for %s; a closed side, one of that head, or "
                "a leaky layer between has a flow.",
                name, of->situation->endless_foot ? "the section and the base" : "the base");
        }
    }
    return status;
}

static us_status note_stretches(const teller *of)
{
    us_status status = US_OK;
    if (find(of->situation, USI_TERMINAL_VOID) != NULL) {
        status = tell(of, "Where contact is lost under the structure, a void is taken to be full "
                          "of water of one head; it counts in the uplift, and no water is lost in "
                          "it. Whatever opened it may go on, which this does not judge.");
    }
    if (status == US_OK && find(of->situation, USI_TERMINAL_PERMEABLE) != NULL) {
        status = tell(of, "A permeable stretch of the underside counts in the uplift with the "
                          "pressure below it. The gradient there is a mean over it; a filter has "
                          "to hold the soil.");
    }
    return status;
}

static us_status note_weeps(const teller *of, const usi_drain *drain)
{
    char diameter[USI_TEXT_ROOM];
    char spacing[USI_TEXT_ROOM];
    return usi_note_add(of->context, of->solution,
                        "Drain `%s`, holes of %s every %s, is solved as a strip across the flow "
                        "that takes in as much (true for a diameter up to a quarter of the "
                        "spacing). Nearer to it than the spacing, heads are means along the row. "
                        "What the holes themselves cost in head is not counted.",
                        drain->name, usi_text_length(of->section, drain->diameter_m, diameter),
                        usi_text_length(of->section, drain->spacing_m, spacing));
}

/* The drain feeds water in: what a reader must not overlook. */
static us_status note_feeding(const teller *of, const us_drain_result *drain)
{
    char flow[USI_TEXT_ROOM];
    char head[USI_TEXT_ROOM];
    if (!drain->feeds) {
        return US_OK;
    }
    return usi_note_add(of->context, of->solution,
                        "%s: drain `%s` feeds %s of water INTO the soil, as the level where it "
                        "lets out, %s, stands above the head in the soil beside it. It relieves "
                        "nothing there; a lower outlet or a flap would stop that.",
                        of->solution->water[0].name, drain->name,
                        usi_text_flow(of->section, -drain->flow_m2_s.value, flow),
                        usi_text_length(of->section, drain->head_m, head));
}

static us_status note_drain(const teller *of, size_t index)
{
    const usi_drain *drain = &of->section->drains[index];
    us_status status = US_OK;
    if (drain->weeps) {
        status = note_weeps(of, drain);
    }
    if (status == US_OK && drain->inside) {
        status = usi_note_add(of->context, of->solution,
                              "Drain `%s` lies inside the soil, where water comes to it from all "
                              "sides: flows are estimates there and have no bounds.",
                              drain->name);
    }
    if (status == US_OK && drain->clogging_s > 0.0) {
        status = usi_note_add(
            of->context, of->solution,
            "What clogs drain `%s` is a resistance on its face: water loses head on its way "
            "in, and on the structure there presses the head in the drain.",
            drain->name);
    }
    return status == US_OK ? note_feeding(of, &of->solution->water[0].drains[index]) : status;
}

/* Air that a drain lets in would end the suction that it brings about. */
static us_status note_air(const teller *of)
{
    const us_water_result *water = &of->solution->water[0];
    if (!water->uplift.suction) {
        return US_OK;
    }
    return usi_note_add(of->context, of->solution,
                        "%s: under part of the drained structure the head lies below the "
                        "underside. Where air gets in by a drain, heads there rise to the "
                        "underside and the drains relieve less than is given.",
                        water->name);
}

static us_status note_drains(const teller *of)
{
    us_status status = US_OK;
    size_t open = 0;
    const us_water_result *water = &of->solution->water[0];
    for (size_t d = 0; status == US_OK && d < water->drain_count; d++) {
        if (water->drains[d].open) {
            status = note_drain(of, d);
            open++;
        }
    }
    if (status != US_OK || open == 0) {
        return status;
    }
    status = tell(
        of,
        "Drains clog, silt up and freeze, and without a filter they carry soil away; "
        "the gradient at them is a mean over their faces. Each case with an open drain is given "
        "with all drains shut as well.");
    return status == US_OK ? note_air(of) : status;
}

us_status usi_notes_edges(us_context *context, const usi_nest *nest, us_solution *solution)
{
    const us_section *section = solution->section;
    if (section->situation == NULL) {
        return US_OK;
    }
    bool bed_closed = nest->exit_count > 0 && usi_nest_finest(nest)->bed_closed;
    const teller of = {context, nest, section, section->situation, solution};
    us_status status = note_endless_base(&of);
    if (status == US_OK) {
        status = note_touching(&of);
    }
    if (status == US_OK) {
        status = note_one_way(&of);
    }
    if (status == US_OK) {
        status = note_stretches(&of);
    }
    if (status == US_OK) {
        status = note_drains(&of);
    }
    const us_water_result *water = &solution->water[0];
    if (status == US_OK && bed_closed) {
        status = usi_note_add(context, solution,
                              "%s: no water passes the bed downstream, so its exit gradient is 0.",
                              water->name);
    }
    if (status == US_OK && water->exit.enters) {
        status = usi_note_add(context, solution,
                              "%s: water enters the bed downstream and leaves it nowhere, so there "
                              "is no exit gradient.",
                              water->name);
    }
    return status;
}
