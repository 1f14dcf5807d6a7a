// Acceptance tests against their standards.
#include <algorithm>
#include <cmath>

#include "checks.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::record {
namespace {

leaktest::AirMethod air_method(job::LeakMethod method) {
    switch (method) {
        case job::LeakMethod::la:
            return leaktest::AirMethod::la;
        case job::LeakMethod::lb:
            return leaktest::AirMethod::lb;
        case job::LeakMethod::lc:
            return leaktest::AirMethod::lc;
        case job::LeakMethod::ld:
            return leaktest::AirMethod::ld;
        case job::LeakMethod::f1417:
        case job::LeakMethod::w:
            break;
    }
    return leaktest::AirMethod::f1417;
}

std::optional<Pressure> first_pressure(const job::LeakRecord& r) {
    return r.readings.empty() ? std::nullopt : std::optional{r.readings.front().pressure};
}
std::optional<Duration> clock_ran(const job::LeakRecord& r) {
    return r.readings.size() < 2 ? std::nullopt : std::optional{r.readings.back().after - r.readings.front().after};
}

/// The standard's figures come from one working; what it does not compute it says as it stands.
void explain(std::vector<Check>& checks, const Working& working) {
    for (Check& check : checks) {
        check.working = working;
        check.limit_from = "the standard, docs/methods/leaktest.md";
    }
}

void air(const job::LeakRecord& r, Test& test, Checks& checks) {
    Working working;
    const auto wall = r.dry_concrete == job::YesNo::yes ? leaktest::Wall::dry_concrete : leaktest::Wall::other;
    const auto rule = leaktest::air_test(air_method(r.method), test.bore, test.length, working, wall);
    using P = std::optional<Pressure>;
    using D = std::optional<Duration>;
    const Pressure start = rule.start + r.outside.value_or(Pressure{});
    checks.figure("settled", Show::minutes, D{rule.settling}, r.settled, D{rule.settling}, D{});
    checks.figure("start pressure", Show::test_pressure, P{start}, first_pressure(r), P{start}, P{});
    checks.figure("time", Show::seconds, D{rule.time}, clock_ran(r), D{rule.time}, D{});
    const P drop = clock_ran(r) ? P{r.readings.front().pressure - r.readings.back().pressure} : P{};
    checks.figure("pressure drop", Show::test_pressure, P{}, drop, P{}, P{rule.allowed_drop});
    explain(test.checks, working);
}

/// The level is held for so long: a test that ran longer may take no more water than the standard's time allows.
void water(const job::LeakRecord& r, Test& test, Checks& checks) {
    Working working;
    const auto rule = leaktest::water_test(test.bore, test.length, working);
    using D = std::optional<Duration>;
    using V = std::optional<Volume>;
    checks.figure("full before", Show::minutes, D{rule.soaking}, r.settled, D{rule.soaking}, D{});
    std::optional<double> lowest, highest;
    for (const auto& reading : r.readings) {
        lowest = std::min(lowest.value_or(reading.pressure.si()), reading.pressure.si());
        highest = std::max(highest.value_or(reading.pressure.si()), reading.pressure.si());
    }
    checks.figure("lowest pressure", Show::test_pressure, std::nullopt, lowest, {rule.min_pressure.si(), std::nullopt});
    checks.figure("highest pressure", Show::test_pressure, std::nullopt, highest,
                  {std::nullopt, rule.max_pressure.si()});
    checks.figure("time", Show::minutes, D{rule.time}, clock_ran(r), D{rule.time}, D{});
    checks.figure("water added", Show::litres, V{}, r.added, V{}, V{rule.allowed});
    explain(test.checks, working);
}

}  // namespace

Test held_to_standard(const job::Job& job, const job::LeakRecord& r) {
    const auto run =
        std::find_if(job.runs.begin(), job.runs.end(), [&](const job::Run& other) { return other.id == r.run; });
    Test test;
    test.record = &r;
    if (run == job.runs.end()) {
        test.refused = "the job has no such run";
        return test;
    }
    test.bore = run->working_bore();
    test.length = r.length.value_or(run->length);
    Checks checks{test.checks};
    try {
        r.method == job::LeakMethod::w ? water(r, test, checks) : air(r, test, checks);
    } catch (const RangeError& error) {
        test.refused = error.what();
        return test;
    }
    const auto any = [&](Verdict v) {
        return std::any_of(test.checks.begin(), test.checks.end(), [v](const Check& c) { return c.verdict == v; });
    };
    test.verdict = any(Verdict::missed)      ? Verdict::missed
                   : any(Verdict::not_noted) ? Verdict::not_noted
                                             : Verdict::kept;
    return test;
}

}  // namespace patchwright::record
