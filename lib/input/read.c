/* Section files and streams into sections. */
#include <errno.h>
#include <fcntl.h>
#include <sha2.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/file.h"
#include "base/memory.h"
#include "input/change.h"
#include "input/decode.h"
#include "input/text.h"
#include "model/build.h"

/* Of the text, then of each change as a line of its own. */
static void digest(const usi_origin *origin, char *hex)
{
    SHA2_CTX state;
    SHA256Init(&state);
    SHA256Update(&state, (const uint8_t *)origin->text, origin->length);
    for (size_t i = 0; i < origin->change_count; i++) {
        const usi_origin_change *change = &origin->changes[i];
        SHA256Update(&state, (const uint8_t *)"\n", 1);
        SHA256Update(&state, (const uint8_t *)change->key, strlen(change->key));
        SHA256Update(&state, (const uint8_t *)"=", 1);
        SHA256Update(&state, (const uint8_t *)change->text, strlen(change->text));
    }
    (void)SHA256End(&state, hex);
}

static us_status read_into(us_context *context, const usi_origin *origin, usi_arena *arena,
                           us_section **section)
{
    usi_source source = {origin->name, origin->text, origin->length};
    usi_raw_section raw = {.source = source, .errors_before = usi_context_error_count(context)};
    if (!usi_text_check(context, &source, USI_TEXT_SECTION)) {
        return US_ERROR_INPUT;
    }
    usi_node *root = usi_tree_read(context, &source, arena);
    if (root == NULL || !usi_change_apply(context, &source, arena, root, origin)) {
        return arena->failed ? US_ERROR_MEMORY : US_ERROR_INPUT;
    }
    usi_reader reader = {.context = context, .source = &source, .arena = arena};
    digest(origin, raw.sha256);
    raw.at = usi_scalar_mark(root, NULL);
    usi_decode_units(&reader, root, &raw.units);
    usi_decode_mapping(&reader, root, "", usi_schema_section(), &raw);
    return arena->failed ? US_ERROR_MEMORY : usi_section_build(context, &raw, section);
}

static us_status read_origin(us_context *context, const usi_origin *origin, us_section **section)
{
    usi_arena arena = {.context = context};
    us_status status = read_into(context, origin, &arena, section);
    usi_arena_clear(&arena);
    return status;
}

static us_status read_text(us_context *context, const usi_source *from, us_section **section)
{
    /* Only looked at; it is copied once there is a section to keep it. */
    usi_origin origin = {
        .name = (char *)from->name, .text = (char *)from->text, .length = from->length};
    us_section *made = NULL;
    us_status status = read_origin(context, &origin, &made);
    if (status == US_OK) {
        status = usi_change_gather(context, &origin, NULL, 0, &made->origin);
    }
    if (status != US_OK) {
        us_section_free(made);
        return status;
    }
    *section = made;
    return US_OK;
}

us_status us_section_read(us_context *context, const char *text, size_t length, const char *name,
                          us_section **section)
{
    if (context == NULL || text == NULL || section == NULL) {
        return US_ERROR_ARGUMENT;
    }
    usi_source from = {name != NULL ? name : "-", text, length};
    return read_text(context, &from, section);
}

us_status us_section_vary(us_context *context, const us_section *section, const us_change *changes,
                          size_t count, us_section **variant)
{
    if (context == NULL || section == NULL || variant == NULL || (changes == NULL && count > 0)) {
        return US_ERROR_ARGUMENT;
    }
    usi_origin origin;
    us_section *made = NULL;
    us_status status = usi_change_gather(context, &section->origin, changes, count, &origin);
    if (status == US_OK) {
        status = read_origin(context, &origin, &made);
    }
    if (status != US_OK) {
        usi_origin_free(&origin);
        return status;
    }
    made->origin = origin;
    *variant = made;
    return US_OK;
}

/* Where the bytes of a section come from. */
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

static us_status refuse_for_errno(us_context *context, const char *name, int number)
{
    char reason[128];
    if (number == ENOENT) {
        return refuse(context, name, "`undersill example` prints a section to start from",
                      "cannot be read: there is no such file");
    }
    if (strerror_r(number, reason, sizeof reason) != 0) {
        (void)snprintf(reason, sizeof reason, "error %d", number);
    }
    char message[192];
    (void)snprintf(message, sizeof message, "cannot be read: %s", reason);
    return refuse(context, name, NULL, message);
}

/* Reads to the end, or until there is more than a section file may have. */
static us_status read_supply(us_context *context, const supply *from, const char *name,
                             us_section **section)
{
    enum { ROOM = USI_TEXT_CAP + 1 };
    char *text = usi_memory_array(context, ROOM, 1);
    if (text == NULL) {
        return US_ERROR_MEMORY;
    }
    size_t length = 0;
    ssize_t count = 1;
    while (length < ROOM && count > 0) {
        count = draw_bytes(from, text + length, ROOM - length);
        length += count > 0 ? (size_t)count : 0;
    }
    us_status status = count < 0 ? refuse_for_errno(context, name, errno)
                                 : us_section_read(context, text, length, name, section);
    free(text);
    return status;
}

us_status us_section_read_stream(us_context *context, FILE *stream, const char *name,
                                 us_section **section)
{
    if (context == NULL || stream == NULL || section == NULL) {
        return US_ERROR_ARGUMENT;
    }
    supply from = {stream, -1};
    return read_supply(context, &from, name != NULL ? name : "-", section);
}

static us_status read_open_file(us_context *context, int descriptor, const char *path,
                                us_section **section)
{
    struct stat about;
    if (fstat(descriptor, &about) != 0) {
        return refuse_for_errno(context, path, errno);
    }
    if (S_ISDIR(about.st_mode)) {
        return refuse(context, path, "name the section file in it", "is a folder, not a file");
    }
    if (!S_ISREG(about.st_mode)) {
        return refuse(context, path, "use `-` to read standard input", "is not a regular file");
    }
    if (about.st_size > USI_TEXT_CAP) {
        return refuse(context, path, NULL, "a section file has at most 1 MiB; this one is longer");
    }
    supply from = {NULL, descriptor};
    return read_supply(context, &from, path, section);
}

us_status us_section_read_file(us_context *context, const char *path, us_section **section)
{
    if (context == NULL || path == NULL || section == NULL) {
        return US_ERROR_ARGUMENT;
    }
    /* Non-blocking, so that a pipe without a writer does not hold us up. */
    int descriptor = usi_file_open(path, O_RDONLY | O_NONBLOCK | O_NOCTTY | O_CLOEXEC, 0);
    if (descriptor < 0) {
        return refuse_for_errno(context, path, errno);
    }
    us_status status = read_open_file(context, descriptor, path, section);
    (void)close(descriptor);
    return status;
}
