#include <algorithm>
#include <stdexcept>

#include <fmt/core.h>

#include "limits.hpp"
#include "patchwright/survey/verdict.hpp"

namespace patchwright::survey {
namespace {

/// The window of `crowd_within` with the most patches: their number and where it begins.
struct Crowd {
    int count = 0;
    Length from{}, to{};
};

Crowd densest(std::vector<const job::Defect*> patched, Length window) {
    std::sort(patched.begin(), patched.end(), [](const job::Defect* a, const job::Defect* b) { return a->at < b->at; });
    Crowd best;
    std::size_t first = 0;
    for (std::size_t last = 0; last < patched.size(); ++last) {
        while (patched[last]->at - patched[first]->at > window) ++first;
        const int count = static_cast<int>(last - first + 1);
        if (count > best.count) best = {count, patched[first]->at, patched[last]->to};
    }
    return best;
}

std::string_view host_remark(job::Material material) {
    switch (material) {
        case job::Material::asbestos_cement:
            return "The host is asbestos cement: its wall softens with age and its dust is dangerous. Tap or scrape "
                   "test before lining, and cut "
                   "nothing without a plan of work.";
        case job::Material::pitch_fibre:
            return "The host is pitch fibre, which blisters and goes oval: measure the bore all along, keep jetting "
                   "pressure low, and do not "
                   "rely on the wall for bond.";
        case job::Material::clay:
        case job::Material::concrete:
        case job::Material::cast_iron:
        case job::Material::pvc_u:
        case job::Material::other:
            break;
    }
    return {};
}

}  // namespace

std::vector<std::string> run_remarks(const job::Run& run, const std::vector<Assessment>& assessments,
                                     const job::Limits& limits, UnitSystem units) {
    if (assessments.size() != run.defects.size())
        throw std::logic_error("run_remarks: one assessment a defect is needed");
    std::vector<const job::Defect*> patched;
    for (std::size_t i = 0; i < assessments.size(); ++i)
        if (wants_patch(assessments[i].verdict)) patched.push_back(&run.defects[i]);

    std::vector<std::string> remarks;
    const Crowd crowd = densest(patched, limits.crowd_within);
    if (limits.crowd_count > 0 && crowd.count >= limits.crowd_count)
        remarks.push_back(fmt::format(
            "{} defects lie between {} and {}: ask for a price to line that length as a whole.", crowd.count,
            format(Show::run_distance, crowd.from, units), format(Show::run_distance, crowd.to, units)));
    if (const std::string_view host = host_remark(run.material); !host.empty()) remarks.emplace_back(host);
    if (run.working_bore() < limits.scope_bore_min)
        remarks.push_back(fmt::format("The bore of {} lies below the {} at which the published standards begin.",
                                      format(Show::tape, run.working_bore(), units),
                                      format(Show::tape, limits.scope_bore_min, units)));
    return remarks;
}

std::optional<std::string> lined_remark(const job::Run& run, Length lined, const job::Limits& limits,
                                        UnitSystem units) {
    const double share = lined / run.length;
    constexpr double hair = 1e-9;  // lengths are sums of decimals
    if (!(share > limits.crowd_lined_share + hair)) return std::nullopt;
    return fmt::format("Sleeves cover {} of the run, more than {}: lining it as a whole may cost less.",
                       format(Show::percent, share, units), format(Show::percent, limits.crowd_lined_share, units));
}

}  // namespace patchwright::survey
