/* A composed sheet with everything it stands on, for tests of pictures. */
#ifndef TESTS_PICTURE_H
#define TESTS_PICTURE_H

#include "support/support.h"

#include "draw/compose.h"

typedef struct picture {
    us_context *context;
    us_section *section;
    us_solution *solution;
    usi_sheet sheet;
} picture;

static inline void picture_compose(picture *made, const char *text, us_picture what, size_t water)
{
    memset(made, 0, sizeof *made);
    made->context = us_context_create();
    made->section = support_read(made->context, text);
    made->sheet = (usi_sheet){.context = made->context, .what = what};
    if (what != US_PICTURE_SECTION) {
        made->solution = support_solve(made->context, made->section, 0.05);
        made->sheet.solution = made->solution;
        made->sheet.result = us_solution_water(made->solution, water);
    }
    assert_int_equal(usi_sheet_take(&made->sheet, made->section, water), US_OK);
    assert_int_equal(usi_scene_start(made->context, &made->sheet.scene), US_OK);
    us_status status = usi_sheet_compose(&made->sheet);
    if (status != US_OK) {
        support_print_diagnostics(made->context);
    }
    assert_int_equal(status, US_OK);
}

static inline void picture_discard(picture *made)
{
    usi_scene_clear(&made->sheet.scene);
    usi_sheet_leave(&made->sheet);
    us_solution_free(made->solution);
    us_section_free(made->section);
    us_context_free(made->context);
}

static inline bool picture_says(const picture *made, const char *part)
{
    const usi_scene *scene = &made->sheet.scene;
    for (size_t i = 0; i < scene->text_count; i++) {
        if (strstr(scene->texts[i].words, part) != NULL) {
            return true;
        }
    }
    return false;
}

#endif
