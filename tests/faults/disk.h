/* A file system that fails on purpose: the calls of the library and the tool to it
 * (linked in by --wrap, see CMakeLists.txt), not those of other libraries. */
#ifndef TESTS_FAULTS_DISK_H
#define TESTS_FAULTS_DISK_H

#include <stdbool.h>
#include <stddef.h>

typedef enum disk_call {
    DISK_OPEN,
    DISK_READ,
    DISK_WRITE,
    DISK_FSYNC,
    DISK_CLOSE,
    DISK_RENAME,
    DISK_UNLINK,
    DISK_STAT,
    DISK_LSTAT,
    DISK_FSTAT,
    DISK_FCHMOD,
    DISK_FACCESSAT,
    DISK_REALPATH,
    DISK_CALLS
} disk_call;

extern const char *const disk_names[DISK_CALLS];

enum { DISK_SHORT = -1 };

typedef struct disk_plan {
    size_t at;      /* the call that fails, counted from 1; 0: none does */
    int error;      /* with this errno; DISK_SHORT: it moves a single byte */
    bool and_later; /* all calls behind it fail too */
} disk_plan;

/* From here on calls are counted and may fail. */
void disk_arm(disk_plan wanted);

/* Calls counted since; nothing fails from here on. */
size_t disk_disarm(void);

/* Which call failed first; DISK_CALLS when none did. */
disk_call disk_failed(void);

#endif
