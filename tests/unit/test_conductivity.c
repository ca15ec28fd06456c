/* Conductivity from grain sizes and classes: values from outside, limits, words. */
#include "support/support.h"

#include "model/conductivity.h"

#define REST                                                                                       \
    "bed: {upstream: 10, downstream: 10}\nbase: 0\n"                                               \
    "walls: [{x: 0, top: 10, tip: 5}]\nwater: [{upstream: 13, downstream: at_bed}]\n"
#define SOILS(list) REST "soils: [" list "]\n"

static void check_soil(const char *text, double kh_m_s, double kv_m_s)
{
    us_section *section = support_section(text);
    assert_near(section->soils[0].kh_m_s, kh_m_s, 1e-12, 0.0);
    assert_near(section->soils[0].kv_m_s, kv_m_s, 1e-12, 0.0);
    us_section_free(section);
}

/* Hazen's own form: 100 cm^-1 s^-1 times the square of centimetres. */
static void hazen_is_a_hundred_in_centimetres(void **state)
{
    (void)state;
    static const double d10_cm[] = {0.01, 0.02, 0.05, 0.3};
    for (size_t i = 0; i < 4; i++) {
        double k_cm_s = 100.0 * d10_cm[i] * d10_cm[i];
        assert_near(usi_conductivity_hazen(d10_cm[i] * 1e-2), k_cm_s * 1e-2, 1e-12, 0.0);
    }
}

/* Handbook values (CRC, IAPWS): mPa s and kg/m^3 at 0, 10, 20, 30 and 40 degrees. */
static void viscosity_is_that_of_water(void **state)
{
    (void)state;
    static const double table[][3] = {{0, 1.7918, 999.84},
                                      {10, 1.3059, 999.70},
                                      {20, 1.0016, 998.21},
                                      {30, 0.7972, 995.65},
                                      {40, 0.6527, 992.22}};
    for (size_t i = 0; i < 5; i++) {
        double expected = table[i][1] * 1e-3 / table[i][2];
        assert_near(usi_conductivity_viscosity(table[i][0]), expected, 1e-4, 0.0);
    }
}

/* n 0.3, d10 0.1 mm, nu 1.004e-6 m^2/s: 4.47e-5 m/s, worked out by hand. */
static void kozeny_gives_the_check_value(void **state)
{
    (void)state;
    assert_near(usi_conductivity_kozeny(1e-4, 0.3, 20.0), 4.47e-5, 2e-3, 0.0);
    /* A third of the voids gone: (n/n')^3 ((1-n')/(1-n))^2, and d10 squared. */
    double ratio =
        usi_conductivity_kozeny(2e-4, 0.3, 20.0) / usi_conductivity_kozeny(1e-4, 0.2, 20.0);
    assert_near(ratio, 4.0 * 3.375 * 64.0 / 49.0, 1e-12, 0.0);
    /* Colder water is thicker: 1.3063 over 1.0034. */
    ratio = usi_conductivity_kozeny(1e-4, 0.3, 20.0) / usi_conductivity_kozeny(1e-4, 0.3, 10.0);
    assert_near(ratio, 1.3018, 1e-3, 0.0);
}

static void classes_have_their_ranges(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        double least_m_s;
        double most_m_s;
    } table[] = {{"clean_gravel", 1e-2, 1.0},
                 {"clean_sand", 1e-5, 1e-2},
                 {"silty_sand", 1e-7, 1e-5},
                 {"silt", 1e-9, 1e-5},
                 {"clay", 1e-12, 1e-9}};
    for (size_t i = 0; i < 5; i++) {
        char text[512];
        (void)snprintf(text, sizeof text, SOILS("{class: %s}"), table[i].name);
        check_soil(text, sqrt(table[i].least_m_s * table[i].most_m_s),
                   sqrt(table[i].least_m_s * table[i].most_m_s));
        assert_string_equal(usi_conductivity_classes[i], table[i].name);
        assert_near(usi_conductivity_class_range(i).least_m_s, table[i].least_m_s, 0.0, 0.0);
        assert_near(usi_conductivity_class_range(i).most_m_s, table[i].most_m_s, 0.0, 0.0);
    }
    assert_null(usi_conductivity_classes[5]);
}

static void every_source_is_read(void **state)
{
    (void)state;
    check_soil(SOILS("{k_from: {d10: 0.2 mm}}"), 4e-4, 4e-4);
    check_soil(SOILS("{k_from: {d10: 0.01 in, uniformity: 4.9}}"), 0.01 * 0.254 * 0.254,
               0.01 * 0.254 * 0.254);
    check_soil(SOILS("{k_from: {d10: 0.0002}, anisotropy: 4}"), 4e-4, 1e-4);
    check_soil(SOILS("{k_from: {d10: 0.2 mm}, kv: 3e-5}"), 4e-4, 3e-5);
    check_soil(SOILS("{kh: 6e-5, anisotropy: 0.5}"), 6e-5, 12e-5);
    check_soil(SOILS("{class: silty_sand, anisotropy: 10}"), 1e-6, 1e-7);
    double warm = usi_conductivity_kozeny(1e-4, 0.35, 20.0);
    double cold = usi_conductivity_kozeny(1e-4, 0.35, 10.0);
    check_soil(SOILS("{k_from: {d10: 0.1 mm, porosity: 0.35}}"), warm, warm);
    check_soil(SOILS("{k_from: {d10: 0.1 mm, porosity: 0.35, temperature: 10 degC}}"), cold, cold);
    check_soil(SOILS("{k_from: {d10: 0.1 mm, porosity: 0.35, temperature: 50 degF}}"), cold, cold);
    check_soil(SOILS("{k_from: {d10: 0.1 mm, porosity: 0.35, temperature: 10\u00b0C}}"), cold,
               cold);
}

/* The limits themselves are within; a little beyond is refused. */
static void formulas_keep_to_their_limits(void **state)
{
    (void)state;
    check_soil(SOILS("{k_from: {d10: 0.1 mm}}"), 1e-4, 1e-4);
    check_soil(SOILS("{k_from: {d10: 3 mm}}"), 9e-2, 9e-2);
    support_check_refused(SOILS("{k_from: {d10: 0.0999 mm}}"), "soils[0].k_from.d10",
                          "and this is 0.0999");
    support_check_refused(SOILS("{k_from: {d10: 3.001 mm}}"), "soils[0].k_from.d10",
                          "Hazen's formula");
    support_check_refused(SOILS("{k_from: {d10: 0.2}, kv: 1e-5}"), "soils[0].k_from.d10",
                          "this is 200 mm");
    support_check_refused(SOILS("{k_from: {d10: 0.02 mm, porosity: 35 %}}"),
                          "soils[0].k_from.porosity", "plain number");
    support_check_refused(SOILS("{k_from: {d10: 0.2 mm, uniformity: 5}}"),
                          "soils[0].k_from.uniformity", "below 5");
    support_check_refused(SOILS("{k_from: {d10: 0.2 mm, uniformity: 0.9}}"),
                          "soils[0].k_from.uniformity", "out of range");
    support_check_refused(SOILS("{k_from: {d10: 0.2 mm, temperature: 10 degC}}"),
                          "soils[0].k_from.temperature", "takes no temperature");
    us_section_free(support_section(SOILS("{k_from: {d10: 0.002 mm, porosity: 0.2}}")));
    us_section_free(support_section(SOILS("{k_from: {d10: 3 mm, porosity: 0.6}}")));
    support_check_refused(SOILS("{k_from: {d10: 0.0019 mm, porosity: 0.3}}"), "soils[0].k_from.d10",
                          "0.002 mm to 3 mm");
    support_check_refused(SOILS("{k_from: {d10: 3.1 mm, porosity: 0.3}}"), "soils[0].k_from.d10",
                          "0.002 mm to 3 mm");
    support_check_refused(SOILS("{k_from: {d10: 0.2 mm, porosity: 0.19}}"),
                          "soils[0].k_from.porosity", "from 0.2 to 0.6");
    support_check_refused(SOILS("{k_from: {d10: 0.2 mm, porosity: 0.61}}"),
                          "soils[0].k_from.porosity", "from 0.2 to 0.6");
    support_check_refused(SOILS("{k_from: {d10: 0.2 mm, porosity: 35}}"),
                          "soils[0].k_from.porosity", "out of range");
    support_check_refused(SOILS("{k_from: {d10: 0.2 mm, porosity: 0.3, uniformity: 3}}"),
                          "soils[0].k_from.uniformity", "takes no uniformity");
    support_check_refused(SOILS("{k_from: {d10: 0.2 mm, porosity: 0.3, temperature: 12}}"),
                          "soils[0].k_from.temperature", "without its unit");
    support_check_refused(SOILS("{k_from: {d10: 0.2 mm, porosity: 0.3, temperature: 31 degF}}"),
                          "soils[0].k_from.temperature", "out of range");
    support_check_refused(SOILS("{k_from: {d10: 0.2 mm, porosity: 0.3, temperature: 41 degC}}"),
                          "soils[0].k_from.temperature", "out of range");
}

static void one_source_alone(void **state)
{
    (void)state;
    support_check_refused(SOILS("{kh: 1e-5, k_from: {d10: 0.2 mm}}"), "soils[0].k_from",
                          "kh and k_from both");
    support_check_refused(SOILS("{kh: 1e-5, class: silt}"), "soils[0].class", "kh and class both");
    support_check_refused(SOILS("{class: silt, k_from: {d10: 0.2 mm}}"), "soils[0].class",
                          "k_from and class both");
    support_check_refused(SOILS("{kh: 1e-5, kv: 1e-6, anisotropy: 10}"), "soils[0].anisotropy",
                          "kv and anisotropy both");
    support_check_refused(SOILS("{kv: 1e-5}"), "soils[0].kh", "needs the key `kh`");
    support_check_refused(SOILS("{k_from: {porosity: 0.3}}"), "soils[0].k_from.d10",
                          "`k_from` needs the key `d10`");
    support_check_refused(SOILS("{k_from: 0.2 mm}"), "soils[0].k_from", "keys with values");
    support_check_refused(SOILS("{class: sand}"), "soils[0].class",
                          "`silt` or `clay` may stand here");
}

static void results_keep_to_the_limits_of_values(void **state)
{
    (void)state;
    support_check_refused(SOILS("{class: clay, anisotropy: 1e6}"), "soils[0].anisotropy",
                          "out of range");
    support_check_refused(SOILS("{class: clean_gravel, anisotropy: 1e-3}"), "soils[0].anisotropy",
                          "comes to 100 m/s");
    support_check_refused(SOILS("{class: clean_gravel, kv: 1e-9}"), "soils[0].kv", "factor of 1e6");
    support_check_refused(SOILS("{k_from: {d10: 1 mm}, anisotropy: 2e6}"), "soils[0].anisotropy",
                          "out of range");
    us_section_free(support_section(SOILS("{kh: 1e-5, anisotropy: 1e6}")));
}

static void notes_name_source_and_caution(void **state)
{
    (void)state;
    us_section *section = support_section(
        SOILS("{name: a, k_from: {d10: 0.2 mm}, anisotropy: 2}, {name: b, top: 8, k_from: {d10: "
              "0.1 mm, porosity: 0.3}}, {name: c, top: 6, class: clean_sand}"));
    assert_true(
        support_has_note(section, "Soil a: kh 0.0004 m/s comes from d10 = 0.2 mm by Hazen's"));
    assert_true(support_has_note(section, "coefficient below 5 (not given here)"));
    assert_false(support_has_note(section, "Soil a has no kv"));
    assert_true(support_has_note(section,
                                 "Soil b: kh 4.47e-05 m/s comes from d10 = 0.1 mm and porosity "
                                 "0.3 by the Kozeny-Carman formula"));
    assert_true(support_has_note(section, "in water of 20 degC (none was given)"));
    assert_true(
        support_has_note(section, "Soil b has no kv: it is taken equal to kh, 4.47e-05 m/s."));
    assert_true(support_has_note(section,
                                 "Soil c: kh 0.000316 m/s comes from the class clean_sand alone "
                                 "and is known only within its range, 1e-05 m/s to 0.01 m/s"));
    assert_true(support_has_note(section, "flow may be 0.032 to 32 times what is given"));
    assert_true(support_has_note(section, "depend on the ratios"));
    us_section_free(section);
}

/* What is said of flow and gradient depends on what else is known. */
static void doubt_is_told_as_far_as_it_goes(void **state)
{
    (void)state;
    us_section *section = support_section(SOILS("{class: silty_sand, anisotropy: 3}"));
    assert_true(
        support_has_note(section, "flow is proportional to its conductivity and may be 0.1 to 10"));
    assert_true(support_has_note(section, "do not depend on it"));
    us_section_free(section);
    section = support_section(SOILS("{class: silty_sand, kv: 1e-6}"));
    assert_true(support_has_note(section, "flow may be 0.1 to 10"));
    assert_true(support_has_note(section, "depend on the ratios"));
    us_section_free(section);
    section = support_section(SOILS("{class: silty_sand}, {name: spare, class: silt}"));
    assert_true(support_has_note(section, "The only soil is known by its class alone"));
    us_section_free(section);
    section = support_section(SOILS(
        "{kh: 1e-5, kv: 1e-5}, {name: lens, class: silt}") "zones: [{soil: lens, outline: [[2, 8], "
                                                           "[6, 8], [6, 6], [2, 6]]}]\n");
    assert_true(support_has_note(section, "flow may be 0.01 to 100 times"));
    us_section_free(section);
    section = support_section("bed: {upstream: 10, downstream: 10}\nbase: none\n"
                              "walls: [{x: 0, top: 10, tip: 5}]\nsoils: [{class: silt}]\n"
                              "water: [{upstream: 13, downstream: at_bed}]\n");
    assert_true(support_has_note(section, "The only soil is known by its class alone. Heads"));
    assert_false(support_has_note(section, "flow may be"));
    us_section_free(section);
    section = support_section(SOILS("{kh: 1e-5, kv: 1e-5}"));
    assert_int_equal(section->note_count, 0);
    us_section_free(section);
}

static void explanation_names_the_source(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_section *section =
        support_read(context, SOILS("{k_from: {d10: 0.2 mm}, anisotropy: 4}, {top: 8, k_from: "
                                    "{d10: 0.1 mm, porosity: 0.3}}, {top: 6, class: clean_sand}"));
    us_buffer *text = NULL;
    assert_int_equal(us_section_explain(context, section, &text), US_OK);
    static const char *const parts[] = {
        "kh 0.0004 m/s (Hazen, d10 0.2 mm), kv 0.0001 m/s (kh / 4)",
        "kh 4.47e-05 m/s (Kozeny-Carman, d10 0.1 mm, porosity 0.3, water of 20 degC)",
        "kh 0.000316 m/s (class clean_sand, 1e-05 m/s to 0.01 m/s), kv 0.000316 m/s"};
    for (size_t i = 0; i < 3; i++) {
        if (strstr(us_buffer_data(text), parts[i]) == NULL) {
            print_error("lacks '%s':\n%s", parts[i], (const char *)us_buffer_data(text));
            fail();
        }
    }
    us_buffer_free(text);
    us_section_free(section);
    us_context_free(context);
}

/* A variant may change what the file says, not add a second source. */
static void variants_follow_the_same_rules(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_section *section = support_read(context, SOILS("{k_from: {d10: 0.2 mm}, anisotropy: 4}"));
    us_section *variant = NULL;
    us_change finer = {"soils[0].k_from.d10", "0.1 mm", 0.0};
    assert_int_equal(us_section_vary(context, section, &finer, 1, &variant), US_OK);
    assert_near(variant->soils[0].kv_m_s, 0.25e-4, 1e-12, 0.0);
    us_section_free(variant);
    us_change second = {"soils[0].kh", NULL, 1e-5};
    assert_int_equal(us_section_vary(context, section, &second, 1, &variant), US_ERROR_INPUT);
    us_section_free(section);
    us_context_free(context);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(hazen_is_a_hundred_in_centimetres),
        cmocka_unit_test(viscosity_is_that_of_water),
        cmocka_unit_test(kozeny_gives_the_check_value),
        cmocka_unit_test(classes_have_their_ranges),
        cmocka_unit_test(every_source_is_read),
        cmocka_unit_test(formulas_keep_to_their_limits),
        cmocka_unit_test(one_source_alone),
        cmocka_unit_test(results_keep_to_the_limits_of_values),
        cmocka_unit_test(notes_name_source_and_caution),
        cmocka_unit_test(doubt_is_told_as_far_as_it_goes),
        cmocka_unit_test(explanation_names_the_source),
        cmocka_unit_test(variants_follow_the_same_rules),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
