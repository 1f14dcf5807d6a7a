#include "patchwright/plan/builds.hpp"

#include <algorithm>
#include <limits>
#include <map>
#include <numeric>
#include <utility>

#include <fmt/format.h>

namespace patchwright::plan {
namespace {

/// From load to let-down, in minutes since the first day's midnight.
std::pair<int, int> in_use(const Plan& plan, std::size_t patch) {
    int from = std::numeric_limits<int>::max(), to = 0;
    for (std::size_t d = 0; d < plan.schedule.days.size(); ++d) {
        for (const auto& task : plan.schedule.days[d].tasks) {
            if (task.patch != static_cast<int>(patch) || task.what < schedule::What::load ||
                task.what > schedule::What::let_down)
                continue;
            from = std::min(from, static_cast<int>(d) * 1440 + task.start);
            to = std::max(to, static_cast<int>(d) * 1440 + task.finish);
        }
    }
    return {from, to};
}

/// Lengths as they are measured: what differs less than a tape shows is one length.
bool same_build(const Patch& a, const Patch& b) {
    const Length apart = a.build->bladder_cut - b.build->bladder_cut;
    return a.option.packer.id == b.option.packer.id && a.build->film == b.build->film && apart < 1.0 * unit::mm &&
           apart > -1.0 * unit::mm;
}

}  // namespace

int packers_at_once(const Plan& plan, const std::vector<std::size_t>& patches) {
    std::vector<std::pair<int, int>> spans;
    for (const auto i : patches) spans.push_back(in_use(plan, i));
    std::ptrdiff_t most = 1;
    for (const auto& [from, to] : spans) {
        most = std::max(most, std::count_if(spans.begin(), spans.end(), [start = from](const auto& span) {
                            return span.first <= start && start < span.second;
                        }));
    }
    return static_cast<int>(most);
}

std::vector<Build> builds_of_day(const Plan& plan, int day) {
    std::vector<std::size_t> order(plan.patches.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::erase_if(order, [&](std::size_t i) { return plan.schedule.patches[i].day != day || !plan.patches[i].build; });
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return plan.schedule.patches[a].mix < plan.schedule.patches[b].mix;
    });
    std::vector<Build> builds;
    for (const auto i : order) {
        const auto known = std::find_if(builds.begin(), builds.end(), [&](const Build& build) {
            return same_build(plan.patches[build.patches.front()], plan.patches[i]);
        });
        if (known == builds.end())
            builds.push_back({{i}});
        else
            known->patches.push_back(i);
    }
    std::map<int, int> taken;  // end fittings, by their place in the yard
    for (auto& build : builds) {
        build.count = packers_at_once(plan, build.patches);
        const int chassis = plan.patches[build.patches.front()].option.chassis;
        build.again = taken[chassis] + build.count > plan.yard->chassis[static_cast<std::size_t>(chassis)].count;
        if (!build.again) taken[chassis] += build.count;
    }
    return builds;
}

Duration build_time(const job::Yard& yard) {
    return yard.durations.build.likely + std::max(yard.durations.bench_test.likely, yard.limits.bench_hold);
}

std::vector<std::string> build_warnings(const Plan& plan) {
    std::vector<std::string> warnings;
    for (int day = 0; day < static_cast<int>(plan.schedule.days.size()); ++day) {
        for (const auto& build : builds_of_day(plan, day)) {
            if (!build.again) continue;
            const auto& first = plan.patches[build.patches.front()];
            const auto& chassis = plan.yard->chassis[static_cast<std::size_t>(first.option.chassis)];
            warnings.push_back(fmt::format(
                "{}: its packer is built on site, on end fittings {} that come out of the pipe before (the yard has "
                "{}): some {:.0f} min of work that the day's times do not hold.",
                first.id, chassis.id, chassis.count, build_time(*plan.yard).in(unit::minute)));
        }
    }
    return warnings;
}

}  // namespace patchwright::plan
