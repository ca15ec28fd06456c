/* Several cases at once. Each is solved for itself and has its own place for what
 * comes out, so it does not matter which thread takes which. */
#include <errno.h>
#include <pthread.h>
#include <stdbool.h>
#include <stdlib.h>
#include <time.h>

#include "base/context.h"
#include "base/memory.h"
#include "verify/verification.h"

typedef struct pool {
    pthread_mutex_t lock;
    pthread_cond_t change;
    usi_verify_job *jobs;
    size_t count;
    size_t next;    /* from here on under the lock: the first case that nobody took */
    size_t done;    /* cases done */
    size_t working; /* threads at work besides the calling one */
    us_status status;
    us_context *caller; /* known to the calling thread alone */
} pool;

static void lock(pool *shared)
{
    (void)pthread_mutex_lock(&shared->lock);
}

static void unlock(pool *shared)
{
    (void)pthread_mutex_unlock(&shared->lock);
}

/* The first trouble stays; it ends the work of all. */
static void stop(pool *shared, us_status status)
{
    lock(shared);
    shared->status = shared->status == US_OK ? status : shared->status;
    unlock(shared);
}

static bool goes_on(pool *shared)
{
    lock(shared);
    bool on = shared->status == US_OK;
    unlock(shared);
    return on;
}

/* Progress of the calling thread: tells the caller, in cases. */
static bool tell(const us_progress *progress, void *data)
{
    pool *shared = data;
    lock(shared);
    double fraction = (double)shared->done / (double)shared->count;
    unlock(shared);
    us_status status = usi_context_pulse(shared->caller, "verifying", progress->unknowns, fraction);
    if (status != US_OK) {
        stop(shared, status);
    }
    return goes_on(shared);
}

/* Progress of the others: only looks whether to go on. */
static bool look(const us_progress *progress, void *data)
{
    (void)progress;
    return goes_on(data);
}

/* The next case, or `count` when there is none or work has stopped. */
static size_t take(pool *shared)
{
    lock(shared);
    size_t taken = shared->status == US_OK ? shared->next : shared->count;
    shared->next += taken < shared->count;
    unlock(shared);
    return taken;
}

static void work(pool *shared, us_progress_function function)
{
    us_context *context = us_context_create();
    if (context == NULL) {
        stop(shared, US_ERROR_MEMORY);
        return;
    }
    us_context_set_progress(context, function, shared);
    for (size_t i = take(shared); i < shared->count; i = take(shared)) {
        us_status status = usi_verify_job_run(context, &shared->jobs[i]);
        if (status != US_OK) {
            stop(shared, status);
        }
        lock(shared);
        shared->done++;
        unlock(shared);
    }
    us_context_free(context);
}

static void *help(void *data)
{
    pool *shared = data;
    work(shared, look);
    lock(shared);
    shared->working--;
    (void)pthread_cond_signal(&shared->change);
    unlock(shared);
    return NULL;
}

/* While others are still at work the caller hears of it now and then. */
static void await(pool *shared)
{
    enum { NS_PER_S = 1000000000, PAUSE_NS = 200000000 };
    const us_progress idle = {0};
    lock(shared);
    while (shared->working > 0) {
        struct timespec until = {0};
        (void)clock_gettime(CLOCK_MONOTONIC, &until);
        until.tv_nsec += PAUSE_NS;
        until.tv_sec += until.tv_nsec / NS_PER_S;
        until.tv_nsec %= NS_PER_S;
        if (pthread_cond_timedwait(&shared->change, &shared->lock, &until) == ETIMEDOUT) {
            unlock(shared);
            (void)tell(&idle, shared);
            lock(shared);
        }
    }
    unlock(shared);
}

static bool open_pool(pool *shared)
{
    pthread_condattr_t steady;
    if (pthread_condattr_init(&steady) != 0) {
        return false;
    }
    bool done = pthread_condattr_setclock(&steady, CLOCK_MONOTONIC) == 0 &&
                pthread_cond_init(&shared->change, &steady) == 0;
    (void)pthread_condattr_destroy(&steady);
    if (done && pthread_mutex_init(&shared->lock, NULL) != 0) {
        (void)pthread_cond_destroy(&shared->change);
        done = false;
    }
    return done;
}

us_status usi_verify_pool_run(us_context *context, usi_verify_job *jobs, size_t count,
                              size_t threads)
{
    pool shared = {.jobs = jobs, .count = count, .caller = context};
    size_t helpers = (threads < count ? threads : count) - 1;
    pthread_t *started = usi_memory_array(context, helpers, sizeof *started);
    if (started == NULL || !open_pool(&shared)) {
        free(started);
        return US_ERROR_MEMORY;
    }
    size_t running = 0;
    lock(&shared);
    while (running < helpers && pthread_create(&started[running], NULL, help, &shared) == 0) {
        running++; /* where no more can be had, fewer do the same work */
    }
    shared.working = running;
    unlock(&shared);
    work(&shared, tell);
    await(&shared);
    for (size_t i = 0; i < running; i++) {
        (void)pthread_join(started[i], NULL);
    }
    (void)pthread_mutex_destroy(&shared.lock);
    (void)pthread_cond_destroy(&shared.change);
    free(started);
    if (shared.status == US_ERROR_MEMORY) {
        usi_context_report(context, US_ERROR, NULL, NULL, "out of memory");
    }
    return shared.status;
}
