/* Partial factors of limit states. */
#include "model/fill.h"

/* Recommended values of EN 1997-1:2004, annex A, table A.17, on permanent actions; from
 * memory. What a country has chosen instead is the user's to give. */
static const double HYD_DST = 1.35;
static const double HYD_STB = 0.90;
/* Likewise, table A.15. */
static const double UPL_DST = 1.00;
static const double UPL_STB = 0.90;

static void fill(const usi_raw_partial *raw, double dst, double stb, usi_partial_factors *factors)
{
    factors->asked = raw->at.line > 0;
    factors->own = raw->dst.given && raw->stb.given;
    factors->dst = raw->dst.given ? raw->dst.si : dst;
    factors->stb = raw->stb.given ? raw->stb.si : stb;
}

void usi_fill_limit_states(usi_check *check)
{
    const usi_raw_limit_states *raw = &check->raw->limit_states;
    fill(&raw->hyd, HYD_DST, HYD_STB, &check->section->limit_states.hyd);
    fill(&raw->upl, UPL_DST, UPL_STB, &check->section->limit_states.upl);
}

static void check_factors(usi_check *check, const usi_raw_partial *raw)
{
    if (raw->dst.given && raw->dst.si < 1.0) {
        usi_check_error(check, &raw->dst.at, "give 1 or more, such as 1.35",
                        "a partial factor on what destabilises below 1 would make it smaller");
    }
    if (raw->stb.given && raw->stb.si > 1.0) {
        usi_check_error(check, &raw->stb.at, "give 1 or less, such as 0.90",
                        "a partial factor on what stabilises above 1 would make it larger");
    }
}

void usi_check_limit_states(usi_check *check)
{
    check_factors(check, &check->raw->limit_states.hyd);
    check_factors(check, &check->raw->limit_states.upl);
}
