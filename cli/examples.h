/* The section files of examples/, built into the tool. */
#ifndef CLI_EXAMPLES_H
#define CLI_EXAMPLES_H

#include <stddef.h>

typedef struct cli_example {
    const char *name;    /* of the file, without .yaml */
    const char *summary; /* its first comment line */
    const unsigned char *text;
    size_t length;
} cli_example;

/* By name, closed by an entry without name. Written by cmake at build time. */
extern const cli_example cli_examples[];

#endif
