/* What a finished study tells. */
#include <stdlib.h>

#include "study/convergence.h"

bool usi_convergence_is_extrapolated(const us_trend *trend)
{
    return trend->steps[trend->step_count - 1].extrapolated.present;
}

size_t us_convergence_water(const us_convergence *study)
{
    return study == NULL ? 0 : study->water;
}

size_t us_convergence_rung_count(const us_convergence *study)
{
    return study == NULL ? 0 : study->rung_count;
}

const us_rung *us_convergence_rung(const us_convergence *study, size_t index)
{
    return study != NULL && index < study->rung_count ? &study->rungs[index] : NULL;
}

size_t us_convergence_trend_count(const us_convergence *study)
{
    return study == NULL ? 0 : study->trend_count;
}

const us_trend *us_convergence_trend(const us_convergence *study, size_t index)
{
    return study != NULL && index < study->trend_count ? &study->trends[index] : NULL;
}

size_t us_convergence_note_count(const us_convergence *study)
{
    return study == NULL ? 0 : study->note_count;
}

const char *us_convergence_note(const us_convergence *study, size_t index)
{
    return study != NULL && index < study->note_count ? study->notes[index] : NULL;
}

void us_convergence_free(us_convergence *study)
{
    if (study == NULL) {
        return;
    }
    for (size_t t = 0; t < study->trend_count; t++) {
        free((char *)study->trends[t].place);
        free((us_trend_step *)study->trends[t].steps);
    }
    for (size_t n = 0; n < study->note_count; n++) {
        free(study->notes[n]);
    }
    free(study->notes);
    free(study->trends);
    free(study);
}
