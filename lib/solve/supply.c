#include "solve/supply.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"

double usi_supply_reduced(const usi_situation *situation, double level_m)
{
    return (level_m - situation->datum_m) / situation->scale_m;
}

bool usi_supply_is_free(const usi_terminal *terminal)
{
    return terminal->floating || terminal->series_s_m > 0.0;
}

bool usi_supply_lets_out(const usi_supply *supply, usi_border border)
{
    int terminal = usi_border_terminal(border);
    return border == USI_BORDER_LEFT_DRY || border == USI_BORDER_RIGHT_DRY ||
           (terminal > 1 && supply->situation->terminals[terminal].one_way);
}

static bool make_room(us_context *context, usi_supply *supply)
{
    size_t terminals = supply->situation->terminal_count;
    supply->heads = usi_memory_array(context, terminals, sizeof *supply->heads);
    supply->touched = usi_memory_array(context, terminals, sizeof *supply->touched);
    supply->clashes = usi_memory_array(context, terminals, sizeof *supply->clashes);
    supply->owner = usi_memory_array(context, supply->grid->unknowns, sizeof *supply->owner);
    supply->gate_of = usi_memory_array(context, supply->grid->unknowns, sizeof *supply->gate_of);
    supply->gates = usi_memory_array(context, 2 * supply->contacts.count, sizeof *supply->gates);
    return supply->heads != NULL && supply->touched != NULL && supply->clashes != NULL &&
           supply->owner != NULL && supply->gate_of != NULL && supply->gates != NULL;
}

/* True of two terminals whose faces have different heads, both given. */
static bool held_apart(const usi_supply *supply, size_t one, size_t other)
{
    const usi_terminal *terminals = supply->situation->terminals;
    return !usi_supply_is_free(&terminals[one]) && !usi_supply_is_free(&terminals[other]) &&
           supply->heads[one] != supply->heads[other];
}

/* Where two terminals meet the one of higher index has the node, but the waters before
 * all: what is under them stays so. */
static void own(usi_supply *supply, const usi_contact *contact)
{
    int terminal = usi_border_terminal(contact->border);
    if (terminal < 0 || usi_supply_lets_out(supply, contact->border)) {
        return;
    }
    const usi_terminal *of = &supply->situation->terminals[terminal];
    supply->touched[terminal] = true;
    for (int end = 0; end < 2 && of->resistance_s == 0.0; end++) {
        int32_t *owner = &supply->owner[contact->unknown[end]];
        bool water = *owner == 0 || *owner == 1;
        if (*owner >= 0 && held_apart(supply, (size_t)*owner, (size_t)terminal)) {
            supply->clashes[*owner] = true;
            supply->clashes[terminal] = true;
        }
        if (terminal <= 1 || (!water && *owner < terminal)) {
            *owner = terminal;
        }
    }
}

/* As it was at the nearest place of an earlier grid; open where there was none. */
static bool begins_open(const usi_situation *situation, usi_point at)
{
    double nearest_m = HUGE_VAL;
    bool open = true;
    for (size_t k = 0; k < situation->seed_count; k++) {
        const usi_seed *seed = &situation->seeds[k];
        double off_m = hypot(seed->at.x_m - at.x_m, seed->at.z_m - at.z_m);
        open = off_m < nearest_m ? seed->open : open;
        nearest_m = fmin(nearest_m, off_m);
    }
    return open;
}

static void add_gates(usi_supply *supply, const usi_contact *contact)
{
    if (!usi_supply_lets_out(supply, contact->border)) {
        return;
    }
    int terminal = usi_border_terminal(contact->border);
    for (int end = 0; end < 2; end++) {
        int32_t unknown = contact->unknown[end];
        if (supply->owner[unknown] >= 0 || supply->gate_of[unknown] >= 0) {
            continue;
        }
        usi_point at = usi_grid_place(supply->grid, contact->place[end]);
        double level_m = terminal >= 0 ? supply->situation->terminals[terminal].head_m : at.z_m;
        supply->gate_of[unknown] = (int32_t)supply->gate_count;
        supply->gates[supply->gate_count++] =
            (usi_gate){unknown, contact->border, at, usi_supply_reduced(supply->situation, level_m),
                       begins_open(supply->situation, at)};
        if (terminal >= 0) {
            supply->touched[terminal] = true;
        }
    }
}

us_status usi_supply_make(us_context *context, const usi_grid *grid, usi_supply *supply)
{
    *supply = (usi_supply){.context = context, .grid = grid, .situation = grid->section->situation};
    us_status status = usi_contacts_list(context, grid, &supply->contacts);
    if (status == US_OK) {
        status = usi_passages_find(context, grid, &supply->passages);
    }
    if (status != US_OK) {
        return status;
    }
    if (!make_room(context, supply)) {
        return US_ERROR_MEMORY;
    }
    for (size_t t = 0; t < supply->situation->terminal_count; t++) {
        const usi_terminal *terminal = &supply->situation->terminals[t];
        supply->heads[t] =
            terminal->floating ? 0.0 : usi_supply_reduced(supply->situation, terminal->head_m);
    }
    for (size_t u = 0; u < grid->unknowns; u++) {
        supply->owner[u] = -1;
        supply->gate_of[u] = -1;
    }
    for (size_t k = 0; k < supply->contacts.count; k++) {
        own(supply, &supply->contacts.list[k]);
    }
    for (size_t k = 0; k < supply->contacts.count; k++) {
        add_gates(supply, &supply->contacts.list[k]);
    }
    return US_OK;
}

void usi_supply_free(usi_supply *supply)
{
    usi_contacts_free(&supply->contacts);
    usi_passages_free(&supply->passages);
    free(supply->heads);
    free(supply->touched);
    free(supply->clashes);
    free(supply->owner);
    free(supply->gate_of);
    free(supply->gates);
    *supply = (usi_supply){0};
}

bool usi_supply_tight(const usi_supply *supply, const usi_contact *contact)
{
    if (!usi_supply_lets_out(supply, contact->border)) {
        return usi_border_tight(contact->border) &&
               !(contact->border == USI_BORDER_WALL &&
                 usi_passages_open(&supply->passages, contact->place[0], contact->place[1]));
    }
    /* Beside the water line a closed gate closes the side: water under the line is no gate. */
    bool gates = false;
    for (int end = 0; end < 2; end++) {
        int32_t gate = supply->gate_of[contact->unknown[end]];
        if (gate >= 0 && supply->gates[gate].open) {
            return false;
        }
        gates = gates || gate >= 0;
    }
    return gates;
}
