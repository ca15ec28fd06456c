#include "quantity/slope_fit.h"

#include <math.h>

enum { DEGREE = 3 };

/* Of a polynomial's mean square, what lies below is rounding: places coincide. */
static const double LEAST = 1e-12;

/* A polynomial: its values at the places, and value and slope at x. */
typedef struct poly {
    double values[USI_SLOPE_POINTS];
    double value;
    double slope;
} poly;

static double product(const double *a, const double *b, size_t count)
{
    double sum = 0.0;
    for (size_t k = 0; k < count; k++) {
        sum += a[k] * b[k];
    }
    return sum;
}

/* Polynomials orthogonal over the places, one degree after another (Forsythe 1957). */
double usi_slope_fit(const double *at, const double *values, size_t count, double x)
{
    poly basis[DEGREE + 1];
    double middle = 0.5 * (at[0] + at[count - 1]);
    double half = 0.5 * fabs(at[count - 1] - at[0]);
    double here = (x - middle) / half;
    double slope = 0.0;
    for (size_t d = 0; d <= DEGREE && 2 * d <= count; d++) {
        poly *next = &basis[d];
        *next = (poly){.value = 1.0};
        for (size_t k = 0; k < count; k++) {
            next->values[k] = d == 0 ? 1.0 : (at[k] - middle) / half * basis[d - 1].values[k];
        }
        if (d > 0) {
            next->value = here * basis[d - 1].value;
            next->slope = basis[d - 1].value + here * basis[d - 1].slope;
        }
        for (size_t e = 0; e < d; e++) {
            double share = product(next->values, basis[e].values, count) /
                           product(basis[e].values, basis[e].values, count);
            for (size_t k = 0; k < count; k++) {
                next->values[k] -= share * basis[e].values[k];
            }
            next->value -= share * basis[e].value;
            next->slope -= share * basis[e].slope;
        }
        double square = product(next->values, next->values, count);
        if (square <= LEAST * (double)count) {
            break;
        }
        slope += product(values, next->values, count) / square * next->slope;
    }
    return slope / half;
}
