#include "patchwright/record/as_built.hpp"

#include <algorithm>

#include "checks.hpp"

namespace patchwright::record {
namespace {

Patch patch_of(const plan::Plan& plan, std::size_t index, const job::Record& record) {
    Patch built;
    built.patch = index;
    const std::string& id = plan.patches[index].id;
    built.record = record.last_of(id);
    built.entries = static_cast<std::size_t>(std::count_if(record.patches.begin(), record.patches.end(),
                                                           [&](const job::PatchRecord& p) { return p.id == id; }));
    const auto day = static_cast<std::size_t>(std::max(plan.schedule.patches[index].day, 0));
    if (built.record != nullptr && built.record->date)
        built.date = built.record->date;
    else if (day < plan.dates.size())
        built.date = plan.dates[day];
    return built;
}

}  // namespace

AsBuilt as_built(const plan::Plan& plan, const job::Record& record) {
    AsBuilt all;
    add_day_checks(plan, record, all);
    for (std::size_t i = 0; i < plan.patches.size(); ++i) {
        Patch& built = all.patches.emplace_back(patch_of(plan, i, record));
        // A sleeve that does not lie in the pipe is held to nothing.
        if (built.record != nullptr && !built.in_pipe()) continue;
        add_patch_checks(plan, built);
        add_cure(plan, built);
    }
    for (auto test = record.tests.begin(); test != record.tests.end(); ++test) {
        const bool again = std::any_of(std::next(test), record.tests.end(), [&](const job::LeakRecord& later) {
            return later.run == test->run && later.method == test->method && later.between == test->between;
        });
        if (!again) all.tests.push_back(held_to_standard(*plan.job, *test));
    }
    return all;
}

}  // namespace patchwright::record
