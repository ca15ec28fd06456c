/* Water below the base and behind the sides; leaks and voids of the underside. */
#include <stdlib.h>

#include "model/check.h"

static void check_base(usi_check *check)
{
    const usi_raw_base *raw = &check->raw->base;
    bool thick = raw->thickness.at.line > 0;
    bool tight = raw->kv.at.line > 0;
    if (thick != tight) {
        usi_check_error(check, thick ? &raw->thickness.at : &raw->kv.at,
                        "give both, or neither: then the base itself has that head",
                        "a leaky layer needs its `thickness` and its `kv`");
    } else if (thick && raw->head.at.line == 0) {
        usi_check_error(check, &raw->thickness.at, "give the `head` below the base",
                        "a leaky layer leaks only where water stands behind it");
    }
}

static void check_side(usi_check *check, const usi_raw_side *raw)
{
    if (raw->head.given && raw->kind.given && raw->kind.index == 0) {
        usi_check_error(check, &raw->head.at, "leave `head` out, or set `kind: fixed_head`",
                        "a closed side has no head of its own");
    }
}

static int by_place(const void *a, const void *b)
{
    const usi_stretch *first = a;
    const usi_stretch *second = b;
    return (first->from_m > second->from_m) - (first->from_m < second->from_m);
}

bool usi_check_stretch(usi_check *check, const usi_raw_stretch *raw, const usi_stretch *stretch)
{
    if (stretch->from_m >= stretch->to_m) {
        usi_check_error(check, &raw->mark, "give the smaller x first",
                        "the stretch from x = %s to x = %s has no length",
                        usi_words_length(check->section, stretch->from_m).text,
                        usi_words_length(check->section, stretch->to_m).text);
        return false;
    }
    return true;
}

/* Stretches of the underside lie within the structure. */
static bool check_stretches(usi_check *check, const usi_raw_stretches *raw,
                            const usi_stretch *stretches, size_t count)
{
    const us_section *section = check->section;
    bool sound = raw->at.line == 0 || raw->given;
    for (size_t i = 0; i < count; i++) {
        bool good = usi_check_stretch(check, &raw->items[i], &stretches[i]);
        bool beyond =
            stretches[i].from_m < section->left_end_m || stretches[i].to_m > section->right_end_m;
        if (good && check->ended && beyond) {
            usi_check_error(check, &raw->items[i].mark, "end it within the structure",
                            "the stretch reaches beyond the underside, which goes from x = %s to "
                            "x = %s",
                            usi_words_length(section, section->left_end_m).text,
                            usi_words_length(section, section->right_end_m).text);
        }
        sound = sound && good && !beyond;
    }
    return sound;
}

/* A void joins the heads along it: past a cut-off it would undo that. */
static void check_voids(usi_check *check)
{
    const us_section *section = check->section;
    const usi_raw_stretches *raw = &check->raw->structure.contact_lost;
    for (size_t i = 0; i < section->void_count; i++) {
        const usi_stretch *hollow = &section->voids[i];
        for (size_t k = 0; k < section->wall_count; k++) {
            const usi_wall *wall = &section->walls[k];
            bool past = wall->x_m > hollow->from_m && wall->x_m < hollow->to_m;
            if (past && usi_check_parts(section, wall->x_m,
                                        usi_section_surface(section, wall->x_m, false))) {
                usi_check_error(check, &raw->items[i].mark,
                                "give a stretch for each side of the wall",
                                "the void runs past the wall `%s` at x = %s, which parts it",
                                wall->name, usi_words_length(section, wall->x_m).text);
                break;
            }
        }
    }
}

bool usi_check_parts(const us_section *section, double x_m, double level_m)
{
    for (size_t i = 0; i < section->wall_count; i++) {
        const usi_wall *wall = &section->walls[i];
        if (wall->x_m == x_m && wall->top_m >= level_m && wall->tip_m < level_m) {
            return true;
        }
    }
    return false;
}

void usi_check_edges(usi_check *check)
{
    us_section *section = check->section;
    check_base(check);
    check_side(check, &check->raw->sides.left);
    check_side(check, &check->raw->sides.right);
    const usi_raw_structure *raw = &check->raw->structure;
    bool permeable =
        check_stretches(check, &raw->permeable, section->permeable, section->permeable_count);
    bool hollow = check_stretches(check, &raw->contact_lost, section->voids, section->void_count);
    check->leaking = permeable && hollow && check->ended;
    if (check->leaking && check->walled) {
        check_voids(check);
    }
}

void usi_stretches_sort(usi_stretch *stretches, size_t count)
{
    if (count > 1) {
        qsort(stretches, count, sizeof *stretches, by_place);
    }
}
