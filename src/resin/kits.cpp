// Whole kits for a mass: a covering knapsack, solved exactly by dynamic programme.
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numeric>
#include <tuple>

#include "patchwright/resin/resin.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::resin {
namespace {

constexpr double max_grams = 1e6;

struct Offer {
    std::int64_t grams = 0, cents = 0;
    Mass mass{};
};

/// The kits with whole grams (rounded down: never promise more than is in the tin), largest first.
std::vector<Offer> offers_of(const std::vector<job::Kit>& kits) {
    std::vector<Offer> offers;
    Currency currency;
    for (const job::Kit& kit : kits) {
        const double grams = std::floor(kit.mass.in(unit::g) + 1e-6);
        if (!(std::isfinite(grams) && grams >= 0.0 && grams <= max_grams))
            throw RangeError("resin: a kit must weigh between 1 g and 1000 kg");
        if (grams < 1.0) continue;
        if (kit.price < Money{}) throw RangeError("resin: the price of a kit must not be negative");
        if (!kit.price.currency().none() && !currency.none() && kit.price.currency() != currency)
            throw InputError("resin: the kits of one resin must be priced in one currency");
        if (!kit.price.currency().none()) currency = kit.price.currency();
        offers.push_back({static_cast<std::int64_t>(grams), kit.price.in_cents(), kit.mass});
    }
    if (offers.empty()) throw InputError("resin: no kit with a mass is given; give at least one with mass and price");
    std::sort(offers.begin(), offers.end(), [](const Offer& a, const Offer& b) {
        return std::tuple{-a.grams, a.cents} < std::tuple{-b.grams, b.cents};
    });
    // Of two kits of one mass the cheaper; the other is never picked.
    offers.erase(
        std::unique(offers.begin(), offers.end(), [](const Offer& a, const Offer& b) { return a.grams == b.grams; }),
        offers.end());
    return offers;
}

struct State {
    std::int64_t cents = 0, grams = 0;
    std::int32_t count = 0, last = -1;
    auto key() const { return std::tuple{cents, grams, count}; }
};

}  // namespace

std::vector<KitCount> kits_for(const std::vector<job::Kit>& kits, Mass mass) {
    const std::vector<Offer> offers = offers_of(kits);
    const double all = std::ceil(mass.in(unit::g)-1e-6);
    if (!(std::isfinite(all) && all >= -0.5)) throw RangeError("resin: a mass of resin must not be negative");
    // The bulk of a very large job in kits of the least price per mass.
    const auto bulk = static_cast<std::size_t>(
        std::min_element(offers.begin(), offers.end(),
                         [](const Offer& a, const Offer& b) {
                             return static_cast<double>(a.cents) * static_cast<double>(b.grams) <
                                    static_cast<double>(b.cents) * static_cast<double>(a.grams);
                         }) -
        offers.begin());
    const double bulk_kits =
        all > max_grams ? std::floor((all - max_grams) / static_cast<double>(offers[bulk].grams)) + 1.0 : 0.0;
    constexpr double max_kits = 1e9;
    if (bulk_kits > max_kits) throw RangeError("resin: that is too much resin to count in kits");
    const double wanted = std::max(all - bulk_kits * static_cast<double>(offers[bulk].grams), 0.0);
    std::int64_t step = 0;
    for (const Offer& offer : offers) step = std::gcd(step, offer.grams);
    const auto cells = static_cast<std::size_t>((static_cast<std::int64_t>(wanted) + step - 1) / step);

    // best[w]: the best way to cover at least w cells. Every key adds up, so the first kit may be any of them.
    std::vector<State> best(cells + 1);
    for (std::size_t w = 1; w <= cells; ++w) {
        for (std::size_t k = 0; k < offers.size(); ++k) {
            const auto size = static_cast<std::size_t>(offers[k].grams / step);
            const State& rest = best[w > size ? w - size : 0];
            const State with{rest.cents + offers[k].cents, rest.grams + offers[k].grams, rest.count + 1,
                             static_cast<std::int32_t>(k)};
            if (best[w].last < 0 || with.key() < best[w].key()) best[w] = with;
        }
    }
    std::vector<int> counts(offers.size(), 0);
    counts[bulk] = static_cast<int>(bulk_kits);
    for (std::size_t w = cells; w > 0;) {
        const auto k = static_cast<std::size_t>(best[w].last);
        ++counts[k];
        const auto size = static_cast<std::size_t>(offers[k].grams / step);
        w = w > size ? w - size : 0;
    }
    std::vector<KitCount> picked;
    for (std::size_t k = 0; k < offers.size(); ++k)
        if (counts[k] > 0) picked.push_back({offers[k].mass, counts[k]});
    return picked;
}

Money price_of(const std::vector<job::Kit>& kits, const std::vector<KitCount>& picked) {
    Money sum;
    for (const auto& [mass, count] : picked) {
        const job::Kit* cheapest = nullptr;
        for (const job::Kit& kit : kits)
            if (kit.mass == mass && (cheapest == nullptr || kit.price < cheapest->price)) cheapest = &kit;
        if (cheapest == nullptr) throw InputError("resin: a picked kit is not among the resin's kits");
        sum += cheapest->price * count;
    }
    return sum;
}

}  // namespace patchwright::resin
