/* Any bytes as a table of water cases behind a sound section: read or refused in words,
 * and what was read can be told. */
#include <string.h>

#include "fuzz/target.h"
#include "undersill/section.h"

static const char text[] = "bed: {upstream: 0, downstream: 0}\n"
                           "base: -10\n"
                           "structure: {underside: [[0, -1], [10, -1]]}\n"
                           "soils: [{name: sand, kh: 1e-5, kv: 1e-5}]\n"
                           "water: [{name: low, upstream: 1, downstream: at_bed}]\n";

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    us_context *context = us_context_create();
    require(context != NULL, "memory for a context");
    us_input reach = {.text = text, .length = strlen(text)};
    us_input cases = {.text = (const char *)data, .length = size, .name = "fuzz.csv"};
    us_section *section = NULL;
    us_status status =
        data == NULL ? US_ERROR_INPUT : us_section_read_cases(context, &reach, &cases, &section);
    require(status == US_OK || status == US_ERROR_INPUT, "a table is read or refused");
    require((status == US_OK) == (section != NULL), "there is a section when it was read");
    if (section != NULL) {
        us_buffer *told = NULL;
        require(us_section_water_count(section) > 1, "a table has rows");
        require(us_section_explain(context, section, &told) == US_OK, "it can be explained");
        fuzz_require_printable(us_buffer_data(told), us_buffer_length(told));
        us_buffer_free(told);
    }
    if (data != NULL) {
        fuzz_require_messages(context, status);
    }
    us_section_free(section);
    us_context_free(context);
    return 0;
}
