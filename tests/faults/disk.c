/* The names __real_... and __wrap_... are what the linker's --wrap asks for. */
#include "faults/disk.h"

#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdio.h>
#include <sys/stat.h>
#include <unistd.h>

const char *const disk_names[DISK_CALLS] = {"open",   "read",      "write",   "fsync", "close",
                                            "rename", "unlink",    "stat",    "lstat", "fstat",
                                            "fchmod", "faccessat", "realpath"};

static disk_plan plan;
static bool armed;
static size_t counted;
static disk_call failed = DISK_CALLS;

void disk_arm(disk_plan wanted)
{
    plan = wanted;
    counted = 0;
    failed = DISK_CALLS;
    armed = true;
}

size_t disk_disarm(void)
{
    armed = false;
    return counted;
}

disk_call disk_failed(void)
{
    return failed;
}

/* True, with errno set, when this call is to fail. */
static bool fails(disk_call call)
{
    if (!armed) {
        return false;
    }
    counted++;
    if (plan.at == 0 || counted < plan.at || (counted > plan.at && !plan.and_later)) {
        return false;
    }
    failed = failed == DISK_CALLS ? call : failed;
    if (plan.error > 0) {
        errno = plan.error;
    }
    return true;
}

int __real_open(const char *path, int flags, ...);
int __wrap_open(const char *path, int flags, ...);
int __wrap_open(const char *path, int flags, ...)
{
    va_list more;
    va_start(more, flags);
    mode_t mode = (flags & O_CREAT) != 0 ? va_arg(more, mode_t) : 0;
    va_end(more);
    return fails(DISK_OPEN) ? -1 : __real_open(path, flags, mode);
}

ssize_t __real_read(int descriptor, void *into, size_t room);
ssize_t __wrap_read(int descriptor, void *into, size_t room);
ssize_t __wrap_read(int descriptor, void *into, size_t room)
{
    if (!fails(DISK_READ)) {
        return __real_read(descriptor, into, room);
    }
    return plan.error == DISK_SHORT ? __real_read(descriptor, into, room > 0) : -1;
}

ssize_t __real_write(int descriptor, const void *from, size_t length);
ssize_t __wrap_write(int descriptor, const void *from, size_t length);
ssize_t __wrap_write(int descriptor, const void *from, size_t length)
{
    if (!fails(DISK_WRITE)) {
        return __real_write(descriptor, from, length);
    }
    return plan.error == DISK_SHORT ? __real_write(descriptor, from, length > 0) : -1;
}

int __real_fsync(int descriptor);
int __wrap_fsync(int descriptor);
int __wrap_fsync(int descriptor)
{
    return fails(DISK_FSYNC) ? -1 : __real_fsync(descriptor);
}

/* It is closed whatever is said. */
int __real_close(int descriptor);
int __wrap_close(int descriptor);
int __wrap_close(int descriptor)
{
    int done = __real_close(descriptor);
    return fails(DISK_CLOSE) ? -1 : done;
}

int __real_rename(const char *from, const char *to);
int __wrap_rename(const char *from, const char *to);
int __wrap_rename(const char *from, const char *to)
{
    return fails(DISK_RENAME) ? -1 : __real_rename(from, to);
}

int __real_unlink(const char *path);
int __wrap_unlink(const char *path);
int __wrap_unlink(const char *path)
{
    return fails(DISK_UNLINK) ? -1 : __real_unlink(path);
}

int __real_stat(const char *path, struct stat *about);
int __wrap_stat(const char *path, struct stat *about);
int __wrap_stat(const char *path, struct stat *about)
{
    return fails(DISK_STAT) ? -1 : __real_stat(path, about);
}

int __real_lstat(const char *path, struct stat *about);
int __wrap_lstat(const char *path, struct stat *about);
int __wrap_lstat(const char *path, struct stat *about)
{
    return fails(DISK_LSTAT) ? -1 : __real_lstat(path, about);
}

int __real_fstat(int descriptor, struct stat *about);
int __wrap_fstat(int descriptor, struct stat *about);
int __wrap_fstat(int descriptor, struct stat *about)
{
    return fails(DISK_FSTAT) ? -1 : __real_fstat(descriptor, about);
}

int __real_fchmod(int descriptor, mode_t mode);
int __wrap_fchmod(int descriptor, mode_t mode);
int __wrap_fchmod(int descriptor, mode_t mode)
{
    return fails(DISK_FCHMOD) ? -1 : __real_fchmod(descriptor, mode);
}

int __real_faccessat(int folder, const char *path, int mode, int flags);
int __wrap_faccessat(int folder, const char *path, int mode, int flags);
int __wrap_faccessat(int folder, const char *path, int mode, int flags)
{
    return fails(DISK_FACCESSAT) ? -1 : __real_faccessat(folder, path, mode, flags);
}

char *__real_realpath(const char *path, char *into);
char *__wrap_realpath(const char *path, char *into);
char *__wrap_realpath(const char *path, char *into)
{
    return fails(DISK_REALPATH) ? NULL : __real_realpath(path, into);
}
