/* Any bytes as a section file: read or refused in words, and what was read can
 * be explained. */
#include "fuzz/target.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    us_context *context = us_context_create();
    require(context != NULL, "memory for a context");
    us_section *section = NULL;
    us_status status = us_section_read(context, (const char *)data, size, "fuzz.yaml", &section);
    require(status == US_OK || status == US_ERROR_INPUT, "a section is read or refused");
    require((status == US_OK) == (section != NULL), "there is a section when it was read");
    fuzz_require_messages(context, status);
    if (section != NULL) {
        us_buffer *text = NULL;
        require(us_section_explain(context, section, &text) == US_OK, "it can be explained");
        require(us_buffer_length(text) > 0, "it is explained in words");
        fuzz_require_printable(us_buffer_data(text), us_buffer_length(text));
        us_buffer_free(text);
    }
    us_section_free(section);
    us_context_free(context);
    return 0;
}
