// Days that were asked for before.
#include <catch2/catch.hpp>

#include <functional>
#include <thread>

#include "patchwright/schedule/known_days.hpp"
#include "scenario.hpp"

using namespace patchwright::schedule;
using namespace patchwright;

namespace {

bool same(const Finish& a, const Finish& b) {
    return a.finish == b.finish && a.bound == b.bound && a.proven == b.proven && a.visited == b.visited &&
           a.verdict.hindrance == b.verdict.hindrance && a.verdict.mix == b.verdict.mix &&
           a.verdict.minutes == b.verdict.minutes;
}

/// Every number that a day consists of, a little larger or turned round. Names decide nothing.
void change_each(const DayWork& work, const std::function<void(const DayWork&)>& look) {
    const auto with = [&](const std::function<void(DayWork&)>& change) {
        DayWork other = work;
        change(other);
        look(other);
    };
    for (std::size_t i = 0; i < work.patches.size(); ++i) {
        using P = PatchWork;
        for (Labour P::*step : {&P::cut, &P::bench_test, &P::wet_out, &P::load, &P::position, &P::inflate, &P::crease,
                                &P::let_down, &P::re_survey, &P::reopen}) {
            with([&](DayWork& w) { (w.patches[i].*step).minutes += 7; });
            with([&](DayWork& w) { (w.patches[i].*step).persons += 1; });
        }
        for (Minute P::*at : {&P::pour, &P::inflate_by, &P::crease_by, &P::mix_to_let_down})
            with([&](DayWork& w) { w.patches[i].*at += 7; });
        for (bool P::*is : {&P::from_far_end, &P::from_any_end, &P::flow_through, &P::ready_on_site})
            with([&](DayWork& w) { w.patches[i].*is = !(w.patches[i].*is); });
        if (!work.patches[i].lying) with([&](DayWork& w) { w.patches[i].overnight = !w.patches[i].overnight; });
        with([&](DayWork& w) { w.patches[i].at_end += 3.0 * unit::m; });
    }
    for (std::size_t r = 0; r < work.runs.size(); ++r) {
        using R = RunWork;
        for (Labour R::*step :
             {&R::set_up, &R::open_access, &R::clean, &R::roots, &R::survey, &R::flush, &R::flow_control})
            with([&](DayWork& w) { (w.runs[r].*step).minutes += 7; });
        for (bool R::*is : {&R::prepared, &R::ends_in_sight, &R::from_open, &R::to_open})
            with([&](DayWork& w) { w.runs[r].*is = !(w.runs[r].*is); });
        with([&](DayWork& w) { w.runs[r].dry += 7; });
        with([&](DayWork& w) { w.runs[r].ready = w.start + 90; });
    }
    for (std::size_t k = 0; k < work.packers.size(); ++k) with([&](DayWork& w) { w.packers[k].count += 1; });
    for (std::size_t k = 0; k < work.heaters.size(); ++k) with([&](DayWork& w) { w.heaters[k].count += 1; });
    for (std::size_t k = 0; k < work.mixes.size(); ++k) with([&](DayWork& w) { w.mixes[k].pour_by += 3; });
    for (std::size_t k = 0; k < machine_kinds; ++k) with([&](DayWork& w) { w.machines[k] += 1; });
    with([&](DayWork& w) { w.start += 10; });
    with([&](DayWork& w) { w.travel += 7; });
    with([&](DayWork& w) { w.travel_out = 5; });
    with([&](DayWork& w) { w.pack_up.minutes += 7; });
    with([&](DayWork& w) { w.persons = w.persons % 4 + 1; });
    with([&](DayWork& w) { w.air_lines += 1; });
    with([&](DayWork& w) { w.alarm_gauge = !w.alarm_gauge; });
    with([&](DayWork& w) {
        w.while_watching =
            w.while_watching == WhileWatching::nothing ? WhileWatching::jobs_there : WhileWatching::nothing;
    });
    with([&](DayWork& w) { w.ready_in_yard = !w.ready_in_yard; });
}

}  // namespace

TEST_CASE("a day that is known is the day worked out, and no other day is taken for it", "[schedule][property]") {
    constexpr std::int64_t budget = 300;
    int asked = 0, differ = 0;
    for (std::uint32_t seed = 1; seed <= 40; ++seed) {
        CAPTURE(seed);
        const DayWork work =
            scenario::random_day(seed, {1 + static_cast<int>(seed % 4), 1 + static_cast<int>(seed % 3)});
        KnownDays known;
        const Finish day = known.earliest_finish(work, budget, no_latest);
        CHECK(same(day, earliest_finish(work, budget)));
        CHECK(same(day, known.earliest_finish(work, budget, no_latest)));
        for (const Minute latest : {day.finish - 1, day.finish})
            CHECK(same(known.earliest_finish(work, budget, latest), earliest_finish(work, budget, latest)));
        CHECK(same(known.earliest_finish(work, 1, no_latest), earliest_finish(work, 1)));
        change_each(work, [&](const DayWork& other) {
            ++asked;
            const Finish worked_out = earliest_finish(other, budget);
            differ += same(worked_out, day) ? 0 : 1;
            CHECK(same(known.earliest_finish(other, budget, no_latest), worked_out));
        });
    }
    CHECK(asked > 2000);
    CHECK(differ > asked / 4);  // else a day taken for another would not be noticed
}

TEST_CASE("days asked for from several threads at once are the same", "[schedule]") {
    std::vector<DayWork> days;
    for (std::uint32_t seed = 1; seed <= 30; ++seed) days.push_back(scenario::random_day(seed, {3, 2}));
    KnownDays known;
    std::vector<std::vector<Finish>> found(3);
    std::vector<std::thread> threads;
    for (auto& mine : found)
        threads.emplace_back([&] {
            for (const auto& day : days) mine.push_back(known.earliest_finish(day, 300, no_latest));
        });
    for (auto& thread : threads) thread.join();
    for (std::size_t i = 0; i < days.size(); ++i)
        for (const auto& mine : found) CHECK(same(mine[i], earliest_finish(days[i], 300)));
}
