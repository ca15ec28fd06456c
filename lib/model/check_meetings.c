/* What lies along the line between structure and soil: leaks, voids and drains may
 * not overlap, nor touch each other or a bed where their heads differ. */
#include <stdlib.h>

#include "base/memory.h"
#include "model/check.h"
#include "model/contact.h"

static const double SLACK = 1e-6; /* of the section's size, as in check_drains.c */

typedef enum holder_kind { HOLDER_LEAK, HOLDER_VOID, HOLDER_DRAIN } holder_kind;

/* One that holds a stretch of the line. */
typedef struct holder {
    holder_kind kind;
    double from_m; /* along the line */
    double to_m;
    usi_point first;
    usi_point last;
    const usi_mark *mark;
    const usi_drain *drain; /* of a drain */
} holder;

typedef struct holding {
    usi_check *check;
    usi_contact contact;
    size_t count;
    holder *holders;
} holding;

static int by_place(const void *a, const void *b)
{
    const holder *first = a;
    const holder *second = b;
    return (first->from_m > second->from_m) - (first->from_m < second->from_m);
}

static void add_stretches(holding *of, holder_kind kind, const usi_stretch *stretches,
                          const usi_raw_stretches *raw, size_t count)
{
    const us_section *section = of->check->section;
    for (size_t i = 0; i < count; i++) {
        double from_m = stretches[i].from_m;
        double to_m = stretches[i].to_m;
        of->holders[of->count++] =
            (holder){kind,
                     usi_contact_at(&of->contact, from_m, true),
                     usi_contact_at(&of->contact, to_m, false),
                     {from_m, usi_line_level(&section->underside, from_m, true)},
                     {to_m, usi_line_level(&section->underside, to_m, false)},
                     &raw->items[i].mark,
                     NULL};
    }
}

static void add_drains(holding *of)
{
    const us_section *section = of->check->section;
    const usi_raw_drain *raw = of->check->raw->drains.items;
    double slack_m = SLACK * usi_section_size(section);
    for (size_t i = 0; i < section->drain_count; i++) {
        const usi_drain *drain = &section->drains[i];
        size_t piece = usi_contact_piece(&of->contact, drain->from, drain->to, slack_m);
        if (drain->inside || piece >= of->contact.count) {
            continue; /* in the soil, or laid bare */
        }
        double a_m = usi_contact_along(&of->contact, piece, drain->from);
        double b_m = usi_contact_along(&of->contact, piece, drain->to);
        double half_m = drain->weeps ? 0.5 * drain->diameter_m : 0.0;
        bool forth = a_m <= b_m;
        of->holders[of->count++] = (holder){HOLDER_DRAIN,
                                            (forth ? a_m : b_m) - half_m,
                                            (forth ? b_m : a_m) + half_m,
                                            forth ? drain->from : drain->to,
                                            forth ? drain->to : drain->from,
                                            drain->weeps ? &raw[i].point.mark : &raw[i].from.mark,
                                            drain};
    }
}

static const char *kind_name(holder_kind kind)
{
    static const char *const names[] = {
        [HOLDER_LEAK] = "permeable stretch",
        [HOLDER_VOID] = "stretch without contact",
        [HOLDER_DRAIN] = "drain",
    };
    return names[kind];
}

static void check_pair(holding *of, const holder *one, const holder *next)
{
    usi_check *check = of->check;
    const us_section *section = check->section;
    bool drained = one->kind == HOLDER_DRAIN || next->kind == HOLDER_DRAIN;
    bool hollow = one->kind == HOLDER_VOID || next->kind == HOLDER_VOID;
    if (next->from_m < one->to_m - check->tolerance_m) {
        usi_check_error(check, next->mark,
                        drained && hollow ? "end the void beside the drain, or leave the drain out"
                                          : "end one where the other begins",
                        "this %s overlaps the %s before it, at x = %s", kind_name(next->kind),
                        kind_name(one->kind), usi_words_length(section, next->first.x_m).text);
        return;
    }
    bool touch = next->from_m <= one->to_m + check->tolerance_m;
    bool leaks = one->kind == HOLDER_LEAK && next->kind == HOLDER_LEAK;
    if (touch && !leaks && !usi_check_parts(section, next->first.x_m, next->first.z_m)) {
        usi_check_error(check, next->mark, "leave a gap between them, or make them one",
                        "this %s touches the %s before it, at x = %s: flow between two heads that "
                        "touch has no limit",
                        kind_name(next->kind), kind_name(one->kind),
                        usi_words_length(section, next->first.x_m).text);
    }
}

/* A drain that is shut in the case whose bed reaches it: no flow without limit then. */
static bool is_shut(const usi_check *check, const usi_drain *drain)
{
    const bool *shut = check->own->water->shut;
    return shut != NULL ? shut[drain - check->section->drains] : drain->shut;
}

/* What reaches a bed, or a side in its place: at the downstream one the heads may be the
 * same, and what clogs a drain keeps heads apart. */
static void check_end(holding *of, const holder *one, bool left)
{
    usi_check *check = of->check;
    const us_section *section = check->section;
    bool upstream = left != section->flows_left;
    usi_point at = left ? one->first : one->last;
    bool touches =
        left ? one->from_m <= check->tolerance_m
             : one->to_m >= of->contact.along_m[of->contact.count - 1] - check->tolerance_m;
    bool same = !upstream &&
                (one->kind == HOLDER_LEAK || (one->kind == HOLDER_DRAIN && one->drain->tailwater));
    bool clogged = one->kind == HOLDER_DRAIN && one->drain->clogging_s > 0.0;
    if (!touches || same || clogged || usi_check_parts(section, at.x_m, at.z_m)) {
        return;
    }
    if (check->own != NULL && one->kind == HOLDER_DRAIN && is_shut(check, one->drain)) {
        return;
    }
    if (check->own != NULL) {
        usi_check_undermine(check, "the bed lays a %s open at x = %s.", kind_name(one->kind),
                            usi_words_length(section, at.x_m).text);
    } else {
        usi_check_error(check, one->mark, "end it short of the bed",
                        "this %s reaches the %s bed at x = %s: flow between two heads that touch "
                        "has no limit",
                        kind_name(one->kind), upstream ? "upstream" : "downstream",
                        usi_words_length(section, at.x_m).text);
    }
}

static void check_all(holding *of)
{
    if (of->count > 1) {
        qsort(of->holders, of->count, sizeof *of->holders, by_place);
    }
    for (size_t i = 0; i < of->count; i++) {
        if (i > 0) {
            check_pair(of, &of->holders[i - 1], &of->holders[i]);
        }
    }
    if (of->count > 0) {
        check_end(of, &of->holders[0], true);
        check_end(of, &of->holders[of->count - 1], false);
    }
}

void usi_check_meetings(usi_check *check)
{
    us_section *section = check->section;
    if (!check->ended || !check->walled || !check->leaking || !check->drained || check->failed ||
        !section->has_structure) {
        return;
    }
    holding of = {.check = check};
    size_t room = section->permeable_count + section->void_count + section->drain_count;
    of.holders = usi_memory_array(check->context, room, sizeof *of.holders);
    if (of.holders == NULL || usi_contact_make(check->context, section, &of.contact) != US_OK) {
        check->failed = true;
    } else {
        add_stretches(&of, HOLDER_LEAK, section->permeable, &check->raw->structure.permeable,
                      section->permeable_count);
        add_stretches(&of, HOLDER_VOID, section->voids, &check->raw->structure.contact_lost,
                      section->void_count);
        add_drains(&of);
        check_all(&of);
    }
    usi_contact_clear(&of.contact);
    free(of.holders);
    usi_stretches_sort(section->permeable, section->permeable_count);
    usi_stretches_sort(section->voids, section->void_count);
}
