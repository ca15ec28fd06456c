#include "study/view.h"

us_status usi_view_make(us_context *context, const us_section *section, size_t water, bool shut,
                        usi_view *view)
{
    usi_water *of = &section->waters[water];
    const us_section *ground = of->ground != NULL ? of->ground : section;
    size_t index = of->ground != NULL ? 0 : water;
    usi_situation *situation = NULL;
    us_status status = usi_situation_make(context, ground, index, shut, &situation);
    if (status == US_OK) {
        *view = (usi_view){.section = *ground, .situation = situation};
        view->section.waters = &ground->waters[index];
        view->section.water_count = 1;
        view->section.situation = situation;
    }
    return status;
}

void usi_view_free(usi_view *view)
{
    usi_situation_free(view->situation);
    view->situation = NULL;
    view->section.situation = NULL;
}

bool usi_view_differs(const usi_view *view, const us_section *section)
{
    return view->situation != NULL || view->section.left_bed.points != section->left_bed.points;
}

bool usi_view_drains(const usi_view *view)
{
    for (size_t t = 0; view->situation != NULL && t < view->situation->terminal_count; t++) {
        if (view->situation->terminals[t].kind == USI_TERMINAL_DRAIN) {
            return true;
        }
    }
    return false;
}
