/* Preloaded into programs of the tests: plays a host that set the locale of its
 * user before it called the library. Ends the program at once where that locale
 * has no decimal comma, since nothing would be tested then. */
#include <locale.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

__attribute__((constructor)) static void set_locale(void)
{
    char text[16];
    const char *name = setlocale(LC_ALL, "");
    (void)snprintf(text, sizeof text, "%.1f", 1.5);
    if (name == NULL || strcmp(text, "1,5") != 0) {
        (void)fprintf(stderr, "no decimal comma under the locale %s\n", name != NULL ? name : "?");
        _exit(97);
    }
}
