// What is left of the yard and of the kits: other packers for lost ones, lost sleeves made again.
#include "patchwright/plan/again.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "parts.hpp"
#include "patchwright/units/format.hpp"

namespace patchwright::site {
namespace {

/// The yard without a packer, or set of end fittings, of that name.
void lose(job::Yard& yard, const std::string& name) {
    const auto take = [&](auto& list) {
        const auto place = std::find_if(list.begin(), list.end(), [&](const auto& item) { return item.id == name; });
        if (place != list.end() && --place->count < 1) list.erase(place);
    };
    take(yard.packers);
    take(yard.chassis);
}

const std::string& kind_of(const Site& site, std::size_t patch) {
    return site.plan.work.packers[static_cast<std::size_t>(site.work(patch).packer)].id;
}

bool is_left(const job::Yard& yard, const std::string& kind) {
    const auto named = [&](const auto& item) { return item.id == kind; };
    return std::any_of(yard.packers.begin(), yard.packers.end(), named) ||
           std::any_of(yard.chassis.begin(), yard.chassis.end(), named);
}

/// What is in the job's kits and in nobody's mix. A kit that is mixed whole leaves nothing.
class Kits {
public:
    explicit Kits(const Site& site) : site_{site} {}

    /// Left of the kits after all that is mixed by the plan, on all days, less the sleeves that were lost so far.
    Mass left(int resin) const {
        const auto& kind = site_.yard.resins[static_cast<std::size_t>(resin)];
        std::vector<job::Kit> by_weight;
        std::copy_if(kind.kits.begin(), kind.kits.end(), std::back_inserter(by_weight),
                     [](const job::Kit& k) { return k.splittable; });
        Mass mixed{};
        for (const auto& batch : site_.plan.batches) {
            if (batch.resin != resin) continue;
            if (!batch.batch.kits.empty()) return Mass{};
            mixed += batch.batch.total;
        }
        Mass left = -mixed;
        for (const auto& [mass, count] : resin::kits_for(by_weight, mixed)) left += static_cast<double>(count) * mass;
        const auto found = taken_.find(resin);
        return found == taken_.end() ? left : left - found->second;
    }
    void take(int resin, Mass mass) { taken_[resin] += mass; }

    /// What later days still have to mix of it.
    Mass later(int resin) const {
        Mass sum{};
        for (const auto& batch : site_.plan.batches)
            if (batch.resin == resin && batch.day > site_.facts.day) sum += batch.batch.total;
        return sum;
    }

private:
    const Site& site_;
    std::map<int, Mass> taken_;
};

/// One spare sleeve is loaded a day, cut for the largest of that day; where felt is cut on site, so is another.
class Felt {
public:
    explicit Felt(const Site& site) : site_{site}, spare_{!site.facts.patches.empty()} {
        for (const std::size_t i : site.facts.patches)
            if (largest_ == nullptr || site.patch(i).cut.felt_area > largest_->cut.felt_area) largest_ = &site.patch(i);
    }
    bool take_for(const plan::Patch& p) {
        if (!site_.yard.limits.prepare_in_yard) return true;
        const bool fits = spare_ && largest_->felt.felt == p.felt.felt && largest_->felt.layers >= p.felt.layers &&
                          largest_->cut.felt_area >= p.cut.felt_area;
        if (fits) spare_ = false;
        return fits;
    }

private:
    const Site& site_;
    const plan::Patch* largest_ = nullptr;
    bool spare_;
};

/// Sleeves that were lost before the one in question, each with its mix.
void take_lost(const Site& site, std::size_t patch, Kits& kits, Felt& felt) {
    const auto& p = site.patch(patch);
    const auto entries =
        std::count_if(site.facts.record.patches.begin(), site.facts.record.patches.end(),
                      [&](const job::PatchRecord& r) { return r.id == p.id && (is_lost(r) || r.mixed_at); });
    for (std::ptrdiff_t i = 1; i < entries; ++i) {
        kits.take(p.resin, p.need.total);
        felt.take_for(p);
    }
}

/// Why a sleeve may not be mixed in what was measured; empty: it may.
std::string why_not_mixed(const Site& site, const SleeveLimits& limits) {
    if (limits.refused) return *limits.refused;
    if (limits.as_planned || limits.late_probability <= site.yard.limits.late_at_most) return {};
    return fmt::format(
        "its resin sets too soon as measured: too late in {} of cases, {} allowed; cool it, and measure "
        "again",
        format(Show::percent, limits.late_probability, site.job.units),
        format(Show::percent, site.yard.limits.late_at_most, site.job.units));
}

void find_packer(const Site& site, const job::Yard& left, Sleeve& sleeve) {
    if (is_left(left, kind_of(site, sleeve.patch))) return;
    auto other = plan::design_again(site.job, left, site.patch(sleeve.patch));
    if (!other.patch) {
        sleeve.another_day = other.why_not;
        return;
    }
    const auto& option = other.patch->option;
    if (option.to_build) {
        const auto& chassis = left.chassis[static_cast<std::size_t>(option.chassis)];
        sleeve.other_kind = {chassis.id, chassis.count};
    } else {
        sleeve.other_kind = {option.packer.id, option.packer.count};
    }
    sleeve.on_other = std::move(other.patch);
}

/// Of the next sleeve nothing is known but what was measured.
SleeveLimits next_limits(const Site& site, LimitBook& limits, const Sleeve& sleeve) {
    const auto& on = sleeve.on_other ? *sleeve.on_other : site.patch(sleeve.patch);
    if (sleeve.noted == nullptr) return limits.of(sleeve.patch, on, nullptr);
    job::PatchRecord measured;
    measured.id = sleeve.noted->id;
    measured.pipe_temperature = sleeve.noted->pipe_temperature;
    measured.resin_temperature = sleeve.noted->resin_temperature;
    measured.air_temperature = sleeve.noted->air_temperature;
    return limits.of(sleeve.patch, on, &measured);
}

void find_material(const Site& site, Kits& kits, Felt& felt, Sleeve& sleeve) {
    const auto& p = site.patch(sleeve.patch);
    const Mass wanted = p.need.total, left = kits.left(p.resin);
    const auto& resin = site.yard.resins[static_cast<std::size_t>(p.resin)].id;
    const auto mass = [&](Mass m) { return format(Show::scale_mass, m, site.job.units); };
    if (!felt.take_for(p)) {
        sleeve.another_day = "no felt for it is left on the van";
    } else if (wanted > left + kits.later(p.resin)) {
        sleeve.another_day = fmt::format("{} of {} wanted, {} left in the kits", mass(wanted), resin,
                                         mass(std::max(Mass{}, left + kits.later(p.resin))));
    } else {
        sleeve.again = true;
        kits.take(p.resin, wanted);
        sleeve.material = wanted > left
                              ? fmt::format("buy {} of {} before the next day: it is made again of that day's",
                                            mass(wanted - std::max(Mass{}, left)), resin)
                              : std::string{};
    }
}

}  // namespace

void make_again(const Site& site, LimitBook& limits, std::vector<Sleeve>& sleeves) {
    job::Yard left = site.yard;
    for (const auto& name : site.facts.lost_packers) lose(left, name);
    Kits kits{site};
    Felt felt{site};
    for (const Sleeve& sleeve : sleeves) take_lost(site, sleeve.patch, kits, felt);
    for (Sleeve& sleeve : sleeves) {
        const bool lost = sleeve.state == State::lost || sleeve.verdict == Verdict::strip;
        if ((!lost && sleeve.state != State::to_do) || !sleeve.another_day.empty()) continue;
        find_packer(site, left, sleeve);
        sleeve.next = next_limits(site, limits, sleeve);
        if (sleeve.state == State::to_do || sleeve.state == State::lost) sleeve.limits = sleeve.next;
        if (sleeve.another_day.empty()) sleeve.another_day = why_not_mixed(site, sleeve.next);
        if (lost && sleeve.another_day.empty()) find_material(site, kits, felt, sleeve);
    }
}

}  // namespace patchwright::site
