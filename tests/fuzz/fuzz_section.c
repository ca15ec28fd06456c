/* Any bytes as a section file: read or refused in words, and what was read can
 * be explained and laid out. */
#include "fuzz/target.h"

#include "model/survey.h"

/* Shapes that cannot be solved yet can be told and laid out all the same. */
static void lay_out(const uint8_t *data, size_t size)
{
    us_context *context = us_context_create();
    require(context != NULL, "memory for a context");
    us_section *section = NULL;
    us_status status = us_section_read(context, (const char *)data, size, "test", &section);
    fuzz_require_messages(context, status);
    if (section != NULL) {
        us_buffer *text = NULL;
        usi_plan plan;
        usi_plan_window window = usi_survey_around(section);
        require(us_section_explain(context, section, &text) == US_OK, "any shape is explained");
        require(usi_plan_build(context, section, &window, &plan) == US_OK, "it is laid out");
        require(plan.edge_count >= 3, "soil has an outline");
        us_buffer_free(text);
        usi_plan_free(&plan);
    }
    us_section_free(section);
    us_context_free(context);
}

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
    lay_out(data, size);
    return 0;
}
