#include <algorithm>

#include "patchwright/liner/thickness.hpp"

namespace patchwright::liner {
namespace {

constexpr double length_step_m = 1e-4;
constexpr double ovality_step = 1e-5;
constexpr Length look = 10.0 * unit::m;  ///< beyond the given cover, or over the invert where no depth is known

bool holds(const ThicknessInput& input, Length installed) {
    Working quiet = Working::off();
    return is_adequate(design_thickness(input, quiet), installed);
}

/// Last place that still holds on the way from `good`, which holds, to `bad`, which does not.
template <class Predicate>
double last_good(double good, double bad, double step, const Predicate& still_holds) {
    while (std::abs(bad - good) > step) {
        const double middle = 0.5 * (good + bad);
        (still_holds(middle) ? good : bad) = middle;
    }
    return good;
}

/// Greatest value in [least, most] that holds, where a greater value is never easier; nullopt when `most` holds.
/// `least` when nothing does.
template <class Predicate>
std::optional<double> greatest_good(double least, double given, double most, double step,
                                    const Predicate& still_holds) {
    if (still_holds(most)) return std::nullopt;
    const double known = std::clamp(given, least, most);
    if (still_holds(known)) return last_good(known, most, step, still_holds);
    if (!still_holds(least)) return least;
    return last_good(least, known, step, still_holds);
}

/// Water at `head` over the invert; what stands over the crown goes with it.
ThicknessInput with_head(ThicknessInput input, Length head) {
    input.head_over_invert.value = head;
    if (input.soil)
        input.soil->water_over_crown.value =
            std::clamp(head - *input.bore, Length{}, std::max(Length{}, *input.soil->cover));
    return input;
}

/// Pipe at another depth below the same ground and the same water table.
ThicknessInput with_cover(ThicknessInput input, Length cover) {
    const Length deeper = cover - *input.soil->cover;
    input.soil->cover.value = cover;
    if (input.head_over_invert->si() <= 0.0) return input;
    return with_head(input, std::max(Length{}, *input.head_over_invert + deeper));
}

Length ground_over_invert(const ThicknessInput& input) {
    if (input.depth_to_invert) return *input.depth_to_invert;
    if (input.soil) return *input.soil->cover + *input.bore;
    return std::max(look, *input.head_over_invert);
}

}  // namespace

Sensitivity sensitivity(const ThicknessInput& input, Length installed) {
    Sensitivity found;
    found.holds = holds(input, installed);
    const double ground = ground_over_invert(input).si();
    const auto head = greatest_good(0.0, input.head_over_invert->si(), ground, length_step_m,
                                    [&](double h) { return holds(with_head(input, h * unit::m), installed); });
    if (head) found.water_over_invert = *head * unit::m;
    found.ovality = greatest_good(0.0, *input.ovality, limit::max_ovality, ovality_step, [&](double q) {
        ThicknessInput changed = input;
        changed.ovality.value = q;
        return holds(changed, installed);
    });
    if (!input.fully_deteriorated() || !found.holds) return found;
    const auto at_cover = [&](double c) { return holds(with_cover(input, c * unit::m), installed); };
    const double given = input.soil->cover->si();
    const bool wheels = *input.soil->traffic == job::Traffic::highway;
    const double shallow = wheels ? load::min_cover_under_wheels.si() : 0.0;
    const double deep = given + look.si();
    if (!at_cover(shallow))
        found.min_cover = last_good(given, shallow, length_step_m, at_cover) * unit::m;
    else if (wheels)
        found.min_cover = load::min_cover_under_wheels;
    if (!at_cover(deep)) found.max_cover = last_good(given, deep, length_step_m, at_cover) * unit::m;
    return found;
}

}  // namespace patchwright::liner
