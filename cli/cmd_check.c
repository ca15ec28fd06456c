/* undersill check FILE: reads and explains a section. */
#include "command.h"

int cmd_check(const cli_options *options)
{
    us_context *context = us_context_create();
    us_section *section = NULL;
    us_buffer *text = NULL;
    us_status status = context == NULL ? US_ERROR_MEMORY : cli_read(context, options, &section);
    if (status == US_OK) {
        status = us_section_explain(context, section, &text);
    }
    int code = cli_conclude(context, status, options->quiet);
    if (code == CLI_DONE) {
        code = cli_deliver(context, options, text);
    }
    us_buffer_free(text);
    us_section_free(section);
    us_context_free(context);
    return code;
}
