#include "solve/conductivity_range.h"

#include <math.h>

double usi_conductivity_largest(const us_section *section)
{
    double largest_m_s = 0.0;
    for (size_t s = 0; s < section->soil_count; s++) {
        if (section->soils[s].layer) {
            largest_m_s = fmax(largest_m_s, section->soils[s].kh_m_s);
            largest_m_s = fmax(largest_m_s, section->soils[s].kv_m_s);
        }
    }
    return largest_m_s;
}

double usi_conductivity_smallest(const us_section *section)
{
    double smallest_m_s = HUGE_VAL;
    for (size_t s = 0; s < section->soil_count; s++) {
        if (section->soils[s].layer) {
            smallest_m_s = fmin(smallest_m_s, section->soils[s].kh_m_s);
            smallest_m_s = fmin(smallest_m_s, section->soils[s].kv_m_s);
        }
    }
    return smallest_m_s;
}
