#include "solve/panel.h"

#include <math.h>

/* Vectors, of which the compiler makes what the processor has. No product is fused with a
 * sum, so that the digits are the same whatever that is. */
enum { LANES = 8, TILE_ROWS = 2 * LANES, TILE_COLUMNS = 4, NARROW = 8 };
typedef double eight __attribute__((vector_size(64), aligned(8), may_alias));
typedef double four __attribute__((vector_size(32), aligned(8), may_alias));

/* Columns and rows of a product that are worked on at a time: they stay in the caches. */
enum { DEPTH_AT_ONCE = 64, ROWS_AT_ONCE = 256 };

/* `target`, less the products of the rows of `left` with those of `right`. */
typedef struct product {
    double *target;
    size_t target_stride;
    const double *left;
    const double *right;
    size_t stride; /* of both */
    size_t depth;
} product;

typedef struct kernel {
    void (*tile)(const product *of); /* of TILE_ROWS by TILE_COLUMNS; NULL for none */
    void (*half)(const product *of); /* of half the rows */
    /* Rows of a narrow block, from a whole vector on, by its factorised top. */
    void (*rest)(double *block, size_t stride, const size_t rows[2],
                 const double top[NARROW][NARROW]);
} kernel;

/* The same code for several processors. A function shared by them would be compiled for the
 * least of them. */
#define DEFINE_HALF(NAME, TARGET)                                                                  \
    TARGET static void half_##NAME(const product *of)                                              \
    {                                                                                              \
        eight a = {0.0};                                                                           \
        eight b = {0.0};                                                                           \
        eight c = {0.0};                                                                           \
        eight d = {0.0};                                                                           \
        const double *left = of->left;                                                             \
        const double *right = of->right;                                                           \
        for (size_t k = 0; k < of->depth; k++) {                                                   \
            eight rows = *(const eight *)left;                                                     \
            a += rows * right[0];                                                                  \
            b += rows * right[1];                                                                  \
            c += rows * right[2];                                                                  \
            d += rows * right[3];                                                                  \
            left += of->stride;                                                                    \
            right += of->stride;                                                                   \
        }                                                                                          \
        double *target = of->target;                                                               \
        *(eight *)target -= a;                                                                     \
        *(eight *)(target + of->target_stride) -= b;                                               \
        *(eight *)(target + 2 * of->target_stride) -= c;                                           \
        *(eight *)(target + 3 * of->target_stride) -= d;                                           \
    }

#define DEFINE_TILE(NAME, TARGET, VECTOR)                                                          \
    TARGET static void NAME(const product *of)                                                     \
    {                                                                                              \
        VECTOR a = {0.0};                                                                          \
        VECTOR b = {0.0};                                                                          \
        VECTOR c = {0.0};                                                                          \
        VECTOR d = {0.0};                                                                          \
        VECTOR e = {0.0};                                                                          \
        VECTOR f = {0.0};                                                                          \
        VECTOR g = {0.0};                                                                          \
        VECTOR h = {0.0};                                                                          \
        const double *left = of->left;                                                             \
        const double *right = of->right;                                                           \
        for (size_t k = 0; k < of->depth; k++) {                                                   \
            VECTOR upper = ((const VECTOR *)left)[0];                                              \
            VECTOR lower = ((const VECTOR *)left)[1];                                              \
            a += upper * right[0];                                                                 \
            b += upper * right[1];                                                                 \
            c += upper * right[2];                                                                 \
            d += upper * right[3];                                                                 \
            e += lower * right[0];                                                                 \
            f += lower * right[1];                                                                 \
            g += lower * right[2];                                                                 \
            h += lower * right[3];                                                                 \
            left += of->stride;                                                                    \
            right += of->stride;                                                                   \
        }                                                                                          \
        double *target = of->target;                                                               \
        ((VECTOR *)target)[0] -= a;                                                                \
        ((VECTOR *)target)[1] -= e;                                                                \
        target += of->target_stride;                                                               \
        ((VECTOR *)target)[0] -= b;                                                                \
        ((VECTOR *)target)[1] -= f;                                                                \
        target += of->target_stride;                                                               \
        ((VECTOR *)target)[0] -= c;                                                                \
        ((VECTOR *)target)[1] -= g;                                                                \
        target += of->target_stride;                                                               \
        ((VECTOR *)target)[0] -= d;                                                                \
        ((VECTOR *)target)[1] -= h;                                                                \
    }

#define DEFINE_REST(NAME, TARGET, VECTOR, STEP)                                                    \
    TARGET static void rest_##NAME(double *block, size_t stride, const size_t rows[2],             \
                                   const double top[NARROW][NARROW])                               \
    {                                                                                              \
        typedef VECTOR vector;                                                                     \
        for (size_t i = rows[0]; i < rows[1]; i += (STEP)) {                                       \
            vector found[NARROW];                                                                  \
            for (size_t j = 0; j < NARROW; j++) {                                                  \
                vector *place = (vector *)(block + j * stride + i);                                \
                found[j] = *place;                                                                 \
                for (size_t k = 0; k < j; k++) {                                                   \
                    found[j] -= found[k] * top[j][k];                                              \
                }                                                                                  \
                found[j] *= top[j][j];                                                             \
                *place = found[j];                                                                 \
            }                                                                                      \
        }                                                                                          \
    }

/* Where registers are few, or half as long, a tile of half the rows does. */
DEFINE_HALF(plain, )
DEFINE_REST(plain, , four, 4)
#ifdef __x86_64__
#define AVX2 __attribute__((target("avx2")))
#define AVX512 __attribute__((target("avx512f,avx512vl,prefer-vector-width=512")))
DEFINE_TILE(half_avx2, AVX2, four)
DEFINE_REST(avx2, AVX2, four, 4)
DEFINE_HALF(avx512, AVX512)
DEFINE_TILE(tile_avx512, AVX512, eight)
DEFINE_REST(avx512, AVX512, eight, LANES)
#endif

static kernel pick(void)
{
#ifdef __x86_64__
    if (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512vl")) {
        return (kernel){tile_avx512, half_avx512, rest_avx512};
    }
    if (__builtin_cpu_supports("avx2")) {
        return (kernel){NULL, half_avx2, rest_avx2};
    }
#endif
    return (kernel){NULL, half_plain, rest_plain};
}

size_t usi_panel_stride(size_t rows)
{
    enum { PAGE = 512 };
    size_t stride = (rows + 2 * LANES - 1) / LANES * LANES;
    return stride % PAGE == 0 ? stride + LANES : stride;
}

/* Rows from range[0], where vectors begin, to range[1] of the lower part of a product. */
static void subtract_rows(const kernel *by, const product *of, const size_t range[2],
                          size_t columns)
{
    product tile = *of;
    for (size_t j = 0; j < columns && j < range[1]; j += TILE_COLUMNS) {
        tile.right = of->right + j;
        size_t i = j / LANES * LANES;
        i = i < range[0] ? range[0] : i;
        while (i < range[1]) {
            bool whole = by->tile != NULL && i + LANES < range[1];
            tile.target = of->target + j * of->target_stride + i;
            tile.left = of->left + i;
            (whole ? by->tile : by->half)(&tile);
            i += whole ? TILE_ROWS : LANES;
        }
    }
}

/* The lower part of a product, of rows by columns. */
static void subtract(const kernel *by, const product *of, size_t rows, size_t columns)
{
    for (size_t k = 0; k < of->depth; k += DEPTH_AT_ONCE) {
        product some = *of;
        some.left += k * of->stride;
        some.right += k * of->stride;
        some.depth = of->depth - k < DEPTH_AT_ONCE ? of->depth - k : DEPTH_AT_ONCE;
        for (size_t i = 0; i < rows; i += ROWS_AT_ONCE) {
            size_t range[2] = {i, rows - i < ROWS_AT_ONCE ? rows : i + ROWS_AT_ONCE};
            subtract_rows(by, &some, range, columns);
        }
    }
}

/* The top of a narrow block, in place; `top` is the same, its diagonal inverted. */
static bool factorise_top(double *block, size_t stride, size_t columns, double top[NARROW][NARROW])
{
    for (size_t j = 0; j < columns; j++) {
        for (size_t i = j; i < columns; i++) {
            double sum = block[j * stride + i];
            for (size_t k = 0; k < j; k++) {
                sum -= top[i][k] * top[j][k];
            }
            top[i][j] = sum;
        }
        if (!(top[j][j] > 0.0)) {
            return false;
        }
        double root = sqrt(top[j][j]);
        for (size_t i = j + 1; i < columns; i++) {
            top[i][j] /= root;
        }
        top[j][j] = 1.0 / root;
    }
    return true;
}

/* Up to NARROW columns: where there are fewer, those past them are worked on too, and the
 * top once more. */
static bool factorise_narrow(const kernel *by, double *block, size_t stride, size_t rows,
                             size_t columns)
{
    double top[NARROW][NARROW] = {{0.0}};
    if (!factorise_top(block, stride, columns, top)) {
        return false;
    }
    const size_t range[2] = {columns / NARROW * NARROW, rows};
    by->rest(block, stride, range, (const double(*)[NARROW])top);
    for (size_t j = 0; j < columns; j++) {
        block[j * stride + j] = 1.0 / top[j][j];
        for (size_t i = j + 1; i < columns; i++) {
            block[j * stride + i] = top[i][j];
        }
    }
    return true;
}

/* Half the columns, then what they bring to the others, then these. */
static bool factorise(const kernel *by, double *block, size_t stride, size_t rows, size_t columns)
{
    if (columns <= NARROW) {
        return factorise_narrow(by, block, stride, rows, columns);
    }
    size_t half = (columns / 2 + NARROW - 1) / NARROW * NARROW;
    if (!factorise(by, block, stride, rows, half)) {
        return false;
    }
    double *rest = block + half * stride + half;
    product of = {rest, stride, block + half, block + half, stride, half};
    subtract(by, &of, rows - half, columns - half);
    return factorise(by, rest, stride, rows - half, columns - half);
}

bool usi_panel_factorise(double *block, size_t stride, size_t rows, size_t columns)
{
    kernel by = pick();
    return factorise(&by, block, stride, rows, columns);
}

void usi_panel_subtract(double *square, size_t square_stride, const double *block, size_t stride,
                        size_t size, size_t depth)
{
    kernel by = pick();
    product of = {square, square_stride, block, block, stride, depth};
    subtract(&by, &of, size, size);
}
