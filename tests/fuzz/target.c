#include "fuzz/target.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "input/text.h"

void fuzz_require(bool holds, const char *message, const char *file, int line)
{
    if (!holds) {
        (void)fprintf(stderr, "%s:%d: broken promise: %s\n", file, line, message);
        abort();
    }
}

static void require_words(const char *text, const char *message)
{
    require(text == NULL || usi_text_is_printable(text, strlen(text)), message);
}

void fuzz_require_messages(const us_context *context, us_status status)
{
    size_t errors = 0;
    for (size_t i = 0; i < us_context_diagnostic_count(context); i++) {
        const us_diagnostic *said = us_context_diagnostic(context, i);
        errors += said->severity == US_ERROR;
        require(said->message != NULL && said->message[0] != '\0', "a message has words");
        require_words(said->message, "a message can be printed");
        require_words(said->hint, "a hint can be printed");
        require_words(said->key, "a key can be printed");
        require(said->line >= 0 && said->column >= 0, "a place counts from 1");
    }
    require((errors > 0) == (status != US_OK && status != US_NOT_CONVERGED),
            "there is an error when it failed, and only then");
    require(errors <= 101, "at most 100 errors are kept, and their sum");
}

void fuzz_require_printable(const void *text, size_t length)
{
    const char *at = text;
    const char *end = at + length;
    while (at < end) {
        const char *stop = memchr(at, '\n', (size_t)(end - at));
        size_t count = (size_t)((stop != NULL ? stop : end) - at);
        require(usi_text_is_printable(at, count), "a line can be printed");
        at += count + 1;
    }
}

void fuzz_require_value(us_value value)
{
    require(isfinite(value.value) && isfinite(value.error), "a value is finite");
    require(value.error >= 0.0, "an error is not negative");
    require(value.present || (value.value == 0.0 && value.error == 0.0), "the absent is zero");
}
