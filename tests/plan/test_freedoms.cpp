// More freedom never makes a job dearer, nor does a place less: whole plans of random jobs side by side.
#include <fmt/format.h>

#include <array>
#include <catch2/catch.hpp>
#include <optional>
#include <string>

#include "patchwright/io/read.hpp"
#include "patchwright/plan/plan.hpp"
#include "support/jobs.hpp"

using namespace patchwright;

namespace {

struct Told {
    Money own{};
    int days = 0, digs = 0, waiting = 0;
    bool proven = true;
};

Told told_of(const job::Job& job, const job::Yard& yard) {
    plan::Options options;
    options.trials = 0;
    options.tables = options.working = options.conditions = false;
    const auto plan = plan::make_plan(job, yard, options);
    Told u{plan.offer.bracket.own, static_cast<int>(plan.schedule.days.size()), plan.offer.unavoidable_works.places, 0,
           plan.patches.empty() || plan.whole.proven_optimal};
    for (const auto& run : plan.runs) u.waiting += static_cast<int>(run.waiting.size());
    return u;
}

struct Freedom {
    const char* words;
    void (*give)(job::Job&, job::Yard&);
    bool less_work = false;  ///< what is left out may take its dig with it
};

void place_less(job::Job& job, std::size_t which) {
    for (auto& run : job.runs) {
        if (which < run.defects.size()) {
            run.defects.erase(run.defects.begin() + static_cast<std::ptrdiff_t>(which));
            return;
        }
        which -= run.defects.size();
    }
}

constexpr std::array freedoms{
    Freedom{"an hour more", [](job::Job& job, job::Yard&) { job.site.finish.minutes += 60; }},
    Freedom{"half an hour earlier", [](job::Job& job, job::Yard&) { job.site.start.minutes -= 30; }},
    Freedom{"one packer more of each kind",
            [](job::Job&, job::Yard& yard) {
                for (auto& packer : yard.packers) ++packer.count;
            }},
    Freedom{"a camera more", [](job::Job&, job::Yard& yard) { ++yard.limits.cameras; }},
    Freedom{"a helper", [](job::Job&, job::Yard& yard) { ++yard.limits.helpers; }},
    Freedom{"an hour of overtime", [](job::Job&, job::Yard& yard) { yard.limits.overtime = 60.0 * unit::minute; }},
    Freedom{"a night", [](job::Job&, job::Yard& yard) { yard.limits.overnight_cure = true; }},
    Freedom{"the first place less", [](job::Job& job, job::Yard&) { place_less(job, 0); }, true},
    Freedom{"the second place less", [](job::Job& job, job::Yard&) { place_less(job, 1); }, true},
};

struct FreedomsTried {
    int jobs = 0, compared = 0, not_proven = 0;
};

void hold(std::uint32_t first, std::uint32_t last, FreedomsTried& counts) {
    for (std::uint32_t seed = first; seed <= last; ++seed) {
        const auto read = io::read_job(test::line(test::random_job(seed)), "job.json");
        if (!read || io::has_errors(io::cross_check(*read.value, io::builtin_yard()))) continue;
        ++counts.jobs;
        const Told base = told_of(*read.value, io::builtin_yard());
        for (const Freedom& freedom : freedoms) {
            if (test::under_sanitizers && counts.compared >= 2) return;
            job::Job job = *read.value;
            job::Yard yard = io::builtin_yard();
            freedom.give(job, yard);
            const Told free = told_of(job, yard);
            CAPTURE(seed, freedom.words, format(base.own), format(free.own), base.days, free.days, base.digs, free.digs,
                    base.waiting, free.waiting);
            CHECK(free.digs <= base.digs);
            // A place that had to be dug may now be one that waits.
            CHECK(free.digs + free.waiting <= base.digs + base.waiting);
            // Compared where the same places are mended. Where another one than that left out need not be dug any more
            // a patch stands in place of a share in one large pit, and may be dearer.
            if (free.waiting != base.waiting || base.digs - free.digs > (freedom.less_work ? 1 : 0)) continue;
            ++counts.compared;
            counts.not_proven += base.proven && free.proven ? 0 : 1;
            CHECK(free.own <= base.own);
            // A day more may be cheaper than overtime, a night or a helper: days are compared where they cost nothing.
            if (free.own == base.own) CHECK(free.days <= base.days);
        }
    }
}

}  // namespace

TEST_CASE("of random jobs none is dearer with more freedom or a place less", "[plan][property]") {
    FreedomsTried counts;
    hold(1001, test::under_sanitizers ? 1001 : 1025, counts);  // some ten whole plans a job
    CHECK(counts.compared >= (test::under_sanitizers ? 1 : 60));
}

TEST_CASE("naming a resin never makes a job cheaper, heated or not", "[plan][property]") {
    // Three sleeves, two mouths, two kinds of heater: which sleeve is heated on which packer is found by climbing.
    for (const int celsius : {6, 9, 12}) {
        const auto job = test::must_read(fmt::format(
            R"({{"patchwright_job": 1, "reference": "three", "runs": [{{"id": "A", "from": "M1", "to": "M2",
            "length": "20 m", "bore": "150 mm", "material": "clay", "depth": "1.8 m", "access": ["M1", "M2"],
            "ground_temperature": "{} C", "water_table": "1.2 m", "flow": {{"inflow": "0.05 l/s", "storage": "150 l"}},
            "defects": [{{"id": "1", "at": "4 m", "kind": "fissure", "size": "2 mm"}},
                        {{"id": "2", "at": "9 m", "kind": "fissure", "size": "2 mm"}},
                        {{"id": "3", "at": "15 m", "kind": "fissure", "size": "4 mm"}}]}}]}})",
            celsius));
        if (test::under_sanitizers && celsius > 6) break;
        const Told free = told_of(job, io::builtin_yard());
        CHECK(free.waiting == 0);
        int named_too = 0;
        for (const auto& resin : io::builtin_yard().resins) {
            auto named = job;
            named.runs.front().resin = resin.id;
            const Told told = told_of(named, io::builtin_yard());
            CAPTURE(celsius, resin.id, format(free.own), format(told.own));
            CHECK(told.digs == 0);  // a resin that does not suit is no dig
            if (told.waiting > 0) continue;
            ++named_too;
            CHECK(free.own <= told.own);
        }
        CHECK(named_too > 0);
    }
}

// Half an hour and more; DEVELOPERS.md. Ten parts, so that it may be run beside other work and taken up again.
TEST_CASE("of a thousand random jobs none is dearer with more freedom or a place less", "[.freedoms]") {
    const auto part = static_cast<std::uint32_t>(GENERATE(range(0, 10)));
    DYNAMIC_SECTION("part " << part) {
        FreedomsTried counts;
        hold(2001 + 100 * part, 2100 + 100 * part, counts);
        WARN(fmt::format("part {}: {} jobs, {} comparisons, {} of them without a proof", part, counts.jobs,
                         counts.compared, counts.not_proven));
        CHECK(counts.compared >= 200);
    }
}
