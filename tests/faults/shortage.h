/* Memory that runs short on purpose: the malloc family of a test program, with
 * every call put down to the library that made it. */
#ifndef TESTS_FAULTS_SHORTAGE_H
#define TESTS_FAULTS_SHORTAGE_H

#include <stdbool.h>
#include <stddef.h>

/* Who asked for the memory. What libc allocates counts for its caller. */
typedef enum shortage_owner {
    SHORTAGE_US, /* the library and the tool */
    SHORTAGE_CHOLMOD,
    SHORTAGE_YAML,
    SHORTAGE_JANSSON,
    SHORTAGE_PNG,
    SHORTAGE_CAIRO, /* loses errors, and jumps into frames that are gone */
    SHORTAGE_TEXT,  /* Pango and below: GLib ends the process when memory is short */
    SHORTAGE_OTHER, /* run-time libraries */
    SHORTAGE_OWNERS
} shortage_owner;

/* All whose calls must fail cleanly, one bit each. */
enum { SHORTAGE_OURS = (1 << SHORTAGE_CAIRO) - 1 };

extern const char *const shortage_names[SHORTAGE_OWNERS];

typedef struct shortage_plan {
    unsigned owners; /* bits: whose calls are counted and may fail */
    size_t at;       /* the call that fails, counted from 1; 0: none does */
    bool and_later;  /* all calls behind it fail too */
} shortage_plan;

/* Learns which libraries are loaded where; call it once before all else. */
void shortage_begin(void);

/* From here on calls are counted, may fail, and their blocks are remembered. */
void shortage_arm(shortage_plan wanted);

/* Calls counted since; nothing fails from here on. */
size_t shortage_disarm(void);

/* Calls by owner since it was armed. */
size_t shortage_calls(shortage_owner owner);

/* Who made the call that failed first; SHORTAGE_OWNERS when none did. */
shortage_owner shortage_failed(void);

/* Blocks of these owners got since it was armed and not freed yet. */
size_t shortage_outstanding(unsigned owners);

#endif
