/* Where conductivities come from: one source each, formulas within their limits,
 * and notes that say how far the value can be trusted. */
#include <math.h>

#include "base/context.h"
#include "model/check.h"
#include "model/conductivity.h"

static const double ANISOTROPY_CAP = 1e6;
static const double LEAST_M_S = 1e-16;
static const double MOST_M_S = 10.0;

typedef struct soil_check {
    usi_check *check;
    const usi_raw_soil *raw;
    const usi_soil *soil;
} soil_check;

static bool stands(const usi_mark *mark)
{
    return mark->key != NULL;
}

/* Rounding is no breach of a limit. */
static bool within(double value, double least, double most)
{
    return value >= least * (1.0 - 1e-9) && value <= most * (1.0 + 1e-9);
}

/* A conductivity in words; one that was worked out has no seven digits to show. */
static const char *speed(const soil_check *of, double value_m_s, usi_words *room)
{
    const us_section *section = of->check->section;
    bool given = of->soil->conductivity.kh_from == USI_KH_GIVEN;
    *room =
        given ? usi_words_conductivity(section, value_m_s) : usi_words_roughly(section, value_m_s);
    return room->text;
}

static void refuse_second(const soil_check *of, const usi_mark *second, const char *message)
{
    if (stands(second)) {
        usi_check_error(of->check, second, "keep one of them", "%s", message);
    }
}

/* One source for kh and one for kv. */
static void check_sources(const soil_check *of)
{
    const usi_raw_soil *raw = of->raw;
    if (stands(&raw->kh.at)) {
        refuse_second(of, &raw->k_from.at, "kh and k_from both say what kh is");
        refuse_second(of, &raw->class.at, "kh and class both say what kh is");
    } else if (stands(&raw->k_from.at)) {
        refuse_second(of, &raw->class.at, "k_from and class both say what kh is");
    }
    if (stands(&raw->kv.at)) {
        refuse_second(of, &raw->anisotropy.at, "kv and anisotropy both say what kv is");
    }
}

static void check_hazen(const soil_check *of)
{
    const usi_raw_k_from *from = &of->raw->k_from;
    if (!within(from->d10.si, USI_HAZEN_LEAST_M, USI_HAZEN_MOST_M)) {
        usi_check_error(of->check, &from->d10.at,
                        "write its unit, as in 0.2 mm; finer soil needs `porosity` too, or a test",
                        "Hazen's formula holds for d10 from 0.1 mm to 3 mm, and this is %s",
                        usi_words_grain(from->d10.si).text);
    }
    if (from->uniformity.given && from->uniformity.si >= USI_HAZEN_UNIFORMITY) {
        usi_check_error(of->check, &from->uniformity.at,
                        "give `porosity` instead, or kh from a test",
                        "Hazen's formula holds for a uniformity coefficient below 5");
    }
    if (stands(&from->temperature.at)) {
        usi_check_error(of->check, &from->temperature.at,
                        "leave it out, or give `porosity` for the Kozeny-Carman formula",
                        "Hazen's formula takes no temperature");
    }
}

static void check_kozeny(const soil_check *of)
{
    const usi_raw_k_from *from = &of->raw->k_from;
    if (!within(from->d10.si, USI_KOZENY_LEAST_M, USI_KOZENY_MOST_M)) {
        usi_check_error(of->check, &from->d10.at, "write its unit, as in 0.2 mm, or give kh",
                        "the Kozeny-Carman formula holds for d10 from 0.002 mm to 3 mm, and this "
                        "is %s",
                        usi_words_grain(from->d10.si).text);
    }
    if (!within(from->porosity.si, USI_KOZENY_LEAST_POROSITY, USI_KOZENY_MOST_POROSITY)) {
        usi_check_error(of->check, &from->porosity.at, "check it against the void ratio e: e/(1+e)",
                        "the Kozeny-Carman formula is taken for a porosity from 0.2 to 0.6");
    }
    if (stands(&from->uniformity.at)) {
        usi_check_error(of->check, &from->uniformity.at, "leave it out, or leave out `porosity`",
                        "with a porosity the Kozeny-Carman formula is used, which takes no "
                        "uniformity coefficient");
    }
}

/* Values that were computed keep to the limits of those that are typed. */
static void check_results(const soil_check *of)
{
    const usi_soil *soil = of->soil;
    const usi_raw_soil *raw = of->raw;
    double ratio = soil->kh_m_s / soil->kv_m_s;
    usi_words room;
    if (raw->kv.given && !within(ratio, 1.0 / ANISOTROPY_CAP, ANISOTROPY_CAP)) {
        usi_check_error(of->check, &raw->kv.at, "check the powers of ten, and the units",
                        "kh and kv differ by more than a factor of 1e6");
    }
    if (raw->anisotropy.given && !within(soil->kv_m_s, LEAST_M_S, MOST_M_S)) {
        usi_check_error(of->check, &raw->anisotropy.at,
                        "conductivities lie between 1e-16 m/s and 10 m/s",
                        "kv = kh / anisotropy comes to %s, which is out of range",
                        speed(of, soil->kv_m_s, &room));
    }
}

static void note_hazen(const soil_check *of)
{
    usi_words kh;
    usi_check_note(of->check,
                   "Soil %s: kh %s comes from d10 = %s by Hazen's formula, k in m/s = 0.01 d10^2 "
                   "with d10 in mm. It holds for clean sand with d10 from 0.1 mm to 3 mm and a "
                   "uniformity coefficient below 5%s; authors put its factor from 0.4 to 1.5 "
                   "times that. It knows no direction: its value is taken as kh.",
                   of->soil->name, speed(of, of->soil->kh_m_s, &kh),
                   usi_words_grain(of->soil->conductivity.d10_m).text,
                   of->raw->k_from.uniformity.given ? "" : " (not given here)");
}

static void note_kozeny(const soil_check *of)
{
    const usi_conductivity *from = &of->soil->conductivity;
    usi_words kh;
    char porosity[USI_NUMBER_ROOM];
    char temperature[USI_NUMBER_ROOM];
    usi_check_note(of->check,
                   "Soil %s: kh %s comes from d10 = %s and porosity %s by the Kozeny-Carman "
                   "formula, k = (g / nu) 8.3e-3 n^3 / (1 - n)^2 d10^2, in water of %s degC%s. It "
                   "holds for sand and silt without clay and d10 up to 3 mm; expect the true value "
                   "within a third and three times this. It knows no direction: its value is taken "
                   "as kh.",
                   of->soil->name, speed(of, of->soil->kh_m_s, &kh),
                   usi_words_grain(from->d10_m).text, usi_number_write(porosity, from->porosity, 7),
                   usi_number_write(temperature, from->temperature_c, 3),
                   of->raw->k_from.temperature.given ? "" : " (none was given)");
}

static void note_class(const soil_check *of)
{
    size_t index = of->soil->conductivity.class_index;
    usi_conductivity_range range = usi_conductivity_class_range(index);
    usi_words kh;
    usi_words least;
    usi_words most;
    usi_check_note(of->check,
                   "Soil %s: kh %s comes from the class %s alone and is known only within its "
                   "range, %s to %s, of which it is the geometric mean.",
                   of->soil->name, speed(of, of->soil->kh_m_s, &kh),
                   usi_conductivity_classes[index], speed(of, range.least_m_s, &least),
                   speed(of, range.most_m_s, &most));
}

/* False when the source of kh was refused, so that its value means nothing. */
static bool check_kh(const soil_check *of)
{
    size_t errors = usi_context_error_count(of->check->context);
    switch (of->soil->conductivity.kh_from) {
    case USI_KH_GIVEN:
        break;
    case USI_KH_HAZEN:
        check_hazen(of);
        note_hazen(of);
        break;
    case USI_KH_KOZENY_CARMAN:
        check_kozeny(of);
        note_kozeny(of);
        break;
    case USI_KH_CLASS:
        note_class(of);
        break;
    }
    return usi_context_error_count(of->check->context) == errors;
}

void usi_check_conductivity(usi_check *check, size_t index)
{
    const usi_raw_soil *raw = (const usi_raw_soil *)check->raw->soils.items + index;
    const usi_soil *soil = &check->section->soils[index];
    soil_check of = {check, raw, soil};
    check_sources(&of);
    bool sound = check_kh(&of);
    if (sound && soil->kh_m_s > 0.0 && soil->kv_m_s > 0.0) {
        check_results(&of);
        if (!stands(&raw->kv.at) && !stands(&raw->anisotropy.at)) {
            usi_words kh;
            usi_check_note(check, "Soil %s has no kv: it is taken equal to kh, %s.", soil->name,
                           speed(&of, soil->kh_m_s, &kh));
        }
    }
}

/* How far flow may be off, as factors: it grows with every conductivity, so it
 * lies between the cases in which all are off as far as the class that is off
 * the furthest. */
typedef struct doubt {
    bool class; /* some soil is known by its class alone */
    bool alone; /* one soil, kv bound to kh: flow is proportional to it */
    double least;
    double most;
} doubt;

static bool fills_zone(const us_section *section, size_t soil)
{
    for (size_t i = 0; i < section->zone_count; i++) {
        if (section->zones[i].soil == soil) {
            return true;
        }
    }
    return false;
}

static doubt weigh_classes(const us_section *section)
{
    doubt found = {.least = 1.0, .most = 1.0};
    size_t count = 0;
    bool bound = true;
    for (size_t i = 0; i < section->soil_count; i++) {
        const usi_soil *soil = &section->soils[i];
        if (!soil->layer && !fills_zone(section, i)) {
            continue;
        }
        count++;
        bound = bound && soil->conductivity.kv_from != USI_KV_GIVEN;
        if (soil->conductivity.kh_from == USI_KH_CLASS) {
            usi_conductivity_range range =
                usi_conductivity_class_range(soil->conductivity.class_index);
            found.class = true;
            found.least = fmin(found.least, range.least_m_s / soil->kh_m_s);
            found.most = fmax(found.most, range.most_m_s / soil->kh_m_s);
        }
    }
    found.alone = count == 1 && bound;
    return found;
}

void usi_check_classes(usi_check *check)
{
    const us_section *section = check->section;
    doubt found = weigh_classes(section);
    if (!found.class) {
        return;
    }
    char least[USI_NUMBER_ROOM];
    char most[USI_NUMBER_ROOM];
    (void)usi_number_write(least, found.least, 2);
    (void)usi_number_write(most, found.most, found.most < 99.5 ? 2 : 3);
    if (found.alone && section->has_base) {
        usi_check_note(check,
                       "The only soil is known by its class alone: flow is proportional to its "
                       "conductivity and may be %s to %s times what is given, whatever the error "
                       "beside it. Heads, uplift and exit gradient do not depend on it.",
                       least, most);
    } else if (found.alone) {
        usi_check_note(check, "The only soil is known by its class alone. Heads, uplift and exit "
                              "gradient do not depend on its conductivity.");
    } else {
        usi_check_note(check,
                       "A soil is known by its class alone%s%s%s%s%s. Heads, uplift and exit "
                       "gradient depend on the ratios of the conductivities: solve again with the "
                       "ends of each range.",
                       section->has_base ? ": flow may be " : "", section->has_base ? least : "",
                       section->has_base ? " to " : "", section->has_base ? most : "",
                       section->has_base ? " times what is given, whatever the error beside it"
                                         : "");
    }
}
