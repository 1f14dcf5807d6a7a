#pragma once
#include "patchwright/job/yard.hpp"
#include "patchwright/record/as_built.hpp"

/// How single things are held to their limits. Internal to the module.
namespace patchwright::record {

/// Collects the checks of one thing.
class Checks {
public:
    explicit Checks(std::vector<Check>& list) : list_{list} {}

    struct Limit {
        std::optional<double> least, most;
    };
    /// A figure against its limit.
    Check& figure(std::string_view what, Show show, std::optional<double> planned, std::optional<double> done,
                  Limit limit);
    template <Dim D>
    Check& figure(std::string_view what, Show show, std::optional<Quantity<D>> planned, std::optional<Quantity<D>> done,
                  std::optional<Quantity<D>> least, std::optional<Quantity<D>> most) {
        return figure(what, show, si(planned), si(done), Limit{si(least), si(most)});
    }
    /// What is no figure: kept or not, as the caller knows; not noted when `done` is empty.
    Check& words(std::string_view what, std::string planned, std::string done, bool kept);

private:
    template <Dim D>
    static std::optional<double> si(const std::optional<Quantity<D>>& q) {
        return q ? std::optional{q->si()} : std::nullopt;
    }
    std::vector<Check>& list_;
};

/// Everything of one sleeve but its cure.
void add_patch_checks(const plan::Plan& plan, Patch& built);
/// Its cure, followed again, and whether it was hard.
void add_cure(const plan::Plan& plan, Patch& built);
void add_day_checks(const plan::Plan& plan, const job::Record& record, AsBuilt& built);
Test held_to_standard(const job::Job& job, const job::LeakRecord& test);

}  // namespace patchwright::record
