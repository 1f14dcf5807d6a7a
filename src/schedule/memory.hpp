#pragma once
#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <unordered_map>
#include <vector>

#include "crew.hpp"
#include "few.hpp"
#include "model.hpp"

/// Crew-days by what a search can see of them: durations and who keeps whom out, not names or places in a list.
namespace patchwright::schedule {

using Row = std::vector<std::int32_t>;
using RowView = std::span<const std::int32_t>;
/// Rows are found by views of them, so that asking makes none.
struct RowHash {
    using is_transparent = void;
    std::size_t operator()(RowView row) const;
};
struct SameRow {
    using is_transparent = void;
    bool operator()(RowView a, RowView b) const { return std::ranges::equal(a, b); }
};

/// A crew's day with its patches, runs and kinds of packer numbered as they first come up in it. At most `crew::most`
/// patches.
class Likeness {
public:
    /// `day` must outlive it.
    Likeness(const Model& model, const CrewDay& day, Minute latest);
    /// Equal rows: a search of the one finds the other's plan, but for the numbering.
    RowView row() const { return row_; }
    /// Between the places in the problem and those in the day.
    std::vector<Step> inward(std::vector<Step> steps) const;
    std::vector<Step> outward(std::vector<Step> steps) const;
    std::vector<int> inward(std::vector<int> patches) const;
    std::vector<int> outward(std::vector<int> patches) const;

private:
    using Places = Few<int, crew::most>;
    std::span<const int> list_of(Piece piece) const;

    static constexpr std::size_t of_day = 3, of_patch = 7;
    Few<std::int32_t, of_day + (1 + of_patch) * crew::most> row_;
    std::span<const int> mixes_;
    Places patches_, runs_, packers_;
};

class Memory::Store {
public:
    /// Notes of every mix and run of the model which known one it equals.
    void recognise(Model& model);

    /// The plan that a search with that budget would find, when one like it was made; uses the budget up alike.
    std::optional<CrewPlan> find(const Likeness& day, bool any, std::int64_t& budget) const;
    void keep(const Likeness& day, bool any, std::int64_t given, std::int64_t left, const CrewPlan& plan);

    /// Whole problems: `row` holds what else than the work itself their days follow from.
    std::optional<Outline> find(const Likeness& work, RowView row) const;
    void keep(const Likeness& work, RowView row, const Outline& outline);

private:
    struct Search {
        bool made = false;
        std::int64_t given = 0, used = 0;
        CrewPlan plan;  ///< its steps by places in the day
    };
    using Both = std::array<Search, 2>;  ///< for the best order, and for any that is in time

    template <class Value>
    using ByRow = std::unordered_map<Row, Value, RowHash, SameRow>;

    int kind_of(RowView row);
    int kind_of_mix(const Model& model, const MixModel& mix);

    ByRow<int> kinds_;
    ByRow<Both> days_;
    ByRow<Outline> outlines_;
    Row row_;  ///< of the mix that is being looked at
};

}  // namespace patchwright::schedule
