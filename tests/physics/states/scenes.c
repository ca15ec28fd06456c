#include "states/scenes.h"

double scene_between(scene_random *random, double low, double high)
{
    random->state = random->state * 6364136223846793005ULL + 1442695040888963407ULL;
    double share = (double)(random->state >> 11) / 9007199254740992.0;
    return low + share * (high - low);
}

int scene_pick(scene_random *random, int count)
{
    int picked = (int)scene_between(random, 0.0, (double)count);
    return picked < count ? picked : count - 1;
}

/* Appends formatted text. */
static void say(char *text, const char *format, ...) __attribute__((format(printf, 2, 3)));
static void say(char *text, const char *format, ...)
{
    size_t used = strlen(text);
    va_list arguments;
    va_start(arguments, format);
    int more = vsnprintf(text + used, SCENE_ROOM - used, format, arguments);
    va_end(arguments);
    assert_true(more > 0 && (size_t)more < SCENE_ROOM - used);
}

static void say_soils(scene_random *random, bool slopes, char *text)
{
    int count = 1 + scene_pick(random, 3);
    say(text, "soils:\n");
    for (int s = 0; s < count; s++) {
        double kh = pow(10.0, scene_between(random, -6.0, -4.0));
        say(text, "  - {name: s%d, kh: %.6e, kv: %.6e, unit_weight: 20", s, kh,
            kh / scene_between(random, 1.0, 6.0));
        double top = -2.2 - 2.3 * s + scene_between(random, -0.3, 0.3);
        if (s > 0 && slopes) {
            say(text, ", top: [[-5, %.4f], [16, %.4f]]", top,
                top + scene_between(random, -0.7, 0.7));
        } else if (s > 0) {
            say(text, ", top: %.4f", top);
        }
        say(text, "}\n");
    }
}

void scene_write(scene_random *random, scene_kind kind, char *text)
{
    bool slopes = kind.slopes;
    text[0] = '\0';
    double upstream = scene_between(random, 0.2, 1.0);
    if (slopes) {
        say(text, "bed: {upstream: %.4f, downstream: [[10, 0], [14, %.4f], [40, %.4f]]}\n",
            upstream, scene_between(random, -0.5, 0.3),
            kind.dry ? scene_between(random, 1.0, 3.0) : scene_between(random, -0.5, 0.5));
        say(text, "base: [[-10, %.4f], [20, %.4f]]\n", scene_between(random, -9.0, -8.0),
            scene_between(random, -9.0, -8.0));
    } else {
        say(text, "bed: {upstream: %.4f, downstream: 0}\nbase: %.4f\n", upstream,
            scene_between(random, -10.0, -7.0));
    }
    say(text,
        "structure: {underside: [[0, -0.3], [3, -0.3], [3, %.4f], [10, %.4f]], "
        "top: [[0, 1], [10, 0.4]], unit_weight: 23, joints: [3, 6.5]}\n",
        slopes ? scene_between(random, -1.2, -0.8) : -1.1,
        slopes ? scene_between(random, -1.2, -0.6) : -1.1);
    say(text, "walls:\n  - {name: crest, x: 0, top: 0, tip: -6.4");
    if (kind.leaks) {
        say(text,
            ", interlock: {inverse_resistance: %.4e m/s, spacing: 0.6}, openings: "
            "[{slot_from: -2.1, slot_to: -2}, {slot_from: -4.301, slot_to: -4.3}]",
            pow(10.0, scene_between(random, -8.0, -5.0)));
    }
    say(text, "}\n  - {name: toe, x: 10, top: -0.2, tip: %.4f%s}\n",
        scene_between(random, -6.0, -3.5), kind.leaks ? ", cap_gap: 0.05, cap_fill: open" : "");
    say_soils(random, slopes, text);
    if (kind.drains) {
        double from = scene_between(random, 6.0, 7.0);
        say(text, "drains: [{from: [%.4f, -1.1], to: [%.4f, -1.1], outlet: tailwater}]\n", from,
            from + scene_between(random, 0.3, 1.5));
    }
    say(text,
        "piezometers: [{at: [5.3, -3.1]}, {at: [12, -1.7]}, {at: [0, -3.3], side: left}]\n"
        "water: [{name: flood, upstream: 4, downstream: %.1f}]\n",
        kind.dry ? 0.4 : 1.5);
}
