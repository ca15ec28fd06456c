#include "solve/split.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"

/* Of the length of bed that a point is told by. */
static const double DOUBT_SHARE = 0.5;

/* What is shorter, in gates, is no place to draw a grid to. */
enum { RUN_LEAST = 3 };

/* Contacts of dry bed by the gates at their ends. */
typedef struct chains {
    const usi_supply *supply;
    const double *reduced;
    int32_t *contacts; /* two a gate: -1 for none */
} chains;

static bool is_dry(const usi_contact *contact)
{
    return contact->border == USI_BORDER_LEFT_DRY || contact->border == USI_BORDER_RIGHT_DRY;
}

static us_status link(chains *of)
{
    const usi_supply *supply = of->supply;
    of->contacts =
        usi_memory_array(supply->context, 2 * supply->gate_count + 1, sizeof *of->contacts);
    if (of->contacts == NULL) {
        return US_ERROR_MEMORY;
    }
    for (size_t k = 0; k < 2 * supply->gate_count; k++) {
        of->contacts[k] = -1;
    }
    for (size_t k = 0; k < supply->contacts.count; k++) {
        const usi_contact *contact = &supply->contacts.list[k];
        for (int end = 0; is_dry(contact) && end < 2; end++) {
            int32_t gate = supply->gate_of[contact->unknown[end]];
            if (gate >= 0) {
                int32_t *slots = of->contacts + 2 * (size_t)gate;
                slots[slots[0] < 0 ? 0 : 1] = (int32_t)k;
            }
        }
    }
    return US_OK;
}

static double length_of(const chains *of, int32_t contact)
{
    return contact < 0 ? 0.0
                       : usi_contact_length(of->supply->grid, &of->supply->contacts.list[contact]);
}

/* The contact on the other side of a gate, -1 for none. */
static int32_t beyond(const chains *of, int32_t gate, int32_t contact)
{
    const int32_t *slots = of->contacts + 2 * (size_t)gate;
    return slots[0] == contact ? slots[1] : slots[0];
}

/* The gate at the other end of a contact, -1 where that is none or open. */
static int32_t next_closed(const chains *of, int32_t gate, int32_t contact)
{
    if (contact < 0) {
        return -1;
    }
    const usi_contact *between = &of->supply->contacts.list[contact];
    bool first = of->supply->gate_of[between->unknown[0]] == gate;
    int32_t next = of->supply->gate_of[between->unknown[first ? 1 : 0]];
    return next >= 0 && !of->supply->gates[next].open ? next : -1;
}

/* What falls to zero in a straight line: how far head lies below the bed, to 2/3. */
static double depth_below(const chains *of, int32_t gate)
{
    const usi_gate *at = &of->supply->gates[gate];
    double below = fmax(at->level - of->reduced[at->unknown], 0.0);
    return cbrt(below * below);
}

/* How much of a contact is closed, from its closed gate towards the open end; below 0 where
 * water comes out beyond the gate. `*span_m` is the length of bed that this is told by. */
static double reach_closed(const chains *of, int32_t gate, int32_t contact, double *span_m)
{
    double length_m = length_of(of, contact);
    *span_m = length_m;
    int32_t back = beyond(of, gate, contact);
    int32_t second = next_closed(of, gate, back);
    int32_t third = second >= 0 ? next_closed(of, second, beyond(of, second, back)) : -1;
    if (third < 0) {
        return 0.5 * length_m;
    }
    double near = depth_below(of, second);
    double far = depth_below(of, third);
    double step_m = length_of(of, beyond(of, second, back));
    if (far <= near) {
        return 0.5 * length_m;
    }
    double back_m = length_of(of, back);
    *span_m = length_m + back_m + step_m;
    double from_gate_m = step_m * near / (far - near) - back_m;
    return fmin(fmax(from_gate_m, -0.5 * back_m), length_m);
}

static void add_point(const usi_supply *supply, const usi_contact *contact, int open,
                      double beyond_m, usi_splits *splits)
{
    usi_point a = usi_grid_place(supply->grid, contact->place[open]);
    usi_point b = usi_grid_place(supply->grid, contact->place[1 - open]);
    double share = fmin(fmax(beyond_m, 0.0), usi_contact_length(supply->grid, contact)) /
                   usi_contact_length(supply->grid, contact);
    splits->points[splits->count++] =
        (usi_point){a.x_m + share * (b.x_m - a.x_m), a.z_m + share * (b.z_m - a.z_m)};
}

/* Gates in a row that are as open as this one, going away from a contact, up to RUN_LEAST;
 * what ends at water or at the works is long enough. */
static int run_from(const chains *of, int32_t gate, int32_t contact)
{
    const usi_supply *supply = of->supply;
    int count = 1;
    while (count < RUN_LEAST) {
        contact = beyond(of, gate, contact);
        if (contact < 0) {
            return RUN_LEAST;
        }
        const usi_contact *next = &supply->contacts.list[contact];
        bool first = supply->gate_of[next->unknown[0]] == gate;
        int32_t other = supply->gate_of[next->unknown[first ? 1 : 0]];
        if (other < 0) {
            return RUN_LEAST;
        }
        if (supply->gates[other].open != supply->gates[gate].open) {
            return count;
        }
        gate = other;
        count++;
    }
    return count;
}

static void measure(const chains *of, size_t k, usi_splits *splits)
{
    const usi_supply *supply = of->supply;
    const usi_contact *contact = &supply->contacts.list[k];
    double length_m = usi_contact_length(supply->grid, contact);
    bool pass[2];
    for (int end = 0; end < 2; end++) {
        int32_t gate = supply->gate_of[contact->unknown[end]];
        pass[end] = gate < 0 || supply->gates[gate].open;
    }
    double open_m = 0.0;
    if (pass[0] && pass[1]) {
        open_m = length_m;
    } else if (pass[0] || pass[1]) {
        int end = pass[0] ? 0 : 1;
        bool water = supply->gate_of[contact->unknown[end]] < 0;
        int32_t gate = supply->gate_of[contact->unknown[1 - end]];
        double span_m = 0.0;
        open_m = water ? 0.0 : length_m - reach_closed(of, gate, (int32_t)k, &span_m);
        int32_t opened = supply->gate_of[contact->unknown[end]];
        if (!water && run_from(of, opened, (int32_t)k) == RUN_LEAST &&
            run_from(of, gate, (int32_t)k) == RUN_LEAST) {
            add_point(supply, contact, end, open_m, splits);
        }
        splits->doubt_m += DOUBT_SHARE * span_m;
    }
    splits->open_m += open_m;
    splits->closed_m += length_m - open_m;
}

us_status usi_splits_find(const usi_supply *supply, const double *reduced, usi_splits *splits)
{
    chains of = {.supply = supply, .reduced = reduced};
    *splits = (usi_splits){0};
    us_status status = link(&of);
    if (status == US_OK) {
        splits->points =
            usi_memory_array(supply->context, supply->contacts.count + 1, sizeof *splits->points);
        status = splits->points != NULL ? US_OK : US_ERROR_MEMORY;
    }
    for (size_t k = 0; status == US_OK && k < supply->contacts.count; k++) {
        if (is_dry(&supply->contacts.list[k])) {
            measure(&of, k, splits);
        }
    }
    free(of.contacts);
    return status;
}
