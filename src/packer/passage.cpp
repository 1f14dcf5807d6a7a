#include "patchwright/packer/passage.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "hair.hpp"
#include "patchwright/packer/options.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::packer {
namespace {

constexpr std::array<Symbol, 3> bend_inputs{
    {{"D", "bore", Show::tape}, {"R", "centre-line radius", Show::tape}, {"d", "stiff diameter", Show::tape}}};
constexpr Formula bend_formula{"packer.bend",
                               {"L", "longest stiff length", Show::tape},
                               "L = 2 sqrt((D - d)(2R + d))",
                               bend_inputs,
                               "derived here",
                               "packer"};

constexpr std::array<Symbol, 4> short_bend_inputs{{{"D", "bore", Show::tape},
                                                   {"R", "centre-line radius", Show::tape},
                                                   {"d", "stiff diameter", Show::tape},
                                                   {"a", "angle of the bend", Show::angle}}};
constexpr Formula short_bend_formula{"packer.short_bend",
                                     {"L", "longest stiff length", Show::tape},
                                     "L = 2 (R + D/2 - (R - D/2 + d) cos(a/2)) / sin(a/2)",
                                     short_bend_inputs,
                                     "derived here",
                                     "packer"};

constexpr std::array<Symbol, 3> opening_inputs{
    {{"W", "chamber along the pipe", Show::tape}, {"D", "bore", Show::tape}, {"d", "stiff diameter", Show::tape}}};
constexpr Formula opening_formula{"packer.opening",
                                  {"L", "longest stiff length", Show::tape},
                                  "L = least of (W sin u + D cos u - d) / (sin u cos u) over all leans u",
                                  opening_inputs,
                                  "derived here",
                                  "packer"};

constexpr std::array<Symbol, 4> travel_inputs{{{"dt", "travelling diameter", Show::tape},
                                               {"t", "wet felt", Show::thickness},
                                               {"s", "travel share", Show::percent},
                                               {"dr", "stiff diameter with felt", Show::tape}}};
constexpr Formula travel_formula{"packer.min_bore",
                                 {"Dmin", "least bore to travel in", Show::tape},
                                 "Dmin = max((dt + 2 t) / s, dr)",
                                 travel_inputs,
                                 "common practice, no source",
                                 "packer"};

// Hubless cast-iron quarter bends, centre-line radius by nominal bore, inches. From memory, not sighted.
struct IronBend {
    double bore_in, radius_in;
};
constexpr std::array<IronBend, 6> iron_bends{{{2, 3}, {3, 3.5}, {4, 4}, {5, 4.5}, {6, 5}, {8, 6}}};

Length iron_radius(Length bore) {
    // The table's nominal bore nearest to the measured one, by ratio; outside the table half a bore.
    const double bore_in = bore.in(unit::in);
    if (bore_in < 1.5 || bore_in > 9.0) return 0.5 * bore;
    const auto nearest = std::min_element(iron_bends.begin(), iron_bends.end(), [&](IronBend a, IronBend b) {
        return std::abs(std::log(a.bore_in / bore_in)) < std::abs(std::log(b.bore_in / bore_in));
    });
    return nearest->radius_in * unit::in;
}

// A bend whose angle nobody noted counts as a quarter bend.
Angle bend_angle(const job::Fitting& fitting) { return fitting.angle > Angle{} ? fitting.angle : 90.0 * unit::deg; }

bool soft(const job::Packer& packer) { return packer.material != job::BladderMaterial::pvc_hose; }

struct Crossing {
    bool allowed = false;
    const char* reason = "";
};
Crossing may_cross_bend(const job::Run& run, const job::Limits& limits, const job::Fitting& fitting,
                        const job::Packer& packer) {
    if (packer.shape != job::PackerShape::straight) return {false, "A junction piece is set in straight pipe only."};
    if (felt_over_rigid(packer))
        return {false, "The packer's core is stiff under the sleeve; it lies on straights only."};
    const Angle angle = bend_angle(fitting);
    const double tolerance = 0.5;  // a "45 deg" bend is made as 45 or 44.5
    if (angle.in(unit::deg) <= limits.crossing_angle_most.in(unit::deg) + tolerance) return {true, ""};
    const bool long_radius = bend_radius(fitting, run)->in(run.working_bore()) >= limits.crossing_radius_share - 1e-9;
    const bool up_to_quarter = angle.in(unit::deg) <= 90.0 + tolerance;
    if (long_radius && up_to_quarter && run.working_bore() >= 75.0 * unit::mm) return {true, ""};
    return {false, "The bend is too sharp for a bladder to be blown up across it."};
}

Passage bend_passage(const job::Run& run, const job::Limits& limits, const job::Fitting& fitting,
                     const job::Packer& packer, Length felt, Working& working) {
    Passage passage;
    if (!soft(packer)) {
        passage.reason = "Calibration hose creases in a bend and the cured sleeve grips it; use it on straights only.";
        return passage;
    }
    const Length bore = run.working_bore();
    const Length diameter = packer.rigid_diameter + (felt_over_rigid(packer) ? 2.0 * felt : Length{});
    if (diameter > bore) {
        passage.reason = "The packer's stiff part is thicker than the bore.";
        return passage;
    }
    passage.stiff = packer.rigid_length;
    if (diameter > Length{} && packer.rigid_length > Length{}) {
        Sourced<Length> radius = bend_radius(fitting, run);
        radius.value = std::max(*radius, bore / 2.0);
        const Sourced<Angle> angle{std::min(bend_angle(fitting), 180.0 * unit::deg),
                                   fitting.angle > Angle{} ? Origin::given : Origin::assumed};
        passage.longest = longest_through_bend({bore, Origin::given}, radius, {diameter, Origin::yard}, angle, working);
        passage.passes = packer.rigid_length <= passage.longest;
    } else {
        passage.passes = true;
    }
    if (!passage.passes) {
        passage.reason = "The packer's stiff part is longer than the bend lets through.";
        return passage;
    }
    const Crossing crossing = may_cross_bend(run, limits, fitting, packer);
    passage.may_lie_across = crossing.allowed;
    passage.reason = crossing.reason;
    return passage;
}

Passage size_change_passage(const job::Run& run, const job::Limits& limits, const job::Fitting& fitting,
                            const job::Packer& packer, Length felt, Working& working) {
    Passage passage;
    const Length beyond = fitting.bore > Length{} ? fitting.bore : run.working_bore();
    const Length least = min_bore(packer, felt, limits);
    const Length rigid = packer.rigid_diameter + (felt_over_rigid(packer) ? 2.0 * felt : Length{});
    working.add(travel_formula, {packer.travelling_diameter, felt, Operand{limits.travel_share, Origin::yard}, rigid},
                least);
    passage.passes = least <= std::min(beyond, run.working_bore());
    passage.reason = passage.passes ? "A straight sleeve does not fit two bores."
                                    : "With its wet sleeve the packer is too thick for the smaller bore.";
    return passage;
}

}  // namespace

Angle arc_needed(Length bore, Length radius, Length diameter) {
    const Length inner = radius - bore / 2.0;
    const Length outer = radius + bore / 2.0;
    return 2.0 * std::acos(std::clamp((inner + diameter) / outer, -1.0, 1.0)) * unit::rad;
}

Length longest_through_bend(Sourced<Length> bore_in, Sourced<Length> radius_in, Sourced<Length> diameter_in,
                            std::optional<Sourced<Angle>> angle_in, Working& working) {
    const Length bore = *bore_in, radius = *radius_in, diameter = *diameter_in;
    if (!is_finite(bore) || !is_finite(diameter) || !(diameter > Length{}) || !(diameter <= bore)) {
        throw RangeError("bend: the stiff diameter must be more than zero and at most the bore");
    }
    // A radius that was computed as half the bore may miss it by the last digit.
    if (!is_finite(radius) || !(radius >= bore / 2.0 * (1.0 - 1e-12))) {
        throw RangeError("bend: the centre-line radius must be at least half the bore");
    }
    if (angle_in) {
        const Angle angle = **angle_in;
        if (!is_finite(angle) || !(angle > Angle{}) || !(angle <= std::numbers::pi * (1.0 + 1e-12) * unit::rad)) {
            throw RangeError("bend: the angle must be more than 0 and at most 180 degrees");
        }
        if (angle < arc_needed(bore, radius, diameter)) {
            const Angle half = angle / 2.0;
            const Length longest =
                2.0 * (radius + bore / 2.0 - (radius - bore / 2.0 + diameter) * cos(half)) / sin(half);
            working.add(short_bend_formula, {bore_in, radius_in, diameter_in, *angle_in}, longest);
            return longest;
        }
    }
    const Length longest = 2.0 * sqrt((bore - diameter) * (2.0 * radius + diameter));
    working.add(bend_formula, {bore_in, radius_in, diameter_in}, longest);
    return longest;
}

namespace {

Length longest_at(Length opening, Length bore, Length diameter, double lean) {
    return (std::sin(lean) * opening + std::cos(lean) * bore - diameter) / (std::sin(lean) * std::cos(lean));
}

/// The function of the lean falls to its least value and rises again.
Length tightest_turn(Length opening, Length bore, Length diameter) {
    double low = 1e-6, high = std::numbers::pi / 2.0 - 1e-6;
    for (int i = 0; i < 100; ++i) {
        const double a = low + (high - low) / 3.0, b = high - (high - low) / 3.0;
        if (longest_at(opening, bore, diameter, a) < longest_at(opening, bore, diameter, b)) {
            high = b;
        } else {
            low = a;
        }
    }
    return longest_at(opening, bore, diameter, (low + high) / 2.0);
}

}  // namespace

Length longest_into_pipe(Sourced<Length> opening, Sourced<Length> bore, Sourced<Length> diameter, Working& working) {
    if (!is_finite(*opening) || !is_finite(*bore) || !(*diameter > Length{}) || !(*diameter <= *bore) ||
        !(*diameter <= *opening)) {
        throw RangeError("chamber: the stiff diameter must be more than zero and at most the bore and the opening");
    }
    const Length longest = tightest_turn(*opening, *bore, *diameter);
    working.add(opening_formula, {opening, bore, diameter}, longest);
    return longest;
}

Length opening_needed(Length stiff, Length bore, Length diameter) {
    // From an opening as wide as the part is long, and as thick, it turns in any case.
    Length low = diameter, high = stiff + diameter;
    while (high - low > 0.1 * unit::mm) {
        const Length middle = (low + high) / 2.0;
        (tightest_turn(middle, bore, diameter) >= stiff ? high : low) = middle;
    }
    return std::ceil(high.in(unit::mm)-1e-6) * unit::mm;
}

Length longest_through_bend(Length bore, Length radius, Length diameter, std::optional<Angle> angle, Working& working) {
    constexpr Origin origin = Origin::computed;
    std::optional<Sourced<Angle>> sourced;
    if (angle) sourced = Sourced<Angle>{*angle, origin};
    return longest_through_bend(Sourced<Length>{bore, origin}, Sourced<Length>{radius, origin},
                                Sourced<Length>{diameter, origin}, sourced, working);
}

Sourced<Length> bend_radius(const job::Fitting& fitting, const job::Run& run) {
    if (fitting.radius) return {*fitting.radius, Origin::given};
    switch (run.material) {
        case job::Material::cast_iron:
            return {iron_radius(run.working_bore()), Origin::looked_up};
        case job::Material::clay:
        case job::Material::concrete:
        case job::Material::asbestos_cement:
            return {run.working_bore(), Origin::looked_up};
        case job::Material::pvc_u:
        case job::Material::pitch_fibre:
        case job::Material::other:
            break;
    }
    return {0.5 * run.working_bore(), Origin::looked_up};
}

Extent extent(const job::Fitting& fitting, const job::Run& run) {
    Length half{};
    if (fitting.kind == job::FittingKind::bend) half = *bend_radius(fitting, run) * bend_angle(fitting).si() / 2.0;
    if (fitting.kind == job::FittingKind::junction) half = fitting.bore / 2.0;
    return {fitting.at - half, fitting.at + half};
}

Passage passage(const job::Run& run, const job::Limits& limits, const job::Fitting& fitting, const job::Packer& packer,
                Length felt, Working& working) {
    switch (fitting.kind) {
        case job::FittingKind::bend:
            return bend_passage(run, limits, fitting, packer, felt, working);
        case job::FittingKind::size_change:
            return size_change_passage(run, limits, fitting, packer, felt, working);
        case job::FittingKind::junction:
            break;
    }
    return {true, true, {}, {}, {}};
}

namespace {

Length stiff_diameter(const Option& option, Length felt) {
    return option.packer.rigid_diameter + (felt_over_rigid(option.packer) ? 2.0 * felt : Length{});
}

bool has_stiff_part(const Option& option) {
    return option.packer.rigid_length > Length{} && option.packer.rigid_diameter > Length{};
}

}  // namespace

bool goes_in(const job::Run& run, const Option& option, Length felt) {
    if (!run.chamber_opening || !has_stiff_part(option)) return true;
    const Length diameter = stiff_diameter(option, felt);
    if (diameter > *run.chamber_opening || diameter > run.working_bore()) return false;
    Working forget = Working::off();
    return option.packer.rigid_length <= longest_into_pipe({*run.chamber_opening, Origin::given},
                                                           {run.working_bore(), Origin::given},
                                                           {diameter, Origin::yard}, forget) +
                                             hair;
}

Length opening_wanted(const job::Run& run, const Option& option, Length felt) {
    if (!has_stiff_part(option)) return {};
    const Length diameter = std::min(stiff_diameter(option, felt), run.working_bore());
    return opening_needed(option.packer.rigid_length, run.working_bore(), diameter);
}

}  // namespace patchwright::packer
