#include "wall/gates.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"

us_status usi_gate_seams_list(us_context *context, const usi_supply *open, usi_gate_seams *gates)
{
    const usi_contacts *contacts = &open->contacts;
    gates->count = open->gate_count;
    gates->sides = usi_memory_array(context, contacts->count + 1, sizeof *gates->sides);
    if (gates->sides == NULL) {
        return US_ERROR_MEMORY;
    }
    for (size_t k = 0; k < contacts->count; k++) {
        const usi_contact *contact = &contacts->list[k];
        bool gate =
            open->gate_of[contact->unknown[0]] >= 0 || open->gate_of[contact->unknown[1]] >= 0;
        if (gate && usi_supply_lets_out(open, contact->border)) {
            gates->sides[gates->side_count++] = k;
        }
    }
    return US_OK;
}

void usi_gate_seams_free(usi_gate_seams *gates)
{
    free(gates->sides);
    free(gates->push);
    *gates = (usi_gate_seams){0};
}

void usi_gates_head_stitches(const usi_heads *heads, usi_stitch *stitches)
{
    for (size_t g = 0; g < heads->supply->gate_count; g++) {
        int32_t place = heads->places[heads->supply->gates[g].unknown];
        stitches[g] = (usi_stitch){place, (int32_t)(heads->free_count + g)};
    }
}

void usi_gates_stream_stitches(const usi_gate_seams *gates, const usi_streams *streams,
                               usi_stitch *stitches)
{
    for (size_t k = 0; k < gates->side_count; k++) {
        const int32_t *place = streams->supply->contacts.list[gates->sides[k]].place;
        stitches[k] = (usi_stitch){streams->places[place[0]], streams->places[place[1]]};
    }
}

void usi_gates_set_heads(const usi_supply *closed, double *tie)
{
    for (size_t g = 0; g < closed->gate_count; g++) {
        tie[g] = closed->gates[g].open ? HUGE_VAL : 0.0;
    }
}

/* True where no gate of a side is open: as usi_supply_tight(). */
static bool is_shut(const usi_supply *closed, const usi_supply *open, const usi_contact *contact)
{
    for (int end = 0; end < 2; end++) {
        int32_t gate = open->gate_of[contact->unknown[end]];
        if (gate >= 0 && closed->gates[gate].open) {
            return false;
        }
    }
    return true;
}

void usi_gates_set_streams(const usi_gate_seams *gates, const usi_supply *closed,
                           const usi_supply *open, double *tie)
{
    for (size_t k = 0; k < gates->side_count; k++) {
        const usi_contact *contact = &open->contacts.list[gates->sides[k]];
        tie[k] = is_shut(closed, open, contact) ? HUGE_VAL : 0.0;
    }
}

void usi_gates_push(const usi_gate_seams *gates, const usi_heads *heads, const usi_supply *open,
                    const double *values, double *flows)
{
    const usi_supply *closed = heads->supply;
    for (size_t k = 0; k < gates->side_count; k++) {
        const usi_contact *contact = &open->contacts.list[gates->sides[k]];
        double more = 0.0; /* mean head of the side, over what its load has */
        for (int end = 0; end < 2; end++) {
            int32_t gate = open->gate_of[contact->unknown[end]];
            if (gate >= 0 && !closed->gates[gate].open) {
                const usi_gate *shut = &closed->gates[gate];
                more += 0.5 * (values[heads->places[shut->unknown]] - shut->level);
            }
        }
        flows[k] = -more;
    }
}
