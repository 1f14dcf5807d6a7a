#include "patchwright/plan/outlook.hpp"

#include <algorithm>
#include <functional>
#include <map>
#include <numeric>
#include <optional>
#include <set>
#include <tuple>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "finish.hpp"
#include "patchwright/survey/outcomes.hpp"
#include "patchwright/units/threads.hpp"

namespace patchwright::plan {
namespace {

using price::BreakEven;
using price::BreakEvenPoint;

bool patch_cheaper(const BreakEvenPoint& p) { return p.patch < p.dig; }

class Outlook {
public:
    Outlook(const job::Job& job, const job::Yard& yard, const Options& options)
        : job_{job},
          yard_{yard},
          options_{bare(options)},
          threads_{options.threads},
          known_{std::make_shared<KnownCures>(yard, options_.working)} {}

    const std::shared_ptr<KnownCures>& known() const { return known_; }

    /// Both prices of a changed job.
    BreakEvenPoint point(const job::Job& changed, double at, std::string label) const {
        const auto& bracket = make_plan(changed, yard_, options_, known_).offer.bracket;
        return {at, std::move(label), bracket.own, bracket.ceiling};
    }
    std::vector<BreakEvenPoint> points(std::size_t count,
                                       const std::function<BreakEvenPoint(std::size_t)>& make) const {
        std::vector<BreakEvenPoint> list(count);
        in_parallel(threads_, count, [&](std::size_t i) { list[i] = make(i); });
        return list;
    }

    job::Job at_depth(Length depth) const {
        job::Job changed = job_;
        for (job::Run& run : changed.runs) run.depth = depth;
        return changed;
    }
    /// The patches of a job as planned, at a depth.
    struct AtDepth {
        double depth = 0.0;
        Plan plan;
    };
    AtDepth planned_at(double depth) const {
        return {depth, make_plan(at_depth(depth * unit::m), yard_, options_, known_)};
    }
    /// The same sleeves at both depths, and the plan of the shallower is at the deeper at most half a hundredth dearer
    /// than its own: what differs is the digging, and the risk of it in the price, which rises much alike for all
    /// sleeves. Between the two that plan is then taken to be as near the best; a test looks at every depth of the
    /// demonstration.
    bool one_plan_serves(const AtDepth& low, const AtDepth& high) const {
        const auto sleeves = [](const Plan& plan) {
            std::set<std::tuple<int, Length, Length, int, int, int>> list;
            for (const Patch& p : plan.patches)
                list.insert({p.run, p.start, p.end, p.resin, p.felt.felt, p.felt.layers});
            return list;
        };
        if (sleeves(low.plan) != sleeves(high.plan)) return false;
        const auto at_high = offer_again(at_depth(high.depth * unit::m), yard_, options_, low.plan);
        const auto own = high.plan.offer.bracket.own;
        return (at_high.bracket.own - own) * 200 <= own;
    }
    /// Prices at a depth between two that are planned: where one plan serves both, only its prices are made anew.
    BreakEvenPoint between(const AtDepth& low, const AtDepth& high, double depth) const {
        const auto label = format(Show::run_distance, depth * unit::m, job_.units);
        for (const AtDepth* end : {&low, &high}) {
            const auto& bracket = end->plan.offer.bracket;
            if (end->depth == depth) return {depth, label, bracket.own, bracket.ceiling};
        }
        if (!one_plan_serves(low, high)) return point(at_depth(depth * unit::m), depth, label);
        const auto bracket = offer_again(at_depth(depth * unit::m), yard_, options_, low.plan).bracket;
        return {depth, label, bracket.own, bracket.ceiling};
    }
    /// Plans by depth: both ends, and halves between two that no one plan serves, down to neighbours of `depths`.
    std::vector<AtDepth> plans_at(const std::vector<double>& depths) const {
        std::map<std::size_t, AtDepth> plans;
        const std::function<void(std::size_t, std::size_t)> halve = [&](std::size_t low, std::size_t high) {
            if (high - low < 2 || one_plan_serves(plans[low], plans[high])) return;
            const auto middle = std::midpoint(low, high);
            plans[middle] = planned_at(depths[middle]);
            halve(low, middle);
            halve(middle, high);
        };
        plans[0] = planned_at(depths.front());
        plans[depths.size() - 1] = planned_at(depths.back());
        halve(0, depths.size() - 1);
        std::vector<AtDepth> list;
        for (auto& [place, plan] : plans) list.push_back(std::move(plan));
        return list;
    }
    BreakEven by_depth() const {
        const std::vector depths{0.5, 0.75, 1.0, 1.25, 1.5, 1.75, 2.0, 2.5, 3.0, 3.5, 4.0, 5.0, 6.0, 8.0};
        constexpr double tolerance = 0.02;
        const auto label = [this](double d) { return format(Show::run_distance, d * unit::m, job_.units); };
        const auto plans = plans_at(depths);
        const auto prices = [&](double d) {
            std::size_t i = 0;
            while (i + 2 < plans.size() && plans[i + 1].depth < d) ++i;
            return between(plans[i], plans[i + 1], d);
        };
        BreakEven table{.what = "depth", .at = {}, .unit = "m", .words = {}, .points = {}};
        table.points = points(depths.size(), [&](std::size_t i) { return prices(depths[i]); });
        std::vector<std::string> where;
        for (std::size_t i = 1; i < depths.size(); ++i) {
            if (patch_cheaper(table.points[i - 1]) == patch_cheaper(table.points[i])) continue;
            const auto found = price::crossings([&](double d) { return patch_cheaper(prices(d)) ? 1.0 : -1.0; },
                                                depths[i - 1], depths[i], 1, tolerance);
            for (const double d : found) {
                table.at.push_back(d);
                where.push_back(label(d));
            }
        }
        const auto cheaper = [](const BreakEvenPoint& p) { return patch_cheaper(p) ? "patching" : "digging"; };
        table.words = where.empty() ? fmt::format("{} is cheaper at every depth from {} to {}.",
                                                  patch_cheaper(table.points.front()) ? "Patching" : "Digging",
                                                  label(depths.front()), label(depths.back()))
                                    : fmt::format("The cheaper method changes at {}; in the deepest ground it is {}.",
                                                  fmt::join(where, ", "), cheaper(table.points.back()));
        return table;
    }

    /// The job with only the first so many of the defects that the plan mends, and nothing else to do.
    job::Job with_first(const Plan& plan, std::size_t count) const {
        job::Job changed = job_;
        std::size_t left = count;
        for (std::size_t r = 0; r < changed.runs.size(); ++r) {
            std::vector<job::Defect> kept;
            for (std::size_t d = 0; d < job_.runs[r].defects.size() && left > 0; ++d) {
                if (!mended(plan, r, d)) continue;
                kept.push_back(job_.runs[r].defects[d]);
                --left;
            }
            changed.runs[r].defects = std::move(kept);
        }
        std::erase_if(changed.runs, [](const job::Run& run) { return run.defects.empty(); });
        return changed;
    }
    static bool mended(const Plan& plan, std::size_t run, std::size_t defect) {
        return std::any_of(plan.patches.begin(), plan.patches.end(), [&](const Patch& p) {
            return p.run == static_cast<int>(run) &&
                   std::find(p.defects.begin(), p.defects.end(), static_cast<int>(defect)) != p.defects.end();
        });
    }
    BreakEven by_number(const Plan& plan) const {
        constexpr std::size_t most = 12;
        std::size_t all = 0, count = 0;
        for (std::size_t r = 0; r < job_.runs.size(); ++r) {
            all += job_.runs[r].defects.size();
            for (std::size_t d = 0; d < job_.runs[r].defects.size(); ++d) count += mended(plan, r, d) ? 1 : 0;
        }
        const bool nothing_else = count == all;
        count = std::min(count, most);
        BreakEven table{.what = "number of patches", .at = {}, .unit = "places", .words = {}, .points = {}};
        table.points = points(count, [&](std::size_t i) {
            const auto number = static_cast<double>(i + 1);
            const auto label = fmt::format("{}", i + 1);
            const auto& bracket = plan.offer.bracket;
            if (nothing_else && i + 1 == all) return BreakEvenPoint{number, label, bracket.own, bracket.ceiling};
            return point(with_first(plan, i + 1), number, label);
        });
        std::vector<std::string> where;
        for (std::size_t i = 1; i < table.points.size(); ++i) {
            const auto& here = table.points[i];
            if (patch_cheaper(table.points[i - 1]) == patch_cheaper(here)) continue;
            table.at.push_back(here.at);
            where.push_back(fmt::format("{} ({})", here.label, patch_cheaper(here) ? "patching" : "digging"));
        }
        const bool patch = patch_cheaper(table.points.front());
        table.words = where.empty() && count == 1
                          ? fmt::format("{} is cheaper for the one place.", patch ? "Patching" : "Digging")
                      : where.empty() ? fmt::format("{} is cheaper for the first place alone and for {}.",
                                                    patch ? "Patching" : "Digging",
                                                    count == 2 ? "both" : fmt::format("all {}", count))
                                      : fmt::format(
                                            "For the first place alone {} is cheaper; the answer changes from "
                                            "this number of places on: {}.",
                                            patch ? "patching" : "digging", fmt::join(where, ", "));
        return table;
    }

    BreakEven by_surface(const Plan& plan) const {
        const auto& rows = yard_.dig_rates.surfaces;
        BreakEven table{.what = "surface", .at = {}, .unit = {}, .words = {}, .points = {}};
        table.points = points(rows.size(), [&](std::size_t i) {
            job::Job changed = job_;
            changed.dig.surface.value = rows[i].surface;
            const auto bracket = offer_again(changed, yard_, options_, plan).bracket;
            return BreakEvenPoint{static_cast<double>(i), std::string{job::word(rows[i].surface)}, bracket.own,
                                  bracket.ceiling};
        });
        std::vector<std::string> patch, dig;
        for (std::size_t i = 0; i < table.points.size(); ++i) {
            (patch_cheaper(table.points[i]) ? patch : dig).push_back(table.points[i].label);
            if (i > 0 && patch_cheaper(table.points[i]) != patch_cheaper(table.points[i - 1]))
                table.at.push_back(static_cast<double>(i));
        }
        table.words = dig.empty()     ? std::string{"Patching is cheaper under every surface."}
                      : patch.empty() ? std::string{"Digging is cheaper under every surface."}
                                      : fmt::format("Under {} digging is cheaper, under {} patching.",
                                                    fmt::join(dig, ", "), fmt::join(patch, ", "));
        return table;
    }

    /// What the job comes to with that defect in place of the one it has, above what it comes to now.
    Money more(const Plan& plan, const job::Job& changed) const {
        const Plan other = make_plan(changed, yard_, options_, known_);
        const bool nothing = plan.offer.bracket.floor.is_zero();
        const bool as_offered = !plan.offer.offered.wished && !other.offer.offered.lines.empty() &&
                                (nothing || !plan.offer.offered.lines.empty());
        const auto price = [&](const Plan& p) { return as_offered ? p.offer.offered.total : p.offer.bracket.own; };
        const Money before = price(plan);
        const Money after = price(other);
        return std::max(Money{}, after - before);
    }
    std::vector<LookAgain> look_again(const Plan& plan) const {
        std::vector<LookAgain> list;
        std::vector<survey::Outcomes> ways;
        for (std::size_t r = 0; r < job_.runs.size(); ++r) {
            for (std::size_t d = 0; d < job_.runs[r].defects.size(); ++d) {
                const auto both = survey::outcomes(job_.runs[r], job_.runs[r].defects[d], yard_.limits, job_.units);
                if (!both) continue;
                list.push_back({static_cast<int>(r), static_cast<int>(d), both->mended_if, both->beyond_if, {}, {}});
                ways.push_back(*both);
            }
        }
        in_parallel(threads_, 2 * list.size(), [&](std::size_t i) {
            LookAgain& item = list[i / 2];
            job::Job changed = job_;
            auto& defect =
                changed.runs[static_cast<std::size_t>(item.run)].defects[static_cast<std::size_t>(item.defect)];
            defect = i % 2 == 0 ? ways[i / 2].mended : ways[i / 2].beyond;
            (i % 2 == 0 ? item.mended : item.beyond) = more(plan, changed);
        });
        return list;
    }

private:
    const job::Job& job_;
    const job::Yard& yard_;
    Options options_;
    int threads_ = 1;
    std::shared_ptr<KnownCures> known_;
};

int days_of(const Plan& plan) { return static_cast<int>(plan.schedule.days.size()); }

bool cures_overnight(const Plan& plan) {
    return std::any_of(plan.schedule.patches.begin(), plan.schedule.patches.end(),
                       [](const auto& times) { return times.let_down >= 24 * 60; });
}

/// Another plan counts when it patches as much as the one that was made.
bool as_much(const Plan& made, const Plan& other) {
    return other.offer.unavoidable_works.places <= made.offer.unavoidable_works.places && !other.patches.empty() &&
           other.schedule.impossible.size() <= made.schedule.impossible.size();
}

/// The candidate that `less` puts first, where it is before the plan as made.
template <class Less>
const Plan* best_of(const std::vector<Plan>& candidates, const Plan& made, const Less& less) {
    const Plan* best = nullptr;
    for (const Plan& plan : candidates) {
        if (!as_much(made, plan) || !less(plan, made)) continue;
        if (best == nullptr || less(plan, *best)) best = &plan;
    }
    return best;
}

}  // namespace

double late_probability(const Plan& plan) {
    double in_time = 1.0;
    for (const auto& patch : plan.patches) in_time *= 1.0 - patch.late_probability;
    return 1.0 - in_time;
}

namespace {

std::vector<Variant> variants_of(const Options& options, const Plan& made, const std::shared_ptr<KnownCures>& known) {
    const job::Job& job = *made.job;
    const job::Yard& yard = *made.yard;
    std::vector<Variant> list;
    if (made.patches.empty()) return list;
    list.push_back({"cheapest", made});
    const std::size_t count = yard.resins.size() + (yard.limits.overnight_cure ? 1 : 0);
    std::vector<Plan> candidates(count);
    Options inner = options;
    inner.threads = 1;
    in_parallel(options.threads, count, [&](std::size_t i) {
        if (i < yard.resins.size()) {
            job::Job other = job;
            for (job::Run& run : other.runs) run.resin = yard.resins[i].id;
            candidates[i] = make_plan(other, yard, inner, known);
        } else {
            job::Yard by_day = yard;
            by_day.limits.overnight_cure = false;
            candidates[i] = make_plan(job, by_day, inner);
        }
    });
    const auto own = [](const Plan& plan) { return plan.offer.bracket.own; };
    const auto fewer_days = [&](const Plan& a, const Plan& b) {
        return days_of(a) != days_of(b) ? days_of(a) < days_of(b) : &a != &made && &b != &made && own(a) < own(b);
    };
    const auto surer = [&](const Plan& a, const Plan& b) {
        // Half the chance is a difference that a customer may pay for; less is none.
        return late_probability(a) < (&b == &made ? 0.5 : 1.0) * late_probability(b);
    };
    const auto no_night = [&](const Plan& a, const Plan& b) {
        if (cures_overnight(a)) return false;
        return &b == &made ? cures_overnight(b) : own(a) < own(b);
    };
    const auto add = [&](std::string_view words, const Plan* plan) {
        if (plan != nullptr && list.size() < 3) list.push_back({std::string{words}, *plan});
    };
    add("fewest days", best_of(candidates, made, fewer_days));
    add("without night work", best_of(candidates, made, no_night));
    if (late_probability(made) > 0.005) add("surest to be in time", best_of(candidates, made, surer));
    return list;
}

}  // namespace

std::vector<Variant> variants(const Options& options, const Plan& made) {
    return variants_of(options, made, std::make_shared<KnownCures>(*made.yard, options.working));
}

void add_look_again(const Options& options, Plan& plan) {
    plan.look_again = Outlook{*plan.job, *plan.yard, options}.look_again(plan);
}

void add_outlook(const Options& options, Plan& plan) {
    const Outlook outlook{*plan.job, *plan.yard, options};
    plan.look_again = outlook.look_again(plan);
    if (plan.patches.empty()) return;
    plan.break_even = {outlook.by_depth(), outlook.by_number(plan), outlook.by_surface(plan)};
    Options inner = bare(options);
    inner.threads = options.threads;
    for (const Variant& v : variants_of(inner, plan, outlook.known())) {
        const auto& offer = v.plan.offer;
        plan.variants.push_back({v.words, days_of(v.plan), static_cast<int>(v.plan.patches.size()), offer.bracket.own,
                                 offer.offered.lines.empty() ? offer.bracket.own : offer.offered.total,
                                 late_probability(v.plan)});
    }
}

}  // namespace patchwright::plan
