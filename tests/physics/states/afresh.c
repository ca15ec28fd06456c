#include "states/afresh.h"

#include "solve/one_way.h"

#include "grid/unknowns.h"
#include "solve/head.h"
#include "solve/stream.h"
#include "solve/supplied.h"

static size_t gates_closed = 0;

static void *copy_of(const void *from, size_t bytes)
{
    void *made = malloc(bytes > 0 ? bytes : 1);
    assert_non_null(made);
    if (bytes > 0) {
        memcpy(made, from, bytes);
    }
    return made;
}

/* A side of a triangle on a segment without wall borders on soil. */
static void open_side(const usi_grid *grid, const usi_segments *segments, const double *pass_m_s,
                      bool tight, usi_triangle *triangle, int side)
{
    usi_point a = usi_grid_place(grid, triangle->place[side]);
    usi_point b = usi_grid_place(grid, triangle->place[(side + 1) % 3]);
    for (size_t k = 0; k < segments->count; k++) {
        const usi_segment *of = &segments->list[k];
        bool here = fabs(a.x_m - grid->section->walls[of->wall].x_m) < 1e-9 && a.x_m == b.x_m &&
                    fmin(a.z_m, b.z_m) == of->low_m && fmax(a.z_m, b.z_m) == of->high_m;
        if (here && (tight ? isinf(pass_m_s[k]) : pass_m_s[k] > 0.0)) {
            triangle->border[side] = USI_BORDER_NONE;
        }
    }
}

usi_grid *afresh_grid(us_context *context, const usi_grid *grid, const usi_segments *segments,
                      const double *pass_m_s, bool tight)
{
    size_t nodes = (grid->columns + 1) * (grid->rows + 1);
    usi_grid *made = copy_of(grid, sizeof *grid);
    made->x_m = copy_of(grid->x_m, (grid->columns + 1) * sizeof(double));
    made->z_m = copy_of(grid->z_m, (grid->rows + 1) * sizeof(double));
    made->soil = copy_of(grid->soil, grid->rows * grid->columns * sizeof *grid->soil);
    made->wall_left = copy_of(grid->wall_left, nodes);
    made->level_side = copy_of(grid->level_side, nodes);
    made->upright_side = copy_of(grid->upright_side, nodes);
    made->extras = copy_of(grid->extras, grid->extra_count * sizeof *grid->extras);
    made->triangles = copy_of(grid->triangles, grid->triangle_count * sizeof *grid->triangles);
    made->first_unknown = copy_of(grid->first_unknown, nodes * sizeof *grid->first_unknown);
    made->corner_share = copy_of(grid->corner_share, nodes);
    made->local_count = 0;
    made->locals = NULL;
    for (size_t k = 0; k < segments->count; k++) {
        const usi_segment *of = &segments->list[k];
        size_t line = usi_grid_x_line(grid, grid->section->walls[of->wall].x_m);
        bool wall = tight ? isfinite(pass_m_s[k]) : pass_m_s[k] <= 0.0;
        made->wall_left[of->row * (grid->columns + 1) + line] = wall ? 1 : 0;
    }
    for (size_t t = 0; t < made->triangle_count; t++) {
        for (int c = 0; c < 3; c++) {
            open_side(made, segments, pass_m_s, tight, &made->triangles[t], c);
        }
    }
    assert_int_equal(usi_unknowns_number(context, made), US_OK);
    return made;
}

/* Unknown on a contact with a wall between two places, at one of them. */
static int32_t unknown_at(const usi_contacts *contacts, const int32_t place[2], int at, bool up)
{
    for (size_t k = 0; k < contacts->count; k++) {
        const usi_contact *of = &contacts->list[k];
        if (of->border == USI_BORDER_WALL && of->place[up ? 0 : 1] == place[0] &&
            of->place[up ? 1 : 0] == place[1]) {
            return of->unknown[(at == 0) == up ? 0 : 1];
        }
    }
    fail_msg("no such contact");
    return -1;
}

/* Leaks through the faces of a wall: half of a piece's conductance at each end. */
static void add_leaks(us_context *context, const usi_grid *grid, const usi_segments *segments,
                      const double *pass_m_s, const usi_head *head, usi_problem *problem)
{
    usi_contacts contacts;
    assert_int_equal(usi_contacts_list(context, grid, &contacts), US_OK);
    for (size_t k = 0; k < segments->count; k++) {
        const usi_segment *of = &segments->list[k];
        if (!(pass_m_s[k] > 0.0) || !isfinite(pass_m_s[k])) {
            continue;
        }
        for (int end = 0; end < 2; end++) {
            int32_t left = unknown_at(&contacts, of->place, end, true);
            int32_t right = unknown_at(&contacts, of->place, end, false);
            usi_problem_link(problem, head->places[left], head->places[right],
                             0.5 * pass_m_s[k] / head->scale_m_s);
        }
    }
    usi_contacts_free(&contacts);
}

static void add_resistances(const usi_segments *segments, const double *pass_m_s,
                            const int32_t *places, double scale_m_s, usi_problem *problem)
{
    for (size_t k = 0; k < segments->count; k++) {
        if (pass_m_s[k] > 0.0 && isfinite(pass_m_s[k])) {
            usi_problem_link(problem, places[segments->list[k].place[0]],
                             places[segments->list[k].place[1]], scale_m_s / pass_m_s[k]);
        }
    }
}

static us_status solve_pair(us_context *context, const usi_grid *tight, const usi_grid *loose,
                            const usi_segments *segments, const double *pass_m_s, usi_field *field)
{
    usi_head head;
    usi_stream stream;
    size_t room = 2 * segments->count;
    assert_int_equal(usi_head_lay(context, tight, room, &head), US_OK);
    add_leaks(context, tight, segments, pass_m_s, &head, &head.problem);
    double *values = malloc((head.free_count + 1) * sizeof *values);
    us_status status = usi_problem_solve(context, &head.problem, values);
    if (status == US_OK) {
        status = usi_head_take(&head, values, NULL, field);
    }
    free(values);
    usi_head_free(&head);
    if (status != US_OK) {
        return status;
    }
    assert_int_equal(usi_stream_lay(context, loose, room, &stream), US_OK);
    assert_false(stream.sealed);
    add_resistances(segments, pass_m_s, stream.places, stream.scale_m_s, &stream.problem);
    values = malloc((stream.free_count + 1) * sizeof *values);
    status = usi_problem_solve(context, &stream.problem, values);
    if (status == US_OK) {
        status = usi_stream_take(context, &stream, values, field);
    }
    free(values);
    usi_stream_free(&stream);
    usi_field_conclude(field);
    return status;
}

static void make_room(usi_problem *problem, size_t room)
{
    problem->link_room = problem->link_count + room;
    problem->links = realloc(problem->links, (problem->link_room + 1) * sizeof(usi_link));
    assert_non_null(problem->links);
}

/* Gates by elimination of their own, then as the stream function has to have them. */
static us_status settle(us_context *context, usi_supply *closed, usi_supply *open, usi_heads *heads)
{
    int rounds = 0;
    heads->problem.gate_count = closed->gate_count;
    us_status status = usi_gated_make(context, &heads->problem, &heads->gated);
    double *values = malloc((usi_heads_count(heads) + 1) * sizeof *values);
    double *flows =
        malloc((closed->situation->terminal_count + closed->gate_count + 1) * sizeof *flows);
    assert_true(values != NULL && flows != NULL);
    if (status == US_OK) {
        status = usi_one_way_settle(closed, heads, values, flows, &rounds);
    }
    free(values);
    free(flows);
    assert_int_equal(closed->gate_count, open->gate_count);
    for (size_t g = 0; g < closed->gate_count; g++) {
        open->gates[g].open = closed->gates[g].open;
        gates_closed += closed->gates[g].open ? 0 : 1;
    }
    return status;
}

/* Sides without walls get the unknowns that they have with them: heads are read by these. */
static void renumber(const usi_supply *closed, usi_supply *open)
{
    for (size_t k = 0; k < open->contacts.count; k++) {
        usi_contact *contact = &open->contacts.list[k];
        for (size_t m = 0; m < closed->contacts.count; m++) {
            const usi_contact *other = &closed->contacts.list[m];
            if (other->place[0] == contact->place[0] && other->place[1] == contact->place[1]) {
                contact->unknown[0] = other->unknown[0];
                contact->unknown[1] = other->unknown[1];
            }
        }
    }
    free(open->gate_of);
    open->gate_of = copy_of(closed->gate_of, closed->grid->unknowns * sizeof *open->gate_of);
}

/* A seam without stitches solves the problem as it is. */
static us_status solve_supplied(us_context *context, const usi_grid *tight, const usi_grid *loose,
                                const usi_segments *segments, const double *pass_m_s,
                                usi_field *field)
{
    usi_supply closed;
    usi_supply open;
    usi_heads heads;
    usi_streams streams;
    size_t room = 2 * segments->count;
    assert_int_equal(usi_supply_make(context, tight, &closed), US_OK);
    assert_int_equal(usi_supply_make(context, loose, &open), US_OK);
    assert_int_equal(usi_heads_lay(&closed, false, &heads), US_OK);
    make_room(&heads.problem, room);
    usi_head as_head = {.scale_m_s = heads.scale_m_s, .places = heads.places};
    add_leaks(context, tight, segments, pass_m_s, &as_head, &heads.problem);
    us_status status = US_OK;
    if (closed.gate_count > 0) {
        status = settle(context, &closed, &open, &heads);
    } else {
        assert_int_equal(usi_heads_sew(&heads, NULL, 0), US_OK);
    }
    assert_int_equal(usi_streams_lay(&open, &streams), US_OK);
    make_room(&streams.problem, room);
    add_resistances(segments, pass_m_s, streams.places, streams.scale_m_s, &streams.problem);
    assert_int_equal(usi_streams_sew(&streams, NULL, 0), US_OK);
    renumber(&closed, &open);
    usi_sewn sewn = {&heads, &streams};
    status = status == US_OK ? usi_supplied_take(context, &sewn, field) : status;
    usi_heads_free(&heads);
    usi_streams_free(&streams);
    usi_supply_free(&closed);
    usi_supply_free(&open);
    return status;
}

size_t afresh_gates_closed(void)
{
    return gates_closed;
}

us_status afresh_solve(us_context *context, const usi_grid *tight, const usi_grid *loose,
                       const usi_segments *segments, const double *pass_m_s, usi_field **field)
{
    usi_field *made = NULL;
    assert_int_equal(usi_field_begin(context, tight, &made), US_OK);
    us_status status = tight->section->situation == NULL
                           ? solve_pair(context, tight, loose, segments, pass_m_s, made)
                           : solve_supplied(context, tight, loose, segments, pass_m_s, made);
    if (status == US_OK) {
        *field = made;
    } else {
        usi_field_free(made);
    }
    return status;
}
