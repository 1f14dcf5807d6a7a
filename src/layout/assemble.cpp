#include "assemble.hpp"

#include <algorithm>
#include <queue>
#include <tuple>

namespace patchwright::layout {
namespace {

constexpr Cost unlimited = Limit::none;

std::vector<Part> split(const Generator& generator, int count) {
    std::vector<Part> parts;
    for (int l = 0, begin = 0; l < count; ++l) {
        if (!generator.parts_after(l)) continue;
        parts.push_back({begin, l + 1});
        begin = l + 1;
    }
    return parts;
}

/// The k - 1 cheapest detours seen: no layout that costs more than the last of them is among the k best.
class Cheapest {
public:
    explicit Cheapest(int k_best) : most_{static_cast<std::size_t>(k_best - 1)} {}
    void add(Cost cost) {
        if (most_ == 0 || (costs_.size() == most_ && cost >= costs_.top())) return;
        costs_.push(cost);
        if (costs_.size() > most_) costs_.pop();
    }
    Cost dearest() const {
        if (most_ == 0) return 0;
        return costs_.size() < most_ ? unlimited : costs_.top();
    }

private:
    std::size_t most_;
    std::priority_queue<Cost> costs_;
};

class Assembler {
public:
    Assembler(const Problem& problem, const Needs& needs, Generator& generator, int k_best)
        : problem_{problem}, needs_{needs}, generator_{generator}, k_{std::max(1, k_best)} {
        ways_.push_back({});
    }

    Assembly run() {
        const auto parts = split(generator_, static_cast<int>(needs_.essential.size()));
        const auto likely = first_answers(parts);
        for (std::size_t i = 0; i < parts.size(); ++i) solve(parts[i], static_cast<int>(i), likely[i]);
        assembly_.begins.push_back(assembly_.sleeves.size());
        for (auto& way : ways_) assembly_.taken.push_back(std::move(way.taken));
        drop_unused();
        return std::move(assembly_);
    }

private:
    /// One of the best layouts of the parts so far, by what it costs more than the best.
    struct Way {
        Cost cost = 0;
        int patches = 0;
        std::int64_t lined = 0;
        std::vector<int> taken;
        auto key() const { return std::tie(cost, patches, lined); }
    };

    /// What a good answer of each part costs; a layout dearer than that and than the cheapest detours need not be
    /// sought.
    std::vector<Cost> first_answers(const std::vector<Part>& parts) {
        std::vector<Cost> costs;
        if (generator_.exhaustive()) return std::vector<Cost>(parts.size(), unlimited);
        Cheapest detours{k_};
        costs.reserve(parts.size());
        for (const auto& part : parts) {
            const auto found = search(problem_, needs_, generator_, part, {k_, false, Detail::few});
            costs.push_back(found.best.empty() ? unlimited : found.best.front().cost);
            for (std::size_t i = 1; i < found.best.size(); ++i)
                detours.add(found.best[i].cost - found.best.front().cost);
        }
        for (auto& cost : costs) cost = std::min(unlimited, cost + detours.dearest());
        return costs;
    }

    void solve(Part part, int index, Cost most) {
        if (most < unlimited && generator_.make_limit(part.begin, part.end, limit_)) {
            limit_.most = most;
            generator_.keep_to(&limit_);
        }
        auto found = search(problem_, needs_, generator_, part, {k_, false, Detail::all});
        generator_.keep_to(nullptr);
        assembly_.begins.push_back(assembly_.sleeves.size());
        if (found.best.empty()) {
            note_gap(part, found);
            return;
        }
        const auto& best = found.best.front();
        assembly_.sleeves.insert(assembly_.sleeves.end(), best.sleeves.begin(), best.sleeves.end());
        assembly_.cost += best.cost;
        assembly_.bound += found.bound;
        combine(found, index);
    }

    void note_gap(Part part, const Found& found) {
        bool all = true;
        for (int i = part.begin; i < part.end; ++i) {
            if (found.reachable[static_cast<std::size_t>(i - part.begin)]) continue;
            assembly_.unreachable.push_back(i);
            all = false;
        }
        if (all) assembly_.closed.push_back(part);
    }

    /// The k best of what there is so far, each with or without one detour in this part.
    void combine(Found& found, int index) {
        std::vector<Way> ways = ways_;
        const auto& best = found.best.front();
        for (std::size_t i = 1; i < found.best.size(); ++i) {
            auto& chain = found.best[i];
            const Detour detour{
                chain.cost - best.cost, chain.patches - best.patches, chain.lined - best.lined, index, {}};
            const int place = static_cast<int>(assembly_.detours.size());
            bool used = false;
            for (const auto& way : ways_) {
                Way longer{way.cost + detour.cost, way.patches + detour.patches, way.lined + detour.lined, way.taken};
                longer.taken.push_back(place);
                const auto at = std::upper_bound(ways.begin(), ways.end(), longer,
                                                 [](const Way& a, const Way& b) { return a.key() < b.key(); });
                if (at - ways.begin() >= k_) break;
                ways.insert(at, std::move(longer));
                if (ways.size() > static_cast<std::size_t>(k_)) ways.pop_back();
                used = true;
            }
            if (!used) break;
            assembly_.detours.push_back(detour);
            assembly_.detours.back().sleeves = std::move(chain.sleeves);
        }
        ways_ = std::move(ways);
    }

    void drop_unused() {
        std::vector<int> place(assembly_.detours.size(), -1);
        for (const auto& taken : assembly_.taken) {
            for (const int d : taken) place[static_cast<std::size_t>(d)] = 0;
        }
        int kept = 0;
        for (std::size_t d = 0; d < place.size(); ++d) {
            if (place[d] < 0) continue;
            place[d] = kept;
            if (d != static_cast<std::size_t>(kept)) {
                assembly_.detours[static_cast<std::size_t>(kept)] = std::move(assembly_.detours[d]);
            }
            ++kept;
        }
        assembly_.detours.resize(static_cast<std::size_t>(kept));
        for (auto& taken : assembly_.taken) {
            for (int& d : taken) d = place[static_cast<std::size_t>(d)];
        }
    }

    const Problem& problem_;
    const Needs& needs_;
    Generator& generator_;
    int k_;
    Limit limit_;
    std::vector<Way> ways_;
    Assembly assembly_;
};

}  // namespace

Assembly assemble(const Problem& problem, const Needs& needs, Generator& generator, int k_best) {
    return Assembler{problem, needs, generator, k_best}.run();
}

}  // namespace patchwright::layout
