/* With A the problem's own matrix, D the differences across stitches and C their conductances,
 * (A + D C D') h = f is solved as h = A^-1 f - A^-1 D q, (D' A^-1 D + C^-1) q = D' A^-1 f: q is
 * what flows through the stitches, and a tie is one whose 1 / C is zero. Places of stitches are
 * eliminated last, so that D' A^-1 D comes from the end of the factor alone. */
#include "solve/seam.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "solve/dense.h"
#include "solve/seam_parts.h"
#include "solve/tail.h"

/* Of a diagonal, what rounding may leave of it where nothing is left to tie. */
static const double SINGULAR = 1e-13;

/* Lists the free places of stitches. */
static us_status list_kept(us_context *context, usi_seam *seam)
{
    size_t places = seam->problem->free_count;
    seam->rank_of = usi_memory_array(context, places + 1, sizeof *seam->rank_of);
    seam->kept = usi_memory_array(context, 2 * seam->count + 1, sizeof *seam->kept);
    if (seam->rank_of == NULL || seam->kept == NULL) {
        return US_ERROR_MEMORY;
    }
    for (size_t k = 0; k < seam->count; k++) {
        int32_t ends[2] = {seam->stitches[k].a, seam->stitches[k].b};
        for (int e = 0; e < 2; e++) {
            if (usi_seam_is_free(seam, ends[e]) && seam->rank_of[ends[e]] == 0) {
                seam->rank_of[ends[e]] = 1;
                seam->kept[seam->kept_count++] = ends[e];
            }
        }
    }
    seam->problem->last = seam->kept;
    seam->problem->last_count = seam->kept_count;
    return US_OK;
}

static us_status rank_kept(us_context *context, usi_seam *seam)
{
    size_t rows = seam->factor->rows;
    seam->rank = usi_memory_array(context, rows + 1, sizeof *seam->rank);
    seam->lower =
        usi_memory_array(context, seam->kept_count * seam->kept_count + 1, sizeof *seam->lower);
    if (seam->rank == NULL || seam->lower == NULL) {
        return US_ERROR_MEMORY;
    }
    int next = 0;
    const int32_t *order = seam->factor->order;
    for (size_t row = 0; row < rows; row++) {
        bool kept = seam->rank_of[order[row]] != 0;
        seam->rank[row] = kept ? next : -1;
        seam->rank_of[order[row]] = kept ? next++ : -1;
    }
    if (rows > 0) {
        usi_tail_take(seam->factor, seam->rank, seam->lower, seam->kept_count);
    }
    return US_OK;
}

/* What the stitches see of each other. */
static us_status find_response(us_context *context, usi_seam *seam)
{
    size_t count = seam->count;
    size_t width = seam->kept_count;
    seam->halves = usi_memory_array(context, count * width + 1, sizeof *seam->halves);
    seam->response = usi_memory_array(context, count * count + 1, sizeof *seam->response);
    seam->square = usi_memory_array(context, count * count + 1, sizeof *seam->square);
    seam->set = usi_memory_array(context, count + 1, sizeof *seam->set);
    seam->conductance = usi_memory_array(context, count + 1, sizeof *seam->conductance);
    if (seam->halves == NULL || seam->response == NULL || seam->square == NULL ||
        seam->set == NULL || seam->conductance == NULL) {
        return US_ERROR_MEMORY;
    }
    for (size_t k = 0; k < count; k++) {
        const usi_stitch *stitch = &seam->stitches[k];
        double *row = seam->halves + k * width;
        if (usi_seam_is_free(seam, stitch->a)) {
            row[seam->rank_of[stitch->a]] += 1.0;
        }
        if (usi_seam_is_free(seam, stitch->b)) {
            row[seam->rank_of[stitch->b]] -= 1.0;
        }
    }
    usi_dense_rows rows = {count, width, seam->halves};
    usi_dense_forward_rows(seam->lower, width, width, &rows);
    usi_dense_products(&rows, width, seam->response);
    return US_OK;
}

us_status usi_seam_make(us_context *context, usi_problem *problem, const usi_stitch *stitches,
                        size_t count, usi_seam **made)
{
    usi_seam *seam = usi_memory_array(context, 1, sizeof *seam);
    if (seam == NULL) {
        return US_ERROR_MEMORY;
    }
    seam->problem = problem;
    seam->count = count;
    seam->stitches = usi_memory_array(context, count + 1, sizeof *seam->stitches);
    us_status status = seam->stitches != NULL ? US_OK : US_ERROR_MEMORY;
    if (status == US_OK) {
        if (count > 0) {
            memcpy(seam->stitches, stitches, count * sizeof *stitches);
        }
        status = list_kept(context, seam);
    }
    if (status == US_OK) {
        status = usi_factor_make(context, problem, &seam->factor);
    }
    if (status == US_OK) {
        status = rank_kept(context, seam);
    }
    if (status == US_OK) {
        status = find_response(context, seam);
    }
    if (status == US_OK) {
        *made = seam;
    } else {
        usi_seam_free(seam);
    }
    return status;
}

void usi_seam_free(usi_seam *seam)
{
    if (seam == NULL) {
        return;
    }
    usi_factor_free(seam->factor);
    seam->problem->last = NULL;
    seam->problem->last_count = 0;
    for (size_t c = 0; c < seam->column_count; c++) {
        free(seam->columns[c].values);
        free(seam->columns[c].gaps);
        free(seam->columns[c].flows);
        free(seam->columns[c].key);
        free(seam->columns[c].forms);
    }
    free(seam->columns);
    free(seam->stitches);
    free(seam->kept);
    free(seam->rank);
    free(seam->rank_of);
    free(seam->lower);
    free(seam->halves);
    free(seam->response);
    free(seam->square);
    free(seam->set);
    free(seam->push);
    free(seam->row_of);
    free(seam->reached);
    free(seam->conductance);
    free(seam);
}

/* What flows through the stitches that are set. */
static void find_flows(usi_seam *seam, seam_column *of)
{
    double *packed = of->flows;
    for (size_t i = 0; i < seam->set_count; i++) {
        packed[i] = of->gaps[seam->set[i]];
        for (size_t k = 0; seam->push != NULL && k < seam->count; k++) {
            double push = seam->conductance[k] > 0.0 ? 0.0 : seam->push[k];
            packed[i] -= push * seam->response[seam->set[i] * seam->count + k];
        }
    }
    usi_dense_forward(seam->square, seam->set_count, seam->count, 0, packed);
    usi_dense_backward(seam->square, seam->set_count, seam->count, packed);
}

us_status usi_seam_load(us_context *context, usi_seam *seam, usi_seam_key key, const double *load,
                        const double *given, size_t count)
{
    seam_column *grown =
        usi_memory_resize(context, seam->columns, seam->column_count + 1, sizeof *seam->columns);
    if (grown == NULL) {
        return US_ERROR_MEMORY;
    }
    seam->columns = grown;
    seam_column *added = &grown[seam->column_count];
    *added = (seam_column){usi_memory_array(context, count + 1, sizeof(double)),
                           usi_memory_array(context, seam->count + 1, sizeof(double)),
                           usi_memory_array(context, seam->count + 1, sizeof(double)),
                           usi_memory_array(context, key.count + 1, sizeof(double)), NULL};
    seam->column_count++;
    if (added->values == NULL || added->gaps == NULL || added->flows == NULL ||
        added->key == NULL) {
        return US_ERROR_MEMORY;
    }
    for (size_t k = 0; k < key.count; k++) {
        added->key[k] = key.numbers[k];
    }
    if (given != NULL) {
        memcpy(added->values, given, count * sizeof(double));
    }
    us_status status = usi_factor_solve(context, seam->factor, load, added->values);
    for (size_t k = 0; status == US_OK && k < seam->count; k++) {
        added->gaps[k] = usi_problem_value(added->values, seam->stitches[k].a) -
                         usi_problem_value(added->values, seam->stitches[k].b);
    }
    if (status == US_OK) {
        find_flows(seam, added);
    }
    return status;
}

size_t usi_seam_columns(const usi_seam *seam)
{
    return seam->column_count;
}

size_t usi_seam_find(const usi_seam *seam, const double *numbers, size_t count)
{
    size_t column = 0;
    for (; column < seam->column_count; column++) {
        bool same = true;
        for (size_t k = 0; same && k < count; k++) {
            same = seam->columns[column].key[k] == numbers[k];
        }
        if (same) {
            break;
        }
    }
    return column;
}

const double *usi_seam_base(const usi_seam *seam, size_t column)
{
    return seam->columns[column].values;
}

double usi_seam_gap(const usi_seam *seam, size_t column, size_t k)
{
    return seam->columns[column].gaps[k];
}

/* True where a stitch has one place only, or both are given, and alike in every column. */
static bool is_idle(const usi_seam *seam, size_t k)
{
    if (seam->stitches[k].a == seam->stitches[k].b) {
        return true;
    }
    bool idle = !usi_seam_is_free(seam, seam->stitches[k].a) &&
                !usi_seam_is_free(seam, seam->stitches[k].b);
    for (size_t c = 0; idle && c < seam->column_count; c++) {
        idle = seam->columns[c].gaps[k] == 0.0;
    }
    return idle;
}

us_status usi_seam_set(usi_seam *seam, const double *conductance)
{
    size_t count = seam->count;
    seam->set_count = 0;
    memcpy(seam->conductance, conductance, count * sizeof *conductance);
    for (size_t k = 0; k < count; k++) {
        if (conductance[k] > 0.0 && !is_idle(seam, k)) {
            seam->set[seam->set_count++] = k;
        }
    }
    for (size_t i = 0; i < seam->set_count; i++) {
        double *row = seam->square + i * count;
        const double *from = seam->response + seam->set[i] * count;
        for (size_t j = 0; j <= i; j++) {
            row[j] = from[seam->set[j]];
        }
        row[i] += 1.0 / conductance[seam->set[i]];
    }
    if (!usi_dense_factor(seam->square, seam->set_count, count, SINGULAR)) {
        seam->set_count = 0;
        return US_NOT_CONVERGED;
    }
    for (size_t c = 0; c < seam->column_count; c++) {
        find_flows(seam, &seam->columns[c]);
    }
    return US_OK;
}

us_status usi_seam_push(us_context *context, usi_seam *seam, const double *flows)
{
    if (seam->push == NULL) {
        seam->push = usi_memory_array(context, seam->count + 1, sizeof *seam->push);
    }
    if (seam->push == NULL) {
        return US_ERROR_MEMORY;
    }
    memcpy(seam->push, flows, seam->count * sizeof *flows);
    return US_OK;
}

/* From the kept to all free places: the second half of a solution. */
static us_status spread(us_context *context, usi_seam *seam, const double *at_kept, double *values)
{
    usi_factor *factor = seam->factor;
    const int32_t *order = factor->order;
    double *load = factor->load->x;
    for (size_t row = 0; row < factor->rows; row++) {
        load[row] = seam->rank[row] >= 0 ? at_kept[seam->rank[row]] : 0.0;
    }
    const double *to = usi_factor_substitute(factor, CHOLMOD_Lt);
    for (size_t row = 0; to != NULL && row < factor->rows; row++) {
        values[order[row]] -= to[row];
    }
    return to != NULL ? US_OK : usi_factor_report(context, &factor->common);
}

us_status usi_seam_values(us_context *context, usi_seam *seam, size_t index, double *values)
{
    const seam_column *of = &seam->columns[index];
    size_t width = seam->kept_count;
    double *at_kept = usi_memory_array(context, width + 1, sizeof *at_kept);
    if (at_kept == NULL) {
        return US_ERROR_MEMORY;
    }
    for (size_t i = 0; i < seam->set_count; i++) {
        const double *row = seam->halves + seam->set[i] * width;
        for (size_t k = 0; k < width; k++) {
            at_kept[k] += of->flows[i] * row[k];
        }
    }
    for (size_t i = 0; seam->push != NULL && i < seam->count; i++) {
        const double *row = seam->halves + i * width;
        double push = seam->conductance[i] > 0.0 ? 0.0 : seam->push[i];
        for (size_t k = 0; push != 0.0 && k < width; k++) {
            at_kept[k] += push * row[k];
        }
    }
    memcpy(values, of->values, seam->problem->free_count * sizeof *values);
    us_status status = seam->factor->rows > 0 ? spread(context, seam, at_kept, values) : US_OK;
    free(at_kept);
    return status;
}

double usi_seam_flow(const usi_seam *seam, size_t column, size_t k)
{
    for (size_t i = 0; i < seam->set_count; i++) {
        if (seam->set[i] == k) {
            return seam->columns[column].flows[i];
        }
    }
    return 0.0;
}

double usi_seam_growth(usi_seam *seam, size_t one, size_t other)
{
    double sum = 0.0;
    for (size_t i = 0; i < seam->set_count; i++) {
        sum += seam->columns[one].flows[i] * seam->columns[other].gaps[seam->set[i]];
    }
    return sum;
}

double usi_seam_form(usi_seam *seam, size_t one, size_t other, double sign)
{
    size_t late = one > other ? one : other;
    size_t early = one > other ? other : one;
    const double *forms = seam->columns[late].forms; /* without any stitch */
    return forms != NULL ? forms[early] + sign * usi_seam_growth(seam, one, other) : (double)NAN;
}

/* Keeps a form without any stitch. */
static us_status learn_form(us_context *context, usi_seam *seam, size_t one, size_t other,
                            double form)
{
    size_t late = one > other ? one : other;
    seam_column *of = &seam->columns[late];
    if (of->forms == NULL) {
        of->forms = usi_memory_array(context, late + 1, sizeof *of->forms);
        if (of->forms == NULL) {
            return US_ERROR_MEMORY;
        }
        for (size_t k = 0; k <= late; k++) {
            of->forms[k] = (double)NAN;
        }
    }
    of->forms[one > other ? other : one] = form;
    return US_OK;
}

double usi_seam_form_of(us_context *context, usi_seam *seam, const usi_seam_product *by,
                        const double *keys[2], size_t count, const double *values[2])
{
    size_t one = usi_seam_find(seam, keys[0], count);
    size_t other = usi_seam_find(seam, keys[1], count);
    double form = usi_seam_form(seam, one, other, by->sign);
    if (!isnan(form)) {
        return form;
    }
    form = by->of(by->problem, values[0], values[1]);
    double bare = form - by->sign * usi_seam_growth(seam, one, other);
    return learn_form(context, seam, one, other, bare) == US_OK ? form : (double)NAN;
}

const double *usi_seam_response(const usi_seam *seam)
{
    return seam->response;
}

size_t usi_seam_count(const usi_seam *seam)
{
    return seam->count;
}

const usi_stitch *usi_seam_stitch(const usi_seam *seam, size_t k)
{
    return &seam->stitches[k];
}

double usi_seam_conductance(const usi_seam *seam, size_t k)
{
    return seam->conductance[k];
}

double usi_seam_beside(const usi_seam *seam, const double *one, const double *other)
{
    double sum = 0.0;
    for (size_t k = 0; k < seam->count; k++) {
        double conductance = seam->conductance[k];
        const usi_stitch *stitch = &seam->stitches[k];
        if (conductance > 0.0 && isfinite(conductance)) {
            double drop = usi_problem_value(one, stitch->a) - usi_problem_value(one, stitch->b);
            sum += conductance * drop *
                   (usi_problem_value(other, stitch->a) - usi_problem_value(other, stitch->b));
        }
    }
    return sum;
}
