#pragma once
#include <optional>
#include <string>
#include <vector>

#include "patchwright/job/job.hpp"
#include "patchwright/job/yard.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/sheet/model.hpp"

/// From a plan to sheets and to JSON. Chooses what to show and in which words; computes nothing.
namespace patchwright::sheet {

struct Context {
    const job::Job* job = nullptr;
    const job::Yard* yard = nullptr;
    const plan::Plan* plan = nullptr;
    UnitSystem units = UnitSystem::metric;
};

/// One sheet for a day (from 0), all days one after the other when none is named.
std::vector<Sheet> day_sheets(const Context& context, std::optional<int> day);
Sheet quote_sheet(const Context& context);   ///< the customer's: never our costs
Sheet inside_sheet(const Context& context);  ///< the estimator's
Sheet pick_list(const Context& context);
Sheet plan_sheet(const Context& context);
/// `what` empty: everything that can be asked. Throws InputError with near names for an unknown figure.
Sheet why_sheet(const Context& context, const std::string& what);
std::vector<std::string> askable(const Context& context);

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
std::string pick_json(const Context& context);
std::string pick_csv(const Context& context);
std::string why_json(const Context& context, const std::string& what);
/// {"calc": name, "inputs": {...}, "results": {...}, "steps": [...]}
struct CalcValue {
    std::string key;
    Show show = Show::ratio;
    double value = 0;
    std::string text;
    Origin origin = Origin::given;
};
struct CalcResult {
    std::string name;
    std::vector<CalcValue> inputs, results;
    Working working;
    std::vector<std::string> remarks;
};
std::string calc_json(const CalcResult& result);
std::string calc_text(const CalcResult& result, UnitSystem units);

}  // namespace patchwright::sheet
