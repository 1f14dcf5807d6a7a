// Run by the build: fits the resins of the built-in yard as the program would and writes the fits as a C++ source.
//   compile_fits > source.cpp
#include <fmt/format.h>

#include "calibrate.hpp"
#include "known_fits.hpp"
#include "patchwright/job/read.hpp"

namespace patchwright::cure::detail {

// Here every fit is made anew.
std::span<const KnownFit> known_fits() { return {}; }

}  // namespace patchwright::cure::detail

namespace {

using namespace patchwright;
using namespace patchwright::cure::detail;

template <class List>
std::string listed(const List& numbers) {
    std::string text;
    for (const double x : numbers) text += fmt::format("{:a}, ", x);
    return text;
}

}  // namespace

int main() {
    fmt::print("#include \"known_fits.hpp\"\n\nnamespace patchwright::cure::detail {{\nnamespace {{\n");
    std::string rows;
    int number = 0;
    for (const job::Resin& resin : job::builtin_yard().resins) {
        const Minimum fit = fitted_minimum(resin);
        fmt::print("constexpr double sheet_{}[] = {{{}}};\n", number, listed(sheet_figures(resin)));
        fmt::print("constexpr double residuals_{}[] = {{{}}};\n", number, listed(fit.residuals));
        std::string matrix;
        for (const auto& row : fit.inverse_normal) matrix += "Vector{" + listed(row) + "}, ";
        rows += fmt::format("    {{sheet_{0}, {{{1}}}, residuals_{0}, {{{2}}}}},\n", number, listed(fit.at), matrix);
        ++number;
    }
    fmt::print("constexpr KnownFit fits[] = {{\n{}}};\n}}  // namespace\n\n", rows);
    fmt::print(
        "std::span<const KnownFit> known_fits() {{ return fits; }}\n\n}}  // namespace patchwright::cure::detail\n");
    return 0;
}
