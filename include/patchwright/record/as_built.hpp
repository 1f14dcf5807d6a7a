#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/job/record.hpp"
#include "patchwright/leaktest/leaktest.hpp"
#include "patchwright/plan/plan.hpp"

/// What was done, held beside what was planned. Method: docs/methods/record.md.
namespace patchwright::record {

enum class Verdict : std::uint8_t { kept, missed, not_noted };
std::string_view word(Verdict v);

/// What the figures of a check are.
enum class As : std::uint8_t {
    figure,  ///< by its `show`
    clock,   ///< times of day, s after midnight of the day of mixing
    chance,
};

/// One thing that was noted, with what was planned and what it is held to. Figures in SI, as in Operand.
struct Check {
    std::string_view what;  ///< "inflated"; stable, for other programs
    Show show = Show::ratio;
    As as = As::figure;
    std::optional<double> planned, done;
    std::optional<double> least, most;      ///< the limit; both: a range
    std::string planned_words, done_words;  ///< of what is no figure; beside a figure what more was noted ("10:26")
    std::string limit_words;                ///< where there is no figure to hold it to, or why the limit differs
    std::string limit_from;                 ///< where a limit that is not computed here stands: one sentence
    Working working;                        ///< of the limit, or of what was followed again
    Verdict verdict = Verdict::not_noted;
    double missed_by = 0.0;  ///< of a missed figure
};

/// The cure of a sleeve, followed again.
struct Cure {
    double conversion = 0.0;        ///< likely, of the coldest point, at let-down
    double soft_probability = 0.0;  ///< not hard at let-down
    Duration hard{};                ///< likely time from mixing until hard; infinite when it never gets there
    Temperature pipe;               ///< that it was followed at, or the last at the sleeve
    std::size_t notes = 0;          ///< temperatures that this rests on, besides those before mixing
    bool at_sleeve = false;         ///< a probe at the sleeve was noted
    /// Chance that a witness in that pipe is still soft when it was looked at; none where that was not noted, along a
    /// probe, and of a heated sleeve, whose witness is not heated.
    std::optional<double> witness_soft;
};

struct Patch {
    std::size_t patch = 0;                     ///< place in Plan::patches
    const job::PatchRecord* record = nullptr;  ///< its last entry; nullptr: none
    std::size_t entries = 0;                   ///< more than one: it was done again
    std::vector<Check> checks;
    std::optional<Cure> cure;
    std::string why_no_cure;   ///< one sentence; empty when there is one
    std::optional<Date> date;  ///< of mixing
    bool in_pipe() const { return record != nullptr && record->lies_in_pipe(); }
    std::size_t count(Verdict verdict) const;
    /// Nothing was missed that its quality hangs on: mixing late costs the crew's evening alone.
    bool good() const;
};

struct Test {
    const job::LeakRecord* record = nullptr;
    Length bore{}, length{};
    std::vector<Check> checks;
    std::string refused;  ///< outside the standard: why; then there are no checks
    Verdict verdict = Verdict::not_noted;
};

struct AsBuilt {
    std::vector<Patch> patches;  ///< as Plan::patches
    std::vector<Check> left;     ///< leaving the yard, by days
    std::vector<Check> days;     ///< being back in it, by days
    std::vector<Test> tests;     ///< the last of each run and method, in order of the record
    bool nothing_missed() const;
};

/// The plan comes with its tables (`Options::tables`). `record` must outlive the result.
[[nodiscard]] AsBuilt as_built(const plan::Plan& plan, const job::Record& record);

/// The limits that a card gives for what was measured, by its rule: between rows the safer one, of two tables the
/// shorter limit. What was not measured, or reads as planned (within half a kelvin), counts as planned.
struct SiteLimits {
    std::optional<Duration> pour_by, inflate_by, crease_by;  ///< none: warmer than the tables, "do not mix"
    std::optional<Duration> let_down;                        ///< none: colder than the table
    bool as_planned = true;                                  ///< all of them are the large figures of the card
};
/// How they were found, each on its own.
struct SiteWorkings {
    Working pour_by, inflate_by, crease_by, let_down;
};
SiteLimits site_limits(const plan::Patch& patch, std::optional<Temperature> pipe, std::optional<Temperature> resin,
                       std::optional<Temperature> air, SiteWorkings* workings = nullptr);

/// B to A of a mix may differ by so much from the data sheet's: common practice, no source; the data sheet wins.
inline constexpr double ratio_tolerance = 0.02;

}  // namespace patchwright::record
