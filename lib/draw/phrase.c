#include "draw/phrase.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/number.h"
#include "model/scale.h"
#include "output/figure.h"

usi_phrase usi_phrase_print(const char *format, ...)
{
    usi_phrase phrase = {""};
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(phrase.text, sizeof phrase.text, format, arguments);
    va_end(arguments);
    return phrase;
}

usi_phrase usi_phrase_fixed(double value, int decimals)
{
    usi_phrase phrase = {""};
    long long scale = 1;
    for (int i = 0; i < decimals; i++) {
        scale *= 10;
    }
    if (!(fabs(value) < 1e11)) {
        (void)usi_number_write(phrase.text, value, 6);
        return phrase;
    }
    long long whole = llround(fabs(value) * (double)scale);
    const char *sign = value < 0 && whole != 0 ? "\u2212" : "";
    if (decimals == 0) {
        (void)snprintf(phrase.text, sizeof phrase.text, "%s%lld", sign, whole);
    } else {
        (void)snprintf(phrase.text, sizeof phrase.text, "%s%lld.%0*lld", sign, whole / scale,
                       decimals, whole % scale);
    }
    return phrase;
}

static void append(usi_phrase *phrase, const char *text)
{
    size_t used = strlen(phrase->text);
    (void)snprintf(phrase->text + used, sizeof phrase->text - used, "%s", text);
}

static void append_power(usi_phrase *phrase, int power)
{
    static const char *const digits[] = {"\u2070", "\u00b9", "\u00b2", "\u00b3", "\u2074",
                                         "\u2075", "\u2076", "\u2077", "\u2078", "\u2079"};
    append(phrase, " \u00d7 10");
    if (power < 0) {
        append(phrase, "\u207b");
    }
    int size = abs(power);
    if (size >= 100) {
        append(phrase, digits[size / 100 % 10]);
    }
    if (size >= 10) {
        append(phrase, digits[size / 10 % 10]);
    }
    append(phrase, digits[size % 10]);
}

usi_phrase usi_phrase_power(int power)
{
    usi_phrase phrase = {""};
    append_power(&phrase, power);
    return phrase;
}

usi_phrase usi_phrase_number(double value, int digits)
{
    if (value == 0) {
        return usi_phrase_fixed(0, 0);
    }
    int power = (int)floor(log10(fabs(value)));
    /* Rounding may carry into the next power of ten. */
    double unit = pow(10, power - digits + 1);
    if (round(fabs(value) / unit) * unit >= pow(10, power + 1) * (1 - 1e-12)) {
        power++;
    }
    if (power >= -3 && power < 5) {
        int decimals = digits - 1 - power;
        return usi_phrase_fixed(value, decimals < 0 ? 0 : decimals);
    }
    usi_phrase phrase = usi_phrase_fixed(value / pow(10, power), digits - 1);
    append_power(&phrase, power);
    return phrase;
}

/* The figures of the tables, with a minus sign that is one. */
static usi_phrase plus_minus(us_value value, double finest)
{
    usi_figure figure = usi_figure_of(value, finest, "");
    bool below = figure.value[0] == '-';
    return usi_phrase_print("%s%s%s%s", below ? "\u2212" : "", figure.value + below,
                            figure.error[0] != '\0' ? " \u00b1 " : "", figure.error);
}

usi_phrase usi_phrase_value(us_value value)
{
    static const double share = 1e-3; /* of the value: the finest that is told */
    double size = fabs(value.value);
    if (!(value.error > 1e-7 * size)) {
        return usi_phrase_number(value.value, 3);
    }
    if (!(size > 0) || (size >= 1e-3 && size < 1e6)) {
        return plus_minus(value, share * size);
    }
    int power = (int)floor(log10(size));
    double unit = pow(10, power);
    us_value scaled = {value.value / unit, value.error / unit, true};
    usi_phrase phrase = {"("};
    append(&phrase, plus_minus(scaled, share * size / unit).text);
    append(&phrase, ")");
    append_power(&phrase, power);
    return phrase;
}

usi_phrase usi_phrase_force(const us_section *section, us_value force_n_m)
{
    usi_scale scale = usi_scale_of(section);
    us_value force = {force_n_m.value / scale.force_n_m, force_n_m.error / scale.force_n_m, true};
    usi_phrase phrase =
        force.error > 0 ? usi_phrase_value(force) : usi_phrase_number(force.value, 4);
    append(&phrase, "\u00a0");
    append(&phrase, scale.force);
    return phrase;
}

usi_phrase usi_phrase_place(const us_section *section, us_value x_m, int decimals)
{
    double unit_m = section->units.length->factor;
    us_value x = {x_m.value / unit_m, x_m.error / unit_m, true};
    double finest = pow(10, -decimals - 1);
    usi_phrase phrase =
        x.error > 1e-3 * finest ? plus_minus(x, finest) : usi_phrase_fixed(x.value, decimals);
    append(&phrase, "\u00a0");
    append(&phrase, section->units.length->name);
    return phrase;
}

double usi_phrase_pressure_unit(const us_section *section, const char **name)
{
    usi_scale scale = usi_scale_of(section);
    *name = section->units.pounds ? "lb/ft\u00b2" : "kN/m\u00b2";
    return section->units.pounds ? scale.force_n_m / usi_unit_find("ft", 2)->factor
                                 : scale.force_n_m;
}

usi_phrase usi_phrase_length(const us_section *section, double length_m, int decimals)
{
    return usi_phrase_fixed(length_m / section->units.length->factor, decimals);
}

usi_phrase usi_phrase_measure(const us_section *section, double length_m, int decimals)
{
    usi_phrase phrase = usi_phrase_length(section, length_m, decimals);
    append(&phrase, "\u00a0");
    append(&phrase, section->units.length->name);
    return phrase;
}

int usi_phrase_decimals(const us_section *section, double height_m)
{
    double height = height_m / section->units.length->factor;
    if (height < 1) {
        return height < 0.1 ? 4 : 3;
    }
    return height < 200 ? 2 : height < 2000 ? 1 : 0;
}

/* Seconds in the time unit of the file's conductivity: its factor compares a
 * length with that time, and the length stands before the stroke. */
static double seconds_of(const usi_unit *speed)
{
    const char *stroke = strchr(speed->name, '/');
    const usi_unit *length =
        stroke == NULL ? NULL : usi_unit_find(speed->name, (size_t)(stroke - speed->name));
    return length == NULL ? 1 : length->factor / speed->factor;
}

static usi_phrase flow_phrase(const us_section *section, us_value flow, const char *power,
                              double length_power)
{
    const usi_unit *speed = section->units.conductivity;
    bool timed = speed->time != NULL && strchr(speed->name, '/') != NULL;
    double factor = seconds_of(speed) / length_power;
    usi_phrase phrase = usi_phrase_number(flow.value * factor, 3);
    append(&phrase, "\u00a0");
    append(&phrase, section->units.length->name);
    append(&phrase, power);
    append(&phrase, "/");
    append(&phrase, timed ? speed->time : "s");
    if (flow.error > 0 && flow.value != 0) {
        append(&phrase, " \u00b1 ");
        append(&phrase, usi_phrase_number(fmax(100 * flow.error / fabs(flow.value), 0.01), 1).text);
        append(&phrase, "\u00a0%");
    }
    return phrase;
}

usi_phrase usi_phrase_flow(const us_section *section, us_value flow)
{
    double unit_m = section->units.length->factor;
    return flow_phrase(section, flow, "\u00b2", unit_m * unit_m);
}

usi_phrase usi_phrase_total(const us_section *section, us_value flow)
{
    double unit_m = section->units.length->factor;
    return flow_phrase(section, flow, "\u00b3", unit_m * unit_m * unit_m);
}

usi_phrase usi_phrase_conductivity(const us_section *section, const usi_soil *soil)
{
    const usi_unit *unit = section->units.conductivity;
    usi_phrase kh = usi_phrase_number(soil->kh_m_s / unit->factor, 2);
    usi_phrase kv = usi_phrase_number(soil->kv_m_s / unit->factor, 2);
    usi_phrase phrase = {"k "};
    if (soil->kh_m_s != soil->kv_m_s) {
        phrase = (usi_phrase){"kh "};
    }
    append(&phrase, kh.text);
    if (soil->kh_m_s != soil->kv_m_s) {
        append(&phrase, ", kv ");
        append(&phrase, kv.text);
    }
    append(&phrase, "\u00a0");
    append(&phrase, unit->name);
    if (soil->conductivity.kh_from == USI_KH_CLASS) {
        append(&phrase, " (class)"); /* within a factor of ten or more: not to be read as known */
    }
    return phrase;
}

usi_phrase usi_phrase_name(const char *name, size_t most)
{
    usi_phrase phrase = {""};
    size_t characters = 0;
    size_t used = 0;
    for (size_t i = 0; name[i] != '\0' && i + 8 < sizeof phrase.text; i++) {
        bool starts = ((unsigned char)name[i] & 0xc0) != 0x80;
        if (starts && characters == most) {
            memcpy(phrase.text + used, "\u2026", sizeof "\u2026");
            return phrase;
        }
        characters += starts ? 1 : 0;
        phrase.text[used++] = name[i];
    }
    phrase.text[used] = '\0';
    return phrase;
}

bool usi_phrase_is_cut(const char *name, size_t most)
{
    size_t characters = 0;
    for (size_t i = 0; name[i] != '\0'; i++) {
        characters += ((unsigned char)name[i] & 0xc0) != 0x80 ? 1 : 0;
    }
    return characters > most;
}
