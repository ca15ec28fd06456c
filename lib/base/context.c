/* The diagnostics of a context. */
#include "base/context.h"

#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { ERROR_CAP = 100, NOTE_CAP = 1000, MESSAGE_CAP = 1024 };

struct us_context {
    size_t count;
    size_t room;
    us_diagnostic *list;
    size_t errors;
    size_t notes;
    /* Stands in when memory is short, or says how many errors were left out. */
    us_diagnostic last;
    char last_message[80];
    bool short_of_memory;
    us_progress_function progress;
    void *progress_data;
    size_t more_threads; /* that calls may use besides their own */
};

us_context *us_context_create(void)
{
    return calloc(1, sizeof(us_context));
}

static void clear_diagnostic(us_diagnostic *diagnostic)
{
    free((char *)diagnostic->file);
    free((char *)diagnostic->key);
    free((char *)diagnostic->message);
    free((char *)diagnostic->hint);
    free((char *)diagnostic->source_line);
}

void us_context_clear(us_context *context)
{
    if (context == NULL) {
        return;
    }
    for (size_t i = 0; i < context->count; i++) {
        clear_diagnostic(&context->list[i]);
    }
    free(context->list);
    *context = (us_context){.progress = context->progress,
                            .progress_data = context->progress_data,
                            .more_threads = context->more_threads};
}

void us_context_free(us_context *context)
{
    us_context_clear(context);
    free(context);
}

void us_context_set_progress(us_context *context, us_progress_function function, void *data)
{
    if (context != NULL) {
        context->progress = function;
        context->progress_data = data;
    }
}

void us_context_set_threads(us_context *context, size_t threads)
{
    if (context != NULL) {
        context->more_threads = threads > 0 ? threads - 1 : 0;
    }
}

size_t usi_context_threads(const us_context *context)
{
    return context != NULL ? context->more_threads + 1 : 1;
}

static us_status tell(us_context *context, us_progress progress)
{
    if (context == NULL || context->progress == NULL) {
        return US_OK;
    }
    return context->progress(&progress, context->progress_data) ? US_OK : US_CANCELLED;
}

us_status usi_context_pulse(us_context *context, const char *stage, size_t unknowns,
                            double fraction)
{
    return tell(context, (us_progress){stage, unknowns, fraction, 0.0});
}

us_status usi_context_pulse_equations(us_context *context, size_t unknowns, double bytes,
                                      double fraction)
{
    return tell(context, (us_progress){"solving the equations", unknowns, fraction, bytes});
}

us_context *usi_context_create_aside(const us_context *parent)
{
    us_context *context = us_context_create();
    us_context_set_progress(context, parent->progress, parent->progress_data);
    us_context_set_threads(context, usi_context_threads(parent));
    return context;
}

void usi_context_close_aside(us_context *aside, us_context *parent, us_status status)
{
    if (status == US_ERROR_MEMORY) {
        usi_context_report(parent, US_ERROR, NULL,
                           "free memory, or ask for less accuracy (--accuracy)",
                           "out of memory while solving a variant of the section");
    }
    us_context_free(aside);
}

static bool has_last(const us_context *context)
{
    return context->short_of_memory || context->errors > ERROR_CAP;
}

size_t us_context_diagnostic_count(const us_context *context)
{
    return context == NULL ? 0 : context->count + (has_last(context) ? 1 : 0);
}

const us_diagnostic *us_context_diagnostic(const us_context *context, size_t index)
{
    if (context == NULL) {
        return NULL;
    }
    if (index < context->count) {
        return &context->list[index];
    }
    return index == context->count && has_last(context) ? &context->last : NULL;
}

size_t usi_context_error_count(const us_context *context)
{
    return context == NULL ? 0 : context->errors;
}

static bool copy_text(const char **copy, const char *text)
{
    *copy = text == NULL ? NULL : strdup(text);
    return text == NULL || *copy != NULL;
}

static bool fill(us_diagnostic *diagnostic, const usi_place *place, const char *hint,
                 const char *message)
{
    static const usi_place nowhere = {NULL, 0, 0, NULL, NULL};
    if (place == NULL) {
        place = &nowhere;
    }
    diagnostic->line = place->line;
    diagnostic->column = place->column;
    bool done = copy_text(&diagnostic->file, place->file);
    done = copy_text(&diagnostic->key, place->key) && done;
    done = copy_text(&diagnostic->message, message) && done;
    done = copy_text(&diagnostic->hint, hint) && done;
    return copy_text(&diagnostic->source_line, place->source_line) && done;
}

static void note_shortage(us_context *context)
{
    context->short_of_memory = true;
    context->last =
        (us_diagnostic){.severity = US_ERROR, .message = "out of memory while reporting a message"};
}

static void append(us_context *context, us_severity severity, const usi_place *place,
                   const char *hint, const char *message)
{
    if (context->count == context->room) {
        size_t room = context->room == 0 ? 8 : 2 * context->room;
        us_diagnostic *list = realloc(context->list, room * sizeof *list);
        if (list == NULL) {
            note_shortage(context);
            return;
        }
        context->list = list;
        context->room = room;
    }
    us_diagnostic *diagnostic = &context->list[context->count];
    memset(diagnostic, 0, sizeof *diagnostic);
    diagnostic->severity = severity;
    if (fill(diagnostic, place, hint, message)) {
        context->count++;
    } else {
        clear_diagnostic(diagnostic);
        note_shortage(context);
    }
}

static void count_left_out(us_context *context)
{
    (void)snprintf(context->last_message, sizeof context->last_message, "and %zu more",
                   context->errors - ERROR_CAP);
    if (!context->short_of_memory) {
        context->last = (us_diagnostic){.severity = US_ERROR, .message = context->last_message};
    }
}

void usi_context_report(us_context *context, us_severity severity, const usi_place *place,
                        const char *hint, const char *format, ...)
{
    if (context == NULL) {
        return;
    }
    if (severity == US_ERROR) {
        context->errors++;
        if (context->errors > ERROR_CAP) {
            count_left_out(context);
            return;
        }
    } else if (++context->notes > NOTE_CAP) {
        return;
    }
    char message[MESSAGE_CAP];
    va_list arguments;
    va_start(arguments, format);
    int written = vsnprintf(message, sizeof message, format, arguments);
    va_end(arguments);
    append(context, severity, place, hint, written < 0 ? format : message);
}
