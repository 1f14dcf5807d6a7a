#include <algorithm>
#include <tuple>

#include "assemble.hpp"
#include "obstacles.hpp"

namespace patchwright::layout {
namespace {

/// Targets left out so far, both lists sorted.
struct LeftOut {
    std::vector<int> alone;  ///< no candidate covers it
    std::vector<int> all;

    void add(int target, bool no_candidate) {
        all.insert(std::upper_bound(all.begin(), all.end(), target), target);
        if (no_candidate) alone.insert(std::upper_bound(alone.begin(), alone.end(), target), target);
    }
};

/// One pass over what is not left out yet.
class Pass {
public:
    Pass(const Problem& problem, const SoundWall& wall, const Pricer& price, const Options& options, bool exhaustive)
        : problem_{problem}, wall_{wall}, price_{price}, options_{options}, exhaustive_{exhaustive} {}

    /// False if more had to be left out, or if prices asked did not rise.
    bool run(LeftOut& left_out);
    bool not_rising() const { return not_rising_; }
    void record(Solution& solution);

private:
    void leave_out_some(const Needs& needs, Generator& generator, LeftOut& left_out);
    void keep_all(const Needs& needs, Generator& generator);

    const Problem& problem_;
    const SoundWall& wall_;
    const Pricer& price_;
    const Options& options_;
    bool exhaustive_;
    bool not_rising_ = false;
    Assembly assembly_;
    std::vector<Candidate> kept_;
};

int place_of(const Needs& needs, int essential) {
    const auto& need = needs.essential[static_cast<std::size_t>(essential)];
    return needs.listed[static_cast<std::size_t>(need.listed)];
}

bool Pass::run(LeftOut& left_out) {
    const Needs needs = make_needs(problem_, wall_, left_out.all);
    for (const int target : needs.without_ends) left_out.add(target, true);
    if (!needs.without_ends.empty()) return false;
    if (needs.essential.empty()) return true;
    Generator generator{problem_, wall_, needs, price_, exhaustive_};
    assembly_ = assemble(problem_, needs, generator, options_.k_best);
    not_rising_ = generator.not_rising();
    if (not_rising_) return false;
    if (!assembly_.unreachable.empty() || !assembly_.closed.empty()) {
        leave_out_some(needs, generator, left_out);
        return false;
    }
    if (options_.keep_candidates) keep_all(needs, generator);
    not_rising_ = generator.not_rising();
    return !not_rising_;
}

void Pass::leave_out_some(const Needs& needs, Generator& generator, LeftOut& left_out) {
    for (const int i : assembly_.unreachable) left_out.add(place_of(needs, i), true);
    // Each can be covered, but not all together: leave out as few as possible.
    for (const Part part : assembly_.closed) {
        const auto partial = search(problem_, needs, generator, part, {1, true, Detail::all});
        for (int i = part.begin; i < part.end; ++i) {
            const auto& need = needs.essential[static_cast<std::size_t>(i)];
            const auto& sleeves = partial.best.front().sleeves;
            const bool covered = std::any_of(sleeves.begin(), sleeves.end(), [&](const Candidate& sleeve) {
                return sleeve.start <= need.start && sleeve.end >= need.end;
            });
            if (!covered) left_out.add(place_of(needs, i), false);
        }
    }
}

void Pass::keep_all(const Needs& needs, Generator& generator) {
    std::vector<Placed> group;
    for (int first = 0; first < static_cast<int>(needs.essential.size()); ++first) {
        generator.group(first, Detail::all, group);
        for (const auto& placed : group) kept_.push_back(placed.candidate);
    }
}

bool by_place(const Candidate& a, const Candidate& b) {
    return std::tie(a.start, a.end, a.carrier) < std::tie(b.start, b.end, b.carrier);
}

void Pass::record(Solution& solution) {
    if (!options_.keep_candidates) {
        kept_ = assembly_.sleeves;
        for (const auto& detour : assembly_.detours)
            kept_.insert(kept_.end(), detour.sleeves.begin(), detour.sleeves.end());
        std::sort(kept_.begin(), kept_.end(), by_place);
        kept_.erase(std::unique(kept_.begin(), kept_.end()), kept_.end());
    }
    const auto add = [&](Layout& layout, const Candidate& sleeve) {
        const auto place = std::lower_bound(kept_.begin(), kept_.end(), sleeve, by_place);
        layout.chosen.push_back(static_cast<int>(place - kept_.begin()));
        layout.cost += sleeve.cost;
    };
    for (const auto& taken : assembly_.taken) {
        Layout layout;
        layout.chosen.reserve(assembly_.sleeves.size());
        auto next = taken.begin();
        for (int part = 0; part + 1 < static_cast<int>(assembly_.begins.size()); ++part) {
            if (next != taken.end() && assembly_.detours[static_cast<std::size_t>(*next)].part == part) {
                for (const auto& sleeve : assembly_.detours[static_cast<std::size_t>(*next++)].sleeves)
                    add(layout, sleeve);
                continue;
            }
            for (auto i = assembly_.begins[static_cast<std::size_t>(part)];
                 i < assembly_.begins[static_cast<std::size_t>(part) + 1]; ++i) {
                add(layout, assembly_.sleeves[i]);
            }
        }
        if (!layout.chosen.empty()) solution.best.push_back(std::move(layout));
    }
    solution.candidates = std::move(kept_);
    solution.bound = assembly_.bound;
    solution.proven_optimal = !solution.best.empty() && solution.best.front().cost <= solution.bound;
}

}  // namespace

Solution solve(const Problem& problem, const Pricer& price, const Options& options) {
    check(problem);
    const SoundWall wall{problem.run_length, problem.end_keep_outs};
    bool exhaustive = options.monotonicity == PriceMonotonicity::none;
    LeftOut left_out;
    Solution solution;
    for (;;) {
        Pass pass{problem, wall, price, options, exhaustive};
        if (pass.run(left_out)) {
            pass.record(solution);
            break;
        }
        if (pass.not_rising()) {
            exhaustive = true;
            left_out = {};
        }
    }
    solution.uncovered = left_out.all;
    solution.obstacles = find_obstacles(problem, price, left_out.alone, left_out.all);
    return solution;
}

}  // namespace patchwright::layout
