/* Linked into the tool, it arms the faults that the environment asks for:
 *
 *   FAULT=memory:K    the K-th allocation fails; memory:K+ all later ones too
 *   FAULT=disk:K:E    the K-th call to the file system fails with errno E, or with
 *                     a single byte moved for E = -1; disk:K+:E all later ones too
 *   FAULT_SEEN=FILE   into which goes how many such calls there were, and the name
 *                     of the call to the file system that failed, or -
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "faults/disk.h"
#include "faults/shortage.h"

static void arm(void) __attribute__((constructor));
static void tell(void) __attribute__((destructor));

static void arm(void)
{
    const char *fault = getenv("FAULT");
    if (fault == NULL || strchr(fault, ':') == NULL) {
        return;
    }
    char *rest = NULL;
    size_t at = strtoul(strchr(fault, ':') + 1, &rest, 10);
    bool and_later = *rest == '+';
    rest += and_later;
    if (strncmp(fault, "disk", 4) == 0) {
        disk_arm((disk_plan){at, *rest == ':' ? (int)strtol(rest + 1, NULL, 10) : 0, and_later});
    } else {
        shortage_begin();
        shortage_arm((shortage_plan){SHORTAGE_OURS, at, and_later});
    }
}

static void tell(void)
{
    size_t seen = disk_disarm() + shortage_disarm();
    const char *path = getenv("FAULT_SEEN");
    FILE *file = path == NULL ? NULL : fopen(path, "w");
    if (file != NULL) {
        const char *name = disk_failed() < DISK_CALLS ? disk_names[disk_failed()] : "-";
        (void)fprintf(file, "%zu %s\n", seen, name);
        (void)fclose(file);
    }
}
