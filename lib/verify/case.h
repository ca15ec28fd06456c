/* A verification case: a section whose answers are known from elsewhere. */
#ifndef USI_VERIFY_CASE_H
#define USI_VERIFY_CASE_H

#include <stddef.h>

/* What is compared. Heads are total heads. */
typedef enum usi_verify_quantity {
    USI_VERIFY_FLOW,                /* m^2/s; an exact one must lie inside the bounds too */
    USI_VERIFY_EXIT_GRADIENT,       /* at the governing exit */
    USI_VERIFY_EXIT_MEAN,           /* mean over the depth that the result states */
    USI_VERIFY_UPLIFT_FORCE,        /* N/m */
    USI_VERIFY_UPSTREAM_FACE_TOP,   /* m, of wall `at` */
    USI_VERIFY_TIP,                 /* m, of wall `at` */
    USI_VERIFY_DOWNSTREAM_FACE_TOP, /* m, of wall `at` */
    USI_VERIFY_PIEZOMETER,          /* m, of piezometer `at` */
    USI_VERIFY_FACTOR               /* piping factor */
} usi_verify_quantity;

/* One known value. The check passes when |computed - expected| is at most the
 * stated error of the computed value plus `tolerance`. */
typedef struct usi_verify_check {
    usi_verify_quantity quantity;
    const char *at;   /* name of the wall or piezometer, else NULL */
    double expected;  /* SI; INFINITY: theory gives no finite value, and none may be printed */
    double tolerance; /* how closely the source can be read, absolute, SI: rounding of a printed
                         number, a chart, a hand-drawn net; 0 for an exact value */
    const char *why;  /* where ours differs by more than rounding: the reason; else NULL */
} usi_verify_check;

typedef struct usi_verify_case {
    const char *name;    /* unique; lower case, digits and underscores, at most 28 characters */
    const char *source;  /* who published it, or how it was derived; one or two sentences */
    const char *section; /* text of a section file with a `title` that tells what it is and one
                            water case (of more, the first counts) */
    double accuracy;     /* asked for; 0: the default */
    size_t check_count;
    const usi_verify_check *checks;
} usi_verify_case;

/* A file's worth of cases. */
typedef struct usi_verify_table {
    size_t count;
    const usi_verify_case *cases;
} usi_verify_table;

/* The number of elements of an array of checks or cases. */
#define USI_VERIFY_COUNT(array) (sizeof(array) / sizeof(array)[0])

#endif
