// What was noted of a sleeve, as the cure's model wants it.
#include "patchwright/record/measured.hpp"

#include <algorithm>

namespace patchwright::record {
namespace {

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

}  // namespace

std::vector<cure::Note> temperature_notes(const job::PatchRecord& r, Duration until, bool at_sleeve) {
    std::vector<cure::Note> notes;
    for (const auto& noted : r.temperatures) {
        if ((noted.where == job::Probe::sleeve) != at_sleeve) continue;
        const auto after = r.after_mixing(noted.at);
        if (after && *after <= until) notes.push_back({*after, noted.temperature});
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

cure::Conditions as_measured(const job::PatchRecord& r, const plan::Patch& p, const std::vector<cure::Note>& in_pipe,
                             Duration until) {
    cure::Conditions c = p.conditions;
    const auto inflated = r.after_mixing(r.inflated_at);
    if (inflated) {
        const Duration planned = c.wet_out + c.load + c.position + c.inflate;
        const double share = planned > Duration{} ? *inflated / planned : 1.0;
        for (Duration* task : {&c.wet_out, &c.load, &c.position, &c.inflate}) *task = share * *task;
    }
    const Duration from = inflated.value_or(Duration{});
    if (!in_pipe.empty() && from < until)
        c.pipe.value = mean(in_pipe, from, until);
    else if (r.pipe_temperature)
        c.pipe.value = *r.pipe_temperature;
    c.pipe_measured = c.pipe_measured || !in_pipe.empty() || r.pipe_temperature.has_value();
    if (r.resin_temperature) c.resin.value = *r.resin_temperature;
    if (r.air_temperature) c.air.value = *r.air_temperature;
    c.others_measured = c.others_measured || (r.resin_temperature && r.air_temperature);
    return c;
}

std::vector<cure::Note> from_mixing(std::vector<cure::Note> probe, const job::PatchRecord& r, const plan::Patch& p) {
    if (probe.front().after_mixing > Duration{})
        probe.insert(probe.begin(), {Duration{}, r.resin_temperature.value_or(*p.conditions.resin)});
    return probe;
}

}  // namespace patchwright::record
