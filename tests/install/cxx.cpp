// A C++ program of a few lines: the headers and the link serve C++ as well.
#include <iostream>
#include <memory>
#include <string>

#include <undersill/undersill.h>

int main()
{
    const std::string text = "bed: {upstream: 10, downstream: 10}\n"
                             "base: 0\n"
                             "walls: [{x: 0, top: 11, tip: 6}]\n"
                             "soils: [{kh: 1e-4, unit_weight: 20}]\n"
                             "water: [{name: high, upstream: 13, downstream: 11}]\n";
    std::unique_ptr<us_context, decltype(&us_context_free)> context(us_context_create(),
                                                                    us_context_free);
    us_section *section = nullptr;
    us_status status =
        us_section_read(context.get(), text.data(), text.size(), "cxx.cpp", &section);
    us_solve_options options = US_SOLVE_OPTIONS_INIT;
    options.accuracy = 0.02;
    us_solution *solution = nullptr;
    if (status == US_OK) {
        status = us_section_solve(context.get(), section, &options, &solution);
    }
    if (status == US_OK) {
        std::cout << us_solution_water(solution, 0)->name << ' ' << us_version() << '\n';
    }
    us_solution_free(solution);
    us_section_free(section);
    return status;
}
