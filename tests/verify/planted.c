/* The tool with three cases in place of those built in: one that passes, one whose
 * expected value is wrong, one whose section is. Linked with
 * --wrap=usi_verify_case_at. */
#include "verify/tables.h"

#define SECTION                                                                                    \
    "title: Planted\n"                                                                             \
    "bed: {upstream: 10, downstream: 10}\n"                                                        \
    "base: 0\n"                                                                                    \
    "walls: [{name: sheet, x: 0, top: 10, tip: 5}]\n"                                              \
    "soils: [{name: sand, kh: 1e-5}]\n"                                                            \
    "water: [{name: w, upstream: 13, downstream: 10}]\n"

static const usi_verify_check right[] = {{USI_VERIFY_FLOW, NULL, 1.5e-5, 0.0, NULL}};
static const usi_verify_check wrong[] = {
    {USI_VERIFY_FLOW, NULL, 1.52e-5, 0.0, NULL},
    {USI_VERIFY_FLOW, NULL, 1.52e-5, 0.03e-5, "Read off a chart."},
};

static const usi_verify_case cases[] = {
    {"right", "known", SECTION, 0.0, USI_VERIFY_COUNT(right), right},
    {"wrong", "hearsay", SECTION, 0.0, USI_VERIFY_COUNT(wrong), wrong},
    {"broken", "hearsay", "bed: 3\n", 0.0, USI_VERIFY_COUNT(right), right},
};

const usi_verify_case *__wrap_usi_verify_case_at(size_t index);

const usi_verify_case *__wrap_usi_verify_case_at(size_t index)
{
    return index < USI_VERIFY_COUNT(cases) ? &cases[index] : NULL;
}
