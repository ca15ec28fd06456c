/* undersill example [NAME]: a commented starter section. */
#include <errno.h>
#include <string.h>

#include "command.h"
#include "examples.h"

static int list(void)
{
    for (const cli_example *example = cli_examples; example->name != NULL; example++) {
        (void)printf("%-10s %s\n", example->name, example->summary);
    }
    return cli_flush();
}

static const cli_example *find(const char *name)
{
    const cli_example *example = cli_examples;
    while (example->name != NULL && strcmp(example->name, name) != 0) {
        example++;
    }
    return example->name != NULL ? example : NULL;
}

static int refuse(const char *name)
{
    enum { OFFERED = 32 };
    const char *known[OFFERED + 1] = {NULL};
    for (size_t i = 0; i < OFFERED && cli_examples[i].name != NULL; i++) {
        known[i] = cli_examples[i].name;
    }
    const char *near = cli_nearest(name, known);
    if (near != NULL) {
        cli_complain("no example is called '%s'; did you mean '%s'?", name, near);
    } else {
        cli_complain("no example is called '%s'; undersill example --list names them", name);
    }
    return CLI_USAGE;
}

int cmd_example(const cli_options *options)
{
    errno = 0;
    if (options->list) {
        return list();
    }
    const char *name = options->operand != NULL ? options->operand : "demo";
    const cli_example *example = find(name);
    if (example == NULL) {
        return refuse(name);
    }
    (void)fwrite(example->text, 1, example->length, stdout);
    return cli_flush();
}
