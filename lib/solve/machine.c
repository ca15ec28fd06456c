/* In a file of its own, so that a test can put another machine in its place. */
#include <math.h>
#include <unistd.h>

#include "solve/room.h"

double usi_room_of_machine(void)
{
    long pages = sysconf(_SC_PHYS_PAGES);
    long bytes = sysconf(_SC_PAGESIZE);
    return pages > 0 && bytes > 0 ? (double)pages * (double)bytes : HUGE_VAL;
}
