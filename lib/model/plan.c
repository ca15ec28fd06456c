#include "model/plan.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "model/plan_mark.h"
#include "model/survey.h"

/* A vertex on its way into the plan. */
typedef struct joint {
    usi_point at;
    bool stands;    /* a corner, an end of a wall, or where more than two things meet */
    size_t walls;   /* pieces of walls that end here, with soil beside them */
    size_t degree;  /* edges that end here */
    size_t ends[2]; /* the first two of them */
    int number;     /* in the plan; -1 when it vanishes */
} joint;

typedef struct planner {
    us_context *context;
    const us_section *section;
    double tolerance_m;
    int *same; /* of each soil, the first with its kh and kv */
    size_t joint_count;
    joint *joints;
    size_t edge_count;
    usi_edge *edges; /* vertices are joints */
    usi_plan made;
} planner;

static bool find_same(planner *of)
{
    const us_section *section = of->section;
    of->same = usi_memory_array(of->context, section->soil_count, sizeof *of->same);
    if (of->same == NULL) {
        return false;
    }
    for (size_t i = 0; i < section->soil_count; i++) {
        size_t first = 0;
        while (section->soils[first].kh_m_s != section->soils[i].kh_m_s ||
               section->soils[first].kv_m_s != section->soils[i].kv_m_s) {
            first++;
        }
        of->same[i] = (int)first;
    }
    return true;
}

static int soil_of(const planner *of, int soil)
{
    return soil < 0 ? -1 : of->same[soil];
}

static usi_edge_kind kind_of(unsigned roles)
{
    static const struct {
        unsigned role;
        usi_edge_kind kind;
    } kinds[] = {
        {USI_ROLE_LEFT_BED, USI_EDGE_LEFT_BED},   {USI_ROLE_RIGHT_BED, USI_EDGE_RIGHT_BED},
        {USI_ROLE_STRUCTURE, USI_EDGE_STRUCTURE}, {USI_ROLE_BASE, USI_EDGE_BASE},
        {USI_ROLE_LEFT_SIDE, USI_EDGE_LEFT_SIDE}, {USI_ROLE_RIGHT_SIDE, USI_EDGE_RIGHT_SIDE},
        {USI_ROLE_DRAIN, USI_EDGE_DRAIN},
    };
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        if ((roles & kinds[i].role) != 0) {
            return kinds[i].kind;
        }
    }
    return USI_EDGE_INTERFACE;
}

static bool is_edge(const planner *of, const usi_piece *piece)
{
    bool drain = (piece->roles & USI_ROLE_DRAIN) != 0 && piece->left >= 0 && piece->right >= 0;
    return drain || soil_of(of, piece->left) != soil_of(of, piece->right);
}

static bool is_wall(const usi_piece *piece)
{
    return (piece->roles & USI_ROLE_WALL) != 0 && (piece->left >= 0 || piece->right >= 0);
}

static int by_place(const void *a, const void *b)
{
    return usi_point_order(((const joint *)a)->at, ((const joint *)b)->at);
}

/* The ends of edges, and of walls in the soil, each once. */
static bool list_joints(planner *of, const usi_survey *survey)
{
    of->joints = usi_memory_array(of->context, 2 * survey->piece_count, sizeof *of->joints);
    if (of->joints == NULL) {
        return false;
    }
    for (size_t i = 0; i < survey->piece_count; i++) {
        const usi_piece *piece = &survey->pieces[i];
        if (is_edge(of, piece) || is_wall(piece)) {
            of->joints[of->joint_count++] = (joint){.at = piece->a};
            of->joints[of->joint_count++] = (joint){.at = piece->b};
        }
    }
    qsort(of->joints, of->joint_count, sizeof *of->joints, by_place);
    size_t kept = 0;
    for (size_t i = 0; i < of->joint_count; i++) {
        if (kept == 0 || usi_point_order(of->joints[kept - 1].at, of->joints[i].at) != 0) {
            of->joints[kept++] = of->joints[i];
        }
    }
    of->joint_count = kept;
    return true;
}

static size_t find_joint(const planner *of, usi_point at)
{
    size_t low = 0;
    size_t high = of->joint_count;
    while (low + 1 < high) {
        size_t middle = low + (high - low) / 2;
        if (usi_point_order(of->joints[middle].at, at) <= 0) {
            low = middle;
        } else {
            high = middle;
        }
    }
    return low;
}

static void join(planner *of, size_t vertex, size_t edge)
{
    joint *at = &of->joints[vertex];
    if (at->degree < 2) {
        at->ends[at->degree] = edge;
    }
    at->degree++;
}

static bool list_edges(planner *of, const usi_survey *survey)
{
    of->edges = usi_memory_array(of->context, survey->piece_count, sizeof *of->edges);
    if (of->edges == NULL) {
        return false;
    }
    for (size_t i = 0; i < survey->piece_count; i++) {
        const usi_piece *piece = &survey->pieces[i];
        size_t a = find_joint(of, piece->a);
        size_t b = find_joint(of, piece->b);
        if (is_wall(piece)) {
            of->joints[a].walls++;
            of->joints[b].walls++;
        }
        if (is_edge(of, piece)) {
            bool inner = piece->left >= 0 && piece->right >= 0;
            join(of, a, of->edge_count);
            join(of, b, of->edge_count);
            of->edges[of->edge_count++] =
                (usi_edge){.a = (int)a,
                           .b = (int)b,
                           .kind = kind_of(inner ? piece->roles & USI_ROLE_DRAIN : piece->roles),
                           .left = soil_of(of, piece->left),
                           .right = soil_of(of, piece->right)};
        }
    }
    return true;
}

/* The soils on the hands of one who walks along an edge away from a joint. */
static void look_along(const usi_edge *edge, size_t from, int *left, int *right)
{
    bool forward = edge->a == (int)from;
    *left = forward ? edge->left : edge->right;
    *right = forward ? edge->right : edge->left;
}

/* True where an edge only goes on, so far as kind and soils tell. */
static bool goes_on(const planner *of, size_t vertex)
{
    const joint *at = &of->joints[vertex];
    const usi_edge *before = &of->edges[at->ends[0]];
    const usi_edge *after = &of->edges[at->ends[1]];
    int hands[4];
    look_along(before, vertex, &hands[0], &hands[1]);
    look_along(after, vertex, &hands[2], &hands[3]);
    return before->kind == after->kind && hands[0] == hands[3] && hands[1] == hands[2];
}

/* Where a wall goes on through one soil nothing stands, nor where an edge does. */
static void find_standing(planner *of)
{
    for (size_t i = 0; i < of->joint_count; i++) {
        joint *at = &of->joints[i];
        if (at->degree == 0) {
            at->stands = at->walls == 1;
        } else {
            at->stands = at->walls > 0 || at->degree != 2 || !goes_on(of, i);
        }
        at->number = at->stands ? 0 : -1;
    }
}

static size_t other_end(const usi_edge *edge, size_t from)
{
    return edge->a == (int)from ? (size_t)edge->b : (size_t)edge->a;
}

/* True when the joints passed between two lie on the straight line there, in order. */
static bool is_straight(const planner *of, const size_t *chain, size_t first, size_t last)
{
    usi_point a = of->joints[chain[first]].at;
    usi_point b = of->joints[chain[last]].at;
    double dx_m = b.x_m - a.x_m;
    double dz_m = b.z_m - a.z_m;
    double length_m = hypot(dx_m, dz_m);
    double before = 0.0;
    for (size_t i = first + 1; i < last; i++) {
        usi_point at = of->joints[chain[i]].at;
        double along = (at.x_m - a.x_m) * dx_m + (at.z_m - a.z_m) * dz_m;
        double off = (at.x_m - a.x_m) * dz_m - (at.z_m - a.z_m) * dx_m;
        if (fabs(off) > of->tolerance_m * length_m || along <= before) {
            return false;
        }
        before = along;
    }
    return length_m * length_m > before;
}

static void keep_edge(planner *of, size_t from, size_t to, const usi_edge *like, bool forward)
{
    usi_edge edge = {
        .a = (int)from, .b = (int)to, .kind = like->kind, .left = like->left, .right = like->right};
    if (from > to) {
        edge.a = (int)to;
        edge.b = (int)from;
        forward = !forward;
    }
    if (!forward) {
        edge.left = like->right;
        edge.right = like->left;
    }
    of->made.edges[of->made.edge_count++] = edge;
    of->joints[from].number = 0;
    of->joints[to].number = 0;
}

/* Turns a chain of joints into as few edges as it takes. */
static void keep_chain(planner *of, const size_t *chain, size_t count, const usi_edge *like,
                       bool forward)
{
    size_t first = 0;
    for (size_t last = 2; last < count; last++) {
        if (!is_straight(of, chain, first, last)) {
            keep_edge(of, chain[first], chain[last - 1], like, forward);
            first = last - 1;
        }
    }
    keep_edge(of, chain[first], chain[count - 1], like, forward);
}

/* Follows the edges from a joint until one stands, or the joint is met again. */
static void follow(planner *of, size_t start, size_t edge, size_t *chain, bool *used)
{
    const usi_edge *like = &of->edges[edge];
    bool forward = like->a == (int)start;
    size_t count = 0;
    size_t at = start;
    chain[count++] = start;
    do {
        used[edge] = true;
        at = other_end(&of->edges[edge], at);
        chain[count++] = at;
        edge = of->joints[at].ends[0] == edge ? of->joints[at].ends[1] : of->joints[at].ends[0];
    } while (!of->joints[at].stands && at != start);
    keep_chain(of, chain, count, like, forward);
}

/* Merges all chains: those that begin at a joint that stands, then rings. A ring
 * begins at its leftmost and lowest joint, which is a corner. */
static bool merge(planner *of)
{
    size_t *chain = usi_memory_array(of->context, of->edge_count + 2, sizeof *chain);
    bool *used = usi_memory_array(of->context, of->edge_count, sizeof *used);
    of->made.edges = usi_memory_array(of->context, of->edge_count, sizeof *of->made.edges);
    bool done = chain != NULL && used != NULL && of->made.edges != NULL;
    for (int rings = 0; rings < 2 && done; rings++) {
        for (size_t i = 0; i < of->edge_count; i++) {
            size_t ends[2] = {(size_t)of->edges[i].a, (size_t)of->edges[i].b};
            for (int k = 0; k < 2; k++) {
                if (!used[i] && (rings == 1 || of->joints[ends[k]].stands)) {
                    follow(of, ends[k], i, chain, used);
                }
            }
        }
    }
    free(chain);
    free(used);
    return done;
}

/* Numbers the joints that are left. */
static bool number(planner *of)
{
    usi_plan *made = &of->made;
    made->vertices = usi_memory_array(of->context, of->joint_count, sizeof *made->vertices);
    if (made->vertices == NULL) {
        return false;
    }
    for (size_t i = 0; i < of->joint_count; i++) {
        if (of->joints[i].number >= 0) {
            of->joints[i].number = (int)made->vertex_count;
            made->vertices[made->vertex_count++] = of->joints[i].at;
        }
    }
    for (size_t i = 0; i < made->edge_count; i++) {
        made->edges[i].a = of->joints[made->edges[i].a].number;
        made->edges[i].b = of->joints[made->edges[i].b].number;
    }
    qsort(made->edges, made->edge_count, sizeof *made->edges, usi_plan_edge_order);
    return true;
}

static bool draw(planner *of, const usi_survey *survey)
{
    if (!find_same(of) || !list_joints(of, survey) || !list_edges(of, survey)) {
        return false;
    }
    find_standing(of);
    return merge(of) && number(of);
}

/* A window shrunk to the section's sides. False when it leaves no soil. */
static bool fit(const us_section *section, usi_plan_window *window)
{
    if (section->left.kind != USI_SIDE_ENDLESS) {
        window->left_m = fmax(window->left_m, section->left.x_m);
    }
    if (section->right.kind != USI_SIDE_ENDLESS) {
        window->right_m = fmin(window->right_m, section->right.x_m);
    }
    return window->left_m <= section->left_end_m && window->right_m >= section->right_end_m &&
           window->left_m < window->right_m;
}

us_status usi_plan_build(us_context *context, const us_section *section,
                         const usi_plan_window *window, usi_plan *plan)
{
    usi_plan_window fitted = *window;
    usi_survey survey = {0};
    if (!fit(section, &fitted)) {
        return US_ERROR_ARGUMENT;
    }
    us_status status = usi_survey_make(context, section, &fitted, &survey);
    if (status != US_OK) {
        return status;
    }
    planner of = {
        .context = context, .section = section, .tolerance_m = usi_section_tolerance(section)};
    status = draw(&of, &survey) ? US_OK : US_ERROR_MEMORY;
    usi_survey_clear(&survey);
    free(of.same);
    free(of.joints);
    free(of.edges);
    if (status == US_OK && section->situation != NULL) {
        status = usi_plan_mark(context, section, &of.made);
    }
    if (status == US_OK) {
        *plan = of.made;
    } else {
        usi_plan_free(&of.made);
    }
    return status;
}

void usi_plan_free(usi_plan *plan)
{
    free(plan->vertices);
    free(plan->edges);
    *plan = (usi_plan){.vertex_count = 0};
}
