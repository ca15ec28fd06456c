/* The forms a convergence study is written in. Each appends to `out`. */
#ifndef USI_OUTPUT_CONVERGENCE_H
#define USI_OUTPUT_CONVERGENCE_H

#include "base/buffer.h"
#include "output/scale.h"
#include "study/convergence.h"

void usi_study_text(us_buffer *out, const us_convergence *study, const usi_scale *scale);
void usi_study_csv(us_buffer *out, const us_convergence *study, const usi_scale *scale);
/* Also US_ERROR_MEMORY, reported. */
us_status usi_study_json(us_context *context, us_buffer *out, const us_convergence *study,
                         const usi_scale *scale);

/* What a trend is called for programs, its unit ("" for none), and the size of
 * that unit in SI. */
typedef struct usi_trend_words {
    const char *name;
    const char *unit;
    double size;
} usi_trend_words;

usi_trend_words usi_trend_words_of(us_trend_kind kind, const usi_scale *scale);

#endif
