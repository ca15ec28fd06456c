#include "study/tipped.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "model/panes.h"

static void end_wall(const us_section *section, double level_m, usi_wall *wall)
{
    double tolerance_m = usi_section_tolerance(section);
    wall->tip_m = level_m;
    wall->solved_tip_m = level_m;
    wall->keyed = false;
    wall->open_contact = false;
    /* From the top down: what is left of a list is its beginning. */
    size_t kept = 0;
    while (kept < wall->opening_count && wall->openings[kept].low_m > level_m + tolerance_m) {
        kept++;
    }
    if (kept < wall->opening_count && wall->openings[kept].high_m > level_m) {
        wall->solved_tip_m = wall->openings[kept].high_m;
    }
    wall->opening_count = kept;
}

/* Panes follow from the tips, also those of other walls: a strip is as wide as what is next to
 * it lets it be. */
static us_status copy_walls(us_context *context, const us_section *from, const usi_tip *tips,
                            size_t count, us_section *to)
{
    to->walls = usi_memory_array(context, from->wall_count + 1, sizeof *to->walls);
    if (to->walls == NULL) {
        return US_ERROR_MEMORY;
    }
    memcpy(to->walls, from->walls, from->wall_count * sizeof *to->walls);
    for (size_t w = 0; w < from->wall_count; w++) {
        to->walls[w].pane_count = 0;
        to->walls[w].panes = NULL;
    }
    for (size_t k = 0; k < count; k++) {
        end_wall(from, tips[k].level_m, &to->walls[tips[k].wall]);
    }
    return usi_panes_lay(context, to);
}

/* Water cases with beds of their own have the walls as well. */
static us_status copy_waters(us_context *context, const us_section *from, const usi_tip *tips,
                             size_t count, usi_tipped *to)
{
    usi_water *waters = usi_memory_array(context, from->water_count + 1, sizeof *waters);
    to->section.waters = waters;
    to->grounds = usi_memory_array(context, from->water_count + 1, sizeof(usi_tipped *));
    if (waters == NULL || to->grounds == NULL) {
        return US_ERROR_MEMORY;
    }
    memcpy(waters, from->waters, from->water_count * sizeof *waters);
    for (size_t w = 0; w < from->water_count; w++) {
        if (waters[w].ground == NULL) {
            continue;
        }
        usi_tipped *ground = NULL;
        us_status status = usi_tipped_make(context, waters[w].ground, tips, count, &ground);
        if (status != US_OK) {
            return status;
        }
        to->grounds[to->ground_count++] = ground;
        waters[w].ground = &ground->section;
    }
    return US_OK;
}

us_status usi_tipped_make(us_context *context, const us_section *section, const usi_tip *tips,
                          size_t count, usi_tipped **made)
{
    usi_tipped *tipped = usi_memory_array(context, 1, sizeof *tipped);
    if (tipped == NULL) {
        return US_ERROR_MEMORY;
    }
    tipped->section = *section;
    tipped->section.walls = NULL;
    tipped->section.waters = NULL;
    us_status status = copy_walls(context, section, tips, count, &tipped->section);
    if (status == US_OK) {
        status = copy_waters(context, section, tips, count, tipped);
    }
    if (status == US_OK) {
        *made = tipped;
    } else {
        usi_tipped_free(tipped);
    }
    return status;
}

void usi_tipped_free(usi_tipped *tipped)
{
    if (tipped == NULL) {
        return;
    }
    for (size_t g = 0; g < tipped->ground_count; g++) {
        usi_tipped_free(tipped->grounds[g]);
    }
    for (size_t w = 0; tipped->section.walls != NULL && w < tipped->section.wall_count; w++) {
        free(tipped->section.walls[w].panes);
    }
    free(tipped->grounds);
    free(tipped->section.walls);
    free(tipped->section.waters);
    free(tipped);
}
