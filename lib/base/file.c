#include "base/file.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#include "base/context.h"
#include "base/memory.h"
#include "undersill/buffer.h"

static us_status refuse(us_context *context, const char *path, const char *hint, const char *why)
{
    usi_place place = {.file = path};
    usi_context_report(context, US_ERROR, &place, hint, "cannot be written: %s", why);
    return US_ERROR_FILE;
}

static us_status refuse_errno(us_context *context, const char *path, int error)
{
    char why[160];
    switch (error) {
    case ENOENT:
        return refuse(context, path, "create the folder first", "its folder does not exist");
    case ENOTDIR:
        return refuse(context, path, NULL, "a part of its path is no folder");
    case EACCES:
    case EPERM:
        return refuse(context, path, NULL, "permission denied");
    case EROFS:
        return refuse(context, path, NULL, "its file system is read-only");
    case ENOSPC:
    case EDQUOT:
        return refuse(context, path, NULL, "no space is left on the device");
    case EFBIG:
        return refuse(context, path, NULL, "it would exceed the size allowed for a file");
    default:
        if (strerror_r(error, why, sizeof why) != 0) {
            (void)snprintf(why, sizeof why, "error %d", error);
        }
        return refuse(context, path, NULL, why);
    }
}

int usi_file_open(const char *path, int flags, mode_t mode)
{
    int descriptor = -1;
    do {
        descriptor = open(path, flags, mode);
    } while (descriptor < 0 && errno == EINTR);
    return descriptor;
}

static int flush(int descriptor)
{
    int done = 0;
    do {
        done = fsync(descriptor);
    } while (done != 0 && errno == EINTR);
    return done;
}

static int write_all(int descriptor, const char *bytes, size_t length)
{
    while (length > 0) {
        ssize_t written = write(descriptor, bytes, length);
        if (written < 0 && errno != EINTR) {
            return errno;
        }
        if (written > 0) {
            bytes += written;
            length -= (size_t)written;
        }
    }
    return 0;
}

/* Closes and keeps the first error; only close() can tell of some (NFS). */
static int close_after(int descriptor, int error)
{
    if (close(descriptor) != 0 && error == 0 && errno != EINTR) {
        error = errno;
    }
    return error;
}

static int write_stream(const char *path, const char *bytes, size_t length)
{
    int descriptor = usi_file_open(path, O_WRONLY | O_NOCTTY | O_CLOEXEC, 0);
    if (descriptor < 0) {
        return errno;
    }
    return close_after(descriptor, write_all(descriptor, bytes, length));
}

/* Opens a new file in the folder of `path`, whose name is left in `name`
 * (`room` bytes). The name is short whatever that of the target is. */
static int open_neighbour(const char *path, char *name, size_t room, mode_t mode)
{
    enum { TRIES = 100, NEW = O_WRONLY | O_CREAT | O_EXCL };
    const char *slash = strrchr(path, '/');
    int folder = slash == NULL ? 0 : (int)(slash - path) + 1;
    for (unsigned i = 0; i < TRIES; i++) {
        struct timespec now = {0, 0};
        (void)clock_gettime(CLOCK_REALTIME, &now);
        (void)snprintf(name, room, "%.*s.undersill-%ld-%08lx-%u.part", folder, path, (long)getpid(),
                       (unsigned long)now.tv_nsec, i);
        int descriptor = usi_file_open(name, NEW | O_NOFOLLOW | O_CLOEXEC, mode);
        if (descriptor >= 0 || errno != EEXIST) {
            return descriptor;
        }
    }
    return -1;
}

static int fill_and_rename(const char *path, const struct stat *old, const char *bytes,
                           size_t length, char *name, size_t room)
{
    enum { PLAIN = 0666, PERMISSIONS = 0777 };
    int descriptor = open_neighbour(path, name, room, PLAIN);
    if (descriptor < 0) {
        return errno;
    }
    int error = write_all(descriptor, bytes, length);
    if (error == 0 && old != NULL && fchmod(descriptor, old->st_mode & PERMISSIONS) != 0) {
        error = errno;
    }
    if (error == 0 && flush(descriptor) != 0) {
        error = errno;
    }
    error = close_after(descriptor, error);
    if (error == 0 && rename(name, path) != 0) {
        error = errno;
    }
    if (error != 0) {
        (void)unlink(name);
    }
    return error;
}

/* A signal that ends the process half-way would leave the neighbour behind:
 * the usual ones wait until it is renamed. One of our own doing (the size
 * limit) is taken back. */
static int replace_undisturbed(const char *path, const struct stat *old, const char *bytes,
                               size_t length, char *name, size_t room)
{
    static const int waiting[] = {SIGINT, SIGTERM, SIGHUP, SIGQUIT, SIGXFSZ};
    sigset_t blocked;
    sigset_t before;
    (void)sigemptyset(&blocked);
    for (size_t i = 0; i < sizeof waiting / sizeof waiting[0]; i++) {
        (void)sigaddset(&blocked, waiting[i]);
    }
    int unblocked = pthread_sigmask(SIG_BLOCK, &blocked, &before);
    int error = fill_and_rename(path, old, bytes, length, name, room);
    if (unblocked == 0) {
        if (error == EFBIG) {
            const struct timespec at_once = {0, 0};
            sigset_t size_limit;
            (void)sigemptyset(&size_limit);
            (void)sigaddset(&size_limit, SIGXFSZ);
            (void)sigtimedwait(&size_limit, NULL, &at_once);
        }
        (void)pthread_sigmask(SIG_SETMASK, &before, NULL);
    }
    return error;
}

/* `real` is where `path` leads. */
static us_status write_regular(us_context *context, const char *path, const char *real,
                               const struct stat *old, const char *bytes, size_t length)
{
    enum { NAME_ROOM = 80 };
    if (old != NULL && faccessat(AT_FDCWD, real, W_OK, AT_EACCESS) != 0) {
        return refuse_errno(context, path, errno);
    }
    size_t room = strlen(real) + NAME_ROOM;
    char *name = usi_memory_array(context, room, 1);
    if (name == NULL) {
        return US_ERROR_MEMORY;
    }
    int error = replace_undisturbed(real, old, bytes, length, name, room);
    free(name);
    return error == 0 ? US_OK : refuse_errno(context, path, error);
}

/* Something is at `path`. */
static us_status write_existing(us_context *context, const char *path, const struct stat *old,
                                const char *bytes, size_t length)
{
    if (S_ISDIR(old->st_mode)) {
        return refuse(context, path, "name a file in it", "it is a folder");
    }
    if (!S_ISREG(old->st_mode)) {
        int error = write_stream(path, bytes, length);
        return error == 0 ? US_OK : refuse_errno(context, path, error);
    }
    char *real = realpath(path, NULL);
    if (real == NULL && errno == ENOMEM) {
        usi_context_report(context, US_ERROR, NULL, NULL, "out of memory while writing a file");
        return US_ERROR_MEMORY;
    }
    if (real == NULL) {
        return refuse_errno(context, path, errno);
    }
    us_status status = write_regular(context, path, real, old, bytes, length);
    free(real);
    return status;
}

/* Whether the file that is at `path` may be overwritten. */
static us_status check_input(us_context *context, const char *path, const struct stat *old,
                             const char *input)
{
    struct stat source;
    if (!S_ISREG(old->st_mode) || input == NULL) {
        return US_OK;
    }
    if (stat(input, &source) != 0) {
        bool gone = errno == ENOENT || errno == ENOTDIR;
        return gone ? US_OK
                    : refuse(context, path, "choose a name that is not taken yet",
                             "it may be the input itself, which can no longer be looked at");
    }
    bool same = source.st_dev == old->st_dev && source.st_ino == old->st_ino;
    return same ? refuse(context, path, "choose another name for the output",
                         "it is the input itself")
                : US_OK;
}

us_status usi_file_write(us_context *context, const void *bytes, size_t length, const char *path,
                         const char *input)
{
    struct stat old;
    if (usi_context_pulse(context, "writing", 0, 0.0) != US_OK) {
        return US_CANCELLED; /* once, before it begins: never half-way */
    }
    if (stat(path, &old) == 0) {
        us_status status = check_input(context, path, &old, input);
        if (status != US_OK) {
            return status;
        }
        return write_existing(context, path, &old, bytes, length);
    }
    if (errno != ENOENT) {
        return refuse_errno(context, path, errno);
    }
    if (path[0] == '\0') {
        return refuse(context, NULL, NULL, "the name is empty");
    }
    if (lstat(path, &old) == 0) {
        return refuse(context, path, "remove the link first", "it is a link that leads nowhere");
    }
    if (errno != ENOENT) {
        return refuse_errno(context, path, errno);
    }
    return write_regular(context, path, path, NULL, bytes, length);
}

us_status us_buffer_write_file(us_context *context, const us_buffer *buffer, const char *path,
                               const char *input)
{
    if (context == NULL || buffer == NULL || path == NULL) {
        return US_ERROR_ARGUMENT;
    }
    return usi_file_write(context, us_buffer_data(buffer), us_buffer_length(buffer), path, input);
}
