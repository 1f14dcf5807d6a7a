#include "day_search.hpp"

#include <algorithm>
#include <map>
#include <string_view>
#include <tuple>
#include <utility>

#include "work.hpp"

namespace patchwright::plan {
namespace {

using schedule::Minute;

// How long is searched, in nodes of the clock's search: one combination of ways; the day with some ways chosen.
constexpr std::int64_t nodes_a_look = 2000, nodes_for_some = 30;

}  // namespace

DaySearch::DaySearch(const PlanContext& context, const JobCost& cost, const DayTask& day, int extra_persons,
                     const DayHeating& heating, UsefulWays& useful, std::int64_t& budget)
    : context_{context}, cost_{cost}, day_{day}, extra_persons_{extra_persons}, heating_{heating}, budget_{budget} {
    for (std::size_t i = 0; i < day.sleeves.size(); ++i) ways_.push_back(useful.of(i, heating.of(i)));
    rest_.assign(day.sleeves.size() + 1, 0.0);
    for (std::size_t i = day.sleeves.size(); i-- > 0;)
        rest_[i] = rest_[i + 1] + (ways_[i].empty() ? never : option(i, ways_[i].front()).cost);
}

void DaySearch::run(Minute earliest, DayChoice& best) {
    best_ = &best;
    const double min_cost = least(earliest);
    if (min_cost >= best.cost) return;
    improve();
    Chosen chosen;
    choose(chosen, 0.0, min_cost - rest_.front());
}

std::set<std::vector<int>> DaySearch::first_ways() const {
    std::set<int> kinds{any_kind};
    for (std::size_t i = 0; i < ways_.size(); ++i)
        for (const int way : ways_[i]) kinds.insert(option(i, way).kind);
    std::set<std::vector<int>> list;
    for (const int kind : kinds)
        for (const bool nearer : {true, false})
            for (const bool quickest : {false, true}) list.insert(spread(kind, nearer, quickest));
    return list;
}

bool DaySearch::worth(Minute earliest, const DayChoice& best) const {
    double sleeves = 0.0;
    for (const Sleeve* sleeve : day_.sleeves) sleeves += sleeve->options.front().cost;
    return sleeves + price(earliest) + cost_.cheapest_heater() < best.cost;
}

void DaySearch::heat(const std::vector<int>& ways, DayChoice& best) {
    best_ = &best;
    for (const bool same_resin : {true, false})
        if (const auto with_heater = heated(ways, same_resin); !with_heater.empty()) settle(with_heater);
}

void DaySearch::polish(DayChoice& best) {
    best_ = &best;
    climb(best.options);
}

std::vector<int> DaySearch::spread(int kind, bool nearer, bool quickest) const {
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
            return std::tuple{other, turns, nearer ? rigging.mark : Length{}, quickest ? option.cure : 0, option.cost};
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

void DaySearch::improve() {
    std::vector<int> ways;
    for (const auto& first : first_ways()) {
        const double before = best_->cost;
        settle(first);
        if (best_->cost < before) ways = first;
    }
    if (best_->cost == never) ways = hasten();
    climb(std::move(ways));
}

template <class Better>
void DaySearch::change_one_by_one(std::vector<int> ways, Better better) const {
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

void DaySearch::climb(std::vector<int> ways) {
    change_one_by_one(std::move(ways), [&](const std::vector<int>& other) {
        const double before = best_->cost;
        settle(other);
        return best_->cost < before;
    });
}

std::vector<int> DaySearch::hasten() {
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

Minute DaySearch::back_with(const std::vector<int>& ways, Minute sooner) {
    const auto work = work_of(chosen_of(ways));
    const auto day =
        context_.days().earliest_finish(work, nodes_a_look, sooner == schedule::no_latest ? sooner : sooner - 1);
    take(day.visited);
    return day.verdict.hindrance == schedule::Hindrance::none ? day.finish : schedule::no_latest;
}

std::vector<int> DaySearch::heated(const std::vector<int>& ways, bool same_resin) const {
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

DaySearch::Chosen DaySearch::chosen_of(const std::vector<int>& ways) const {
    Chosen chosen;
    for (std::size_t i = 0; i < ways.size(); ++i) {
        chosen.options.push_back(ways[i]);
        chosen.patches.push_back(option(i, ways[i]).patch);
    }
    return chosen;
}

schedule::DayWork DaySearch::work_of(const Chosen& chosen) const {
    auto list = with_patches(day_, chosen.patches);
    list.extra_persons = extra_persons_;
    list.heaters = heating_.heater.units;
    return crew_day(context_, list);
}

void DaySearch::settle(const std::vector<int>& ways) {
    double cost = 0.0;
    for (std::size_t i = 0; i < ways.size(); ++i) cost += option(i, ways[i]).cost;
    settle(chosen_of(ways), cost);
}

const SleeveOption& DaySearch::option(std::size_t sleeve, int place) const {
    return day_.sleeves[sleeve]->options[static_cast<std::size_t>(place)];
}

Minute DaySearch::latest_allowed() const {
    return context_.job.site.finish.minutes + minutes_down(context_.yard.limits.overtime);
}

double DaySearch::price(Minute finish) const {
    if (finish > latest_allowed()) return never;
    const bool overnight =
        std::any_of(day_.sleeves.begin(), day_.sleeves.end(), [](const Sleeve* s) { return s->overnight; });
    const Minute over = std::max(0, finish - context_.job.site.finish.minutes);
    return cost_.day(finish - start(), over, extra_persons_, overnight) + cost_.heaters(heating_.heater);
}

void DaySearch::choose(Chosen& chosen, double cost, double time) {
    const auto i = chosen.patches.size();
    if (i == day_.sleeves.size()) return settle(chosen, cost);
    if (i > 0) {
        const auto any = with_any(context_, day_, chosen.patches, extra_persons_, &heating_);
        const auto least = context_.days().earliest_finish(any, nodes_for_some, latest_allowed());
        take(least.visited);
        time = std::max(time, price(least.bound));
        if (cost + rest_[i] + time >= best_->cost) return;
    }
    for (const int way : ways_[i]) {
        if (budget_ <= 0) return;
        const auto& taken = option(i, way);
        if (cost + taken.cost + rest_[i + 1] + time >= best_->cost) break;
        chosen.options.push_back(way);
        chosen.patches.push_back(taken.patch);
        choose(chosen, cost + taken.cost, time);
        chosen.options.pop_back();
        chosen.patches.pop_back();
    }
}

Minute DaySearch::latest_worth(double cost) const {
    Minute worth = start() - 1, not_worth = latest_allowed() + 1;
    while (not_worth - worth > 1) {
        const Minute middle = worth + (not_worth - worth) / 2;
        (cost + price(middle) < best_->cost ? worth : not_worth) = middle;
    }
    return worth;
}

void DaySearch::settle(const Chosen& chosen, double cost) {
    const Minute latest = latest_worth(cost);
    if (latest < start()) return;
    const auto day = context_.days().earliest_finish(work_of(chosen), nodes_a_look, latest);
    take(day.visited);
    best_->complete = best_->complete && day.proven;
    if (day.verdict.hindrance != schedule::Hindrance::none || day.finish > latest) return;
    const double total = cost + price(day.finish);
    if (total >= best_->cost) return;
    best_->cost = total;
    best_->options = chosen.options;
    best_->finish = day.finish;
    best_->extra_persons = extra_persons_;
    best_->heater = heating_.heater;
}

}  // namespace patchwright::plan
