#include "day_book.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <string_view>
#include <tuple>
#include <utility>

#include "day_task.hpp"
#include "work.hpp"

namespace patchwright::plan {
namespace {

using schedule::Minute;

// How long one day of given sleeves is searched, in nodes of the clock's search: all combinations of ways; all while
// none of them holds; one of them; the day with any ways that bounds them, with some ways chosen, and with given
// sleeves heated. Beyond that the best so far is taken, and the day counts as not proven.
constexpr std::int64_t nodes_a_day = 30'000, nodes_a_look = 2000, nodes_for_any = 3000, nodes_for_some = 30,
                       nodes_for_heating = 300;
constexpr std::int64_t look = 10;  ///< what a combination takes besides its nodes

/// Depth first over the ways of one sleeve after the other, the cheapest first; what cannot beat the best is cut off.
class Search {
public:
    Search(const PlanContext& context, const JobCost& cost, const DayTask& day, int extra_persons,
           const DayHeating& heating, std::int64_t& budget)
        : context_{context}, cost_{cost}, day_{day}, extra_persons_{extra_persons}, heating_{heating}, budget_{budget} {
        rest_.assign(day.sleeves.size() + 1, 0.0);
        for (std::size_t i = day.sleeves.size(); i-- > 0;)
            rest_[i] = rest_[i + 1] + day.sleeves[i]->options.front().cost;
        for (std::size_t i = 0; i < day.sleeves.size(); ++i)
            ways_.push_back(useful_ways(context.job, day, i, heating.of(i)));
    }

    /// What a day costs at least that is back then; infinite where it has no way.
    double least(Minute earliest) const {
        if (std::any_of(ways_.begin(), ways_.end(), [](const auto& ways) { return ways.empty(); })) return never;
        return rest_.front() + price(earliest, with_any(context_, day_, {}, extra_persons_, &heating_));
    }
    /// `earliest`: no way is back before that.
    void run(Minute earliest, DayChoice& best) {
        best_ = &best;
        const double min_cost = least(earliest);
        if (min_cost >= best.cost) return;
        improve();
        Chosen chosen;
        choose(chosen, 0.0, min_cost - rest_.front());
    }
    /// Ways to begin with: a packer of its own for each sleeve as far as they go round, or all with packers of one
    /// kind; from the nearer mouth or by turns; the cheapest resin or the quickest.
    std::set<std::vector<int>> first_ways() const {
        std::set<int> kinds{any_kind};
        for (std::size_t i = 0; i < ways_.size(); ++i)
            for (const int way : ways_[i]) kinds.insert(day_.sleeves[i]->options[static_cast<std::size_t>(way)].kind);
        std::set<std::vector<int>> list;
        for (const int kind : kinds)
            for (const bool nearer : {true, false})
                for (const bool quickest : {false, true}) list.insert(spread(kind, nearer, quickest));
        return list;
    }
    /// A day that is back then, with the cheapest heater, may cost less than the best.
    bool worth(Minute earliest, const DayChoice& best) const {
        const auto work = with_any(context_, day_, {}, extra_persons_, nullptr);
        return rest_.front() + price(earliest, work) + cost_.cheapest_heater() < best.cost;
    }
    /// Those ways with the heater where it is to be: the same packers and mouths, and the same resin or the cheapest.
    void heat(const std::vector<int>& ways, DayChoice& best) {
        best_ = &best;
        for (const bool same_resin : {true, false})
            if (const auto with_heater = heated(ways, same_resin); !with_heater.empty()) settle(with_heater);
    }
    /// The best, which is such a day, made better sleeve by sleeve.
    void polish(DayChoice& best) {
        best_ = &best;
        climb(best.options);
    }

private:
    struct Chosen {
        std::vector<int> options;
        PatchList patches;
    };

    static constexpr int any_kind = -1;
    /// One of those, sleeve after sleeve; where packers of that kind do not go round, whichever are left over.
    std::vector<int> spread(int kind, bool nearer, bool quickest) const {
        std::vector<int> ways;
        std::map<int, int> packers;
        std::map<std::pair<int, std::string_view>, int> mouths;
        for (std::size_t i = 0; i < day_.sleeves.size(); ++i) {
            const Sleeve& sleeve = *day_.sleeves[i];
            const auto rank = [&](int way) {
                const auto& option = sleeve.options[static_cast<std::size_t>(way)];
                const auto& rigging = option.patch->rigging;
                const auto taken = packers.find(option.kind);
                const bool other =
                    kind == any_kind ? taken != packers.end() && taken->second >= option.count : kind != option.kind;
                const auto mouth = mouths.find({sleeve.run, rigging.from});
                const int turns = nearer || mouth == mouths.end() ? 0 : mouth->second;
                return std::tuple{other, turns, nearer ? rigging.mark : Length{}, quickest ? option.cure : 0,
                                  option.cost};
            };
            const int way =
                *std::min_element(ways_[i].begin(), ways_[i].end(), [&](int a, int b) { return rank(a) < rank(b); });
            const auto& option = sleeve.options[static_cast<std::size_t>(way)];
            ++packers[option.kind];
            ++mouths[{sleeve.run, option.patch->rigging.from}];
            ways.push_back(way);
        }
        return ways;
    }
    /// A good day early cuts off most of the rest: the best of the ways to begin with, one sleeve's way after the
    /// other changed as long as the day gets cheaper.
    void improve() {
        std::vector<int> ways;
        for (const auto& first : first_ways()) {
            const double before = best_->cost;
            settle(first);
            if (best_->cost < before) ways = first;
        }
        if (best_->cost == never) ways = hasten();
        climb(std::move(ways));
    }
    /// One sleeve's way after the other changed for one that is better, until none is.
    template <class Better>
    void change_one_by_one(std::vector<int> ways, Better better) const {
        for (bool again = !ways.empty(); again;) {
            again = false;
            for (std::size_t i = 0; i < ways.size(); ++i) {
                for (const int way : ways_[i]) {
                    auto other = ways;
                    other[i] = way;
                    if (way == ways[i] || !better(other)) continue;
                    ways = std::move(other);
                    again = true;
                }
            }
        }
    }
    void climb(std::vector<int> ways) {
        change_one_by_one(std::move(ways), [&](const std::vector<int>& other) {
            const double before = best_->cost;
            settle(other);
            return best_->cost < before;
        });
    }
    /// No day to begin with holds: the one that is back first is made earlier until the day holds. Empty: it never
    /// does.
    std::vector<int> hasten() {
        std::vector<int> earliest;
        Minute finish = schedule::no_latest;
        const auto earlier = [&](const std::vector<int>& ways) {
            if (best_->cost < never || budget_ <= 0) return false;
            const Minute back = back_with(ways, finish);
            if (back >= finish) return false;
            finish = back;
            earliest = ways;
            settle(ways);
            return true;
        };
        for (const auto& first : first_ways()) earlier(first);
        change_one_by_one(earliest, earlier);
        return best_->cost < never ? earliest : std::vector<int>{};
    }
    /// When the crew is back with these ways, if that is before `sooner`; else no earlier than `sooner`.
    Minute back_with(const std::vector<int>& ways, Minute sooner) {
        const auto work = work_of(chosen_of(ways));
        const auto day =
            schedule::earliest_finish(work, nodes_a_look, sooner == schedule::no_latest ? sooner : sooner - 1);
        take(day.visited);
        return day.verdict.hindrance == schedule::Hindrance::none ? day.finish : schedule::no_latest;
    }
    /// Empty: one of them has no such way.
    std::vector<int> heated(const std::vector<int>& ways, bool same_resin) const {
        std::vector<int> list;
        for (std::size_t i = 0; i < ways.size(); ++i) {
            const auto& options = day_.sleeves[i]->options;
            const auto& like = options[static_cast<std::size_t>(ways[i])];
            const auto found = std::find_if(options.begin(), options.end(), [&](const SleeveOption& option) {
                return option.heater == heating_.of(i) && option.kind == like.kind &&
                       option.patch->rigging.from == like.patch->rigging.from &&
                       (option.patch->resin == like.patch->resin || !(same_resin || option.heater < 0));
            });
            if (found == options.end()) return {};
            list.push_back(static_cast<int>(found - options.begin()));
        }
        return list;
    }
    Chosen chosen_of(const std::vector<int>& ways) const {
        Chosen chosen;
        for (std::size_t i = 0; i < ways.size(); ++i) {
            chosen.options.push_back(ways[i]);
            chosen.patches.push_back(day_.sleeves[i]->options[static_cast<std::size_t>(ways[i])].patch);
        }
        return chosen;
    }
    schedule::DayWork work_of(const Chosen& chosen) const {
        auto list = with_patches(day_, chosen.patches);
        list.extra_persons = extra_persons_;
        list.heaters = heating_.heater.units;
        return crew_day(context_, list);
    }
    void settle(const std::vector<int>& ways) {
        double cost = 0.0;
        for (std::size_t i = 0; i < ways.size(); ++i)
            cost += day_.sleeves[i]->options[static_cast<std::size_t>(ways[i])].cost;
        settle(chosen_of(ways), cost);
    }

    double price(schedule::Minute finish, const schedule::DayWork& work) const {
        if (finish > work.finish + work.overtime) return never;
        const bool overnight =
            std::any_of(day_.sleeves.begin(), day_.sleeves.end(), [](const Sleeve* s) { return s->overnight; });
        return cost_.day(finish - work.start, std::max(0, finish - work.finish), extra_persons_, overnight) +
               cost_.heaters(heating_.heater);
    }
    /// `time`: what the day's length costs at least.
    void choose(Chosen& chosen, double cost, double time) {
        const auto i = chosen.patches.size();
        if (i == day_.sleeves.size()) return settle(chosen, cost);
        if (i > 0) {
            const auto any = with_any(context_, day_, chosen.patches, extra_persons_, &heating_);
            const auto least = schedule::earliest_finish(any, nodes_for_some, any.finish + any.overtime);
            take(least.visited);
            time = std::max(time, price(least.bound, any));
            if (cost + rest_[i] + time >= best_->cost) return;
        }
        for (const int way : ways_[i]) {
            if (budget_ <= 0) return;
            const auto& option = day_.sleeves[i]->options[static_cast<std::size_t>(way)];
            if (cost + option.cost + rest_[i + 1] + time >= best_->cost) break;
            chosen.options.push_back(way);
            chosen.patches.push_back(option.patch);
            choose(chosen, cost + option.cost, time);
            chosen.options.pop_back();
            chosen.patches.pop_back();
        }
    }
    /// The latest finish that is cheaper than the best so far; before the start where none is.
    Minute latest_worth(double cost, const schedule::DayWork& work) const {
        Minute worth = work.start - 1, not_worth = work.finish + work.overtime + 1;
        while (not_worth - worth > 1) {
            const Minute middle = worth + (not_worth - worth) / 2;
            (cost + price(middle, work) < best_->cost ? worth : not_worth) = middle;
        }
        return worth;
    }
    void settle(const Chosen& chosen, double cost) {
        const auto work = work_of(chosen);
        const Minute latest = latest_worth(cost, work);
        if (latest < work.start) return;
        const auto day = schedule::earliest_finish(work, nodes_a_look, latest);
        take(day.visited);
        best_->complete = best_->complete && day.proven;
        if (day.verdict.hindrance != schedule::Hindrance::none || day.finish > latest) return;
        const double total = cost + price(day.finish, work);
        if (total >= best_->cost) return;
        best_->cost = total;
        best_->options = chosen.options;
        best_->finish = day.finish;
        best_->extra_persons = extra_persons_;
        best_->heater = heating_.heater;
    }
    void take(std::int64_t nodes) { best_->complete = (budget_ -= look + nodes) > 0 && best_->complete; }
    const PlanContext& context_;
    const JobCost& cost_;
    const DayTask& day_;
    int extra_persons_;
    const DayHeating& heating_;
    std::vector<double> rest_;  ///< cheapest ways of the sleeves from there on
    std::vector<std::vector<int>> ways_;
    DayChoice* best_ = nullptr;
    std::int64_t& budget_;
};

}  // namespace

DayBook::Key DayBook::key_of(const DayTask& day) {
    Key key;
    for (const Sleeve* sleeve : day.sleeves) key.push_back(sleeve->id);
    key.push_back(-1);
    for (const Sleeve* sleeve : day.lying) key.push_back(sleeve->id);
    key.push_back(-1);
    key.insert(key.end(), day.prepared.begin(), day.prepared.end());
    return key;
}

Minute DayBook::earliest(const DayTask& day, int helpers, const DayHeating* heating, std::int64_t nodes) {
    const auto work = with_any(context_, day, {}, helpers, heating);
    const auto finish = schedule::earliest_finish(work, nodes, work.finish + work.overtime);
    spent_ += look + finish.visited;
    return finish.bound;
}

double DayBook::bound(const DayTask& day) { return bound(day, nodes_for_any); }

double DayBook::bound(const DayTask& day, std::int64_t nodes) {
    double sleeves = 0.0;
    for (const Sleeve* sleeve : day.sleeves) sleeves += sleeve->options.front().cost;
    const auto& site = context_.job.site;
    double least = never;
    const DayHeating none;
    for (const DayHeating* heating : heatings_to_bound(day, none, may_heat(day))) {
        for (int helpers = 0; helpers <= max_helpers(context_.yard); ++helpers) {
            const Minute finish = earliest(day, helpers, heating, nodes);
            const Minute over = std::max(0, finish - site.finish.minutes);
            if (over > minutes_down(context_.yard.limits.overtime)) continue;
            least = std::min(least, cost_.day(finish - site.start.minutes, over, helpers, false) +
                                        (heating == nullptr ? cost_.cheapest_heater() : 0.0));
        }
    }
    return sleeves + least;
}

/// A day that is known to be too full with fewer sleeves is so with more.
bool DayBook::part_is_impossible(const DayTask& day) const {
    for (std::size_t i = 0; i < day.sleeves.size(); ++i) {
        DayTask part = day;
        part.sleeves.erase(part.sleeves.begin() + static_cast<std::ptrdiff_t>(i));
        std::erase_if(part.prepared, [&](int run) {
            return std::none_of(part.sleeves.begin(), part.sleeves.end(),
                                [&](const Sleeve* sleeve) { return sleeve->run == run; });
        });
        const auto known = days_.find(key_of(part));
        if (known != days_.end() && known->second.complete && known->second.cost == never) return true;
    }
    return false;
}

const DayChoice& DayBook::choice(const DayTask& day) {
    auto key = key_of(day);
    const auto known = days_.find(key);
    if (known != days_.end()) return known->second;
    if (part_is_impossible(day))
        return days_.emplace(std::move(key), DayChoice{never, {}, 0, {}, 0, true}).first->second;
    return days_.emplace(std::move(key), search(day)).first->second;
}

/// Better with a heater? Every set of sleeves that it may get round to, in the ways found best without it and in those
/// to begin with; the best of them made better sleeve by sleeve. One that is a little dearer at first may end cheaper.
void DayBook::heat(const DayTask& day, DayChoice& best) {
    constexpr double a_little_dearer = 1.02;
    const DayHeating none;
    std::int64_t budget = nodes_a_day;
    const auto sets = ways_to_heat(context_, day);
    DayChoice warm = best;
    warm.cost *= a_little_dearer;
    const DayHeating* taken = nullptr;
    for (int helpers = 0; helpers <= max_helpers(context_.yard); ++helpers) {
        const Search plain{context_, cost_, day, helpers, none, budget};
        // Nothing is gained where not even a heater for each sleeve would do.
        if (!plain.worth(earliest(day, helpers, nullptr, nodes_for_any), best)) continue;
        auto bases = plain.first_ways();
        if (!best.options.empty()) bases.insert(best.options);
        for (const DayHeating& heating : sets) {
            Search search{context_, cost_, day, helpers, heating, budget};
            if (search.least(earliest(day, helpers, &heating, nodes_for_heating)) >= std::min(best.cost, warm.cost))
                continue;
            const double before = warm.cost;
            for (const auto& ways : bases) search.heat(ways, warm);
            if (warm.cost < before) taken = &heating;
        }
    }
    if (taken != nullptr) Search{context_, cost_, day, warm.extra_persons, *taken, budget}.polish(warm);
    spent_ += nodes_a_day - budget;
    warm.complete = best.complete;
    if (taken != nullptr && warm.cost < best.cost) best = std::move(warm);
}

/// A sleeve alone on its day always: what only a heater makes possible is not left out.
bool DayBook::may_heat(const DayTask& day) const { return (heaters_ || day.sleeves.size() == 1) && can_be_heated(day); }

DayChoice DayBook::heated(const DayTask& day) {
    DayChoice best = choice(day);
    if (can_be_heated(day)) heat(day, best);
    return best;
}

DayChoice DayBook::search(const DayTask& day) {
    DayChoice best;
    best.cost = never;
    const DayHeating none;
    for (int helpers = 0; helpers <= max_helpers(context_.yard); ++helpers) {
        std::int64_t budget = nodes_a_day;
        Search{context_, cost_, day, helpers, none, budget}.run(earliest(day, helpers, &none, nodes_for_any), best);
        spent_ += nodes_a_day - budget;
    }
    if (may_heat(day)) heat(day, best);
    return best;
}

}  // namespace patchwright::plan
