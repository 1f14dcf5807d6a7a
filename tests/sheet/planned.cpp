#include "planned.hpp"

#include <fmt/format.h>

#include "patchwright/io/read.hpp"

using namespace patchwright::sheet;

namespace patchwright::test {

Planned planned(const std::string& text, const job::Yard& yard, UnitSystem units) {
    auto read = io::read_job(text, "invented.json");
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
Planned planned(const std::string& text, UnitSystem units) { return planned(text, io::builtin_yard(), units); }

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

std::string job_with(const std::string& defects, const std::string& more) {
    return fmt::format(R"({{"patchwright_job": 1, "reference": "Q-1", "title": "Invented", "date": "2026-05-09",
        "site": {{"start": "06:00", "finish": "20:00", "travel": "10 min", "air_temperature": "12 C"}},
        "runs": [{{"id": "A", "from": "MH1", "to": "MH2", "length": "40 m", "bore": "100 mm", "material": "clay",
        "condition": "partially deteriorated", "depth": "1.35 m", "ground_temperature": "10 C", "access": ["MH1", "MH2"],
        "defects": [{}]{}}}]}})",
                       defects, more);
}

std::string fissures(int count) {
    std::string defects;
    for (int i = 0; i < count; ++i)
        defects += fmt::format(R"({}{{"id": "A{}", "at": "{} m", "kind": "fissure", "size": "2 mm"}})",
                               i > 0 ? ", " : "", i + 1, 2 + 4 * i);
    return defects;
}

std::vector<std::size_t> patches_of(const Planned& p, int day) {
    std::vector<std::size_t> list;
    for (std::size_t i = 0; i < p.plan.patches.size(); ++i) {
        if (p.plan.schedule.patches[i].day == day) list.push_back(i);
    }
    return list;
}

}  // namespace patchwright::test
