#include <stdio.h>

#include "output/figure.h"
#include "output/forms.h"
#include "output/text_page.h"
#include "output/words.h"
#include "undersill/version.h"

static void add_head(us_buffer *out, const us_solution *solution, const usi_scale *scale)
{
    enum { DIGEST_SHOWN = 16 };
    const us_section *section = solution->section;
    if (section->title[0] != '\0') {
        usi_words_wrap(out, "", section->title);
    }
    usi_buffer_print(out,
                     "Steady, saturated seepage in a vertical section; flow and forces per %s of "
                     "width\n",
                     scale->length);
    usi_buffer_print(out, "Undersill %s; section file sha256 %.*s...\n", us_version(), DIGEST_SHOWN,
                     section->sha256);
    if (!solution->grid.converged) {
        usi_words_wrap(out, "",
                       "NOT CONVERGED: the accuracy asked for was not reached. The values are the "
                       "best there are; their stated errors are larger than asked for.");
    }
}

static void add_notes(us_buffer *out, const us_solution *solution)
{
    if (solution->note_count > 0) {
        usi_buffer_add_text(out, "\nNotes\n");
    }
    for (size_t i = 0; i < solution->note_count; i++) {
        usi_words_wrap(out, "  - ", solution->notes[i]);
    }
}

static void add_grid(us_buffer *out, const us_solution *solution)
{
    const us_grid_result *grid = &solution->grid;
    char balance[USI_NUMBER_ROOM];
    char accuracy[USI_NUMBER_ROOM];
    (void)usi_number_write(balance, grid->mass_balance, 1);
    (void)usi_number_write(accuracy, 100.0 * solution->accuracy, 3);
    char text[256];
    (void)snprintf(
        text, sizeof text,
        "Grid: %zu unknowns, %zu columns, %zu rows; inflow and outflow agree within %s k "
        "H; accuracy asked for %s %%: %s.",
        grid->unknowns, grid->columns, grid->rows, balance, accuracy,
        grid->converged ? "reached" : "NOT reached");
    usi_buffer_add_text(out, "\n");
    usi_words_wrap(out, "", text);
}

static void add_cautions(us_buffer *out)
{
    static const char *const cautions[] = {
        "These results support engineering judgement and do not replace it; local codes and the "
        "licensed engineer in charge decide.",
        "The model is a steady, saturated, two-dimensional section. +/- is the numerical error of "
        "that model alone: not of the soil, the walls as built, or the water levels.",
        "The piping factor judges boiling where water leaves the soil. It does not judge erosion "
        "working backwards under the apron, nor fines washed out of gap-graded soil, and replaces "
        "no filter.",
    };
    usi_buffer_add_text(out, "\nCautions\n");
    for (size_t i = 0; i < sizeof cautions / sizeof cautions[0]; i++) {
        usi_words_wrap(out, "  - ", cautions[i]);
    }
}

void usi_form_text(us_buffer *out, const us_solution *solution, const usi_scale *scale)
{
    add_head(out, solution, scale);
    for (size_t i = 0; i < solution->water_count; i++) {
        usi_form_water(out, solution, scale, &solution->water[i]);
    }
    usi_form_register(out, solution, scale);
    add_notes(out, solution);
    add_grid(out, solution);
    usi_page_advice(out, solution);
    add_cautions(out);
}
