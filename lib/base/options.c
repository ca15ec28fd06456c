#include "base/options.h"

#include <string.h>

bool usi_options_take(const void *given, void *into, size_t known)
{
    size_t size = 0;
    memcpy(&size, given, sizeof size);
    if (size <= sizeof size || size > known) {
        return false;
    }
    memcpy(into, given, size);
    memcpy(into, &known, sizeof known);
    return true;
}
