#pragma once
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/job/job.hpp"
#include "patchwright/job/yard.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/sheet/sheets.hpp"
#include "support/project_file.hpp"

namespace patchwright::test {

/// A job with its plan; everything in it is invented.
struct Planned {
    job::Job job;
    job::Yard yard;
    plan::Plan plan;
    UnitSystem units = UnitSystem::metric;
    /// The plan speaks of job and yard as they were changed since.
    void tell_plan() {
        plan.job = std::make_shared<job::Job>(job);
        plan.yard = std::make_shared<job::Yard>(yard);
    }
    sheet::Context context() const { return {&plan, units, false}; }
};

Planned planned(const std::string& text, UnitSystem units = UnitSystem::metric);
Planned planned(const std::string& text, const job::Yard& yard, UnitSystem units = UnitSystem::metric);
/// The demo job with some words of it replaced.
std::string demo_with(const std::string& from, const std::string& to);

/// A job of one run of 40 m, 100 mm clay, open at both ends, with these defects; `more` goes after them.
std::string job_with(const std::string& defects, const std::string& more = "");
/// That many fissures, 4 m from each other, as defects of it.
std::string fissures(int count);
/// Places of the patches of a day.
std::vector<std::size_t> patches_of(const Planned& planned, int day);

/// As text on lines so long that none breaks.
std::string printed(const std::vector<sheet::Sheet>& sheets);
/// The sheets of the days without the safety page.
std::vector<sheet::Sheet> days_alone(const sheet::Context& context);
/// What they say.
std::string days(const sheet::Context& context);

bool has(const std::string& text, std::string_view words);

}  // namespace patchwright::test
