#pragma once
#include <algorithm>
#include <cstdint>
#include <optional>
#include <random>

#include "patchwright/layout/layout.hpp"

/// Random runs for the tests: short, crowded and awkward on purpose.
namespace layout_test {

using namespace patchwright::layout;

/// A price that a test can compute without the library.
struct Tariff {
    enum class Kind { linear, steps, by_place, ragged };
    Kind kind = Kind::linear;
    std::vector<Cost> fixed, metre;  ///< per carrier
    std::uint32_t seed = 0;

    std::optional<Cost> operator()(Centimetre start, Centimetre end, int carrier, int first, int last) const {
        const auto c = static_cast<std::size_t>(carrier);
        const Cost length = end - start;
        const Cost targets = last - first + 1;
        switch (kind) {
            // Rounded to the cent, as a real price is, so that splitting a length another way moves the sum.
            case Kind::linear:
                return fixed[c] + (metre[c] * length + 50) / 100;
            // Rises with length and with what it covers, has no design beyond some length.
            case Kind::steps:
                if (length > 40 + static_cast<Cost>(c) * 10) return std::nullopt;
                return fixed[c] + metre[c] * ((length + 9) / 10) / 10 + 37 * targets;
            // The further from the access the dearer; a sleeve within another is never dearer.
            case Kind::by_place:
                return fixed[c] + metre[c] * length / 100 + end / 7;
            // Neither rises nor falls with length.
            case Kind::ragged: {
                const auto h =
                    static_cast<std::uint32_t>(length) * 2654435761U ^ seed ^ static_cast<std::uint32_t>(c) * 97U;
                if (h % 23 == 0) return std::nullopt;
                return fixed[c] + metre[c] * length / 100 + static_cast<Cost>(h % 400);
            }
        }
        return std::nullopt;
    }
};

struct Case {
    Problem problem;
    Tariff tariff;
};

class Dice {
public:
    explicit Dice(std::uint32_t seed) : engine_{seed} {}
    /// The standard's engine gives the same numbers everywhere, its distributions do not.
    int roll(int from, int to) {
        return from + static_cast<int>(engine_() % static_cast<std::uint32_t>(to - from + 1));
    }
    bool chance(int percent) { return roll(1, 100) <= percent; }

private:
    std::mt19937 engine_;
};

inline Carrier random_carrier(Dice& dice, const Problem& problem, const std::vector<Span>& bends) {
    Carrier carrier;
    carrier.length_min = dice.chance(50) ? dice.roll(1, 10) : dice.roll(10, 34);
    carrier.length_max = carrier.length_min + dice.roll(0, 34);
    carrier.tail = dice.chance(50) ? 0 : dice.roll(1, 6);
    carrier.restraint_at_mouths = dice.chance(30);
    const Centimetre run = problem.run_length;
    if (dice.chance(70)) {
        carrier.reach = {{0, run}};
    } else {
        carrier.reach = {{0, dice.roll(run / 2, run)}, {dice.roll(run / 3, run), run}};
    }
    if (dice.chance(60)) carrier.may_not_cross = bends;
    return carrier;
}

inline void add_connections(Dice& dice, Problem& problem) {
    const int count = dice.roll(0, 2);
    for (int i = 0; i < count; ++i) {
        const Centimetre at = dice.roll(5, problem.run_length - 5);
        Connection connection{{at - 2, at + 2}, std::nullopt};
        if (dice.chance(60)) connection.reopening = dice.roll(0, 900);
        problem.connections.push_back(connection);
        problem.end_keep_outs.push_back({at - dice.roll(2, 4), at + dice.roll(2, 4)});
    }
    if (problem.connections.empty() || !dice.chance(50)) return;
    const auto& piece_at = problem.connections.front().opening;
    if (dice.chance(60)) problem.targets.push_back({piece_at.from, piece_at.to, 0, true});
    Carrier carrier;
    carrier.length_min = dice.roll(5, 20);
    carrier.length_max = carrier.length_min + dice.roll(0, 16);
    carrier.reach = {{-10, problem.run_length + 10}};
    carrier.anchors = {(piece_at.from + piece_at.to) / 2};
    problem.carriers.push_back(carrier);
}

/// `targets` at most; the run short enough to look at every sleeve.
inline Case random_case(std::uint32_t seed, int max_targets, Centimetre longest_run) {
    Dice dice{seed};
    Case made;
    Problem& problem = made.problem;
    problem.run_length = dice.roll(longest_run / 2, longest_run);
    problem.overlap = dice.roll(0, 7);
    problem.tolerance = dice.roll(0, 2);
    problem.gap = dice.roll(0, 10);
    problem.lap = dice.roll(0, 8);
    const int count = dice.roll(1, max_targets);
    for (int i = 0; i < count; ++i) {
        const Centimetre at = dice.chance(6) ? 0 : dice.roll(0, problem.run_length - 1);
        const Centimetre length = dice.chance(30) ? 0 : dice.roll(1, 12);
        problem.targets.push_back({at, std::min(problem.run_length, at + length), 0, false});
    }
    std::vector<Span> bends;
    for (int i = dice.roll(0, 2); i > 0; --i) {
        const Centimetre at = dice.roll(0, problem.run_length);
        bends.push_back({at, at + (dice.chance(20) ? 0 : dice.roll(2, 7))});
        problem.end_keep_outs.push_back(bends.back());
    }
    for (const auto& target : problem.targets) {
        const Centimetre clear = dice.roll(0, 3);
        problem.end_keep_outs.push_back({target.from - clear, target.to + clear});
    }
    for (int i = dice.roll(0, 5); i > 0; --i) {
        const Centimetre at = dice.roll(0, problem.run_length);
        problem.end_keep_outs.push_back({at - dice.roll(0, 4), at + dice.roll(0, 4)});
    }
    for (int i = dice.roll(1, 3); i > 0; --i) problem.carriers.push_back(random_carrier(dice, problem, bends));
    if (dice.chance(40)) add_connections(dice, problem);
    std::stable_sort(problem.targets.begin(), problem.targets.end(),
                     [](const Target& a, const Target& b) { return a.from < b.from; });
    constexpr Tariff::Kind kinds[] = {Tariff::Kind::linear, Tariff::Kind::steps, Tariff::Kind::by_place,
                                      Tariff::Kind::ragged};
    made.tariff.kind = kinds[dice.roll(0, 3)];
    made.tariff.seed = seed;
    for (std::size_t i = 0; i < problem.carriers.size(); ++i) {
        made.tariff.fixed.push_back(dice.chance(20) ? 0 : dice.roll(0, 3000));
        made.tariff.metre.push_back(dice.roll(0, 4000));
    }
    return made;
}

/// What a caller may state for that price.
inline PriceMonotonicity monotonicity_of(const Tariff& tariff) {
    switch (tariff.kind) {
        case Tariff::Kind::linear:
        case Tariff::Kind::steps:
        case Tariff::Kind::by_place:
            return PriceMonotonicity::rising;
        case Tariff::Kind::ragged:
            break;
    }
    return PriceMonotonicity::none;
}

}  // namespace layout_test
