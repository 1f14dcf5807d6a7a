// Grouping portions into mixes: feasibility of one bucket, then a dynamic programme over subsets.
#include "patchwright/resin/batch.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstdint>
#include <optional>
#include <tuple>

#include <fmt/core.h>

#include "mix_rules.hpp"
#include "patchwright/units/error.hpp"
#include "pot.hpp"

namespace patchwright::resin {
namespace {

constexpr std::size_t max_exact = 10;
constexpr int max_buckets = 4;

constexpr Symbol mix_inputs[] = {{"ms", "resin in the sleeves of the mix", Show::scale_mass},
                                 {"n", "buckets", Show::count},
                                 {"mf", "loss in pot and film", Show::scale_mass}};
constexpr Formula mix_formula{"resin.mix",
                              {"m", "mixed for these sleeves", Show::scale_mass},
                              "m = n up_to_step(ms / n + mf, 0.001 kg)",
                              mix_inputs,
                              "common practice, no source",
                              "resin"};

constexpr Symbol whole_inputs[] = {{"ms", "resin in the sleeves of the mix", Show::scale_mass},
                                   {"n", "buckets", Show::count},
                                   {"mf", "loss in pot and film", Show::scale_mass}};
constexpr Formula whole_formula{"resin.mix-whole-kits",
                                {"m", "mixed for these sleeves", Show::scale_mass},
                                "m = whole kits that give at least ms + n * mf, in n pots of whole grams",
                                whole_inputs,
                                "the kit may not be divided by weight: the yard file",
                                "resin"};

constexpr Symbol share_inputs[] = {{"m", "in the whole mix", Show::scale_mass}, {"n", "pots", Show::count}};
constexpr Formula pot_total_formula{
    "resin.pot-total", {"p", "mixed in one pot", Show::scale_mass}, "p = m / n", share_inputs, "equal shares", "resin"};
constexpr Symbol all_inputs[] = {{"n", "pots", Show::count}, {"p", "in one pot", Show::scale_mass}};
constexpr Formula all_a_formula{
    "resin.all-a", {"ma", "part A, all pots", Show::scale_mass}, "ma = n * p", all_inputs, "equal shares", "resin"};
constexpr Formula all_b_formula{
    "resin.all-b", {"mb", "part B, all pots", Show::scale_mass}, "mb = n * p", all_inputs, "equal shares", "resin"};

void record_mix(bool whole, const Batch& batch, Mass in_sleeves, const job::Limits& limits, Working& working) {
    working.add(whole ? whole_formula : mix_formula,
                {in_sleeves, static_cast<double>(batch.buckets), {limits.fixed_loss, Origin::yard}}, batch.total);
}

void require_portion(const Portion& p) {
    const std::array times{p.wet_out, p.pour, p.to_inflated, p.crease, p.inflate_by, p.crease_by};
    const bool good =
        std::all_of(times.begin(), times.end(), [](Duration d) { return is_finite(d) && d >= Duration{}; });
    if (!good) throw RangeError("resin: the times of a sleeve's mix must be numbers, none below zero");
    if (!(is_finite(p.mass) && p.mass > Mass{})) throw RangeError("resin: a sleeve needs resin above zero");
}

Mass sum_of(const std::vector<Portion>& portions) {
    Mass sum{};
    for (const Portion& p : portions) sum += p.mass;
    return sum;
}

Mass mass_of(const std::vector<KitCount>& kits) {
    Mass sum{};
    for (const auto& [mass, count] : kits) sum += static_cast<double>(count) * mass;
    return sum;
}

/// What the sleeves want, weighed pot by pot so that the pots are equal to the gram.
Mass min_mix(const job::Resin& resin, const std::vector<Portion>& portions, int buckets, const job::Limits& limits) {
    const auto pots = static_cast<double>(buckets);
    return pots * weigh(resin, sum_of(portions) / pots + limits.fixed_loss).total;
}

/// One mix, weighed. `whole` kits are mixed as they are, so the mix is what they hold.
struct Mixed {
    Mass total{};
    int buckets = 1;
    std::int64_t cents = 0;
    std::vector<KitCount> kits;
    std::string fault;  ///< empty: every limit holds
};

Mixed mix_of(const job::Resin& resin, const std::vector<Portion>& portions, const PourBy& pour_by,
             const job::Limits& limits, const Late& late, bool whole) {
    Mixed mixed;
    const int most = portions.size() == 1 ? max_buckets : 1;
    for (mixed.buckets = 1;; ++mixed.buckets) {
        Mass total = min_mix(resin, portions, mixed.buckets, limits);
        if (whole) {
            mixed.kits = kits_for(resin.kits, total);
            mixed.cents = price_of(resin.kits, mixed.kits).in_cents();
            const auto pots = static_cast<double>(mixed.buckets);
            total = pots * std::floor(mass_of(mixed.kits).in(unit::g) / pots + 1e-6) * unit::g;
        }
        mixed.total = total;
        const std::string hands = why_not_by_hands(resin, portions, total);
        mixed.fault = hands;
        if (!hands.empty() && most == 1) return mixed;
        const Mass bucket = total / static_cast<double>(mixed.buckets);
        std::string heat;
        if (resin.safe_pot_mass > Mass{} && bucket > resin.safe_pot_mass)
            heat = fmt::format("{:.0f} g is more than the {:.0f} g that may stand mixed in one bucket",
                               bucket.in(unit::g), resin.safe_pot_mass.in(unit::g));
        else
            heat = why_not_by_bucket(portions, bucket, pour_by);
        if (!heat.empty()) mixed.fault += (hands.empty() ? "" : "; ") + heat;
        if (mixed.fault.empty()) mixed.fault = why_not_by_chance(portions, late, limits.late_at_most);
        if (heat.empty() || mixed.buckets == most) return mixed;
    }
}

/// What a set of mixes costs: compared left to right.
struct Key {
    std::int64_t cents = 0, buckets = 0, mixes = 0;
    std::int64_t faults = 0;
    auto order() const { return std::tuple{faults, cents, buckets, mixes}; }
};
Key operator+(const Key& a, const Key& b) {
    return {a.cents + b.cents, a.buckets + b.buckets, a.mixes + b.mixes, a.faults + b.faults};
}

using Group = std::vector<Portion>;
struct Mixes {
    std::vector<std::pair<Group, Mixed>> list;
    Key key;
};

Group subset_of(const Group& group, unsigned mask) {
    Group out;
    for (std::size_t i = 0; i < group.size(); ++i)
        if (mask >> i & 1U) out.push_back(group[i]);
    return out;
}

class Grouping {
public:
    Grouping(const job::Resin& resin, const PourBy& pour_by, const job::Limits& limits, const Late& late, bool whole)
        : resin_{resin}, pour_by_{pour_by}, limits_{limits}, late_{late}, whole_{whole} {}

    Mixes exact(const Group& group) const;
    Mixes neighbours(const Group& group) const;

private:
    Mixed mix(const Group& group) const { return mix_of(resin_, group, pour_by_, limits_, late_, whole_); }
    static Key key_of(const Mixed& m) { return {m.cents, m.buckets, 1, m.fault.empty() ? 0 : 1}; }

    const job::Resin& resin_;
    const PourBy& pour_by_;
    const job::Limits& limits_;
    const Late& late_;
    bool whole_;
};

Mixes Grouping::exact(const Group& group) const {
    const unsigned all = (1U << group.size()) - 1U;
    std::vector<std::optional<Mixed>> mix_for(all + 1);
    for (unsigned mask = 1; mask <= all; ++mask) {
        const bool single = std::has_single_bit(mask);
        // Leaving a sleeve out of a mix makes it lighter and quicker: what fails without it fails with it.
        bool worth_asking = true;
        for (unsigned rest = mask; !single && rest != 0; rest &= rest - 1)
            worth_asking = worth_asking && mix_for[mask & ~(rest & -rest)].has_value();
        if (!worth_asking) continue;
        Mixed m = mix(subset_of(group, mask));
        if (single || m.fault.empty()) mix_for[mask] = std::move(m);
    }
    std::vector<Key> best(all + 1);
    std::vector<unsigned> first(all + 1, 0);
    for (unsigned mask = 1; mask <= all; ++mask) {
        const unsigned lead = mask & -mask;
        for (unsigned part = mask; part != 0; part = (part - 1) & mask) {
            if (!(part & lead) || !mix_for[part]) continue;
            const Key key = key_of(*mix_for[part]) + best[mask & ~part];
            if (first[mask] == 0 || key.order() < best[mask].order()) {
                best[mask] = key;
                first[mask] = part;
            }
        }
    }
    Mixes out;
    out.key = best[all];
    for (unsigned mask = all; mask != 0; mask &= ~first[mask])
        out.list.emplace_back(subset_of(group, first[mask]), *mix_for[first[mask]]);
    return out;
}

Mixes Grouping::neighbours(const Group& group) const {
    Mixes out;
    for (const Portion& portion : group) {
        if (!out.list.empty()) {
            Group joined = out.list.back().first;
            joined.push_back(portion);
            Mixed m = mix(joined);
            const Mixed alone = mix({portion});
            const bool cheaper = m.cents <= out.list.back().second.cents + alone.cents;
            if (m.fault.empty() && out.list.back().second.fault.empty() && cheaper) {
                out.list.back() = {std::move(joined), std::move(m)};
                continue;
            }
        }
        out.list.emplace_back(Group{portion}, mix({portion}));
    }
    for (const auto& [part, m] : out.list) out.key = out.key + key_of(m);
    return out;
}

}  // namespace

std::string why_not_together(const job::Resin& resin, const std::vector<Portion>& portions, const PourBy& pour_by,
                             const job::Limits& limits, const Late& late) {
    for (const Portion& p : portions) require_portion(p);
    if (portions.empty()) return {};
    return mix_of(resin, portions, pour_by, limits, late, false).fault;
}

namespace {

std::vector<Group> groups_of(const std::vector<Portion>& portions) {
    std::vector<Group> groups;
    for (const Portion& p : portions) {
        const auto home =
            std::find_if(groups.begin(), groups.end(), [&](const Group& g) { return g.front().group == p.group; });
        if (home == groups.end())
            groups.push_back({p});
        else
            home->push_back(p);
    }
    return groups;
}

/// Every group grouped one way: kits shared out by weight, or each mix its own whole kits.
Mixes all_mixes(const std::vector<Group>& groups, const Grouping& grouping) {
    Mixes all;
    for (const Group& group : groups) {
        Mixes part = group.size() <= max_exact ? grouping.exact(group) : grouping.neighbours(group);
        all.key = all.key + part.key;
        for (auto& m : part.list) all.list.push_back(std::move(m));
    }
    return all;
}

void count_in(std::vector<KitCount>& kits, Mass mass, int count) {
    const auto same = std::find_if(kits.begin(), kits.end(), [&](const auto& k) { return k.kit == mass; });
    if (same != kits.end())
        same->count += count;
    else
        kits.push_back({mass, count});
}

std::vector<KitCount> not_in_stock(const std::vector<job::Kit>& kits, const std::vector<KitCount>& wanted) {
    std::vector<KitCount> buy;
    for (const auto& [mass, count] : wanted) {
        int stock = 0;
        for (const job::Kit& kit : kits)
            if (kit.mass == mass) stock += std::max(kit.stock, 0);
        if (count > stock) buy.push_back({mass, count - stock});
    }
    return buy;
}

}  // namespace

BatchPlan plan_batches(const job::Resin& resin, const std::vector<Portion>& portions, const PourBy& pour_by,
                       const job::Limits& limits, Working& working, const Late& late) {
    for (const Portion& p : portions) require_portion(p);
    BatchPlan plan;
    if (portions.empty()) return plan;
    const std::vector<Group> groups = groups_of(portions);

    std::vector<job::Kit> by_weight;
    std::copy_if(resin.kits.begin(), resin.kits.end(), std::back_inserter(by_weight),
                 [](const job::Kit& k) { return k.splittable; });
    bool whole = by_weight.empty();
    Mixes chosen;
    if (!by_weight.empty()) {
        chosen = all_mixes(groups, Grouping{resin, pour_by, limits, late, false});
        Mass total{};
        for (const auto& [group, mixed] : chosen.list) total += mixed.total;
        plan.kits = kits_for(by_weight, total);
        plan.purchase = price_of(by_weight, plan.kits);
        chosen.key.cents = plan.purchase.in_cents();
        plan.leftover = mass_of(plan.kits) - total;
    }
    if (by_weight.size() < resin.kits.size() || by_weight.empty()) {
        Mixes alone = all_mixes(groups, Grouping{resin, pour_by, limits, late, true});
        whole = by_weight.empty() || alone.key.order() < chosen.key.order();
        if (whole) {
            chosen = std::move(alone);
            plan.kits.clear();
            plan.leftover = Mass{};
            for (const auto& [group, mixed] : chosen.list)
                for (const auto& [mass, count] : mixed.kits) count_in(plan.kits, mass, count);
            plan.purchase = price_of(resin.kits, plan.kits);
        }
    }
    plan.kits_to_buy = not_in_stock(resin.kits, plan.kits);

    for (const Group& group : groups) {
        if (group.size() <= max_exact) continue;
        plan.proven_optimal = false;
        plan.warnings.push_back(
            fmt::format("{} sleeves might share mixes: neighbours were joined, which need not be "
                        "the cheapest way",
                        group.size()));
    }
    for (const auto& [group, mixed] : chosen.list) {
        Batch batch;
        for (const Portion& p : group) batch.patches.push_back(p.patch);
        const auto pots = static_cast<double>(mixed.buckets);
        const Weights pot = weigh(resin, mixed.total / pots);
        batch.total = pots * pot.total;
        batch.part_a = pots * pot.part_a;
        batch.part_b = pots * pot.part_b;
        batch.buckets = mixed.buckets;
        batch.pour_by = pour_by(pot.total, group.front().group);
        batch.holds = mixed.fault.empty();
        record_mix(whole, batch, sum_of(group), limits, working);
        if (whole) {
            batch.kits = mixed.kits;
            batch.leftover = mixed.total - min_mix(resin, group, mixed.buckets, limits);
            if (batch.leftover >= unit::g)
                plan.warnings.push_back(
                    fmt::format("kits of {} are mixed whole: {:.0f} g of mixed resin are left over "
                                "and must be spread thin outside to cure",
                                resin.id, batch.leftover.in(unit::g)));
            plan.leftover += batch.leftover;
        }
        if (batch.buckets > 1)
            plan.warnings.push_back(
                fmt::format("weigh the mix of {:.0f} g into {} buckets and mix them one after the "
                            "other: one bucket would heat itself",
                            batch.total.in(unit::g), batch.buckets));
        if (!batch.holds) plan.warnings.push_back(mixed.fault);
        plan.batches.push_back(std::move(batch));
    }
    return plan;
}

Pot pot_of(const job::Resin& resin, const Batch& batch, Mass in_sleeves, const job::Limits& limits, Working& working) {
    if (batch.buckets < 1) throw RangeError("resin: a mix needs at least one pot");
    record_mix(!batch.kits.empty(), batch, in_sleeves, limits, working);
    const auto pots = static_cast<double>(batch.buckets);
    const Weights weights = weigh(resin, batch.total / pots);
    working.add(pot_total_formula, {batch.total, pots}, weights.total);
    record_parts(resin, weights, working);
    working.add(all_a_formula, {pots, weights.part_a}, batch.part_a);
    working.add(all_b_formula, {pots, weights.part_b}, batch.part_b);
    Pot pot{.total = weights.total, .part_a = weights.part_a, .part_b = weights.part_b};
    record_pot(resin, pot, working);
    return pot;
}

}  // namespace patchwright::resin
