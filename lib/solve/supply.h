/* What holds the heads of one grid where a situation acts: terminals, and gates, which
 * are nodes of dry bed. */
#ifndef USI_SOLVE_SUPPLY_H
#define USI_SOLVE_SUPPLY_H

#include "model/situation.h"
#include "solve/contact.h"
#include "solve/passages.h"

/* A node that lets water out, and none in. */
typedef struct usi_gate {
    int32_t unknown;
    usi_border border;
    usi_point at;
    double level; /* reduced head at which water comes out */
    bool open;
} usi_gate;

typedef struct usi_supply {
    us_context *context;
    const usi_grid *grid;
    const usi_situation *situation;
    usi_contacts contacts;
    usi_passages passages;
    double *heads;    /* of each terminal, reduced; 0 of one that floats */
    bool *touched;    /* one a terminal: whether it has contact with soil */
    bool *clashes;    /* one a terminal: it touches one of another head, and without limit flows
                         from the one to the other where they do */
    int32_t *owner;   /* of each unknown: the terminal whose head it has, -1 for none */
    int32_t *gate_of; /* of each unknown: its gate, -1 for none */
    size_t gate_count;
    usi_gate *gates;
} usi_supply;

/* `grid->section->situation` is not NULL. Free with usi_supply_free(), also after
 * US_ERROR_MEMORY. */
us_status usi_supply_make(us_context *context, const usi_grid *grid, usi_supply *supply);
void usi_supply_free(usi_supply *supply);

/* A level as a reduced head. */
double usi_supply_reduced(const usi_situation *situation, double level_m);

/* True where a terminal's face has one head that is not given: a void, or weeps, beyond
 * which the water loses head on its way. */
bool usi_supply_is_free(const usi_terminal *terminal);

/* True of dry bed, and of what else lets water out only. */
bool usi_supply_lets_out(const usi_supply *supply, usi_border border);

/* True where no water passes a contact: tight borders, and sides between closed gates. */
bool usi_supply_tight(const usi_supply *supply, const usi_contact *contact);

#endif
