#include "study/pick.h"

double usi_pick_flow(const usi_reading *reading, size_t index)
{
    (void)index;
    return reading->flow_m_s;
}

double usi_pick_peak(const usi_reading *reading, size_t index)
{
    (void)index;
    return reading->peak.gradient_1_m;
}

double usi_pick_worst(const usi_reading *reading, size_t kind)
{
    return reading->worst[kind].gradient_1_m;
}

double usi_pick_peak_mean(const usi_reading *reading, size_t index)
{
    (void)index;
    return reading->peak.mean_1_m;
}

double usi_pick_gradient(const usi_reading *reading, size_t exit)
{
    return reading->exits[exit].gradient_1_m;
}

double usi_pick_profile(const usi_reading *reading, size_t index)
{
    return reading->exits[index / USI_PROFILE_MOST].profile_1_m[index % USI_PROFILE_MOST];
}

double usi_pick_mean(const usi_reading *reading, size_t exit)
{
    return reading->exits[exit].mean_1_m;
}

double usi_pick_uplift(const usi_reading *reading, size_t water)
{
    return reading->uplift[water].force_n_m;
}

double usi_pick_uplift_x(const usi_reading *reading, size_t water)
{
    return reading->uplift[water].moment_n / reading->uplift[water].force_n_m;
}

double usi_pick_panel(const usi_reading *reading, size_t index)
{
    return reading->panels[index].force_n_m;
}

double usi_pick_panel_x(const usi_reading *reading, size_t index)
{
    return reading->panels[index].moment_n / reading->panels[index].force_n_m;
}

double usi_pick_floor(const usi_reading *reading, size_t place)
{
    return reading->floor_heads[place];
}

double usi_pick_tip(const usi_reading *reading, size_t wall)
{
    return reading->walls[wall].tip.value;
}

double usi_pick_left_top(const usi_reading *reading, size_t wall)
{
    return reading->walls[wall].left_face_top.value;
}

double usi_pick_right_top(const usi_reading *reading, size_t wall)
{
    return reading->walls[wall].right_face_top.value;
}

double usi_pick_through(const usi_reading *reading, size_t wall)
{
    return reading->walls[wall].through_m_s.value;
}

double usi_pick_piezometer(const usi_reading *reading, size_t piezometer)
{
    return reading->piezometers[piezometer].value;
}

double usi_pick_prism(const usi_reading *reading, size_t prism)
{
    return reading->prisms[prism].mean.value;
}

double usi_pick_prism_corner(const usi_reading *reading, size_t prism)
{
    return reading->prisms[prism].corner.value;
}

double usi_pick_tight(const usi_reading *reading, size_t tight)
{
    return reading->tights[tight].value;
}

double usi_pick_outflow(const usi_reading *reading, size_t terminal)
{
    return reading->outflows[terminal].value_m_s;
}

double usi_pick_face(const usi_reading *reading, size_t terminal)
{
    return reading->outflows[terminal].face;
}

double usi_pick_open(const usi_reading *reading, size_t index)
{
    (void)index;
    return reading->open_m;
}
