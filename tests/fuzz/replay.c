/* Hands files to a fuzz target, without a fuzzer: every file named, and every
 * file of every folder named. Fails when there is none. */
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "fuzz/target.h"

static bool replay_file(const char *path, long size)
{
    FILE *stream = fopen(path, "rb");
    /* Exactly as large as the file, so that a read beyond its end is seen. */
    uint8_t *bytes = malloc(size > 0 ? (size_t)size : 1);
    bool done =
        stream != NULL && bytes != NULL && fread(bytes, 1, (size_t)size, stream) == (size_t)size;
    if (done) {
        (void)LLVMFuzzerTestOneInput(bytes, (size_t)size);
    } else {
        (void)fprintf(stderr, "%s: cannot be read\n", path);
    }
    if (stream != NULL) {
        (void)fclose(stream);
    }
    free(bytes);
    return done;
}

/* Number of files replayed under `path`; adds to `failed` those that were not. */
static size_t replay(const char *path, size_t *failed)
{
    struct stat about;
    if (stat(path, &about) != 0) {
        (void)fprintf(stderr, "%s: no such file\n", path);
        *failed += 1;
        return 0;
    }
    if (!S_ISDIR(about.st_mode)) {
        (void)fprintf(stderr, "%s\n", path);
        bool done = replay_file(path, (long)about.st_size);
        *failed += done ? 0 : 1;
        return done ? 1 : 0;
    }
    struct dirent **entries = NULL;
    int count = scandir(path, &entries, NULL, alphasort);
    size_t replayed = 0;
    for (int i = 0; i < count; i++) {
        char inner[4096];
        int length = snprintf(inner, sizeof inner, "%s/%s", path, entries[i]->d_name);
        if (entries[i]->d_name[0] != '.' && length > 0 && (size_t)length < sizeof inner) {
            replayed += replay(inner, failed);
        }
        free(entries[i]);
    }
    free(entries);
    return replayed;
}

int main(int argc, char **argv)
{
    size_t replayed = 0;
    size_t failed = 0;
    for (int i = 1; i < argc; i++) {
        replayed += replay(argv[i], &failed);
    }
    printf("%zu inputs replayed, %zu could not be read\n", replayed, failed);
    return replayed > 0 && failed == 0 ? 0 : 1;
}
