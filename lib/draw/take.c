/* The section of a picture is the one that its water case sees. */
#include <math.h>

#include "draw/sheet.h"
#include "model/situation.h"

/* A picture of the section alone solves nothing, nor can one where the ground is lost:
 * what acts on the edges is laid down, where dry bed lets water out is left open. */
static us_status look(usi_sheet *sheet, const us_section *section, size_t water)
{
    const usi_water *of = &section->waters[water];
    const us_section *ground = of->ground != NULL ? of->ground : section;
    size_t index = of->ground != NULL ? 0 : water;
    /* What acts is known of lost ground too: which drains lie bare on it. */
    bool lost = of->lost != NULL;
    usi_situation *situation = NULL;
    us_status status = usi_situation_make(sheet->context, lost ? of->lost : ground,
                                          lost ? 0 : index, USI_VARIANT_NONE, &situation);
    if (status == US_OK) {
        sheet->view = (usi_view){.section = *ground, .situation = situation};
        sheet->view.section.waters = &ground->waters[index];
        sheet->view.section.water_count = 1;
        sheet->view.section.situation = situation;
    }
    if (status == US_OK && lost) {
        sheet->view.section.left_bed = of->lost->left_bed;
        sheet->view.section.right_bed = of->lost->right_bed;
    }
    return status;
}

us_status usi_sheet_take(usi_sheet *sheet, const us_section *section, size_t water)
{
    us_status status = sheet->what == US_PICTURE_SECTION
                           ? look(sheet, section, water)
                           : usi_view_make(sheet->context, section, water, USI_VARIANT_NONE,
                                           USI_VIEW_ACCURACY, &sheet->view);
    if (status == US_OK) {
        sheet->drawn = section;
        sheet->section = &sheet->view.section;
        sheet->water = &sheet->view.section.waters[0];
    }
    return status;
}

void usi_sheet_leave(usi_sheet *sheet)
{
    usi_view_free(&sheet->view);
    sheet->section = NULL;
    sheet->water = NULL;
}
