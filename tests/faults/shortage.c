/* The definitions of malloc and its kin below take the place of those of libc
 * in the whole process, the libraries included. No standard header declares
 * what they stand on: the allocator of libc, or that of the sanitizer. */
#include "faults/shortage.h"

#include <errno.h>
#include <link.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <unwind.h>

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
#define BELOW(name) __interceptor_##name
#define BARE __attribute__((no_sanitize("address", "thread", "undefined")))
#else
#define BELOW(name) __libc_##name
#define BARE
#endif

extern void *BELOW(malloc)(size_t size);
extern void *BELOW(calloc)(size_t count, size_t size);
extern void *BELOW(realloc)(void *block, size_t size);
extern void BELOW(free)(void *block);

const char *const shortage_names[SHORTAGE_OWNERS] = {"Undersill", "CHOLMOD", "libyaml", "jansson",
                                                     "libpng",    "cairo",   "Pango",   "other"};

/* A stretch of code and whose it is. */
typedef struct stretch {
    uintptr_t from;
    uintptr_t to;
    int owner;
} stretch;

enum { STRETCHES = 128, LIBC = -1, SLOTS = 1 << 17 };

static stretch stretches[STRETCHES];
static size_t stretch_count;

/* Blocks got while armed, in open addressing. */
static struct slot {
    void *block;
    int owner;
} slots[SLOTS];

static shortage_plan plan;
static bool armed;
static size_t counted;
static size_t calls[SHORTAGE_OWNERS];
static shortage_owner failed = SHORTAGE_OWNERS;

static int owner_of_library(const char *path)
{
    static const struct {
        const char *part;
        int owner;
    } known[] = {{"/libc.so", LIBC},
                 {"/libasan", LIBC},
                 {"/libcholmod", SHORTAGE_CHOLMOD},
                 {"/libsuitesparse", SHORTAGE_CHOLMOD},
                 {"amd.so", SHORTAGE_CHOLMOD}, /* amd, camd, colamd, ccolamd */
                 {"/libmetis", SHORTAGE_CHOLMOD},
                 {"/libyaml", SHORTAGE_YAML},
                 {"/libjansson", SHORTAGE_JANSSON},
                 {"/libpng", SHORTAGE_PNG},
                 {"/libz.", SHORTAGE_CAIRO},
                 {"/libcairo", SHORTAGE_CAIRO},
                 {"/libpixman", SHORTAGE_CAIRO},
                 {"/libpango", SHORTAGE_TEXT},
                 {"/libglib", SHORTAGE_TEXT},
                 {"/libgobject", SHORTAGE_TEXT},
                 {"/libharfbuzz", SHORTAGE_TEXT},
                 {"/libfribidi", SHORTAGE_TEXT},
                 {"/libfontconfig", SHORTAGE_TEXT},
                 {"/libfreetype", SHORTAGE_TEXT},
                 {"/libexpat", SHORTAGE_TEXT}};
    if (path[0] == '\0') {
        return SHORTAGE_US; /* the program itself, the library linked in */
    }
    for (size_t i = 0; i < sizeof known / sizeof known[0]; i++) {
        if (strstr(path, known[i].part) != NULL) {
            return known[i].owner;
        }
    }
    return SHORTAGE_OTHER;
}

static int note_library(struct dl_phdr_info *info, size_t size, void *unused)
{
    (void)size;
    (void)unused;
    for (int i = 0; i < info->dlpi_phnum && stretch_count < STRETCHES; i++) {
        const ElfW(Phdr) *part = &info->dlpi_phdr[i];
        if (part->p_type == PT_LOAD && (part->p_flags & PF_X) != 0) {
            uintptr_t from = info->dlpi_addr + part->p_vaddr;
            stretches[stretch_count++] =
                (stretch){from, from + part->p_memsz, owner_of_library(info->dlpi_name)};
        }
    }
    return 0;
}

void shortage_begin(void)
{
    stretch_count = 0;
    (void)dl_iterate_phdr(note_library, NULL);
}

BARE static int owner_at(uintptr_t address)
{
    for (size_t i = 0; i < stretch_count; i++) {
        if (address >= stretches[i].from && address < stretches[i].to) {
            return stretches[i].owner;
        }
    }
    return SHORTAGE_OTHER;
}

/* How far the walk up the stack has come: past this file, past libc. */
typedef struct walk {
    bool in_libc;
    int owner;
} walk;

static _Unwind_Reason_Code step(struct _Unwind_Context *frame, void *state)
{
    walk *up = state;
    int owner = owner_at(_Unwind_GetIP(frame));
    if (owner == LIBC) {
        up->in_libc = true;
    } else if (up->in_libc) {
        up->owner = owner;
        return _URC_END_OF_STACK;
    }
    return _URC_NO_REASON;
}

static int caller_of_libc(void)
{
    walk up = {false, SHORTAGE_OTHER};
    (void)_Unwind_Backtrace(step, &up);
    return up.owner;
}

BARE static size_t slot_of(const void *block)
{
    uint64_t mixed = (uint64_t)(uintptr_t)block * UINT64_C(0x9E3779B97F4A7C15);
    return (size_t)(mixed >> 47);
}

BARE static void remember(void *block, int owner)
{
    size_t at = slot_of(block);
    for (size_t tries = 0; tries < SLOTS; tries++, at = (at + 1) % SLOTS) {
        if (slots[at].block == NULL || slots[at].block == (void *)slots) {
            slots[at] = (struct slot){block, owner};
            return;
        }
    }
    abort(); /* more blocks than the table holds */
}

/* Who owns the block forgotten, or -1. The slot is marked, not emptied. */
BARE static int forget(const void *block)
{
    size_t at = slot_of(block);
    for (size_t tries = 0; tries < SLOTS && slots[at].block != NULL; tries++) {
        if (slots[at].block == block) {
            slots[at].block = (void *)slots;
            return slots[at].owner;
        }
        at = (at + 1) % SLOTS;
    }
    return -1;
}

/* Who calls, or -1 when this call is to fail. */
static int admit(uintptr_t caller)
{
    int owner = owner_at(caller);
    bool was_armed = armed;
    armed = false; /* walking the stack may allocate */
    owner = owner == LIBC ? caller_of_libc() : owner;
    armed = was_armed;
    calls[owner]++;
    if ((plan.owners >> owner & 1) == 0) {
        return owner;
    }
    counted++;
    if (plan.at == 0 || counted < plan.at || (counted > plan.at && !plan.and_later)) {
        return owner;
    }
    failed = failed == SHORTAGE_OWNERS ? (shortage_owner)owner : failed;
    errno = ENOMEM;
    return -1;
}

#define CALLER ((uintptr_t)__builtin_return_address(0))

BARE static void *keep(void *block, int owner)
{
    if (block != NULL && (SHORTAGE_OURS >> owner & 1) != 0) {
        remember(block, owner);
    }
    return block;
}

BARE void *malloc(size_t size)
{
    if (!armed) {
        return BELOW(malloc)(size);
    }
    int owner = admit(CALLER);
    return owner < 0 ? NULL : keep(BELOW(malloc)(size), owner);
}

BARE void *calloc(size_t count, size_t size)
{
    if (!armed) {
        return BELOW(calloc)(count, size);
    }
    int owner = admit(CALLER);
    return owner < 0 ? NULL : keep(BELOW(calloc)(count, size), owner);
}

BARE void *realloc(void *block, size_t size)
{
    if (!armed) {
        int owner = block == NULL ? -1 : forget(block);
        void *moved = BELOW(realloc)(block, size);
        return owner < 0 ? moved : keep(moved, owner);
    }
    int owner = admit(CALLER);
    if (owner < 0) {
        return NULL;
    }
    if (block != NULL) {
        (void)forget(block);
    }
    return keep(BELOW(realloc)(block, size), owner);
}

BARE void free(void *block)
{
    if (block != NULL) {
        (void)forget(block);
    }
    BELOW(free)(block);
}

/* The sanitizer would take this one from libc and not come by here. */
BARE char *strdup(const char *text)
{
    size_t size = strlen(text) + 1;
    int owner = armed ? admit(CALLER) : SHORTAGE_OTHER;
    char *copy = owner < 0 ? NULL : BELOW(malloc)(size);
    if (copy != NULL) {
        memcpy(copy, text, size);
    }
    return keep(copy, owner);
}

void shortage_arm(shortage_plan wanted)
{
    plan = wanted;
    counted = 0;
    failed = SHORTAGE_OWNERS;
    memset(calls, 0, sizeof calls);
    memset(slots, 0, sizeof slots);
    armed = true;
}

size_t shortage_disarm(void)
{
    armed = false;
    return counted;
}

size_t shortage_calls(shortage_owner owner)
{
    return calls[owner];
}

shortage_owner shortage_failed(void)
{
    return failed;
}

size_t shortage_outstanding(unsigned owners)
{
    size_t count = 0;
    for (size_t i = 0; i < SLOTS; i++) {
        bool lives = slots[i].block != NULL && slots[i].block != (void *)slots;
        count += lives && (owners >> slots[i].owner & 1) != 0;
    }
    return count;
}
