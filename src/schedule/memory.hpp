#pragma once
#include <array>
#include <cstddef>
#include <cstdint>
#include <map>
#include <optional>
#include <unordered_map>
#include <utility>
#include <vector>

#include "model.hpp"

/// Crew-days by what a search can see of them: durations and who keeps whom out, not names or places in a list.
namespace patchwright::schedule {

using Row = std::vector<std::int32_t>;
struct RowHash {
    std::size_t operator()(const Row& row) const;
};

/// A crew's day with its patches, runs and kinds of packer numbered as they first come up in it.
class Likeness {
public:
    Likeness(const Model& model, const CrewDay& day, Minute latest);
    /// Equal rows: a search of the one finds the other's plan, but for the numbering.
    const Row& row() const { return row_; }
    /// Between the places in the problem and those in the day.
    std::vector<Step> inward(std::vector<Step> steps) const;
    std::vector<Step> outward(std::vector<Step> steps) const;
    std::vector<int> inward(std::vector<int> patches) const;
    std::vector<int> outward(std::vector<int> patches) const;

private:
    const std::vector<int>& list_of(Piece piece) const;

    Row row_;
    std::vector<int> mixes_, patches_, runs_, packers_;
};

class Memory::Store {
public:
    /// Notes of every mix and run of the model which known one it equals.
    void recognise(Model& model);

    /// The plan that a search with that budget would find, when one like it was made; uses the budget up alike.
    std::optional<CrewPlan> find(const Likeness& day, bool any, std::int64_t& budget) const;
    void keep(const Likeness& day, bool any, std::int64_t given, std::int64_t left, const CrewPlan& plan);

    /// Whole problems: `row` holds what else than the work itself their days follow from.
    std::optional<Outline> find(const Likeness& work, const Row& row) const;
    void keep(const Likeness& work, const Row& row, const Outline& outline);

private:
    struct Search {
        bool made = false;
        std::int64_t given = 0, used = 0;
        CrewPlan plan;  ///< its steps by places in the day
    };
    using Both = std::array<Search, 2>;  ///< for the best order, and for any that is in time

    int kind_of(Row row) { return kinds_.try_emplace(std::move(row), static_cast<int>(kinds_.size())).first->second; }

    std::map<Row, int> kinds_;
    std::unordered_map<Row, Both, RowHash> days_;
    std::unordered_map<Row, Outline, RowHash> outlines_;
};

}  // namespace patchwright::schedule
