/* Names are unique among walls, soils, water cases, piezometers and drains each. */
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "model/check.h"

typedef struct named {
    const char *name;
    const usi_mark *mark;
} named;

static int by_name(const void *a, const void *b)
{
    const named *first = a;
    const named *second = b;
    int order = strcmp(first->name, second->name);
    /* The later entry of a pair is the one to report. */
    return order != 0 ? order : (first->mark > second->mark) - (first->mark < second->mark);
}

static void report_twins(usi_check *check, named *list, size_t count)
{
    qsort(list, count, sizeof *list, by_name);
    for (size_t i = 1; i < count; i++) {
        if (strcmp(list[i].name, list[i - 1].name) == 0) {
            usi_check_error(check, list[i].mark, "give each its own name",
                            "the name %s stands here twice", list[i].name);
        }
    }
}

static const usi_mark *mark_of(const usi_raw_text *name, const usi_mark *whole)
{
    return name->text != NULL ? &name->at : whole;
}

#define LIST_NAMES(list, count, section_items, raw_type, raw_items)                                \
    for (size_t i = 0; i < (count); i++) {                                                         \
        const raw_type *raw = (const raw_type *)(raw_items) + i;                                   \
        (list)[i] = (named){(section_items)[i].name, mark_of(&raw->name, &raw->at)};               \
    }                                                                                              \
    report_twins(check, (list), (count))

void usi_check_names(usi_check *check)
{
    const us_section *section = check->section;
    const usi_raw_section *raw_section = check->raw;
    size_t room = section->wall_count + section->soil_count + section->water_count +
                  section->piezometer_count + section->drain_count;
    named *list = usi_memory_array(check->context, room, sizeof *list);
    if (list == NULL) {
        check->failed = true;
        return;
    }
    LIST_NAMES(list, section->wall_count, section->walls, usi_raw_wall, raw_section->walls.items);
    LIST_NAMES(list, section->soil_count, section->soils, usi_raw_soil, raw_section->soils.items);
    LIST_NAMES(list, section->water_count, section->waters, usi_raw_water,
               raw_section->waters.items);
    LIST_NAMES(list, section->piezometer_count, section->piezometers, usi_raw_piezometer,
               raw_section->piezometers.items);
    LIST_NAMES(list, section->drain_count, section->drains, usi_raw_drain,
               raw_section->drains.items);
    free(list);
}
