#pragma once
#include <optional>
#include <string>
#include <vector>

#include "patchwright/io/diagnostic.hpp"
#include "patchwright/sheet/calc.hpp"
#include "patchwright/sheet/model.hpp"
#include "patchwright/units/format.hpp"

namespace patchwright::job {
struct Job;
struct Yard;
}  // namespace patchwright::job
namespace patchwright::plan {
struct Plan;
}  // namespace patchwright::plan
namespace patchwright::whatif {
struct WhatIf;
}  // namespace patchwright::whatif

/// From a plan to sheets and to JSON. Chooses what to show and in which words; computes nothing.
namespace patchwright::sheet {

struct Recorded;

/// A day among other addresses: where the crew comes from and goes to.
struct OnTheWay {
    std::string from, to;  ///< "the yard", or the reference of a job
    std::string subject;   ///< in place of the day's number: "Tue 2026-04-14, crew 1, stop 2 of 3"
    bool first = true, last = true;
};

struct Context {
    const plan::Plan* plan = nullptr;
    UnitSystem units = UnitSystem::metric;
    bool drawings = true;                     ///< off for sheets that are only printed as text, which shows none
    const job::Job* former = nullptr;         ///< of the offer that this one replaces: its changes stand on the letter
    const Image* logo = nullptr;              ///< the firm's sign, for its letters
    const OnTheWay* on_the_way = nullptr;     ///< of a day sheet in a week of several jobs
    const whatif::WhatIf* morning = nullptr;  ///< what could still be changed, for the first day's sheet
    const Recorded* recorded = nullptr;       ///< what was done, for who asks why

    const job::Job& job() const;
    const job::Yard& yard() const;
};

/// One sheet for a day (from 0), all days one after the other when none is named; the first day's with the safety page.
std::vector<Sheet> day_sheets(const Context& context, std::optional<int> day);
/// The cautions that hold for every day of the job, to be signed once.
Sheet safety_sheet(const Context& context);
Sheet quote_sheet(const Context& context);   ///< the customer's: never our costs
Sheet inside_sheet(const Context& context);  ///< the estimator's
Sheet pick_list(const Context& context);
Sheet plan_sheet(const Context& context);
/// `what` empty: everything that can be asked. Throws InputError with near names for an unknown figure.
Sheet why_sheet(const Context& context, const std::string& what);
std::vector<std::string> askable(const Context& context);

/// Text with nothing but ASCII: letters without accents, signs by their usual stand-ins.
std::string ascii(const std::string& utf8);
/// {"error": message, "line": number}, on one line.
std::string error_json(const std::string& message, std::size_t line);
std::string findings_json(const std::vector<io::Diagnostic>& findings);

struct TextStyle {
    bool utf8 = true;
    bool color = false;
    std::size_t width = 80;
};
std::string text(const Sheet& sheet, const TextStyle& style);

/// `plan -f json` and the parts of it that the other commands show. Stable keys, see docs/plan-json.md.
std::string plan_json(const Context& context, bool compact);
std::string day_json(const Context& context, std::optional<int> day);
std::string quote_json(const Context& context, bool inside);
/// A line a job, without the line's end: what the office keeps of an offer. Shares as plain numbers; empty where no
/// offer is made. `error` is the last column: empty, or what is wrong with the job.
std::string quote_csv_header();
std::string quote_csv_row(const Context& context);
std::string quote_csv_error(const std::string& message);
std::string pick_json(const Context& context);
std::string pick_csv(const Context& context);
std::string why_json(const Context& context, const std::string& what);

}  // namespace patchwright::sheet
