#include "patchwright/job/job.hpp"

#include <algorithm>

#include "patchwright/job/yard.hpp"

namespace patchwright::job {

bool Run::access_at_from() const { return std::find(access.begin(), access.end(), from) != access.end(); }
bool Run::access_at_to() const { return std::find(access.begin(), access.end(), to) != access.end(); }

const Resin* Yard::find_resin(std::string_view id) const {
    for (const Resin& resin : resins)
        if (resin.id == id) return &resin;
    return nullptr;
}

}  // namespace patchwright::job
