/* Bytes of memory, of a stream or of a file, at most as many as there may be. */
#include "input/supply.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/file.h"
#include "base/memory.h"

typedef struct supply_kind {
    const char *when_missing; /* hint */
    const char *when_folder;
    const char *too_long;
} supply_kind;

static const supply_kind kinds[] = {
    [USI_TEXT_SECTION] = {"`undersill example` prints a section to start from",
                          "name the section file in it",
                          "a section file has at most 1 MiB; this one is longer"},
    [USI_TEXT_TABLE] = {"is the name spelt as it is on the disk?", "name the table in it",
                        "a table has at most 32 MiB; this one is longer"},
};

/* Where the bytes come from. */
typedef struct supply {
    FILE *stream; /* or NULL: then `descriptor` */
    int descriptor;
} supply;

/* Bytes read, 0 at the end, negative on failure with errno set. */
static ssize_t draw_bytes(const supply *from, char *into, size_t room)
{
    if (from->stream == NULL) {
        ssize_t count = 0;
        do {
            count = read(from->descriptor, into, room);
        } while (count < 0 && errno == EINTR);
        return count;
    }
    errno = 0;
    size_t count = fread(into, 1, room, from->stream);
    return count == 0 && ferror(from->stream) != 0 ? -1 : (ssize_t)count;
}

static us_status refuse(us_context *context, const char *name, const char *hint,
                        const char *message)
{
    usi_place place = {name, 0, 0, NULL, NULL};
    usi_context_report(context, US_ERROR, &place, hint, "%s", message);
    return US_ERROR_INPUT;
}

static us_status refuse_for_errno(us_context *context, const char *name, const supply_kind *kind,
                                  int number)
{
    char reason[128];
    if (number == ENOENT) {
        return refuse(context, name, kind->when_missing, "cannot be read: there is no such file");
    }
    if (strerror_r(number, reason, sizeof reason) != 0) {
        (void)snprintf(reason, sizeof reason, "error %d", number);
    }
    char message[192];
    (void)snprintf(message, sizeof message, "cannot be read: %s", reason);
    return refuse(context, name, NULL, message);
}

enum { FIRST_ROOM = 1 << 16 };

/* The bytes so far, in a block that grows. */
static us_status read_to_end(us_context *context, const supply *from, const supply_kind *kind,
                             size_t cap, usi_bytes *bytes)
{
    size_t room = 0;
    ssize_t count = 1;
    while (count > 0 && bytes->length <= cap) {
        if (bytes->length == room) {
            room = room == 0 ? FIRST_ROOM : 2 * room;
            char *grown = usi_memory_resize(context, bytes->owned, room, 1);
            if (grown == NULL) {
                return US_ERROR_MEMORY;
            }
            bytes->owned = grown;
        }
        count = draw_bytes(from, bytes->owned + bytes->length, room - bytes->length);
        bytes->length += count > 0 ? (size_t)count : 0;
    }
    bytes->text = bytes->owned;
    return count < 0 ? refuse_for_errno(context, bytes->name, kind, errno) : US_OK;
}

static us_status read_open_file(us_context *context, int descriptor, const supply_kind *kind,
                                size_t cap, usi_bytes *bytes)
{
    struct stat about;
    if (fstat(descriptor, &about) != 0) {
        return refuse_for_errno(context, bytes->name, kind, errno);
    }
    if (S_ISDIR(about.st_mode)) {
        return refuse(context, bytes->name, kind->when_folder, "is a folder, not a file");
    }
    if (!S_ISREG(about.st_mode)) {
        return refuse(context, bytes->name, "use `-` to read standard input",
                      "is not a regular file");
    }
    if (about.st_size > (off_t)cap) {
        return refuse(context, bytes->name, NULL, kind->too_long);
    }
    supply from = {NULL, descriptor};
    return read_to_end(context, &from, kind, cap, bytes);
}

static us_status read_file(us_context *context, const char *path, const supply_kind *kind,
                           size_t cap, usi_bytes *bytes)
{
    /* Non-blocking, so that a pipe without a writer does not hold us up. */
    int descriptor = usi_file_open(path, O_RDONLY | O_NONBLOCK | O_NOCTTY | O_CLOEXEC, 0);
    if (descriptor < 0) {
        return refuse_for_errno(context, bytes->name, kind, errno);
    }
    us_status status = read_open_file(context, descriptor, kind, cap, bytes);
    (void)close(descriptor);
    return status;
}

bool usi_supply_is_one(const us_input *input)
{
    return input != NULL &&
           (input->text != NULL) + (input->path != NULL) + (input->stream != NULL) == 1;
}

us_status usi_supply_read(us_context *context, const us_input *input, usi_text_kind what,
                          usi_bytes *bytes)
{
    const supply_kind *kind = &kinds[what];
    size_t cap = usi_text_cap(what);
    const char *name = input->name != NULL ? input->name : input->path;
    *bytes = (usi_bytes){.name = name != NULL ? name : "-"};
    if (input->text != NULL) {
        bytes->text = input->text;
        bytes->length = input->length;
        return US_OK;
    }
    if (input->path != NULL) {
        return read_file(context, input->path, kind, cap, bytes);
    }
    supply from = {input->stream, -1};
    return read_to_end(context, &from, kind, cap, bytes);
}
