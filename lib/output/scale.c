#include "output/scale.h"

us_value usi_scale_value(us_value value, double unit)
{
    value.value /= unit;
    value.error /= unit;
    return value;
}
