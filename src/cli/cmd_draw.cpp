// `patchwright draw`: the run to scale and the other drawings.
#include <memory>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::cli {
namespace {

const Parts draw_parts{Part::drawings};

struct DrawOptions {
    Common common;
    std::string what = "run", of;
};

template <class List, class Name>
int place_of(const List& list, Name name, const std::string& asked, const char* kind) {
    std::string known;
    for (std::size_t i = 0; i < list.size(); ++i) {
        if (asked == name(list[i])) return static_cast<int>(i);
        known += (known.empty() ? "" : ", ") + std::string{name(list[i])};
    }
    throw InputError(fmt::format("--of {}: no such {}; there is {}", asked, kind, known.empty() ? "none" : known));
}

std::vector<sheet::Drawing> drawings(const DrawOptions& options, const sheet::Context& c) {
    std::vector<sheet::Drawing> list;
    if (options.what == "run") {
        for (std::size_t r = 0; r < c.job().runs.size(); ++r) {
            if (options.of.empty() || c.job().runs[r].id == options.of)
                list.push_back(sheet::draw_run(c, static_cast<int>(r)));
        }
        if (list.empty())
            place_of(
                c.job().runs, [](const auto& r) { return r.id; }, options.of, "run");
    } else if (options.what == "section" || options.what == "cure") {
        for (std::size_t p = 0; p < c.plan->patches.size(); ++p) {
            if (!options.of.empty() && c.plan->patches[p].id != options.of) continue;
            list.push_back(options.what == "cure" ? sheet::draw_cure(c, static_cast<int>(p))
                                                  : sheet::draw_section(c, static_cast<int>(p)));
        }
        if (list.empty())
            place_of(
                c.plan->patches, [](const auto& p) { return p.id; }, options.of, "patch");
    } else if (options.what == "day") {
        for (std::size_t d = 0; d < c.plan->schedule.days.size(); ++d) {
            if (options.of.empty() || options.of == std::to_string(d + 1))
                list.push_back(sheet::draw_day(c, static_cast<int>(d)));
        }
    } else if (options.what == "price") {
        list.push_back(sheet::draw_bracket(c));
    } else {
        list.push_back(sheet::draw_cutting(c));
    }
    if (list.empty()) throw InputError("there is nothing of that kind to draw in this plan");
    return list;
}

void run_draw(const DrawOptions& options, Outcome& outcome) {
    const auto form = chosen_form(options.common, draw_parts);
    const auto loaded = load(options.common);
    const auto plan = plan::make_plan(loaded.job, loaded.yard, usual_planning());
    const sheet::Context context{&plan, loaded.units};
    Result result{loaded.job.date, loaded.units};
    result.drawings = [&] { return drawings(options, context); };
    write_result(options.common, form, result);
    outcome.status = status_of(options.common, plan);
}

}  // namespace

void add_draw(CLI::App& command, Outcome& outcome) {
    auto options = std::make_shared<DrawOptions>();
    add_common(command, options->common, draw_parts);
    command.add_option("--what", options->what, "run|section|day|cure|price|felt")
        ->type_name("WHAT")
        ->check(CLI::IsMember({"run", "section", "day", "cure", "price", "felt"}));
    command.add_option("--of", options->of, "Only this run, patch or day")->type_name("ID");
    command.add_option("--dpi", options->common.dots_per_inch, "Dots per inch of a PNG")
        ->check(CLI::Range(30.0, 1200.0));
    command.footer(
        "Examples:\n  patchwright draw job.json -o run.svg\n  patchwright draw job.json --what cure --of A-P1 -o "
        "cure.png");
    command.callback([options, &outcome] { run_draw(*options, outcome); });
}

}  // namespace patchwright::cli
