#include <catch2/catch.hpp>

#include <rapidcheck.h>

#include <algorithm>
#include <cctype>
#include <cstdlib>

#include "runs.hpp"

using namespace patchwright;
using namespace patchwright::survey;
using job::DefectKind;

namespace {

const int fixed_seed = setenv("RC_PARAMS", "seed=20260414 max_success=400", 0);
constexpr int kinds = static_cast<int>(DefectKind::missing_wall) + 1;

/// 0 mendable, 1 to be dug; what must be looked at again has no place on the line.
int severity(Verdict v) { return v == Verdict::dig ? 1 : 0; }

job::Defect any_defect() {
    const double at = *rc::gen::inRange(0, 2000) / 100.0;
    job::Defect d =
        runs::defect(static_cast<DefectKind>(*rc::gen::inRange(0, kinds)), at, at + *rc::gen::inRange(0, 140) / 100.0);
    if (*rc::gen::arbitrary<bool>()) d.size = *rc::gen::inRange(0, 900) / 10.0 * unit::mm;
    if (*rc::gen::arbitrary<bool>()) d.size_percent = *rc::gen::inRange(0, 500) / 10.0;
    if (*rc::gen::arbitrary<bool>()) d.surrounding_sound = *rc::gen::arbitrary<bool>();
    if (*rc::gen::arbitrary<bool>()) d.clock = ClockRange{*rc::gen::inRange(1, 13), *rc::gen::inRange(1, 13), false};
    d.inflow = static_cast<job::Inflow>(*rc::gen::inRange(0, 5));
    return d;
}

void sort_fittings(job::Run& run) {
    std::sort(run.fittings.begin(), run.fittings.end(),
              [](const job::Fitting& a, const job::Fitting& b) { return a.at < b.at; });
}

job::Run any_run() {
    job::Run r = runs::run(*rc::gen::element(50.0, 70.0, 100.0, 150.0, 200.0));
    r.material = static_cast<job::Material>(*rc::gen::inRange(0, 7));
    r.reopening_allowed = *rc::gen::arbitrary<bool>();
    const int count = *rc::gen::inRange(0, 4);
    for (int i = 0; i < count; ++i)
        r.fittings.push_back(runs::junction(*rc::gen::inRange(0, 2140) / 100.0, *rc::gen::arbitrary<bool>()));
    sort_fittings(r);
    return r;
}

}  // namespace

TEST_CASE("whatever the defect, the verdict explains itself in whole sentences", "[survey][property]") {
    REQUIRE(fixed_seed == 0);
    CHECK(rc::check([] {
        const job::Run run = any_run();
        const job::Defect defect = any_defect();
        for (const UnitSystem units : {UnitSystem::metric, UnitSystem::us}) {
            const Assessment j = judge(run, defect, runs::limits(), units);
            RC_ASSERT(!j.reasons.empty());
            for (const std::string& reason : j.reasons) {
                RC_LOG() << reason << '\n';
                RC_ASSERT(std::isupper(static_cast<unsigned char>(reason.front())) && reason.back() == '.');
                RC_ASSERT(reason.find("  ") == std::string::npos);
            }
            const bool asks = j.reasons.front().find("must still tell") != std::string::npos;
            RC_ASSERT(asks == (j.verdict == Verdict::look_again));
            RC_ASSERT(wants_patch(j.verdict) || (j.preparations.empty() && !j.wall_missing && !j.ovality_percent));
            RC_ASSERT(j.verdict != Verdict::prepare || !j.preparations.empty());
            RC_ASSERT(j.verdict != Verdict::patch || j.preparations.empty());
        }
    }));
}

TEST_CASE("a larger figure or more water never gets a milder verdict", "[survey][property]") {
    CHECK(rc::check([] {
        const job::Run run = any_run();
        job::Defect mild = any_defect(), bad = mild;
        if (bad.size) bad.size = *bad.size + *rc::gen::inRange(0, 500) / 10.0 * unit::mm;
        if (bad.size_percent) bad.size_percent = *bad.size_percent + *rc::gen::inRange(0, 300) / 10.0;
        const Assessment a = judge(run, mild, runs::limits()), b = judge(run, bad, runs::limits());
        RC_ASSERT(severity(a.verdict) <= severity(b.verdict));
        RC_ASSERT(a.preparations.size() <= b.preparations.size() || b.verdict == Verdict::dig);
    }));
}

TEST_CASE("a run walked from the other end gives the same verdicts", "[survey][property]") {
    CHECK(rc::check([] {
        const job::Run run = any_run();
        const job::Defect defect = any_defect();
        job::Run back = run;
        job::Defect mirrored = defect;
        mirrored.at = run.length - defect.to;
        mirrored.to = run.length - defect.at;
        RC_PRE(mirrored.at >= Length{});
        for (job::Fitting& fitting : back.fittings) fitting.at = run.length - fitting.at;
        sort_fittings(back);
        // Openings that touch to the last bit may fall either way: keep clear of them.
        for (const job::Fitting& fitting : run.fittings)
            for (const Length edge : {fitting.at - fitting.bore / 2.0, fitting.at + fitting.bore / 2.0})
                for (const Length slack : {Length{}, 50.0 * unit::mm, -50.0 * unit::mm})
                    for (const Length end : {defect.at, defect.to}) RC_PRE(abs(edge + slack - end) > 1.0 * unit::mm);
        RC_ASSERT(judge(run, defect, runs::limits()).verdict == judge(back, mirrored, runs::limits()).verdict);
    }));
}

TEST_CASE("hole and step limits scale with the bore", "[survey][property]") {
    CHECK(rc::check([] {
        const double share = *rc::gen::inRange(1, 600) / 1000.0;
        for (const double bore : {60.0, 100.0, 140.0}) {  // below 150 mm the tenth of the bore rules a step
            auto hole = runs::sized(DefectKind::missing_wall, share * bore);
            hole.surrounding_sound = true;
            RC_ASSERT((judge(runs::run(bore), hole, runs::limits()).verdict == Verdict::patch) ==
                      (share <= 0.3 + 1e-12));
            const auto step = runs::sized(DefectKind::displaced_joint, share * bore);
            RC_ASSERT((judge(runs::run(bore), step, runs::limits()).verdict == Verdict::patch) ==
                      (share <= 0.1 + 1e-12));
        }
    }));
}
