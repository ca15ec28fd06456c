#include "model/conductivity.h"

#include <math.h>

const char *const usi_conductivity_classes[] = {"clean_gravel", "clean_sand", "silty_sand",
                                                "silt",         "clay",       NULL};

static const usi_conductivity_range ranges[] = {
    {1e-2, 1.0}, {1e-5, 1e-2}, {1e-7, 1e-5}, {1e-9, 1e-5}, {1e-12, 1e-9},
};

usi_conductivity_range usi_conductivity_class_range(size_t index)
{
    return ranges[index];
}

double usi_conductivity_class_mean(size_t index)
{
    return sqrt(ranges[index].least_m_s * ranges[index].most_m_s);
}

double usi_conductivity_hazen(double d10_m)
{
    double d10_mm = d10_m * 1e3;
    return 0.01 * d10_mm * d10_mm;
}

/* Dynamic viscosity of water at 0.1 MPa: the correlation of Patek, Hruby, Klomfar,
 * Souckova and Harvey, J. Phys. Chem. Ref. Data 38 (2009), which IAPWS took over
 * as SR6-08; within 0.01 % of the full formulation. */
static double dynamic_viscosity(double temperature_c)
{
    static const double factors[] = {280.68, 511.45, 61.131, 0.45903};
    static const double powers[] = {-1.9, -7.7, -19.6, -40.0};
    double relative = (temperature_c + 273.15) / 300.0;
    double viscosity_pa_s = 0.0;
    for (int i = 0; i < 4; i++) {
        viscosity_pa_s += 1e-6 * factors[i] * pow(relative, powers[i]);
    }
    return viscosity_pa_s;
}

/* Density of water without air at one atmosphere: Kell, J. Chem. Eng. Data 20 (1975). */
static double density(double temperature_c)
{
    double t = temperature_c;
    double above =
        999.83952 +
        t * (16.945176 +
             t * (-7.9870401e-3 + t * (-46.170461e-6 + t * (105.56302e-9 - t * 280.54253e-12))));
    return above / (1.0 + 16.879850e-3 * t);
}

double usi_conductivity_viscosity(double temperature_c)
{
    return dynamic_viscosity(temperature_c) / density(temperature_c);
}

double usi_conductivity_kozeny(double d10_m, double porosity, double temperature_c)
{
    static const double gravity_m_s2 = 9.81;
    double solid = 1.0 - porosity;
    double shape = 8.3e-3 * porosity * porosity * porosity / (solid * solid);
    return gravity_m_s2 / usi_conductivity_viscosity(temperature_c) * shape * d10_m * d10_m;
}

static double fill_kh(const usi_raw_soil *raw, usi_conductivity *from)
{
    if (raw->kh.given) {
        return raw->kh.si;
    }
    if (raw->class.given) {
        from->kh_from = USI_KH_CLASS;
        from->class_index = (size_t)raw->class.index;
        return usi_conductivity_class_mean(from->class_index);
    }
    bool porous = raw->k_from.porosity.at.key != NULL;
    if (!raw->k_from.d10.given || (porous && !raw->k_from.porosity.given)) {
        return 0.0;
    }
    from->d10_m = raw->k_from.d10.si;
    if (!porous) {
        from->kh_from = USI_KH_HAZEN;
        return usi_conductivity_hazen(from->d10_m);
    }
    from->kh_from = USI_KH_KOZENY_CARMAN;
    from->porosity = raw->k_from.porosity.si;
    from->temperature_c =
        raw->k_from.temperature.given ? raw->k_from.temperature.si : USI_KOZENY_USUAL_C;
    return usi_conductivity_kozeny(from->d10_m, from->porosity, from->temperature_c);
}

void usi_conductivity_fill(const usi_raw_soil *raw, usi_soil *soil)
{
    usi_conductivity *from = &soil->conductivity;
    soil->kh_m_s = fill_kh(raw, from);
    if (raw->kv.given) {
        soil->kv_m_s = raw->kv.si;
    } else if (raw->anisotropy.given) {
        from->kv_from = USI_KV_RATIO;
        from->anisotropy = raw->anisotropy.si;
        soil->kv_m_s = soil->kh_m_s / from->anisotropy;
    } else {
        from->kv_from = USI_KV_EQUAL;
        soil->kv_m_s = soil->kh_m_s;
    }
}
