#include "solve/threads.h"

#include <pthread.h>
#include <stdbool.h>
#include <stddef.h>

/* Debian's CHOLMOD starts four OpenMP threads in its supernodal kernel whatever
 * the environment says; the number of active levels, which belongs to the
 * calling thread, stops it. OpenBLAS comes built on OpenMP, which listens to
 * the calling thread too, or on threads of its own: then the number is one for
 * the whole process. */
void omp_set_max_active_levels(int levels);
int omp_get_max_active_levels(void);
void omp_set_num_threads(int threads);
int omp_get_max_threads(void);
extern void openblas_set_num_threads(int threads) __attribute__((weak));
extern int openblas_get_num_threads(void) __attribute__((weak));
extern int openblas_get_parallel(void) __attribute__((weak));

/* The only data of the library that changes. What belongs to the process needs
 * a count for the process: if each solve put the number back by itself, the
 * first to end would let the others go on with several threads, and their last
 * digits would depend on who ended when. */
static struct {
    pthread_mutex_t lock;
    size_t holders;
    int before; /* number of threads the process had */
} blas = {PTHREAD_MUTEX_INITIALIZER, 0, 1};

static bool blas_has_threads(void)
{
    enum { OWN_THREADS = 1 };
    return openblas_get_parallel != NULL && openblas_set_num_threads != NULL &&
           openblas_get_num_threads != NULL && openblas_get_parallel() == OWN_THREADS;
}

usi_threads usi_threads_hold(void)
{
    usi_threads before = {omp_get_max_active_levels(), omp_get_max_threads()};
    omp_set_max_active_levels(0);
    omp_set_num_threads(1);
    if (blas_has_threads()) {
        (void)pthread_mutex_lock(&blas.lock);
        if (blas.holders++ == 0) {
            blas.before = openblas_get_num_threads();
        }
        /* Also when others hold it: the caller may have set it in between. */
        if (openblas_get_num_threads() != 1) {
            openblas_set_num_threads(1);
        }
        (void)pthread_mutex_unlock(&blas.lock);
    }
    return before;
}

void usi_threads_release(usi_threads before)
{
    if (blas_has_threads()) {
        (void)pthread_mutex_lock(&blas.lock);
        if (--blas.holders == 0 && blas.before != 1) {
            openblas_set_num_threads(blas.before);
        }
        (void)pthread_mutex_unlock(&blas.lock);
    }
    omp_set_num_threads(before.omp_threads);
    omp_set_max_active_levels(before.levels);
}
