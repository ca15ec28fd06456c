#include "output/convergence.h"

usi_trend_words usi_trend_words_of(us_trend_kind kind, const usi_scale *scale)
{
    switch (kind) {
    case US_TREND_FLOW:
        return (usi_trend_words){"flow", scale->flow, scale->flow_m2_s};
    case US_TREND_FLOW_LOWER:
        return (usi_trend_words){"flow.lower", scale->flow, scale->flow_m2_s};
    case US_TREND_FLOW_UPPER:
        return (usi_trend_words){"flow.upper", scale->flow, scale->flow_m2_s};
    case US_TREND_FLOW_BRACKET:
        return (usi_trend_words){"flow.bracket", "", 1.0};
    case US_TREND_EXIT_GRADIENT:
        return (usi_trend_words){"exit_gradient", "", 1.0};
    case US_TREND_EXIT_MEAN:
        return (usi_trend_words){"exit_gradient.mean", "", 1.0};
    case US_TREND_UPLIFT:
        return (usi_trend_words){"uplift.force", scale->force, scale->force_n_m};
    case US_TREND_HEAD:
        break;
    }
    return (usi_trend_words){"head", scale->length, scale->length_m};
}

us_status us_convergence_tabulate(us_context *context, const us_convergence *study,
                                  us_format format, us_buffer **table)
{
    if (context == NULL || study == NULL || table == NULL ||
        (format != US_FORMAT_TEXT && format != US_FORMAT_JSON && format != US_FORMAT_CSV)) {
        return US_ERROR_ARGUMENT;
    }
    us_buffer *out = usi_buffer_create(context);
    if (out == NULL) {
        return US_ERROR_MEMORY;
    }
    const usi_scale scale = usi_scale_of(study->section);
    us_status status = US_OK;
    if (format == US_FORMAT_JSON) {
        status = usi_study_json(context, out, study, &scale);
    } else if (format == US_FORMAT_CSV) {
        usi_study_csv(out, study, &scale);
    } else {
        usi_study_text(out, study, &scale);
    }
    if (status != US_OK) {
        us_buffer_free(out);
        return status;
    }
    return usi_buffer_finish(out, table);
}
