#pragma once
#include <span>
#include <string>
#include <utility>

#include "limits.hpp"

namespace patchwright::survey::detail {

/// One defect while it is being judged.
struct Case {
    const job::Run& run;
    const job::Defect& defect;
    const job::Limits& limits;
    UnitSystem units;
    Length bore;
    Assessment& out;

    void decide(Verdict verdict, std::string reason) {
        out.verdict = verdict;
        out.reasons.insert(out.reasons.begin(), std::move(reason));
    }
    void add(std::string reason) { out.reasons.push_back(std::move(reason)); }
    void prepare(std::string what) { out.preparations.push_back(std::move(what)); }
    std::string show(Length length) const { return detail::small_length(length, units); }
    /// Compares with the working kept; true when a patch holds.
    bool meets(Length figure, Length limit) { return detail::within(figure, limit, out.working); }
    bool meets_percent(double figure, double limit) {
        return detail::share_within(figure / 100.0, limit / 100.0, out.working);
    }
};

/// The fittings within a metre of the stretch; `run.fittings` stand in order, so a long run costs no more than a short.
std::span<const job::Fitting> fittings_near(const job::Run& run, Length from, Length to);
/// A junction whose opening meets the defect; `slack` allows for the survey counter.
const job::Fitting* junction_at(const job::Run& run, const job::Defect& defect, Length slack);

/// The verdict by the kind of defect alone, with its deciding reason.
void judge_kind(Case& c);

}  // namespace patchwright::survey::detail
