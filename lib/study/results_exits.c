/* The places where water leaves the soil, as results. */
#include <math.h>

#include "base/memory.h"
#include "study/exit_places.h"
#include "study/results.h"

/* The one nearest to boiling; the count where nothing can be said of any. */
static size_t find_worst(const usi_exit_list *list)
{
    size_t worst = list->count;
    double least = HUGE_VAL;
    for (size_t k = 0; k < list->count; k++) {
        const us_exit_place *place = &list->places[k];
        double factor = place->factor.present ? place->factor.value : usi_exit_place_least(place);
        if (factor < least && !place->retained) {
            least = factor;
            worst = k;
        }
    }
    return worst;
}

us_status usi_results_exits(us_context *context, const us_section *section, const usi_nest *nest,
                            usi_datum datum, us_water_result *result)
{
    us_exit_result *exit = &result->exit;
    usi_exit_list list = {.section = section, .nest = nest, .datum = datum, .result = result};
    list.places =
        usi_memory_array(context, usi_exit_places_most(section, nest), sizeof *list.places);
    if (list.places == NULL) {
        return US_ERROR_MEMORY;
    }
    usi_exit_places_bed(&list);
    usi_exit_places_faces(&list);
    exit->exits = list.places;
    exit->exit_count = list.count;
    exit->worst = find_worst(&list);
    if (list.main < list.count) {
        exit->piping_factor = list.places[list.main].factor;
    }
    return US_OK;
}
