#include "record_of.hpp"

#include <algorithm>
#include <cmath>

#include "patchwright/leaktest/leaktest.hpp"

namespace patchwright::test {
namespace {

ClockTime clock(int minutes) { return {minutes % (24 * 60)}; }

job::PatchRecord as_planned(const Planned& planned, std::size_t index) {
    const auto& p = planned.plan.patches[index];
    const auto& t = planned.plan.schedule.patches[index];
    const auto mix = std::find_if(planned.plan.batches.begin(), planned.plan.batches.end(), [&](const auto& b) {
        return std::count(b.batch.patches.begin(), b.batch.patches.end(), static_cast<int>(index)) > 0;
    });
    job::PatchRecord r;
    r.id = p.id;
    r.outcome = job::SleeveOutcome::done;
    if (!planned.plan.dates.empty()) r.date = planned.plan.dates[static_cast<std::size_t>(t.day)];
    r.pipe_temperature = *p.conditions.pipe;
    r.resin_temperature = *p.conditions.resin;
    r.air_temperature = *p.conditions.air;
    r.part_a = mix->batch.part_a;
    r.part_b = mix->batch.part_b;
    r.part_a_expiry = r.part_b_expiry = Date{2999, 12, 31};
    r.packer = p.option.packer.id;
    r.bench_test = {p.bench.pressure, p.bench.hold, Pressure{}};
    r.mark = p.rigging.mark;
    r.mixed_at = clock(t.mix);
    r.poured_at = clock(t.pour);
    r.inflated_at = clock(t.inflate);
    r.creased_at = clock(t.inflate + 2);
    r.gelled_at = clock(t.mix + static_cast<int>(p.cure.sheet.gel.in(unit::minute)));
    r.deflated_at = clock(t.let_down);
    for (const int at : {t.inflate, (t.inflate + t.let_down) / 2, t.let_down - 1}) {
        r.pressures.push_back({clock(at), p.pressure.set});
        r.temperatures.push_back({clock(at), *p.conditions.pipe, job::Probe::pipe});
    }
    r.witness = {job::YesNo::yes, clock(t.let_down - 1)};
    r.starts_at = p.start;
    r.ends_at = p.end;
    r.film = "1";
    return r;
}

job::LeakRecord passed(const job::Run& run) {
    Working off = Working::off();
    const auto rule = leaktest::air_test(leaktest::AirMethod::lc, run.working_bore(), run.length, off);
    job::LeakRecord r;
    r.run = run.id;
    r.method = job::LeakMethod::lc;
    r.settled = rule.settling;
    r.readings = {{Duration{}, rule.start}, {rule.time, rule.start - 0.5 * rule.allowed_drop}};
    return r;
}

}  // namespace

job::Record perfect_day(const Planned& planned) {
    job::Record record;
    record.job = planned.job.reference;
    for (const auto& day : planned.plan.schedule.days) {
        auto& noted = record.days.emplace_back();
        noted.left = planned.job.site.start;
        noted.back = clock(day.finish);
    }
    for (std::size_t i = 0; i < planned.plan.patches.size(); ++i) record.patches.push_back(as_planned(planned, i));
    for (const auto& run : planned.job.runs) record.tests.push_back(passed(run));
    return record;
}

}  // namespace patchwright::test
