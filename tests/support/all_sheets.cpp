#include "support/all_sheets.hpp"

#include <optional>
#include <vector>

#include "patchwright/job/job.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/sheet/drawing.hpp"
#include "patchwright/sheet/html.hpp"
#include "patchwright/sheet/page.hpp"
#include "patchwright/sheet/record.hpp"

namespace patchwright::test {
namespace {

std::vector<sheet::Drawing> all_drawings(const sheet::Context& context) {
    std::vector<sheet::Drawing> list{sheet::draw_bracket(context), sheet::draw_cutting(context)};
    for (int run = 0; run < static_cast<int>(context.job().runs.size()); ++run)
        list.push_back(sheet::draw_run(context, run));
    for (int patch = 0; patch < static_cast<int>(context.plan->patches.size()); ++patch) {
        list.push_back(sheet::draw_section(context, patch));
        list.push_back(sheet::draw_cure(context, patch));
    }
    for (int day = 0; day < static_cast<int>(context.plan->schedule.days.size()); ++day)
        list.push_back(sheet::draw_day(context, day));
    return list;
}

}  // namespace

std::size_t make_all_pages(const sheet::Context& context) {
    std::vector<sheet::Sheet> sheets = sheet::day_sheets(context, std::nullopt);
    for (auto&& page : {sheet::safety_sheet(context), sheet::quote_sheet(context), sheet::inside_sheet(context),
                        sheet::pick_list(context), sheet::plan_sheet(context), sheet::why_sheet(context, "")})
        sheets.push_back(page);
    std::size_t bytes = sheet::html(sheets, sheet::svg).size();
    for (const bool rich : {true, false})
        for (const auto& page : sheets) bytes += sheet::text(page, {rich, rich, 80}).size();
    for (const auto& drawing : all_drawings(context)) bytes += sheet::svg(drawing).size();
    return bytes + sheet::quote_csv_row(context).size() + sheet::pick_csv(context).size();
}

std::size_t make_all_sheets(const sheet::Context& context) {
    std::size_t bytes = make_all_pages(context) + sheet::day_json(context, std::nullopt).size() +
                        sheet::quote_json(context, false).size() + sheet::quote_json(context, true).size() +
                        sheet::pick_json(context).size() + sheet::record_starter(context).size();
    for (const auto& name : sheet::askable(context)) bytes += sheet::why_json(context, name).size();
    return bytes;
}

}  // namespace patchwright::test
