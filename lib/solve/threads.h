/* Keeping the kernels under CHOLMOD to one thread. */
#ifndef USI_SOLVE_THREADS_H
#define USI_SOLVE_THREADS_H

/* What the calling thread had before. */
typedef struct usi_threads {
    int levels;
    int omp_threads;
} usi_threads;

/* From here to usi_threads_release() the dense kernels that this thread calls
 * run on one thread: more only cost at our sizes, and another number of them
 * gives other last digits. Any number of threads may hold at once. */
usi_threads usi_threads_hold(void);

/* Puts the caller's settings back; those of the process when the last holder
 * lets go. */
void usi_threads_release(usi_threads before);

#endif
