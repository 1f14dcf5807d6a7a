#pragma once
#include <map>
#include <tuple>
#include <vector>

#include "coverings.hpp"
#include "day_book.hpp"
#include "job_cost.hpp"
#include "picks.hpp"

namespace patchwright::plan {

/// Sleeves to set, in order of their runs.
using SleeveList = std::vector<const Sleeve*>;
std::vector<int> runs_of(const SleeveList& list);
/// The same in the order in which a large job takes them up: so many runs side by side, a sleeve of each in turn.
SleeveList side_by_side(const SleeveList& list, std::size_t runs_at_once);

/// Every group of defects that one sleeve may cover, with its ways: packers, mouths, resins.
class Sleeves {
public:
    Sleeves(PlanContext& context, const std::vector<RunPlan>& runs, Spaces& spaces, const JobCost& cost)
        : context_{context}, runs_{runs}, spaces_{spaces}, cost_{cost} {}

    /// The sleeve of that candidate's group. It has at least one way: the candidate as it was priced.
    const Sleeve& of(int run, const layout::Candidate& candidate);
    /// The same sleeve let down the next morning: in the cheapest way that is hard by then, whenever on the day before
    /// it is mixed. Null where there is none.
    const Sleeve* overnight(const Sleeve& sleeve);

private:
    using Targets = std::tuple<int, int, int>;  ///< run, first and last target
    /// The same, and its place where it does not stand apart.
    using Group = std::tuple<Targets, layout::Centimetre, layout::Centimetre>;
    bool stands_apart(int run, const layout::Candidate& candidate);
    std::vector<layout::Candidate> places(int run, const layout::Candidate& candidate);
    layout::Cost reopening(int run, const layout::Candidate& candidate) const;
    void add_ways(int run, const layout::Candidate& place, std::vector<SleeveOption>& options);
    int kind_of(const packer::Option& option);

    PlanContext& context_;
    const std::vector<RunPlan>& runs_;
    Spaces& spaces_;
    const JobCost& cost_;
    std::map<Group, Sleeve> sleeves_;
    std::map<Targets, bool> apart_;
    std::map<int, Sleeve> overnight_;  ///< by the id of the sleeve by day
    std::vector<std::string> kinds_;
};

}  // namespace patchwright::plan
