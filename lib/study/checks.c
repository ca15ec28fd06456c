#include "study/checks.h"

#include "study/judge.h"

/* In the order of the tables. */
static us_status judge(const usi_judge *of)
{
    static us_status (*const judges[])(const usi_judge *of) = {
        usi_judge_piping, usi_judge_heave,     usi_judge_hyd,       usi_judge_blow_up,
        usi_judge_uplift, usi_judge_upl,       usi_judge_creep,     usi_judge_retention,
        usi_judge_banks,  usi_judge_embedment, usi_judge_corrosion, usi_judge_load};
    us_status status = US_OK;
    for (size_t k = 0; status == US_OK && k < sizeof judges / sizeof judges[0]; k++) {
        status = judges[k](of);
    }
    return status;
}

/* A case, the same with its drains shut, the same without its apron. */
static us_status judge_case(usi_judge of)
{
    us_water_result *case_result = of.result;
    us_status status = judge(&of);
    of.result = (us_water_result *)case_result->drains_shut;
    if (status == US_OK && of.result != NULL) {
        status = judge(&of);
    }
    of.result = (us_water_result *)case_result->without_apron;
    if (status == US_OK && of.result != NULL) {
        status = judge(&of);
    }
    return status;
}

us_status usi_checks_fill(us_context *context, us_solution *solution)
{
    us_status status = US_OK;
    for (size_t w = 0; status == US_OK && w < solution->water_count; w++) {
        const usi_water *water = &solution->section->waters[w];
        if (water->undermined == NULL) {
            const us_section *ground = water->ground != NULL ? water->ground : solution->section;
            usi_judge of = {context, ground, solution, w, &solution->water[w]};
            status = judge_case(of);
        }
    }
    return status;
}
