// Where a run's wall is open and where it is weak.
#include <algorithm>
#include <utility>

#include "patchwright/packer/passage.hpp"
#include "patchwright/packer/pressure.hpp"
#include "patchwright/packer/rigging.hpp"

namespace patchwright::packer {

bool is_hole(const job::Defect& defect) {
    return defect.kind == job::DefectKind::missing_wall || defect.kind == job::DefectKind::collapse;
}

std::vector<WallIndex::Stretch> WallIndex::merged(std::vector<Stretch> stretches) {
    std::sort(stretches.begin(), stretches.end(), [](const Stretch& a, const Stretch& b) { return a.from < b.from; });
    std::vector<Stretch> out;
    for (const Stretch& stretch : stretches) {
        if (!out.empty() && stretch.from <= out.back().to) {
            out.back().to = std::max(out.back().to, stretch.to);
        } else {
            out.push_back(stretch);
        }
    }
    return out;
}

WallIndex::WallIndex(const job::Run& run) : weak_all_over_{*run.condition == job::Condition::fully_deteriorated} {
    for (const job::Fitting& fitting : run.fittings) {
        if (fitting.kind != job::FittingKind::junction) continue;
        const Extent place = extent(fitting, run);
        open_.push_back({place.from, place.to});
    }
    for (const job::Defect& defect : run.defects) {
        if (is_hole(defect)) open_.push_back({defect.at, defect.to});
        if (weakens_the_wall(defect.kind)) weak_.push_back({defect.at, defect.to});
    }
    open_ = merged(std::move(open_));
    weak_ = merged(std::move(weak_));
}

bool WallIndex::open_within(Length from, Length to) const {
    const auto first = std::partition_point(open_.begin(), open_.end(), [&](const Stretch& s) { return s.to <= from; });
    return first != open_.end() && first->from < to;
}

bool WallIndex::weak_within(Length from, Length to) const {
    const auto first = std::partition_point(weak_.begin(), weak_.end(), [&](const Stretch& s) { return s.to < from; });
    return weak_all_over_ || (first != weak_.end() && first->from <= to);
}

}  // namespace patchwright::packer
