// How a designed sleeve cures: whether its times fit the work and the day, each case followed once.
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

#include <fmt/format.h>

#include "design.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::plan {

CureCase cure_case(const Patch& patch) {
    constexpr Mass mass_step = 1.0 * unit::kg;
    CureCase rounded{patch.sleeve, patch.conditions};
    rounded.sleeve.resin_mass = std::ceil(patch.sleeve.resin_mass / mass_step - 1e-9) * mass_step;
    return rounded;
}

/// Follows the cure of a wet sleeve; why it does not fit the work or the day, if it does not.
Designer::Why Designer::cure(Patch& patch, Working& curing) {
    const auto& yard = context_.yard;
    const auto& resin = yard.resins[static_cast<std::size_t>(patch.resin)];
    const UnitSystem units = context_.job.units;
    const KnownCures::Cured* known = nullptr;
    try {
        known = &cured(patch);
    } catch (const InputError& error) {  // a data sheet that no resin can have
        return [words = fmt::format("{}: {}", resin.id, error.what())] { return words; };
    }
    curing.append(known->working);
    const auto* answer = &known->answer;
    if (answer->refused) return [answer] { return *answer->refused; };

    patch.late_probability = context_.cures().late_probability(patch.length(), *known);
    if (const double late = patch.late_probability; late > yard.limits.late_at_most) {
        const Duration work = context_.cures().hands(patch.length()).likely();
        return [&resin, &yard, answer, work, late, units] {
            return fmt::format(
                "{} sets too soon: {} hands-on work from mixing to shaped, {} until it can no longer be shaped (both "
                "likely), too late in {} of cases, {} allowed",
                resin.id, format(Show::minutes, work, units), format(Show::minutes, answer->shaping.likely, units),
                format(Show::percent, late, units), format(Show::percent, yard.limits.late_at_most, units));
        };
    }
    patch.cure = *answer;
    pour(patch, curing);
    return {};
}

Temperature Designer::as_it_comes() const {
    return context_.job.site.resin_temperature.value_or(context_.yard.limits.resin_temperature);
}

/// Where the resin as it comes sets too soon, or is too cold to be used: brought to the warmest temperature at which it
/// keeps the promises, so that it cures soonest. False where the yard cannot, or nothing helps.
bool Designer::condition(Patch& patch) {
    const auto& yard = context_.yard;
    const auto& resin = yard.resins[static_cast<std::size_t>(patch.resin)];
    const auto before = patch.conditions.resin;
    const auto list = cure::mix_temperatures(yard.conditioning, resin, *before);
    Working off = Working::off();
    patch.conditioned = true;
    const auto holds = [&](Temperature at) {
        patch.conditions.resin = {at, Origin::computed};
        return !cure(patch, off);
    };
    // Coldest first: the colder, the later it sets. As it comes it did not hold.
    const auto too_warm = std::partition_point(list.begin(), list.end(), holds);
    if (too_warm != list.begin()) return holds(*std::prev(too_warm));
    patch.conditions.resin = before;
    patch.conditioned = false;
    return false;
}

Designer::CureKey Designer::cure_key(const Patch& patch) {
    const auto [sleeve, conditions] = cure_case(patch);
    return {patch.resin,     sleeve.thickness.si(), conditions.wet_out.si(), conditions.resin->in_kelvin(),
            patch.felt.felt, patch.heater};
}

/// To connect the heater and see that it gives what it should; it takes up what the tasks before were rounded by, too.
/// Common practice, no source.
constexpr Duration connect_heater = 5.0 * unit::minute;
constexpr std::array heater_on_inputs{
    Symbol{"w", "wet-out", Show::minutes},     Symbol{"l", "load", Show::minutes},
    Symbol{"p", "position", Show::minutes},    Symbol{"i", "inflate", Show::minutes},
    Symbol{"c", "crease step", Show::minutes}, Symbol{"h", "connect the heater", Show::minutes}};
constexpr Formula heater_on{
    "cure.heater_on", {"t", "heater on, from mixing", Show::minutes}, "t = w + l + p + i + c + h",
    heater_on_inputs, "derived here, docs/methods/cure.md",           "cure"};

/// Warm air or water in the bladder once the crease step is done: earlier it would shorten the time to shape the
/// sleeve.
void Designer::heat(Patch& patch, int heater) {
    patch.heater = heater;
    patch.conditions.heating = {};
    if (heater < 0) return;
    auto& c = patch.conditions;
    const Duration on = c.inflate + c.crease + connect_heater;
    patch.heater_on = c.wet_out + c.load + c.position + on;
    c.heating = cure::heating_of(context_.yard.heaters[static_cast<std::size_t>(heater)], *c.pipe, on);
}

/// When the heater goes on, when the sleeve is hard should it fail, and what the crew must know of it.
void Designer::explain_heating(Patch& patch) {
    if (patch.heater < 0) return;
    const auto& heater = context_.yard.heaters[static_cast<std::size_t>(patch.heater)];
    const auto& c = patch.conditions;
    Working heating = context_.working();
    Patch unheated = patch;
    heat(unheated, -1);
    const auto& [answer, steps] = cured(unheated);
    heating.append(steps);
    patch.let_down_unheated = answer.refused ? Duration{} : answer.sheet.let_down;
    heating.add(heater_on, {c.wet_out, c.load, c.position, c.inflate, c.crease, connect_heater}, patch.heater_on);
    const auto units = context_.job.units;
    const auto warmth = format(Show::temperature, heater.temperature, units);
    // One line on the card: a day of four has no room for two.
    const auto failing =
        answer.refused ? std::string{"hold the pressure, ring the office"}
                       : fmt::format("deflate not before {}", format_up(Show::span, patch.let_down_unheated, units));
    patch.notes.push_back(fmt::format(
        "Heater {} on after the wrinkle check, {} from mixing; on later: deflate as much later. Gauge each 15 min. "
        "Heater fails or under {}: {}.",
        heater.id, format_up(Show::minutes, patch.heater_on, units),
        format(Show::temperature, heater.temperature, units), failing));
    patch.working(Calculation::heating) = std::move(heating);
}

const KnownCures::Cured& Designer::cured(const Patch& patch) const {
    const auto [sleeve, conditions] = cure_case(patch);
    return context_.cures().cured(patch.resin, sleeve, patch.surroundings, conditions);
}

/// Until when the pot of this sleeve must be empty.
void Designer::pour(Patch& patch, Working& working) {
    const Mass mixed = cure_case(patch).sleeve.resin_mass;
    const std::pair key{cure_key(patch), mixed.si()};
    auto place = pours_.find(key);
    if (place == pours_.end()) {
        PouredOnce once{{}, context_.working()};
        once.by =
            context_.cures().model(patch.resin).pour_by(patch.cure.pour, mixed, context_.yard.limits, once.working);
        place = pours_.emplace(key, std::move(once)).first;
    }
    working.append(place->second.working);
    patch.cure.sheet.pour_by = patch.cure.likely.pour_by = place->second.by;
}

/// Cure of a sleeve of that felt and resin at one mass for all: what its watching costs must not fall with its length.
Duration Designer::reference_cure(const Patch& patch) {
    auto reference = patch;
    reference.conditions.wet_out = 8.0 * unit::minute;
    heat(reference, -1);  // what a heater saves shows in the day's length
    return cured(reference).answer.sheet.let_down;
}

}  // namespace patchwright::plan
