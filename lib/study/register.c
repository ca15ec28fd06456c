#include "study/register.h"

#include <math.h>
#include <string.h>

#include "base/memory.h"

/* What counts first; less is worse. */
static int rank(const us_check_result *check)
{
    static const int ranks[] = {
        [US_FAIL] = 0, [US_NOT_CHECKED] = 1, [US_PASS] = 2, [US_NOT_REQUIRED] = 3};
    return ranks[check->verdict];
}

/* How near to its limit a check is; without a limit, how small its value is. Less is worse. */
static double distance(const us_check_result *check)
{
    if (check->margin.present) {
        return check->margin.value;
    }
    if (!check->value.present) {
        return HUGE_VAL;
    }
    return check->at_most ? -check->value.value : check->value.value;
}

static bool is_worse(const us_check_result *one, const us_check_result *other)
{
    int difference = rank(one) - rank(other);
    return difference != 0 ? difference < 0 : distance(one) < distance(other);
}

static us_register_entry *find(us_solution *solution, const char *name)
{
    for (size_t k = 0; k < solution->register_count; k++) {
        if (strcmp(solution->entries[k].check->name, name) == 0) {
            return &solution->entries[k];
        }
    }
    return NULL;
}

static void enter(us_solution *solution, const us_water_result *water, const us_check_result *check)
{
    us_register_entry *entry = find(solution, check->name);
    if (entry == NULL) {
        entry = &solution->entries[solution->register_count++];
    } else if (!is_worse(check, entry->check)) {
        return;
    }
    *entry = (us_register_entry){.check = check, .water = water->name};
}

/* The one of all that has a limit and is nearest to it. */
static void mark_governing(us_solution *solution)
{
    us_register_entry *worst = NULL;
    for (size_t k = 0; k < solution->register_count; k++) {
        us_register_entry *entry = &solution->entries[k];
        if (entry->check->required.present &&
            (worst == NULL || is_worse(entry->check, worst->check))) {
            worst = entry;
        }
    }
    if (worst != NULL) {
        worst->governs = true;
    }
}

us_status usi_register_fill(us_context *context, us_solution *solution)
{
    size_t most = 0;
    for (size_t w = 0; w < solution->water_count; w++) {
        most += solution->water[w].check_count;
    }
    solution->entries = usi_memory_array(context, most, sizeof *solution->entries);
    if (solution->entries == NULL) {
        return US_ERROR_MEMORY;
    }
    for (size_t w = 0; w < solution->water_count; w++) {
        const us_water_result *water = &solution->water[w];
        for (size_t c = 0; c < water->check_count; c++) {
            enter(solution, water, &water->checks[c]);
        }
    }
    mark_governing(solution);
    return US_OK;
}
