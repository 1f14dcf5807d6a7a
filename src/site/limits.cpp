// Limits of a sleeve for what was measured: the plan's own cure model, with the instrument's doubt in place of the
// forecast's.
#include <algorithm>

#include <fmt/format.h>

#include "parts.hpp"
#include "patchwright/record/measured.hpp"
#include "patchwright/units/error.hpp"
#include "patchwright/units/format.hpp"

namespace patchwright::site {
namespace {

bool measured_before(const job::PatchRecord& r) {
    return r.pipe_temperature || r.resin_temperature || r.air_temperature;
}

/// It was blown up in another minute than its sheet says.
bool inflated_otherwise(const schedule::PatchTimes& planned, const job::PatchRecord& r) {
    const auto after = r.after_mixing(r.inflated_at);
    return after && whole_minutes(*after) != planned.inflate - planned.mix;
}

SleeveLimits limits_from(const cure::Times& times) {
    SleeveLimits limits;
    limits.pour_by = times.pour_by;
    limits.inflate_by = times.inflate_by;
    limits.crease_by = times.crease_by;
    limits.gel = times.gel;
    limits.let_down = times.let_down;
    return limits;
}

/// From mixing to the moment of the question.
Duration elapsed(const job::PatchRecord& r, Minute at) { return *r.after_mixing(ClockTime{at % whole_day}); }

}  // namespace

const cure::Model& LimitBook::model(int resin) {
    auto place = models_.find(resin);
    if (place == models_.end())
        place = models_.emplace(resin, cure::Model{site_.yard.resins[static_cast<std::size_t>(resin)]}).first;
    return place->second;
}

SleeveLimits LimitBook::of(std::size_t patch, const plan::Patch& on, const job::PatchRecord* noted) {
    // A sleeve that is wet out from its own mix counts its whole pot.
    const auto& mix = site_.mix_of(patch);
    const bool alone = mix.batch.patches.size() == 1;
    SleeveLimits card = limits_from(on.cure.sheet);
    if (alone) card.pour_by = std::min(card.pour_by, mix.batch.pour_by);
    card.late_probability = on.late_probability;
    if (noted == nullptr) return card;
    const bool readings = noted->mixed_at && !noted->temperatures.empty();
    const bool otherwise = inflated_otherwise(site_.times(patch), *noted);
    if (!measured_before(*noted) && !readings && !otherwise) return card;
    try {
        SleeveLimits limits = measured(on, *noted, alone ? mix.pot.total : on.need.total);
        if (readings && !limits.refused) follow_readings(on, *noted, limits);
        limits.as_planned = false;
        return limits;
    } catch (const Error& error) {  // outside what the model holds for
        card.refused = error.what();
        card.as_planned = false;
        return card;
    }
}

SleeveLimits LimitBook::measured(const plan::Patch& on, const job::PatchRecord& noted, Mass pot) {
    const auto conditions = record::as_measured(noted, on, {}, Duration{});
    Working off = Working::off();
    const auto answer =
        model(on.resin).answer_without_pot(on.sleeve, on.surroundings, conditions, site_.yard.limits, off);
    if (answer.refused) {
        SleeveLimits none = limits_from(on.cure.sheet);
        none.refused = *answer.refused;
        return none;
    }
    SleeveLimits limits = limits_from(answer.sheet);
    limits.pour_by = model(on.resin).pour_by(answer.pour, pot, site_.yard.limits, off);
    limits.late_probability = cure::late_probability(cure::hands_of(on.tasks, site_.yard.limits), answer);
    limits.measured = answer;
    return limits;
}

/// Let-down along the temperatures that were noted: a probe at the sleeve is followed point by point; in the pipe their
/// mean counts, the last one kept. The mean hangs on the let-down that it gives: worked out until it stays.
void LimitBook::follow_readings(const plan::Patch& on, const job::PatchRecord& noted, SleeveLimits& limits) {
    Working off = Working::off();
    const Duration since = elapsed(noted, site_.facts.at);
    if (const auto probe = record::temperature_notes(noted, since, true); probe.size() > 1) {
        limits.let_down =
            model(on.resin).time_left(record::from_mixing(probe, noted, on), since, site_.yard.limits, off).let_down;
        limits.along_readings = true;
        return;
    }
    const auto in_pipe = record::temperature_notes(noted, since, false);
    if (in_pipe.empty()) return;
    const auto with_mean_to = [&](Duration until) {
        const auto conditions = record::as_measured(noted, on, in_pipe, until);
        const auto answer =
            model(on.resin).answer_without_pot(on.sleeve, on.surroundings, conditions, site_.yard.limits, off);
        if (answer.refused) throw RangeError(*answer.refused);
        return answer.sheet.let_down;
    };
    Duration until = std::max(limits.let_down, since), next = with_mean_to(until);
    for (int round = 0; round < 8 && next != until; ++round) {
        until = next;
        next = with_mean_to(std::max(until, since));
    }
    limits.let_down = std::max(until, next);  // where it swings by a minute, the later
    limits.along_readings = true;
}

Duration LimitBook::pour_by(const plan::Batch& mix, const plan::Patch& on, const job::PatchRecord* noted) {
    if (noted == nullptr || !measured_before(*noted)) return mix.batch.pour_by;
    const auto conditions = record::as_measured(*noted, on, {}, Duration{});
    return model(on.resin).pour_by(mix.pot.total, *conditions.resin, std::max(*conditions.air, *conditions.van),
                                   site_.yard.limits);
}

}  // namespace patchwright::site
