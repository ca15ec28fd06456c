#include "model/contact.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"

us_status usi_contact_make(us_context *context, const us_section *section, usi_contact *contact)
{
    *contact = (usi_contact){0, NULL, NULL};
    const usi_line *underside = &section->underside;
    if (!section->has_structure || underside->count == 0) {
        return US_OK;
    }
    contact->points = usi_memory_array(context, underside->count + 2, sizeof *contact->points);
    contact->along_m = usi_memory_array(context, underside->count + 2, sizeof *contact->along_m);
    if (contact->points == NULL || contact->along_m == NULL) {
        return US_ERROR_MEMORY;
    }
    usi_point first = underside->points[0];
    usi_point last = underside->points[underside->count - 1];
    double left_m = usi_line_level(&section->left_bed, first.x_m, false);
    double right_m = usi_line_level(&section->right_bed, last.x_m, true);
    if (left_m > first.z_m) {
        contact->points[contact->count++] = (usi_point){first.x_m, left_m};
    }
    for (size_t i = 0; i < underside->count; i++) {
        contact->points[contact->count++] = underside->points[i];
    }
    if (right_m > last.z_m) {
        contact->points[contact->count++] = (usi_point){last.x_m, right_m};
    }
    for (size_t i = 1; i < contact->count; i++) {
        usi_point a = contact->points[i - 1];
        usi_point b = contact->points[i];
        contact->along_m[i] = contact->along_m[i - 1] + hypot(b.x_m - a.x_m, b.z_m - a.z_m);
    }
    return US_OK;
}

void usi_contact_clear(usi_contact *contact)
{
    free(contact->points);
    free(contact->along_m);
    *contact = (usi_contact){0, NULL, NULL};
}

usi_point usi_contact_foot(const usi_contact *contact, size_t piece, usi_point at)
{
    usi_point a = contact->points[piece];
    usi_point b = contact->points[piece + 1];
    double dx_m = b.x_m - a.x_m;
    double dz_m = b.z_m - a.z_m;
    double share =
        ((at.x_m - a.x_m) * dx_m + (at.z_m - a.z_m) * dz_m) / (dx_m * dx_m + dz_m * dz_m);
    if (share <= 0.0) {
        return a;
    }
    if (share >= 1.0) {
        return b;
    }
    /* Level and upright pieces exactly so. */
    return (usi_point){dx_m == 0.0 ? a.x_m : a.x_m + share * dx_m,
                       dz_m == 0.0 ? a.z_m : a.z_m + share * dz_m};
}

static bool lies_on(const usi_contact *contact, size_t piece, usi_point at, double slack_m)
{
    usi_point foot = usi_contact_foot(contact, piece, at);
    return hypot(at.x_m - foot.x_m, at.z_m - foot.z_m) <= slack_m;
}

size_t usi_contact_piece(const usi_contact *contact, usi_point a, usi_point b, double slack_m)
{
    for (size_t i = 0; i + 1 < contact->count; i++) {
        if (lies_on(contact, i, a, slack_m) && lies_on(contact, i, b, slack_m)) {
            return i;
        }
    }
    return contact->count;
}

double usi_contact_along(const usi_contact *contact, size_t piece, usi_point at)
{
    usi_point a = contact->points[piece];
    return contact->along_m[piece] + hypot(at.x_m - a.x_m, at.z_m - a.z_m);
}

double usi_contact_at(const usi_contact *contact, double x_m, bool right)
{
    for (size_t i = 0; i + 1 < contact->count; i++) {
        usi_point a = contact->points[i];
        usi_point b = contact->points[i + 1];
        bool holds = right ? a.x_m <= x_m && x_m < b.x_m : a.x_m < x_m && x_m <= b.x_m;
        if (holds) {
            double share = (x_m - a.x_m) / (b.x_m - a.x_m);
            return contact->along_m[i] + share * (contact->along_m[i + 1] - contact->along_m[i]);
        }
    }
    return contact->count > 0 && right ? contact->along_m[contact->count - 1] : 0.0;
}
