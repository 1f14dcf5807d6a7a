#include "planned.hpp"

#include "patchwright/job/read.hpp"

using namespace patchwright::sheet;

namespace patchwright::test {

Planned planned(const std::string& text, const job::Yard& yard, UnitSystem units) {
    auto read = job::read_job(text, "invented.json");
    for (const auto& d : read.diagnostics) UNSCOPED_INFO(d.message);
    REQUIRE(read.value);
    Planned p;
    p.job = std::move(*read.value);
    p.job.units = units;
    p.yard = yard;
    p.units = units;
    plan::Options options;
    options.trials = 200;
    p.plan = plan::make_plan(p.job, p.yard, options);
    return p;
}
Planned planned(const std::string& text, UnitSystem units) { return planned(text, job::builtin_yard(), units); }

std::string demo_with(const std::string& from, const std::string& to) {
    auto text = project_file("examples/demo.json");
    const auto at = text.find(from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}

std::string printed(const std::vector<Sheet>& sheets) {
    std::string all;
    for (const auto& sheet : sheets) all += text(sheet, {true, false, 4000});
    return all;
}

std::vector<Sheet> days_alone(const Context& context) {
    auto sheets = day_sheets(context, std::nullopt);
    std::erase_if(sheets, [](const Sheet& sheet) { return sheet.kind == "Safety page"; });
    return sheets;
}
std::string days(const Context& context) { return printed(days_alone(context)); }

bool has(const std::string& text, std::string_view words) { return text.find(words) != std::string::npos; }

}  // namespace patchwright::test
