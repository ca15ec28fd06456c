#include "solve/room.h"

#include <math.h>

#include "base/context.h"
#include "base/number.h"

/* Measured up to 2.5 million unknowns of sections with and without walls and drains, and an
 * eighth: entries of the factor grow with the logarithm of the unknowns. */
static const double BYTES_EACH = 270.0;
static const double BYTES_EACH_DOUBLING = 15.0;
static const double BYTES_ANYWAY = 16e6;
/* Both problems at once take so many times as much; from so many unknowns on that is the
 * quicker by more than a thread takes to start. */
static const double BOTH = 1.6;
static const size_t WORTH_IT = 10000;

double usi_room_predict(size_t unknowns)
{
    double count = (double)unknowns;
    return BYTES_ANYWAY + count * (BYTES_EACH + BYTES_EACH_DOUBLING * log2(count + 1.0));
}

bool usi_room_for_both(const us_context *context, size_t unknowns)
{
    return usi_context_threads(context) > 1 && unknowns >= WORTH_IT &&
           BOTH * usi_room_predict(unknowns) < 0.5 * usi_room_of_machine();
}

double usi_room_expect(const us_context *context, size_t unknowns)
{
    return (usi_room_for_both(context, unknowns) ? BOTH : 1.0) * usi_room_predict(unknowns);
}

us_status usi_room_check(us_context *context, size_t unknowns, double available)
{
    const double gibibyte = 1024.0 * 1024.0 * 1024.0;
    double needed = usi_room_predict(unknowns);
    if (needed <= available) {
        return US_OK;
    }
    char needs[USI_NUMBER_ROOM];
    char has[USI_NUMBER_ROOM];
    usi_context_report(context, US_ERROR, NULL,
                       "ask for less accuracy, or for fewer unknowns (--unknowns)",
                       "a grid of %zu unknowns needs about %s GiB of memory, and this machine "
                       "has %s GiB",
                       unknowns, usi_number_write(needs, needed / gibibyte, 2),
                       usi_number_write(has, available / gibibyte, 2));
    return US_ERROR_MEMORY;
}
