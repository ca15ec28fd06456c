#include "output/json_text.h"

#include "base/buffer.h"
#include "base/context.h"

/* The buffer remembers what it could not take. jansson's own does not: short of
 * memory it may leave out a key and go on. */
static int add_bytes(const char *bytes, size_t length, void *out)
{
    usi_buffer_add(out, bytes, length);
    return 0;
}

us_status usi_json_print(us_context *context, us_buffer *out, json_t *root, bool complete)
{
    enum { DIGITS = 9, INDENT = 2 };
    bool done = root != NULL && complete &&
                json_dump_callback(root, add_bytes, out,
                                   JSON_INDENT(INDENT) | JSON_REAL_PRECISION(DIGITS)) == 0;
    json_decref(root);
    if (!done) {
        usi_context_report(context, US_ERROR, NULL, NULL, "out of memory while writing JSON");
        return US_ERROR_MEMORY;
    }
    usi_buffer_add_text(out, "\n");
    return US_OK;
}
