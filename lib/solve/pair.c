#include "solve/pair.h"

#include <errno.h>
#include <pthread.h>
#include <stdlib.h>
#include <time.h>

#include "base/context.h"
#include "solve/head.h"
#include "solve/room.h"
#include "solve/stream.h"

/* The stream-function problem as another thread solves it. */
typedef struct companion {
    pthread_t thread;
    pthread_mutex_t lock;
    pthread_cond_t change;
    bool done;     /* under the lock, */
    bool unwanted; /* as this is */
    us_context *context;
    const usi_grid *grid;
    us_status status;
    usi_stream stream;
    double *values;
} companion;

static bool is_wanted(const us_progress *progress, void *data)
{
    (void)progress;
    companion *of = data;
    (void)pthread_mutex_lock(&of->lock);
    bool wanted = !of->unwanted;
    (void)pthread_mutex_unlock(&of->lock);
    return wanted;
}

static void *run(void *data)
{
    companion *of = data;
    of->status = usi_stream_find(of->context, of->grid, &of->stream, &of->values);
    (void)pthread_mutex_lock(&of->lock);
    of->done = true;
    (void)pthread_cond_signal(&of->change);
    (void)pthread_mutex_unlock(&of->lock);
    return NULL;
}

static bool open_change(pthread_cond_t *change)
{
    pthread_condattr_t steady;
    if (pthread_condattr_init(&steady) != 0) {
        return false;
    }
    bool done = pthread_condattr_setclock(&steady, CLOCK_MONOTONIC) == 0 &&
                pthread_cond_init(change, &steady) == 0;
    (void)pthread_condattr_destroy(&steady);
    return done;
}

/* False where there can be none: then all goes on without. */
static bool begin(companion *of, const usi_grid *grid)
{
    *of = (companion){.grid = grid, .context = us_context_create()};
    if (of->context == NULL) {
        return false;
    }
    us_context_set_progress(of->context, is_wanted, of);
    if (open_change(&of->change)) {
        if (pthread_mutex_init(&of->lock, NULL) == 0) {
            if (pthread_create(&of->thread, NULL, run, of) == 0) {
                return true;
            }
            (void)pthread_mutex_destroy(&of->lock);
        }
        (void)pthread_cond_destroy(&of->change);
    }
    us_context_free(of->context);
    return false;
}

/* Waits for it; the caller of the library hears of that now and then, and may cancel. */
static us_status await(us_context *context, companion *of, us_status status)
{
    enum { NS_PER_S = 1000000000, PAUSE_NS = 200000000 };
    (void)pthread_mutex_lock(&of->lock);
    while (!of->done) {
        of->unwanted = status != US_OK;
        struct timespec until = {0};
        (void)clock_gettime(CLOCK_MONOTONIC, &until);
        until.tv_nsec += PAUSE_NS;
        until.tv_sec += until.tv_nsec / NS_PER_S;
        until.tv_nsec %= NS_PER_S;
        if (pthread_cond_timedwait(&of->change, &of->lock, &until) == ETIMEDOUT &&
            status == US_OK) {
            (void)pthread_mutex_unlock(&of->lock);
            status = usi_context_pulse_equations(context, of->grid->unknowns,
                                                 usi_room_expect(context, of->grid->unknowns), 0.9);
            (void)pthread_mutex_lock(&of->lock);
        }
    }
    (void)pthread_mutex_unlock(&of->lock);
    (void)pthread_join(of->thread, NULL);
    return status;
}

static void end(companion *of)
{
    (void)pthread_mutex_destroy(&of->lock);
    (void)pthread_cond_destroy(&of->change);
    us_context_free(of->context);
    usi_stream_free(&of->stream);
    free(of->values);
}

/* What went wrong in the other thread is done again in this one, so that it is said where the
 * caller sees it. */
static us_status solve_at_once(us_context *context, companion *other, usi_field *field)
{
    us_status status = await(context, other, usi_head_solve(context, field));
    if (status != US_OK) {
        return status;
    }
    if (other->status != US_OK) {
        return usi_stream_solve(context, field);
    }
    return other->stream.sealed ? US_OK
                                : usi_stream_take(context, &other->stream, other->values, field);
}

us_status usi_pair_solve(us_context *context, usi_field *field)
{
    companion other;
    us_status status = US_OK;
    if (usi_room_for_both(context, field->grid->unknowns) && begin(&other, field->grid)) {
        status = solve_at_once(context, &other, field);
        end(&other);
    } else {
        status = usi_head_solve(context, field);
        if (status == US_OK) {
            status = usi_stream_solve(context, field);
        }
    }
    if (status == US_OK) {
        usi_field_conclude(field);
    }
    return status;
}
