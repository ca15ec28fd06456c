#include "study/judge.h"

#include <math.h>
#include <string.h>

#include "base/memory.h"
#include "study/estimate.h"

static const us_value ABSENT = {0.0, 0.0, false};

us_value usi_judge_limit(usi_requirement limit)
{
    return (us_value){limit.given ? limit.value : 0.0, 0.0, limit.given};
}

static us_value margin_of(const us_check_result *check)
{
    us_value value = check->value;
    if (!value.present || !check->required.present) {
        return ABSENT;
    }
    double limit = check->required.value;
    if (check->at_most) {
        return usi_estimate_quotient(limit, value);
    }
    return (us_value){value.value / limit, value.error / limit, true};
}

static us_verdict verdict_of(const us_check_result *check)
{
    bool open = check->verdict == US_NOT_REQUIRED && check->value.present;
    if (!open || !check->required.present) {
        return check->verdict;
    }
    double value = check->value.value;
    double limit = check->required.value;
    bool passes = check->at_most ? value <= limit : value >= limit;
    return passes ? US_PASS : US_FAIL;
}

us_status usi_judge_add(const usi_judge *of, const us_check_result *check)
{
    us_water_result *result = of->result;
    us_check_result *grown = usi_memory_resize(of->context, (us_check_result *)result->checks,
                                               result->check_count + 1, sizeof *grown);
    if (grown == NULL) {
        return US_ERROR_MEMORY;
    }
    result->checks = grown;
    us_check_result *added = &grown[result->check_count++];
    *added = *check;
    added->margin = margin_of(check);
    added->verdict = verdict_of(check);
    added->where = usi_memory_text(of->context, check->where, strlen(check->where));
    added->basis = usi_memory_text(of->context, check->basis, strlen(check->basis));
    return added->where != NULL && added->basis != NULL ? US_OK : US_ERROR_MEMORY;
}
