/* One table: quantity,place,grid,unknowns,value,difference,order,extrapolated,error,unit,note. */
#include <math.h>

#include "base/number.h"
#include "output/convergence.h"
#include "output/forms.h"
#include "undersill/version.h"

static void add_number(us_buffer *out, us_value value, double unit)
{
    enum { DIGITS = 9 };
    char text[USI_NUMBER_ROOM];
    usi_buffer_add_text(out, ",");
    if (value.present && isfinite(value.value)) {
        double shown = value.value / unit;
        usi_buffer_add_text(out, usi_number_write(text, shown == 0.0 ? 0.0 : shown, DIGITS));
    }
}

static us_value exact(double value)
{
    return (us_value){value, 0.0, true};
}

static void begin(us_buffer *out, const char *quantity, const char *place)
{
    usi_form_csv_cell(out, quantity);
    usi_buffer_add_text(out, ",");
    usi_form_csv_cell(out, place);
}

static void end(us_buffer *out, const char *unit, const char *note)
{
    usi_buffer_add_text(out, ",");
    usi_form_csv_cell(out, unit);
    usi_buffer_add_text(out, ",");
    usi_form_csv_cell(out, note);
    usi_buffer_add_text(out, "\r\n");
}

static void add_step(us_buffer *out, const us_convergence *study, const us_trend *trend,
                     const usi_trend_words *words, size_t k)
{
    const us_trend_step *step = &trend->steps[k];
    begin(out, words->name, trend->place);
    usi_buffer_print(out, ",%zu,%zu", k + 1, study->rungs[k].unknowns);
    add_number(out, exact(step->value), words->size);
    add_number(out, step->difference, words->size);
    add_number(out, step->order, 1.0);
    add_number(out, step->extrapolated, words->size);
    add_number(out, step->error, 1.0);
    end(out, words->unit, NULL);
}

/* The best value stands where others have theirs, its error as a share of the
 * scale like theirs. */
static void add_best(us_buffer *out, const us_trend *trend, const usi_trend_words *words)
{
    us_value share = {trend->scale > 0.0 ? trend->best.error / trend->scale : 0.0, 0.0,
                      trend->scale > 0.0};
    begin(out, words->name, trend->place);
    usi_buffer_add_text(out, ",best,");
    add_number(out, trend->best, words->size);
    usi_buffer_add_text(out, ",,,");
    add_number(out, share, 1.0);
    end(out, words->unit, NULL);
}

static void add_text(us_buffer *out, const char *quantity, const char *text)
{
    begin(out, quantity, NULL);
    usi_buffer_add_text(out, ",,,,,,,");
    end(out, NULL, text);
}

void usi_study_csv(us_buffer *out, const us_convergence *study, const usi_scale *scale)
{
    const us_section *section = study->section;
    usi_buffer_add_text(
        out,
        "quantity,place,grid,unknowns,value,difference,order,extrapolated,error,unit,note\r\n");
    for (size_t t = 0; t < study->trend_count; t++) {
        const us_trend *trend = &study->trends[t];
        usi_trend_words words = usi_trend_words_of(trend->kind, scale);
        for (size_t k = 0; k < trend->step_count; k++) {
            add_step(out, study, trend, &words, k);
        }
        if (trend->best.present) {
            add_best(out, trend, &words);
        }
    }
    add_text(out, "water", section->waters[study->water].name);
    add_text(out, "undersill", us_version());
    add_text(out, "section.title", section->title);
    add_text(out, "section.sha256", section->sha256);
    for (size_t i = 0; i < study->note_count; i++) {
        add_text(out, "note", study->notes[i]);
    }
}
