#include "sleeves.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <set>
#include <tuple>

#include "work.hpp"

namespace patchwright::plan {
namespace {

/// A way that costs more and takes longer than another on the same packer from the same mouth is never of use, unless
/// the other needs a heater.
void drop_beaten(std::vector<SleeveOption>& options) {
    std::stable_sort(options.begin(), options.end());
    std::vector<SleeveOption> kept;
    for (const auto& option : options) {
        const bool beaten = std::any_of(kept.begin(), kept.end(), [&](const SleeveOption& other) {
            return other.kind == option.kind && other.cure <= option.cure && other.needs_no_more_than(option) &&
                   other.patch->rigging.from == option.patch->rigging.from;
        });
        if (!beaten) kept.push_back(option);
    }
    options = std::move(kept);
}

}  // namespace

bool SleeveOption::operator<(const SleeveOption& other) const {
    const auto rank = [](const SleeveOption& option) {
        const Patch& p = *option.patch;
        return std::tuple{option.cost, p.late_probability, p.option.packer.rigid_length, p.pressure.set};
    };
    return rank(*this) < rank(other);
}

/// Wherever it lies, no sleeve for other defects can come nearer than the gap. Else its place is what the layout made
/// of it and its neighbours together.
bool Sleeves::stands_apart(int run, const layout::Candidate& candidate) {
    const auto [known, fresh] = apart_.try_emplace({run, candidate.first_target, candidate.last_target}, false);
    if (!fresh) return known->second;
    const auto& planned = runs_[static_cast<std::size_t>(run)];
    auto from = candidate.start, to = candidate.end;
    for (const auto& c : planned.solution.candidates)
        if (c.first_target == candidate.first_target && c.last_target == candidate.last_target) {
            from = std::min(from, c.start);
            to = std::max(to, c.end);
        }
    known->second =
        std::none_of(planned.solution.candidates.begin(), planned.solution.candidates.end(), [&](const auto& c) {
            const bool other = c.last_target < candidate.first_target || candidate.last_target < c.first_target;
            return other && c.start < to + planned.problem.gap && from < c.end + planned.problem.gap;
        });
    return known->second;
}

/// A place on each packer, the candidate's own first: the layout's cheapest for the same defects where it stands apart,
/// or, where the layout dropped that packer as dearer, the candidate's own span if it is legal there.
std::vector<layout::Candidate> Sleeves::places(int run, const layout::Candidate& candidate) {
    const auto& planned = runs_[static_cast<std::size_t>(run)];
    std::vector<layout::Candidate> list{candidate};
    const bool free = stands_apart(run, candidate);
    for (const auto& other : planned.solution.candidates) {
        if (other.first_target != candidate.first_target || other.last_target != candidate.last_target) continue;
        if (!free && (other.start != candidate.start || other.end != candidate.end)) continue;
        const auto same = std::find_if(list.begin(), list.end(),
                                       [&](const layout::Candidate& c) { return c.carrier == other.carrier; });
        if (same == list.end())
            list.push_back(other);
        else if (same != list.begin() && other.cost < same->cost)
            *same = other;
    }
    const auto faults = [&](const layout::Candidate& c) { return layout::violations(planned.problem, {&c, 1}).size(); };
    const auto own_faults = faults(candidate);  // the defects that other sleeves cover
    for (int carrier = 0; carrier < static_cast<int>(planned.problem.carriers.size()); ++carrier) {
        const bool known =
            std::any_of(list.begin(), list.end(), [&](const layout::Candidate& c) { return c.carrier == carrier; });
        layout::Candidate other = candidate;
        other.carrier = carrier;
        if (!known && faults(other) <= own_faults) list.push_back(other);
    }
    return list;
}

int Sleeves::kind_of(const packer::Option& option) {
    const auto& kind = packer_kind(context_, option);
    const auto place = std::find(kinds_.begin(), kinds_.end(), kind);
    if (place != kinds_.end()) return static_cast<int>(place - kinds_.begin());
    kinds_.push_back(kind);
    return static_cast<int>(kinds_.size()) - 1;
}

/// To cut open again the connections that a straight sleeve covers.
layout::Cost Sleeves::reopening(int run, const layout::Candidate& c) const {
    const auto& planned = runs_[static_cast<std::size_t>(run)];
    const auto& rules = spaces_[static_cast<std::size_t>(run)]->rules;
    const auto& option =
        context_.packers[static_cast<std::size_t>(rules.carrier_option[static_cast<std::size_t>(c.carrier)])];
    if (option.packer.shape != job::PackerShape::straight) return 0;
    layout::Cost sum = 0;
    for (const auto& connection : planned.problem.connections)
        if (connection.opening.from < c.end && c.start < connection.opening.to) sum += connection.reopening.value_or(0);
    return sum;
}

void Sleeves::add_ways(int run, const layout::Candidate& place, std::vector<SleeveOption>& options) {
    auto& space = *spaces_[static_cast<std::size_t>(run)];
    const auto& planned = runs_[static_cast<std::size_t>(run)];
    for (const ResinChoice& choice : space.designer.choices()) {
        const auto price = price_at(context_, planned, space, place, choice);
        if (!price) continue;
        Pick pick{run, place, 0, choice};
        pick.candidate.cost = *price + reopening(run, place);
        const Patch* first = nullptr;
        for (pick.way = 0; pick.way < 2; ++pick.way) {
            const Patch& patch = placed(context_, planned, space, pick);
            if (first != nullptr && patch.rigging.from == first->rigging.from) break;
            first = &patch;
            options.push_back({&patch, pick, cost_.sleeve(patch), minutes_up(patch.cure.sheet.let_down),
                               kind_of(patch.option), packer_count(context_, patch.option), choice.heater});
        }
    }
}

const Sleeve& Sleeves::of(int run, const layout::Candidate& candidate) {
    const Targets targets{run, candidate.first_target, candidate.last_target};
    const Group group =
        stands_apart(run, candidate) ? Group{targets, 0, 0} : Group{targets, candidate.start, candidate.end};
    const auto known = sleeves_.find(group);
    if (known != sleeves_.end()) return known->second;
    Sleeve sleeve;
    sleeve.id = static_cast<int>(sleeves_.size());
    sleeve.run = run;
    auto& patches = spaces_[static_cast<std::size_t>(run)]->placed;
    std::set<const Patch*> kept;  // those of other sleeves
    for (const auto& [key, patch] : patches) kept.insert(&patch);
    for (const auto& place : places(run, candidate)) add_ways(run, place, sleeve.options);
    drop_beaten(sleeve.options);
    // Of some three hundred ways a few are kept; a patch takes 3 kB.
    for (const auto& option : sleeve.options) kept.insert(option.patch);
    std::erase_if(patches, [&](const auto& entry) { return kept.count(&entry.second) == 0; });
    return sleeves_.emplace(group, std::move(sleeve)).first->second;
}

const Sleeve* Sleeves::overnight(const Sleeve& sleeve) {
    const auto known = overnight_.find(sleeve.id);
    if (known != overnight_.end()) return &known->second;
    const auto& site = context_.job.site;
    const schedule::Minute night =
        24 * 60 - (site.finish.minutes - site.start.minutes) - minutes_up(context_.yard.limits.overtime);
    const auto way = std::find_if(sleeve.options.begin(), sleeve.options.end(), [&](const SleeveOption& option) {
        return option.heater < 0 && option.cure <= night;
    });
    if (way == sleeve.options.end()) return nullptr;
    Sleeve lying{-2 - sleeve.id, sleeve.run, true, {*way}};  // -1 parts the keys of days
    return &overnight_.emplace(sleeve.id, std::move(lying)).first->second;
}

std::vector<int> runs_of(const SleeveList& list) {
    std::vector<int> runs;
    for (const Sleeve* sleeve : list) {
        if (std::find(runs.begin(), runs.end(), sleeve->run) == runs.end()) runs.push_back(sleeve->run);
    }
    return runs;
}

SleeveList side_by_side(const SleeveList& list, std::size_t runs_at_once) {
    const auto runs = runs_of(list);
    SleeveList order;
    for (std::size_t first = 0; first < runs.size(); first += runs_at_once) {
        std::vector<SleeveList> block(std::min(runs_at_once, runs.size() - first));
        std::size_t longest = 0;
        for (std::size_t r = 0; r < block.size(); ++r) {
            std::copy_if(list.begin(), list.end(), std::back_inserter(block[r]),
                         [&](const Sleeve* sleeve) { return sleeve->run == runs[first + r]; });
            longest = std::max(longest, block[r].size());
        }
        for (std::size_t k = 0; k < longest; ++k)
            for (const auto& of_run : block)
                if (k < of_run.size()) order.push_back(of_run[k]);
    }
    return order;
}

}  // namespace patchwright::plan
