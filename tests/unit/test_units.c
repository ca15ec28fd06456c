/* The table of units: names, factors and, as an oracle, the udunits2 library. */
#include "support/support.h"

#include <udunits2.h>

#include "base/units.h"

static const usi_dimension dimensions[] = {USI_DIMENSION_LENGTH, USI_DIMENSION_SPEED,
                                           USI_DIMENSION_UNIT_WEIGHT, USI_DIMENSION_TEMPERATURE,
                                           USI_DIMENSION_SHEET_MASS};
static const char *const si_names[] = {"m", "m/s", "N/m^3", "degC", "kg/m^2"};

enum { DIMENSION_COUNT = 5 };

static const usi_unit *find(const char *name)
{
    return usi_unit_find(name, strlen(name));
}

static void finds_by_whole_name(void **state)
{
    (void)state;
    assert_string_equal(find("ft/day")->name, "ft/day");
    assert_ptr_equal(usi_unit_find("m/s and more", 3), find("m/s"));
    assert_null(find("fts"));
    assert_null(find("M"));
    assert_null(find(""));
    assert_null(find("m "));
}

static void knows_the_dimension(void **state)
{
    (void)state;
    assert_int_equal(find("in")->dimension, USI_DIMENSION_LENGTH);
    assert_int_equal(find("cm/s")->dimension, USI_DIMENSION_SPEED);
    assert_int_equal(find("pcf")->dimension, USI_DIMENSION_UNIT_WEIGHT);
    assert_int_equal(find("degF")->dimension, USI_DIMENSION_TEMPERATURE);
    assert_int_equal(find("kPa")->dimension, USI_DIMENSION_PRESSURE);
    assert_int_equal(find("deg")->dimension, USI_DIMENSION_ANGLE);
    assert_int_equal(find("lb/ft")->dimension, USI_DIMENSION_LINE_LOAD);
    assert_int_equal(find("kg")->dimension, USI_DIMENSION_OTHER);
}

static void factors_are_exact(void **state)
{
    (void)state;
    assert_near(find("ft")->factor, 0.3048, 0.0, 0.0);
    assert_near(find("in")->factor, 0.0254, 0.0, 0.0);
    assert_near(find("ft/day")->factor, 0.3048 / 86400.0, 1e-16, 0.0);
    assert_near(find("lb/ft^3")->factor, 157.08746384624618, 1e-14, 0.0);
    assert_near(find("pcf")->factor, find("lb/ft^3")->factor, 0.0, 0.0);
}

static void lists_every_unit_once(void **state)
{
    (void)state;
    size_t total = 0;
    for (int d = 0; d < DIMENSION_COUNT; d++) {
        size_t count = 0;
        while (usi_unit_of(dimensions[d], count) != NULL) {
            const usi_unit *unit = usi_unit_of(dimensions[d], count);
            assert_ptr_equal(find(unit->name), unit);
            count++;
        }
        assert_near(usi_unit_of(dimensions[d], 0)->factor, d == 2 ? 1000.0 : 1.0, 0.0, 0.0);
        total += count;
    }
    assert_in_range(total, 40, 60);
}

static void speeds_name_their_time(void **state)
{
    (void)state;
    for (size_t i = 0; usi_unit_of(USI_DIMENSION_SPEED, i) != NULL; i++) {
        const usi_unit *unit = usi_unit_of(USI_DIMENSION_SPEED, i);
        assert_string_equal(unit->time, strchr(unit->name, '/') + 1);
    }
}

/* What udunits2 writes otherwise: force pounds, and a year of its own. */
static const char *oracle_name(const char *name)
{
    static const char *const other[][2] = {
        {"lb/ft^3", "pound_force/ft^3"},
        {"lb/ft3", "pound_force/ft^3"},
        {"lbf/ft^3", "pound_force/ft^3"},
        {"pcf", "pound_force/ft^3"},
        {"kgf/m^3", "kilogram_force/m^3"},
        {"m/year", "m/(365.25 day)"},
        {"ft/year", "ft/(365.25 day)"},
        {"kN/m3", "kN/m^3"},
        {"kg/m2", "kg/m^2"},
        {"lb/ft2", "lb/ft^2"},
        {"N/m3", "N/m^3"},
        {"MN/m3", "MN/m^3"},
        {"\u00b0C", "degC"},
        {"\u00b0F", "degF"},
    };
    for (size_t i = 0; i < sizeof other / sizeof other[0]; i++) {
        if (strcmp(other[i][0], name) == 0) {
            return other[i][1];
        }
    }
    return name;
}

static void agrees_with_udunits(void **state)
{
    (void)state;
    (void)ut_set_error_message_handler(ut_ignore);
    ut_system *system = ut_read_xml(NULL);
    assert_non_null(system);
    for (int d = 0; d < DIMENSION_COUNT; d++) {
        ut_unit *si = ut_parse(system, si_names[d], UT_ASCII);
        assert_non_null(si);
        for (size_t i = 0; usi_unit_of(dimensions[d], i) != NULL; i++) {
            const usi_unit *unit = usi_unit_of(dimensions[d], i);
            ut_unit *theirs = ut_parse(system, oracle_name(unit->name), UT_ASCII);
            if (theirs == NULL) {
                print_error("udunits2 does not know %s\n", unit->name);
            }
            assert_non_null(theirs);
            cv_converter *converter = ut_get_converter(theirs, si);
            assert_non_null(converter);
            double zero = cv_convert_double(converter, 0.0);
            assert_near(unit->zero, zero, 1e-13, 0.0);
            assert_near(unit->factor, cv_convert_double(converter, 1.0) - zero,
                        zero == 0.0 ? 1e-14 : 1e-13, 0.0);
            cv_free(converter);
            ut_free(theirs);
        }
        ut_free(si);
    }
    ut_free_system(system);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(finds_by_whole_name),    cmocka_unit_test(knows_the_dimension),
        cmocka_unit_test(factors_are_exact),      cmocka_unit_test(lists_every_unit_once),
        cmocka_unit_test(speeds_name_their_time), cmocka_unit_test(agrees_with_udunits),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
