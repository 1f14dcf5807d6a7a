#include "data_check.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "history.hpp"

namespace patchwright::cure::detail {
namespace {

using job::DataPoint;
using job::DataPointKind;

const char* name(DataPointKind kind) {
    switch (kind) {
        case DataPointKind::pot_life:
            return "pot life";
        case DataPointKind::gel:
            return "gel time";
        case DataPointKind::strip:
            return "strip time";
        case DataPointKind::working:
            return "working time";
    }
    return "time";
}

std::string describe(const DataPoint& p) {
    std::string text =
        fmt::format("{} {:.0f} min at {:.0f} °C", name(p.kind), p.time.in(unit::minute), p.temperature.in_celsius());
    if (p.kind == DataPointKind::pot_life)
        text += fmt::format(" ({:.0f} g)", p.mass.value_or(100.0 * unit::g).in(unit::g));
    if (p.thickness) text += fmt::format(" ({:.1f} mm)", p.thickness->in(unit::mm));
    return text;
}

using job::ResinFault;
using Faults = std::vector<ResinFault>;

void check_properties(const job::Resin& r, Faults& faults) {
    const auto positive = [&](double value, const char* key, const char* what, const char* example) {
        if (!(value > 0.0) || !std::isfinite(value))
            faults.push_back({fmt::format("{} must be above zero, such as {}", what, example), key});
    };
    positive(r.heat_of_reaction.si(), "heat_of_reaction", "heat of reaction", "\"350 J/g\"");
    positive(r.specific_heat.si(), "specific_heat", "specific heat", "\"1900 J/kgK\"");
    positive(r.conductivity.si(), "conductivity", "conductivity", "\"0.2 W/mK\"");
    positive(r.parts_a, "parts_a", "part A of the mix ratio", "100");
    positive(r.parts_b, "parts_b", "part B of the mix ratio", "30");
    if (!(r.gel_conversion > 0.0 && r.gel_conversion < 0.95))
        faults.push_back(
            {fmt::format("gel conversion {} must lie between 0 and 0.95: about 0.58 for epoxies, 0.05 for polyesters",
                         r.gel_conversion),
             "gel_conversion"});
    if (!(r.glass_end > r.glass_start))
        faults.push_back(
            {"the glass temperature after full cure must be above that of the unreacted mix", "glass_end"});
    if (!(r.glass_lambda > 0.0 && r.glass_lambda <= 1.0))
        faults.push_back({"glass lambda must lie between 0 and 1, such as 0.45", "glass_lambda"});
    if (!(r.application_max > r.application_min))
        faults.push_back({"the highest application temperature must be above the lowest", "application_max"});
}

void check_point(const DataPoint& p, int place, Faults& faults) {
    const auto refuse = [&](std::string what) { faults.push_back({std::move(what), "data", place}); };
    if (!(p.time.si() > 0.0) || !is_finite(p.time)) refuse(fmt::format("{} must be above zero", name(p.kind)));
    const double c = p.temperature.in_celsius();
    if (!(c >= -20.0 && c <= 80.0))
        refuse(fmt::format("{}: temperature {:.0f} °C is outside -20 to 80 °C, the range of ambient cure", name(p.kind),
                           c));
    if (p.mass && !(p.mass->si() > 0.0)) refuse("the mass of a pot life must be above zero, such as \"100 g\"");
    if (p.thickness && !(p.thickness->si() > 0.0))
        refuse("the thickness of a layer must be above zero, such as \"2 mm\"");
}

bool same_test(const DataPoint& a, const DataPoint& b) {
    return a.kind == b.kind && a.mass.value_or(100.0 * unit::g) == b.mass.value_or(100.0 * unit::g) &&
           a.thickness == b.thickness;
}

/// The same test at one temperature has one time: which of two the sheet means nobody can say.
void check_repeats(const std::vector<DataPoint>& data, Faults& faults) {
    for (std::size_t i = 1; i < data.size(); ++i)
        for (std::size_t k = 0; k < i; ++k) {
            if (!same_test(data[k], data[i]) || data[k].temperature != data[i].temperature) continue;
            faults.push_back({fmt::format("{} stands beside {}: one test at one temperature has one time, the data "
                                          "sheet's; of a range give the end that is safe, of gel, pot life and working "
                                          "time the shorter, of strip time the longer",
                                          describe(data[i]), describe(data[k])),
                              "data", static_cast<int>(i)});
            break;
        }
}

/// Rounding in a data sheet: two figures this close say nothing about their order.
constexpr double rounding = 0.9;

/// What the figure at `place` (the warmer or no colder one) and a colder one cannot both be; empty: they can.
std::string contradiction(const DataPoint& cold, const DataPoint& warm) {
    const double ratio = cold.time.si() / warm.time.si();
    if (same_test(cold, warm) && warm.temperature > cold.temperature && ratio < rounding)
        return fmt::format("{} is longer than {}: no resin is slower when it is warmer", describe(warm),
                           describe(cold));
    const auto in_cup = [](const DataPoint& p) { return p.mass.value_or(100.0 * unit::g); };
    const bool cups = cold.kind == DataPointKind::pot_life && warm.kind == DataPointKind::pot_life;
    if (cups && in_cup(warm) > in_cup(cold) && ratio < rounding)
        return fmt::format("{} is longer than {}: the larger cup heats itself more, so it sets no later",
                           describe(warm), describe(cold));
    if (cold.thickness != warm.thickness) return {};
    const bool film = !cold.thickness;
    if (cold.kind == DataPointKind::strip && warm.kind == DataPointKind::gel && ratio < rounding)
        return fmt::format("{} is shorter than {}: a layer gels before it can be stripped", describe(cold),
                           describe(warm));
    if (cold.kind == DataPointKind::gel && warm.kind == DataPointKind::working && ratio < rounding)
        return fmt::format("{} is shorter than {}: a layer cannot be shaped once it has gelled", describe(cold),
                           describe(warm));
    if (cold.kind == DataPointKind::strip && warm.kind == DataPointKind::working && ratio < rounding)
        return fmt::format("{} is shorter than {}: a layer cannot be shaped once it is hard enough to be stripped",
                           describe(cold), describe(warm));
    const bool hardens = cold.kind == DataPointKind::gel || cold.kind == DataPointKind::strip;
    if (film && hardens && warm.kind == DataPointKind::pot_life && ratio < rounding)
        return fmt::format("{} is shorter than {}: a cup heats itself, so it sets before a film that is no warmer",
                           describe(cold), describe(warm));
    return {};
}

/// A film without its own heat, let go by the rule that the sheet's strip times leave, waits longer the colder it is:
/// by 1 % a kelvin, so that a sleeve's own heat and the minutes in warm air do not turn it round.
bool colder_waits_longer(const job::Resin& resin, const Fitted& fit) {
    const RateLaw law{fit.kinetics};
    const Release release{resin.gel_conversion, fit.at[strip_margin], fit.strip_share};
    constexpr double step = 2.0;  // K
    double colder = std::numeric_limits<double>::infinity();
    for (double t = resin.application_min.in_kelvin(); t <= resin.application_max.in_kelvin(); t += step) {
        const double hard = release_conversion(release, fit.kinetics.glass, t);
        const double here = hard > 0.999 ? colder : isothermal_seconds(law, 0.0, hard, t, film_panels);
        if (here > colder / (1.0 + 0.01 * step)) return false;
        colder = here;
    }
    return true;
}

}  // namespace

Faults impossible(const job::Resin& resin) {
    Faults faults;
    check_properties(resin, faults);
    if (resin.data.empty())
        faults.push_back(
            {"no times from its data sheet: give at least a pot life with its mass and temperature, better also gel "
             "and strip times",
             "data"});
    else if (std::all_of(resin.data.begin(), resin.data.end(),
                         [](const DataPoint& p) { return p.kind == DataPointKind::working; }))
        faults.push_back(
            {"a working time alone does not say how fast the resin sets: give a pot life or a gel time", "data"});
    for (std::size_t i = 0; i < resin.data.size(); ++i) check_point(resin.data[i], static_cast<int>(i), faults);
    check_repeats(resin.data, faults);
    if (!faults.empty()) return faults;
    for (std::size_t w = 0; w < resin.data.size(); ++w)
        for (const DataPoint& cold : resin.data)
            if (cold.temperature <= resin.data[w].temperature)
                if (std::string what = contradiction(cold, resin.data[w]); !what.empty())
                    faults.push_back({std::move(what), "data", static_cast<int>(w)});
    return faults;
}

Faults unmet(const job::Resin& resin, const Fitted& fit) {
    constexpr double most = 2.0;  // further off, one of the figures is not of this resin
    Faults faults;
    for (std::size_t i = 0; i < resin.data.size(); ++i) {
        const DataPoint& p = resin.data[i];
        if (p.kind == DataPointKind::working) {
            if (fit.reached[i] >= resin.gel_conversion)
                faults.push_back({fmt::format("{}: by the other figures the layer has gelled by then, and cannot be "
                                              "shaped any more",
                                              describe(p)),
                                  "data", static_cast<int>(i)});
            continue;
        }
        const double ratio = fit.computed[i] / p.time.si();
        if (!(ratio < most && ratio > 1.0 / most))
            faults.push_back({fmt::format("{} cannot be met together with the other figures: the nearest such resin "
                                          "takes {:.0f} min. One of them is wrong, or of another test",
                                          describe(p), fit.computed[i] / 60.0),
                              "data", static_cast<int>(i)});
    }
    if (faults.empty() && fit.strictest && !colder_waits_longer(resin, fit))
        faults.push_back({fmt::format("{}: held to it and to the other figures, a colder pipe would be deflated sooner "
                                      "than a warmer one. One of them is wrong, or of another test",
                                      describe(resin.data[*fit.strictest])),
                          "data", static_cast<int>(*fit.strictest)});
    return faults;
}

std::vector<std::string> remarks(const job::Resin& resin, const Fitted& fit) {
    std::vector<std::string> out;
    for (std::size_t i = 0; i < resin.data.size(); ++i) {
        if (resin.data[i].kind == DataPointKind::working) continue;
        const double ratio = fit.computed[i] / resin.data[i].time.si();
        if (ratio > 1.3 || ratio < 1.0 / 1.3)
            out.push_back(fmt::format("{}: the fit gives {:.0f} min; check this figure of the data sheet",
                                      describe(resin.data[i]), fit.computed[i] / 60.0));
    }
    if (fit.coldest_film == 0.0)
        out.push_back(
            "only pot lives are given: the cold sleeve is known within a factor of 2 only; a gel or strip time "
            "of a film would narrow it");
    if (fit.one_temperature)
        out.push_back(
            "all times are at one temperature: how they change with it rests on the usual activation energy of "
            "such resins");
    if (!fit.strip_known)
        out.push_back(
            "no strip time is given: release when the glass temperature reaches the wall's, as usual for such "
            "resins");
    return out;
}

}  // namespace patchwright::cure::detail
