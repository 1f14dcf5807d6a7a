// Resins: gel times against the cure model at the noted temperatures, and what mixes used against what felt wants.
#include "materials.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "patchwright/record/measured.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::learn {
namespace {

constexpr double one_in_ten = 1.2815515655446004;

double spread_of(double log_sd) { return std::expm1(one_in_ten * log_sd); }

const plan::Patch* patch_of(const plan::Plan& plan, std::string_view id) {
    const auto found =
        std::find_if(plan.patches.begin(), plan.patches.end(), [&](const plan::Patch& p) { return p.id == id; });
    return found == plan.patches.end() ? nullptr : &*found;
}

/// Gel times of one resin.
struct Gels {
    std::vector<double> rates;  ///< ln(likely gel time of the model / as noted)
    double model_sd = 0.0;      ///< of the model's ln(gel time) from its rate alone, the greatest
};

class Materials {
public:
    Materials(const job::Yard& yard, Learned& learned) : yard_{yard}, learned_{learned} {}

    void read(const job::Record& record, const plan::Plan& plan) {
        std::vector<const job::PatchRecord*> mixed;  // those whose mix was counted
        for (const auto& entry : record.patches) {
            const auto* planned = patch_of(plan, entry.id);
            if (planned == nullptr) continue;
            if (entry.gelled_at) gelled(record, entry, *planned, plan);
            if (entry.left_over) used(record, entry, plan, mixed);
        }
    }

    void finish() {
        for (const auto& resin : yard_.resins)
            if (const auto found = gels_.find(resin.id); found != gels_.end()) add_resin(resin, found->second);
        if (!used_.empty()) add_excess();
    }

private:
    void unused(const job::Record& record, const job::PatchRecord& entry, std::string_view what, std::string_view why) {
        learned_.unused.push_back(fmt::format("{}, {} of {}: {}", record.job, what, entry.id, why));
    }

    /// The bag in the pipe is of the same wet felt: it gels when the sleeve's coldest point does.
    void gelled(const job::Record& record, const job::PatchRecord& entry, const plan::Patch& planned,
                const plan::Plan& plan) {
        const auto after = entry.after_mixing(entry.gelled_at);
        if (!after || *after <= Duration{}) return unused(record, entry, "gel time", "mixing was not noted");
        if (planned.heater >= 0)
            return unused(record, entry, "gel time", "a bag in the pipe is not heated as the sleeve is");
        const auto& resin = plan.resin_of(planned);
        const auto notes = record::temperature_notes(entry, *after, false);
        if (notes.empty() && !entry.pipe_temperature)
            return unused(record, entry, "gel time", "no temperature of the pipe was noted");
        try {
            const auto conditions = record::as_measured(entry, planned, notes, *after);
            Working off = Working::off();
            const auto answer = cure::Model{resin}.answer_without_pot(planned.sleeve, planned.surroundings, conditions,
                                                                      plan.yard->limits, off);
            if (answer.refused) return unused(record, entry, "gel time", *answer.refused);
            auto& gels = gels_[resin.id];
            gels.rates.push_back(std::log(answer.gel.likely / *after));
            gels.model_sd = std::max(gels.model_sd, answer.gel_rate_sd);
        } catch (const Error& error) {  // outside what the model holds for
            unused(record, entry, "gel time", error.what());
        }
    }

    /// Sleeves mixed in one minute of one day are of one mix, and each entry says the whole of it.
    void used(const job::Record& record, const job::PatchRecord& entry, const plan::Plan& plan,
              std::vector<const job::PatchRecord*>& mixed) {
        if (!entry.part_a || !entry.part_b || !entry.mixed_at)
            return unused(record, entry, "what was left over", "weights or the time of mixing were not noted");
        const auto same_mix = [&](const job::PatchRecord& other) {
            return other.mixed_at == entry.mixed_at && other.date == entry.date;
        };
        if (std::any_of(mixed.begin(), mixed.end(), [&](const auto* other) { return same_mix(*other); })) return;
        mixed.push_back(&entry);
        Mass planned{};
        for (const auto& other : record.patches)
            if (same_mix(other))
                if (const auto* patch = patch_of(plan, other.id)) planned += patch->need.in_sleeve();
        const Mass went = *entry.part_a + *entry.part_b - *entry.left_over;
        if (went <= Mass{}) return unused(record, entry, "what was left over", "as much as was mixed");
        used_.push_back(std::log(went / planned));
    }

    void add_resin(const job::Resin& resin, const Gels& gels) {
        const double share = std::sqrt(1.0 + 1.0 / sheet_counts_as);
        const LogNormal prior{0.0, gels.model_sd / share, sheet_counts_as, durations_count_as};
        const LogNormal after = prior.with(gels.rates);
        learned_.resins.push_back({resin.id, resin.rate, resin.rate * std::exp(after.mean), spread_of(prior.of_next()),
                                   spread_of(after.of_next()), static_cast<int>(gels.rates.size()),
                                   resin.rate * std::exp(after.mean_quantile(0.1)),
                                   resin.rate * std::exp(after.mean_quantile(0.9))});
    }

    void add_excess() {
        const LogNormal after = LogNormal{0.0, consumption_sd, durations_count_as, durations_count_as}.with(used_);
        const double before = yard_.limits.resin_excess;
        // As much as the yard file takes.
        const auto excess = [&](double log_factor) {
            return std::clamp((1.0 + before) * std::exp(log_factor) - 1.0, 0.0, 1.0);
        };
        const double next = after.mean + student_quantile(0.9, after.sd_counts) * after.of_next();
        learned_.excess = {before,
                           excess(after.mean),
                           static_cast<int>(used_.size()),
                           excess(after.mean_quantile(0.1)),
                           excess(after.mean_quantile(0.9)),
                           excess(next)};
    }

    const job::Yard& yard_;
    Learned& learned_;
    std::map<std::string, Gels> gels_;
    std::vector<double> used_;  ///< ln(what went into the sleeves / what was planned for them), a mix each
};

bool says_something(const job::Record& record) {
    return std::any_of(record.patches.begin(), record.patches.end(),
                       [](const job::PatchRecord& p) { return p.gelled_at || p.left_over; });
}

}  // namespace

void add_materials(const std::vector<job::Record>& records, const job::Yard& yard, const std::vector<plan::Plan>& plans,
                   Learned& learned) {
    Materials materials{yard, learned};
    for (const auto& record : records) {
        const auto plan = std::find_if(plans.begin(), plans.end(),
                                       [&](const plan::Plan& p) { return p.job->reference == record.job; });
        if (plan != plans.end())
            materials.read(record, *plan);
        else if (says_something(record))
            learned.unused.push_back(fmt::format(
                "{}: its gel times and what was left over say nothing without its job (--jobs)", record.job));
    }
    materials.finish();
}

}  // namespace patchwright::learn
