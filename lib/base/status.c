/* Names of the status codes. */
#include "undersill/status.h"

#include "undersill/version.h"

const char *us_status_name(us_status status)
{
    switch (status) {
    case US_OK:
        return "ok";
    case US_NOT_CONVERGED:
        return "not converged";
    case US_ERROR_INPUT:
        return "input error";
    case US_ERROR_ARGUMENT:
        return "argument error";
    case US_ERROR_NUMERICAL:
        return "numerical error";
    case US_ERROR_FILE:
        return "file error";
    case US_ERROR_MEMORY:
        return "out of memory";
    case US_ERROR_INTERNAL:
        return "internal error";
    case US_CANCELLED:
        return "cancelled";
    }
    return "unknown status";
}

const char *us_version(void)
{
    return US_VERSION;
}

int us_version_number(void)
{
    return US_VERSION_NUMBER;
}
