#include <tuple>

#include "job_search.hpp"

namespace patchwright::plan {

std::size_t ChosenJob::sleeves() const {
    std::size_t count = 0;
    for (const auto& day : days) count += day.patches.size();
    return count;
}

bool safer(const ChosenJob& a, const ChosenJob& b) {
    const auto rank = [](const ChosenJob& job) {
        double in_time = 1.0;
        Length stiff{};
        Pressure pressure{};
        for (const auto& day : job.days)
            for (const Patch* p : day.patches) {
                in_time *= 1.0 - p->late_probability;
                stiff += p->option.packer.rigid_length;
                pressure += p->pressure.set;
            }
        return std::tuple{1.0 - in_time, stiff, pressure};
    };
    return rank(a) < rank(b);
}

}  // namespace patchwright::plan
