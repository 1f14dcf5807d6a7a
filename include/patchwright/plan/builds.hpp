#pragma once
#include <cstddef>
#include <string>
#include <vector>

#include "patchwright/plan/plan.hpp"

/// Which packers are built from parts for a day.
namespace patchwright::plan {

/// A packer with one length of bladder, for the patches that it is built for.
struct Build {
    std::vector<std::size_t> patches;  ///< in order of mixing
    int count = 1;                     ///< of them that are in the pipe at once
    bool again = false;                ///< no end fittings are left: on site, once some come out of the pipe
};
/// Sleeves of other lengths want other bladders, on the same end fittings or not.
std::vector<Build> builds_of_day(const Plan& plan, int day);

/// How many of those patches have their packer in the pipe, or being loaded, at once.
int packers_at_once(const Plan& plan, const std::vector<std::size_t>& patches);

/// To build a packer and test it on the bench.
Duration build_time(const job::Yard& yard);

/// A warning for each packer that must be built again on site.
std::vector<std::string> build_warnings(const Plan& plan);

}  // namespace patchwright::plan
