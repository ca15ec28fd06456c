/* Creep, openings and walls as pieces of steel in text. */
#include <stdio.h>

#include "output/text_page.h"
#include "undersill/works.h"

enum { LABEL_ROOM = 160, OPENING_WIDTH = 12, SMALL_WIDTH = 10 };
static const double MM_M = 1e-3;

static void add_way(const usi_page *to, const char *rule, const us_creep_way *way)
{
    char label[LABEL_ROOM];
    char x[USI_NUMBER_ROOM];
    (void)snprintf(label, sizeof label, "Creep, %s's length", rule);
    usi_page_row(to, label, usi_scale_value(way->length_m, to->scale->length_m), to->scale->length,
                 "-");
    usi_page_row(to, "  over its head difference", way->ratio, "", "none");
    if (way->end != NULL) {
        char text[LABEL_ROOM];
        (void)snprintf(text, sizeof text, "to %.100s at x = %s %s", way->end,
                       usi_page_plain(x, way->x_m, to->scale->length_m), to->scale->length);
        usi_words_wrap(to->out, "  ", text);
    }
    if (way->cut_across) {
        usi_words_wrap(to->out, "  ", "tips stand close: between them twice their distance counts");
    }
}

static void add_opening(const usi_page *to, const us_opening_result *opening)
{
    static const char *const kinds[] = {
        [US_OPENING_WEEPS] = "weeps",       [US_OPENING_DRAIN] = "drain",
        [US_OPENING_PERMEABLE] = "stretch", [US_OPENING_HOLE] = "hole",
        [US_OPENING_SLOT] = "slot",         [US_OPENING_GAP] = "gap",
    };
    char x[USI_NUMBER_ROOM];
    usi_page_name(to, opening->name);
    usi_words_pad(to->out, kinds[opening->kind], SMALL_WIDTH, 1);
    usi_words_pad(to->out, usi_page_plain(x, opening->x_m, to->scale->length_m), OPENING_WIDTH, 1);
    usi_page_cell(to, opening->size_m, MM_M, SMALL_WIDTH);
    usi_page_cell(to, opening->d85_m, MM_M, SMALL_WIDTH);
    usi_page_cell(to, opening->ratio, 1.0, OPENING_WIDTH);
    usi_buffer_add_text(to->out, "\n");
    if (opening->retained_by != NULL) {
        usi_words_wrap(to->out, "    said to be retained by ", opening->retained_by);
    }
}

static void add_openings(const usi_page *to, const us_works_result *works)
{
    char label[LABEL_ROOM];
    if (works->opening_count == 0) {
        return;
    }
    usi_buffer_add_text(to->out, "\n");
    usi_words_pad(to->out, "Openings, mm", USI_NAME_WIDTH, 0);
    usi_words_pad(to->out, "kind", SMALL_WIDTH, 1);
    (void)snprintf(label, sizeof label, "x, %s", to->scale->length);
    usi_words_pad(to->out, label, OPENING_WIDTH, 1);
    usi_words_pad(to->out, "size", SMALL_WIDTH, 1);
    usi_words_pad(to->out, "d85", SMALL_WIDTH, 1);
    usi_words_pad(to->out, "size / d85", OPENING_WIDTH, 1);
    usi_buffer_add_text(to->out, "\n");
    for (size_t i = 0; i < works->opening_count; i++) {
        add_opening(to, &works->openings[i]);
    }
}

static void add_wall(const usi_page *to, const us_wall_works *wall)
{
    const usi_scale *scale = to->scale;
    bool told = wall->gap_m.present || wall->loss_m.present || wall->load_n_m.present ||
                wall->weight_n_m.present;
    if (!told) {
        return;
    }
    usi_buffer_add_text(to->out, "\n");
    usi_words_wrap(to->out, "Wall ", wall->name);
    if (wall->gap_m.present) {
        usi_page_row(to, "  gap below the structure", usi_scale_value(wall->gap_m, scale->length_m),
                     scale->length, "-");
    } else if (wall->embedment_m.present) {
        usi_page_row(to, "  top inside the structure",
                     usi_scale_value(wall->embedment_m, scale->length_m), scale->length, "-");
        usi_page_row(to, "    share of its thickness", wall->embedment_share, "", "not known");
    }
    if (wall->loss_m.present) {
        usi_page_row(to, "  steel lost on each side", usi_scale_value(wall->loss_m, MM_M), "mm",
                     "-");
        usi_page_row(to, "  thickness left", usi_scale_value(wall->left_m, MM_M), "mm", "-");
    }
    if (wall->load_n_m.present) {
        usi_page_row(to, "  friction on both faces",
                     usi_scale_value(wall->friction_n_m, scale->force_n_m), scale->force,
                     "not known");
        usi_page_row(to, "  load", usi_scale_value(wall->load_n_m, scale->force_n_m), scale->force,
                     "-");
    }
    if (wall->load_n_m.present || wall->weight_n_m.present) {
        usi_page_row(to, "  own weight", usi_scale_value(wall->weight_n_m, scale->force_n_m),
                     scale->force, "not known");
    }
}

void usi_page_works(const usi_page *to, const us_water_result *water)
{
    const us_works_result *works = water->works;
    if (works == NULL) {
        return;
    }
    if (works->lane.length_m.present) {
        usi_buffer_add_text(to->out, "\n");
        add_way(to, "Bligh", &works->bligh);
        add_way(to, "Lane", &works->lane);
    }
    add_openings(to, works);
    for (size_t i = 0; i < works->wall_count; i++) {
        add_wall(to, &works->walls[i]);
    }
}
