#include "solve/passages.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "model/panes.h"
#include "solve/contact.h"

/* What passages are found with. */
typedef struct finder {
    const usi_grid *grid;
    const usi_contacts *contacts;
    usi_passages *found;
    int32_t *across; /* of each place: 1 plus the contact of a right face whose upper end it is */
    int32_t strip;   /* the one that is being filled; -1 between two */
} finder;

static bool any_passes(const us_section *section)
{
    for (size_t w = 0; w < section->wall_count; w++) {
        if (usi_panes_pass(&section->walls[w])) {
            return true;
        }
    }
    return false;
}

/* The pane that a level lies on; NULL for none. */
static const usi_pane *pane_at(const usi_wall *wall, double z_m)
{
    for (size_t p = 0; p < wall->pane_count; p++) {
        if (z_m > wall->panes[p].low_m && z_m < wall->panes[p].high_m) {
            return &wall->panes[p];
        }
    }
    /* The lowest goes on where an open contact is sealed. */
    bool contact = wall->open_contact && z_m < wall->solved_tip_m && z_m > wall->base_m;
    return contact ? &wall->panes[wall->pane_count - 1] : NULL;
}

static void add_crossing(finder *of, const usi_wall *wall, const usi_contact *left,
                         const usi_contact *right)
{
    const us_section *section = of->grid->section;
    usi_point a = usi_grid_place(of->grid, left->place[0]);
    usi_point b = usi_grid_place(of->grid, left->place[1]);
    usi_point middle = {wall->x_m, 0.5 * (a.z_m + b.z_m)};
    const usi_soil *before = &section->soils[usi_section_soil_at(section, middle, false, false)];
    const usi_soil *behind = &section->soils[usi_section_soil_at(section, middle, true, false)];
    of->found->crossings[of->found->crossing_count++] = (usi_crossing){
        {left->unknown[0], left->unknown[1]},
        {right->unknown[1], right->unknown[0]},
        {left->place[0], left->place[1]},
        usi_interlock_conductance(&wall->interlock, before, behind) * (b.z_m - a.z_m)};
}

/* Sides come from below. */
static void add_strip_side(finder *of, const usi_pane *pane, const usi_contact *left,
                           const usi_contact *right)
{
    usi_passages *found = of->found;
    if (of->strip < 0) {
        of->strip = (int32_t)found->strip_count++;
        found->strips[of->strip] = (usi_strip){{left->place[0], left->place[1]}, pane->series_s_m};
    }
    found->strips[of->strip].place[1] = left->place[1];
    int32_t behind = 2 * of->strip + (pane->series_s_m > 0.0 ? 1 : 0);
    for (int end = 0; end < 2; end++) {
        found->face[left->unknown[end]] = 2 * of->strip;
        found->face[right->unknown[end]] = behind;
    }
}

/* A side of wall with soil on its left, if the same side has soil on its right. */
static void add_side(finder *of, const usi_wall *wall, const usi_contact *left)
{
    usi_point a = usi_grid_place(of->grid, left->place[0]);
    usi_point b = usi_grid_place(of->grid, left->place[1]);
    const usi_pane *pane = pane_at(wall, 0.5 * (a.z_m + b.z_m));
    int32_t index = of->across[left->place[1]] - 1;
    const usi_contact *right = index >= 0 ? &of->contacts->list[index] : NULL;
    bool matched = right != NULL && right->place[1] == left->place[0];
    bool strip = pane != NULL && pane->kind == USI_PANE_STRIP;
    if (!strip || !matched) {
        of->strip = -1;
    }
    if (pane == NULL || pane->kind == USI_PANE_TIGHT || !matched) {
        return;
    }
    of->found->next[left->place[0]] = left->place[1];
    if (strip) {
        add_strip_side(of, pane, left, right);
    } else {
        add_crossing(of, wall, left, right);
    }
}

/* A contact with wall that is walked upwards has its soil on the left. */
static bool is_left_face(const usi_grid *grid, const usi_contact *contact)
{
    return contact->border == USI_BORDER_WALL && usi_grid_place(grid, contact->place[1]).z_m >
                                                     usi_grid_place(grid, contact->place[0]).z_m;
}

typedef struct left_face {
    const usi_contact *contact;
    double z_m;
} left_face;

static int by_level(const void *a, const void *b)
{
    const left_face *x = a;
    const left_face *y = b;
    return (x->z_m > y->z_m) - (x->z_m < y->z_m);
}

/* The walls at one x, sides from below. */
static void add_line(finder *of, left_face *faces, size_t count)
{
    const us_section *section = of->grid->section;
    qsort(faces, count, sizeof *faces, by_level);
    for (size_t w = 0; w < section->wall_count; w++) {
        const usi_wall *wall = &section->walls[w];
        of->strip = -1;
        for (size_t k = 0; k < count && usi_panes_pass(wall); k++) {
            double x_m = usi_grid_place(of->grid, faces[k].contact->place[0]).x_m;
            if (fabs(x_m - wall->x_m) <= usi_section_tolerance(section)) {
                add_side(of, wall, faces[k].contact);
            }
        }
    }
}

static us_status find_sides(us_context *context, finder *of)
{
    left_face *faces = usi_memory_array(context, of->contacts->count, sizeof *faces);
    if (faces == NULL) {
        return US_ERROR_MEMORY;
    }
    size_t count = 0;
    for (size_t k = 0; k < of->contacts->count; k++) {
        const usi_contact *contact = &of->contacts->list[k];
        if (is_left_face(of->grid, contact)) {
            faces[count++] = (left_face){contact, usi_grid_place(of->grid, contact->place[0]).z_m};
        } else if (contact->border == USI_BORDER_WALL) {
            of->across[contact->place[0]] = (int32_t)k + 1;
        }
    }
    add_line(of, faces, count);
    free(faces);
    return US_OK;
}

static bool make_room(us_context *context, const usi_grid *grid, size_t sides,
                      usi_passages *passages)
{
    size_t strips = 0;
    for (size_t w = 0; w < grid->section->wall_count; w++) {
        strips += grid->section->walls[w].pane_count;
    }
    passages->unknowns = grid->unknowns;
    passages->places = usi_grid_place_count(grid);
    passages->crossings = usi_memory_array(context, sides, sizeof *passages->crossings);
    passages->strips = usi_memory_array(context, strips, sizeof *passages->strips);
    passages->face = usi_memory_array(context, passages->unknowns, sizeof *passages->face);
    passages->next = usi_memory_array(context, passages->places, sizeof *passages->next);
    if (passages->crossings == NULL || passages->strips == NULL || passages->face == NULL ||
        passages->next == NULL) {
        return false;
    }
    for (size_t u = 0; u < passages->unknowns; u++) {
        passages->face[u] = -1;
    }
    for (size_t n = 0; n < passages->places; n++) {
        passages->next[n] = -1;
    }
    return true;
}

us_status usi_passages_find(us_context *context, const usi_grid *grid, usi_passages *passages)
{
    *passages = (usi_passages){0};
    if (!any_passes(grid->section)) {
        return US_OK;
    }
    usi_contacts contacts;
    us_status status = usi_contacts_list(context, grid, &contacts);
    finder of = {.grid = grid, .contacts = &contacts, .found = passages, .strip = -1};
    if (status == US_OK) {
        of.across = usi_memory_array(context, usi_grid_place_count(grid), sizeof *of.across);
        bool done = of.across != NULL && make_room(context, grid, contacts.count, passages);
        status = done ? find_sides(context, &of) : US_ERROR_MEMORY;
    }
    free(of.across);
    usi_contacts_free(&contacts);
    return status;
}

void usi_passages_free(usi_passages *passages)
{
    free(passages->crossings);
    free(passages->strips);
    free(passages->face);
    free(passages->next);
    *passages = (usi_passages){0};
}

bool usi_passages_open(const usi_passages *passages, int32_t a, int32_t b)
{
    return passages->next != NULL && (passages->next[a] == b || passages->next[b] == a);
}

size_t usi_passages_count(const usi_passages *passages)
{
    return 2 * passages->crossing_count + passages->strip_count;
}

/* The place of each face of the strips; USI_PLACE_NONE where it has none. */
static int32_t face_place(const usi_passages *passages, const int32_t *places, int32_t face)
{
    for (size_t u = 0; u < passages->unknowns; u++) {
        if (passages->face[u] == face) {
            return places[u];
        }
    }
    return USI_PLACE_NONE;
}

void usi_passages_add_heads(const usi_passages *passages, const int32_t *places, double scale_m_s,
                            usi_problem *problem)
{
    for (size_t k = 0; k < passages->crossing_count; k++) {
        const usi_crossing *crossing = &passages->crossings[k];
        /* Half at each end: more than linear drops would pass, so a bound stays one. */
        for (int end = 0; end < 2; end++) {
            usi_problem_link(problem, places[crossing->left[end]], places[crossing->right[end]],
                             0.5 * crossing->conductance_m_s / scale_m_s);
        }
    }
    for (size_t s = 0; s < passages->strip_count; s++) {
        if (passages->strips[s].series_s_m > 0.0) {
            usi_problem_link(problem, face_place(passages, places, 2 * (int32_t)s),
                             face_place(passages, places, 2 * (int32_t)s + 1),
                             1.0 / (passages->strips[s].series_s_m * scale_m_s));
        }
    }
}

void usi_passages_add_streams(const usi_passages *passages, const int32_t *places, double scale_m_s,
                              usi_problem *problem)
{
    for (size_t k = 0; k < passages->crossing_count; k++) {
        const usi_crossing *crossing = &passages->crossings[k];
        usi_problem_link(problem, places[crossing->place[0]], places[crossing->place[1]],
                         scale_m_s / crossing->conductance_m_s);
    }
    for (size_t s = 0; s < passages->strip_count; s++) {
        const usi_strip *strip = &passages->strips[s];
        if (strip->series_s_m > 0.0) {
            usi_problem_link(problem, places[strip->place[0]], places[strip->place[1]],
                             strip->series_s_m * scale_m_s);
        }
    }
}

double usi_passages_product(const usi_problem *problem, size_t first, const double *one,
                            const double *other)
{
    double sum = 0.0;
    for (size_t k = first; k < problem->link_count; k++) {
        const usi_link *link = &problem->links[k];
        sum += link->conductance *
               (usi_problem_value(one, link->a) - usi_problem_value(one, link->b)) *
               (usi_problem_value(other, link->a) - usi_problem_value(other, link->b));
    }
    return sum;
}
