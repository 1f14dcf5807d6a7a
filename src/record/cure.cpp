// The cure followed again: by the sleeve's own model in the pipe as it was measured, or along a probe at the sleeve.
#include <algorithm>
#include <cmath>

#include "checks.hpp"
#include "patchwright/cure/followed.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::record {
namespace {

/// Temperatures noted between mixing and deflating, in order of time; of one minute the last.
std::vector<cure::Note> notes_of(const job::PatchRecord& r, Duration let_down, bool at_sleeve) {
    std::vector<cure::Note> notes;
    for (const auto& noted : r.temperatures) {
        if ((noted.where == job::Probe::sleeve) != at_sleeve) continue;
        const Duration after = *r.after_mixing(noted.at);
        if (after <= let_down) notes.push_back({after, noted.temperature});
    }
    std::stable_sort(notes.begin(), notes.end(),
                     [](const auto& a, const auto& b) { return a.after_mixing < b.after_mixing; });
    std::vector<cure::Note> once;
    for (const auto& note : notes) {
        if (!once.empty() && once.back().after_mixing == note.after_mixing) once.pop_back();
        once.push_back(note);
    }
    return once;
}

/// Mean over the time between two moments; straight between notes, constant before the first and after the last.
Temperature mean(const std::vector<cure::Note>& notes, Duration from, Duration to) {
    double sum = 0.0;
    std::vector<cure::Note> line{{std::min(from, notes.front().after_mixing), notes.front().temperature}};
    line.insert(line.end(), notes.begin(), notes.end());
    line.push_back({std::max(to, notes.back().after_mixing), notes.back().temperature});
    for (std::size_t i = 1; i < line.size(); ++i) {
        const auto &a = line[i - 1], &b = line[i];
        const double start = std::max(a.after_mixing, from).si(), end = std::min(b.after_mixing, to).si();
        if (end <= start) continue;
        const double length = (b.after_mixing - a.after_mixing).si();
        const double slope = (b.temperature - a.temperature).si() / length;
        const double middle = 0.5 * (start + end) - a.after_mixing.si();
        sum += (end - start) * (a.temperature.in_kelvin() + slope * middle);
    }
    return Temperature::kelvin(sum / (to - from).si());
}

/// The plan's conditions with what was measured in their place.
cure::Conditions as_measured(const job::PatchRecord& r, const plan::Patch& p, const std::vector<cure::Note>& in_pipe,
                             Duration let_down) {
    cure::Conditions c = p.conditions;
    const auto inflated = r.after_mixing(r.inflated_at);
    if (inflated) {
        const Duration planned = c.wet_out + c.load + c.position + c.inflate;
        const double share = planned > Duration{} ? *inflated / planned : 1.0;
        for (Duration* task : {&c.wet_out, &c.load, &c.position, &c.inflate}) *task = share * *task;
    }
    const Duration from = inflated.value_or(Duration{});
    if (!in_pipe.empty() && from < let_down)
        c.pipe.value = mean(in_pipe, from, let_down);
    else if (r.pipe_temperature)
        c.pipe.value = *r.pipe_temperature;
    c.pipe_measured = c.pipe_measured || !in_pipe.empty() || r.pipe_temperature.has_value();
    if (r.resin_temperature) c.resin.value = *r.resin_temperature;
    if (r.air_temperature) c.air.value = *r.air_temperature;
    c.others_measured = c.others_measured || (r.resin_temperature && r.air_temperature);
    return c;
}

double conversion_at(const std::vector<cure::CurvePoint>& curve, Duration time) {
    const auto after = std::find_if(curve.begin(), curve.end(), [&](const auto& point) { return point.time >= time; });
    if (after == curve.end()) return curve.back().least_conversion;  // a quarter past let-down: little is left to come
    if (after == curve.begin()) return after->least_conversion;
    const auto& before = *std::prev(after);
    const double share = (time - before.time) / (after->time - before.time);
    return before.least_conversion + share * (after->least_conversion - before.least_conversion);
}

Cure along_probe(const job::Resin& resin, std::vector<cure::Note> notes, const job::PatchRecord& r,
                 const plan::Patch& p, Duration let_down, const job::Limits& limits) {
    // Until the probe is at its sleeve it is as warm as the resin when it was mixed.
    if (notes.front().after_mixing > Duration{})
        notes.insert(notes.begin(), {Duration{}, r.resin_temperature.value_or(*p.conditions.resin)});
    const auto followed = cure::follow_notes(resin, notes, let_down, limits);
    return {followed.conversion,      followed.soft_probability, followed.hard,
            notes.back().temperature, notes.size() - 1,          true};
}

Cure in_measured_pipe(const job::Resin& resin, const std::vector<cure::Note>& in_pipe, const job::PatchRecord& r,
                      const plan::Patch& p, Duration let_down, const job::Limits& limits) {
    const auto conditions = as_measured(r, p, in_pipe, let_down);
    const cure::Model model{resin};
    Working off = Working::off();
    const auto answer = model.answer_without_pot(p.sleeve, p.surroundings, conditions, limits, off);
    if (answer.refused) throw RangeError(*answer.refused);
    const auto curve = model.curve(p.sleeve, p.surroundings, conditions, limits, cure::Side::likely);
    return {conversion_at(curve, let_down),
            1.0 - answer.hard.chance_before(let_down),
            answer.hard.likely,
            *conditions.pipe,
            in_pipe.size(),
            false};
}

}  // namespace

void add_cure(const job::Yard& yard, const plan::Plan& plan, Patch& built) {
    const auto& p = plan.patches[built.patch];
    const auto& resin = yard.resins[static_cast<std::size_t>(p.resin)];
    const auto let_down = built.record != nullptr ? built.record->deflated_after() : std::nullopt;
    if (!let_down || *let_down <= Duration{}) {
        built.why_no_cure = "mixing and deflating were not both noted";
    } else {
        const auto& r = *built.record;
        try {
            const auto probe = notes_of(r, *let_down, true);
            built.cure = probe.size() > 1
                             ? along_probe(resin, probe, r, p, *let_down, yard.limits)
                             : in_measured_pipe(resin, notes_of(r, *let_down, false), r, p, *let_down, yard.limits);
        } catch (const Error& error) {  // outside what the model holds for
            built.why_no_cure = error.what();
        }
    }
    Checks checks{built.checks};
    Check& check = checks.figure("soft when deflated", Show::percent, p.cure.soft_probability,
                                 built.cure ? std::optional{built.cure->soft_probability} : std::nullopt,
                                 {std::nullopt, yard.limits.soft_at_most});
    check.as = As::chance;
    check.limit_words = built.why_no_cure;
}

}  // namespace patchwright::record
