#include "mix_rules.hpp"

#include <algorithm>

#include <fmt/core.h>

namespace patchwright::resin {
namespace {

double minutes(Duration d) { return d.in(unit::minute); }

}  // namespace

std::string why_not_by_hands(const job::Resin& resin, const std::vector<Portion>& portions, Mass total) {
    const bool shared = portions.size() > 1;
    if (shared && resin.safe_pot_mass > Mass{} && total > resin.safe_pot_mass)
        return fmt::format("{:.0f} g is more than the {:.0f} g that may stand mixed in one bucket", total.in(unit::g),
                           resin.safe_pot_mass.in(unit::g));
    for (const Portion& p : portions) {
        if (p.group != portions.front().group) return "they do not belong together (day, resin or access)";
        const auto same = std::count_if(portions.begin(), portions.end(),
                                        [&](const Portion& o) { return p.packer >= 0 && o.packer == p.packer; });
        if (shared && same > p.packer_count)
            return fmt::format("{} packers of one kind are needed at once, the yard has {}", same, p.packer_count);
    }
    Duration clock{};
    for (const Portion& p : portions) clock += p.wet_out;
    for (const Portion& p : portions) {
        clock += p.to_inflated;
        if (clock > p.inflate_by)
            return fmt::format("sleeve {} would be inflated {:.0f} min after mixing, later than its {:.0f} min",
                               p.patch, minutes(clock), minutes(p.inflate_by));
        clock += p.crease;
        if (p.crease_by > Duration{} && clock > p.crease_by)
            return fmt::format("sleeve {} would be creased {:.0f} min after mixing, later than its {:.0f} min", p.patch,
                               minutes(clock), minutes(p.crease_by));
    }
    return {};
}

std::string why_not_by_bucket(const std::vector<Portion>& portions, Mass bucket, const PourBy& pour_by) {
    Duration clock{};
    const Duration limit = pour_by(bucket, portions.front().group);
    for (const Portion& p : portions) {
        if (clock + p.pour > limit)
            return fmt::format(
                "sleeve {} would be poured {:.0f} min after mixing; {:.0f} g in a bucket must be "
                "poured within {:.0f} min",
                p.patch, minutes(clock + p.pour), bucket.in(unit::g), minutes(limit));
        clock += p.wet_out;
    }
    return {};
}

std::string why_not_by_chance(const std::vector<Portion>& portions, const Late& late, double most) {
    if (!late || portions.size() < 2) return {};
    std::vector<int> order;
    for (const Portion& p : portions) order.push_back(p.patch);
    for (std::size_t which = 0; which < order.size(); ++which) {
        if (const double chance = late(order, which); chance > most)
            return fmt::format("sleeve {} would be too late with a chance of {:.1f} %, {:.1f} % are allowed",
                               order[which], 100.0 * chance, 100.0 * most);
    }
    return {};
}

}  // namespace patchwright::resin
