// The search for the whole job against plain enumeration: every sequence of days, every way to make each sleeve.
#include <algorithm>
#include <catch2/catch.hpp>
#include <limits>
#include <map>

#include "job_search.hpp"
#include "patchwright/io/read.hpp"
#include "patchwright/plan/plan.hpp"
#include "support/dice.hpp"
#include "support/jobs.hpp"

using namespace patchwright;
using namespace patchwright::plan;

namespace {

/// Up to three fissures in one or two runs, sometimes two of them close enough for one sleeve.
nlohmann::ordered_json small_job(test::Dice& dice) {
    nlohmann::ordered_json job{{"patchwright_job", 1}, {"reference", "enumerated"}};
    job["site"]["finish"] = dice.chance(50) ? "16:30" : "13:30";
    const int runs = dice.between(1, 2);
    int left = 3;
    for (int r = 0; r < runs; ++r) {
        nlohmann::ordered_json run{{"id", std::string(1, static_cast<char>('A' + r))},
                                   {"from", "M" + std::to_string(r)},
                                   {"to", "M" + std::to_string(r + 1)},
                                   {"length", "16 m"},
                                   {"bore", "100 mm"},
                                   {"material", "clay"},
                                   {"depth", "1.2 m"}};
        run["access"] = {run["from"]};
        if (dice.chance(60)) run["access"].push_back(run["to"]);
        run["ground_temperature"] = std::to_string(dice.between(7, 18)) + " C";
        const int defects = r + 1 < runs ? 1 : dice.between(1, left);
        const bool close = dice.chance(30);
        for (int d = 0; d < defects; ++d, --left)
            run["defects"].push_back({{"id", "d" + std::to_string(d)},
                                      {"at", std::to_string(close ? 4.0 + 0.7 * d : 3.0 + 4.0 * d) + " m"},
                                      {"kind", "fissure"},
                                      {"size", "2 mm"}});
        job["runs"].push_back(run);
    }
    return job;
}

/// Two packers, two resins, perhaps a heater and a helper: few enough to try all.
job::Yard small_yard(test::Dice& dice) {
    job::Yard yard = io::builtin_yard();
    const auto keep = [](auto& list, std::initializer_list<std::string_view> ids) {
        std::erase_if(list, [&](const auto& item) { return std::find(ids.begin(), ids.end(), item.id) == ids.end(); });
    };
    if (dice.chance(50))
        keep(yard.packers, {"S100-12", "R100-10"});
    else
        keep(yard.packers, {"S100-07", "S100-12"});
    yard.chassis.clear();
    if (dice.chance(50))
        keep(yard.resins, {"standard", "slow"});
    else
        keep(yard.resins, {"fast", "silicate"});
    keep(yard.heaters, {"warm-air"});
    yard.limits.helpers = dice.chance(30) ? 1 : 0;
    yard.limits.overtime = dice.chance(50) ? Duration{} : 60.0 * unit::minute;
    return yard;
}

struct Way {
    const Patch* patch = nullptr;
    double cost = 0.0;
    layout::Candidate place;
};
using Ways = std::vector<Way>;  ///< of one sleeve

class Enumeration {
public:
    Enumeration(PlanContext& context, const std::vector<RunPlan>& runs, Spaces& spaces)
        : context_{context}, runs_{runs}, spaces_{spaces}, cost_{context.yard} {}

    double cheapest() {
        cover(0, 0);
        return best_;
    }

private:
    /// Every division of the runs' targets into groups of neighbours that one sleeve may cover.
    void cover(std::size_t run, int target) {
        if (run == runs_.size()) return divide();
        const int targets = static_cast<int>(runs_[run].problem.targets.size());
        if (target == targets) return cover(run + 1, 0);
        for (int last = target; last < targets; ++last) {
            Ways ways = ways_of(static_cast<int>(run), target, last);
            if (ways.empty()) continue;
            sleeves_.push_back(std::move(ways));
            cover(run, last + 1);
            sleeves_.pop_back();
        }
    }
    /// Every packer's cheapest place for that group, from both mouths, with every resin and heating.
    Ways ways_of(int run, int first, int last) {
        const auto& planned = runs_[static_cast<std::size_t>(run)];
        auto& space = *spaces_[static_cast<std::size_t>(run)];
        std::map<int, layout::Candidate> places;
        for (const auto& c : planned.solution.candidates) {
            if (c.first_target != first || c.last_target != last) continue;
            const auto [place, fresh] = places.emplace(c.carrier, c);
            if (!fresh && c.cost < place->second.cost) place->second = c;
        }
        Ways ways;
        for (const auto& [carrier, c] : places)
            for (const ResinChoice& choice : space.designer.choices()) {
                const auto price = price_at(context_, planned, space, c, choice);
                if (!price) continue;
                Pick pick{run, c, 0, choice};
                pick.candidate.cost = *price;
                for (pick.way = 0; pick.way < 2; ++pick.way) {
                    const Patch& patch = placed(context_, planned, space, pick);
                    ways.push_back({&patch, cost_.sleeve(patch), c});
                }
            }
        return ways;
    }
    /// Every sequence of days: which sleeves on the first, which on the next ones.
    void divide() {
        days_.clear();
        // The cheapest places of the groups lie clear of each other, so that every combination is legal.
        for (std::size_t i = 1; i < sleeves_.size(); ++i)
            for (const Way& a : sleeves_[i - 1])
                for (const Way& b : sleeves_[i])
                    if (a.patch->run == b.patch->run) REQUIRE(a.place.end + 10 <= b.place.start);
        sequence((1U << sleeves_.size()) - 1, {}, 0.0);
    }
    void sequence(unsigned left, const std::vector<int>& worked, double cost) {
        if (left == 0) {
            best_ = std::min(best_, cost);
            return;
        }
        for (unsigned set = left; set != 0; set = (set - 1) & left) {
            std::vector<int> prepared, after = worked;
            for (std::size_t i = 0; i < sleeves_.size(); ++i) {
                if ((set >> i & 1U) == 0) continue;
                const int run = sleeves_[i].front().patch->run;
                if (std::find(worked.begin(), worked.end(), run) != worked.end()) prepared.push_back(run);
                after.push_back(run);
            }
            sequence(left & ~set, after, cost + day(set, prepared));
        }
    }
    double day(unsigned set, const std::vector<int>& prepared) {
        const auto [place, fresh] = days_.try_emplace({set, prepared}, never);
        if (fresh) {
            DayOfPatches work;
            work.prepared = prepared;
            double best = never;
            choose(set, 0, 0.0, work, best);
            days_[{set, prepared}] = best;
        }
        return days_[{set, prepared}];
    }
    void choose(unsigned set, std::size_t i, double cost, DayOfPatches& work, double& best) {
        if (i == sleeves_.size()) return clock(cost, work, best);
        if ((set >> i & 1U) == 0) return choose(set, i + 1, cost, work, best);
        for (const Way& way : sleeves_[i]) {
            work.patches.push_back(way.patch);
            choose(set, i + 1, cost + way.cost, work, best);
            work.patches.pop_back();
        }
    }
    void clock(double cost, DayOfPatches work, double& best) {
        int heater = -1;
        for (const Patch* p : work.patches) heater = std::max(heater, p->heater);
        work.lying.assign(work.patches.size(), false);
        work.overnight = work.lying;
        const int helpers = context_.yard.rates.helper_per_day.is_zero() ? 0 : context_.yard.limits.helpers;
        for (work.extra_persons = 0; work.extra_persons <= helpers; ++work.extra_persons) {
            const auto day = crew_day(context_, work);
            const auto finish = schedule::earliest_finish(day);
            if (finish.verdict.hindrance != schedule::Hindrance::none || finish.short_by(day) > 0) continue;
            best = std::min(best, cost +
                                      cost_.day(finish.finish - day.start, std::max(0, finish.finish - day.finish),
                                                work.extra_persons, false) +
                                      cost_.heaters({heater, heater < 0 ? 0 : 1}));
        }
    }

    PlanContext& context_;
    const std::vector<RunPlan>& runs_;
    Spaces& spaces_;
    JobCost cost_;
    std::vector<Ways> sleeves_;
    std::map<std::pair<unsigned, std::vector<int>>, double> days_;
    double best_ = never;
};

}  // namespace

TEST_CASE("whole jobs of up to three sleeves: nothing that plain enumeration finds is cheaper", "[plan][whole]") {
    int compared = 0, several_days = 0, heated = 0, heated_best = 0;
    for (std::uint32_t seed = 1; seed <= test::of_jobs(60); ++seed) {
        test::Dice dice{seed};
        const auto job = test::must_read(small_job(dice).dump());
        const auto with_heater = small_yard(dice);
        auto without = with_heater;
        without.heaters.clear();
        CAPTURE(seed);
        Options options;
        options.trials = 0;
        options.tables = options.working = options.price = false;
        /// Found, and the least of all there are.
        const auto costs = [&](const job::Yard& yard) {
            const Plan made = make_plan(job, yard, options);
            if (!made.not_planned.empty() || made.patches.empty()) return std::pair{never, never};
            PlanContext context{job, yard, options};
            Spaces spaces;
            for (std::size_t r = 0; r < job.runs.size(); ++r) {
                spaces.push_back(std::make_unique<RunWorkspace>(context, static_cast<int>(r)));
                spaces.back()->rules = run_rules(context, spaces.back()->designer, made.runs[r].verdicts);
            }
            const auto found = best_job(context, made.runs, spaces);
            CHECK(found.proven);
            several_days += found.best.days.size() > 1 ? 1 : 0;
            return std::pair{found.best.cost, Enumeration{context, made.runs, spaces}.cheapest()};
        };
        const auto [plain, least] = costs(without);
        if (plain == never) continue;
        ++compared;
        CHECK(plain == Approx(least).margin(0.01));
        // A heater is tried on the ways found best without it: never dearer, now and then not the very cheapest.
        const auto [warm, min_warm] = costs(with_heater);
        CHECK(warm <= plain + 0.01);
        CHECK(warm >= min_warm - 0.01);
        CHECK(warm <= 1.1 * min_warm);
        heated += warm < plain - 0.01 ? 1 : 0;
        heated_best += warm < plain - 0.01 && warm <= min_warm + 0.01 ? 1 : 0;
    }
    CHECK(compared >= static_cast<int>(test::of_jobs(30)));
    CHECK(several_days > 0);
    CHECK(heated > 0);
    CHECK(2 * heated_best >= heated);
}
