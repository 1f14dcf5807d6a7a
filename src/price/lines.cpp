#include "patchwright/price/lines.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>

#include <fmt/core.h>

#include "patchwright/units/error.hpp"

namespace patchwright::price {
namespace {

constexpr std::array offered_symbols{
    Symbol{"W", "patches and digs", Show::money},
    Symbol{"X", "extras", Show::money},
    Symbol{"D", "discount", Show::money},
};
constexpr Formula offered_formula{.id = "price.offered",
                                  .result = {"N", "net price of the offer", Show::money},
                                  .text = "N = W + X - D",
                                  .inputs = offered_symbols,
                                  .source = "derived here, docs/methods/price.md",
                                  .page = "price"};

/// a b / c, rounded, for amounts with 0 <= a, b <= c.
Money in_proportion(Money a, Money b, Money c) {
    if (c.is_zero()) return {};
    const auto cents = [](Money m) { return static_cast<double>(m.in_cents()); };
    return Money::cents(std::llround(cents(a) * cents(b) / cents(c)), c.currency());
}

std::string counted(std::string_view one, std::string_view many, int count) {
    return count == 1 ? std::string{one} : fmt::format("{} ({} no.)", many, count);
}

OfferLine extra_line(const job::Extra& extra, const job::PriceList& list) {
    const auto listed = std::find_if(list.extras.begin(), list.extras.end(),
                                     [&](const job::ListedExtra& l) { return l.words == extra.words; });
    const bool known = listed != list.extras.end();
    if (!extra.rate && !known)
        throw InputError(fmt::format("extra \"{}\": no rate, and none in the yard's price list", extra.words));
    const Money cost = extra.cost ? *extra.cost : known ? listed->cost : Money{};
    OfferLine line{OfferKind::extra, extra.words, extra.quantity, extra.unit, {}, scaled(cost, extra.quantity)};
    if (line.unit.empty() && known) line.unit = listed->unit;
    line.net = scaled(extra.rate ? *extra.rate : listed->rate, extra.quantity);
    return line;
}

void warn_of_lines(const Part& patches, const Part& digs, const Shares& s, std::vector<std::string>& warnings) {
    const auto warn = [&](const char* what, Money net, Money floor) {
        if (net < floor)
            warnings.push_back(fmt::format("price: {} at {} lie {} below their cost to us, {}", what, format(net),
                                           format(floor - net), format(floor)));
    };
    if (patches.count > 0) warn("the patches", s.patch, patches.floor);
    if (digs.count > 0) warn("the digs", s.dig, digs.floor);
}

/// The yard's discount on the lines so far, cut where it would go below floor or minimum charge.
void add_discount(Offered& offer, const job::Rates& rates) {
    if (rates.discount == Share{} || offer.lines.empty()) return;
    Money net{};
    Money floor{};
    for (const OfferLine& line : offer.lines) {
        net += line.net;
        floor += line.floor;
    }
    const Money room = std::max(Money{}, net - std::max(floor, rates.minimum_charge));
    const Money wanted = share_of(net, rates.discount);
    offer.discount = std::min(wanted, room);
    const std::string rate = format(Show::percent, rates.discount.as_double(), UnitSystem::metric);
    if (offer.discount < wanted)
        offer.warnings.push_back(fmt::format(
            "price: a discount of {} would go below our {}; cut to {}. A net price in the job file goes lower", rate,
            floor >= rates.minimum_charge ? "cost" : "minimum charge", format(offer.discount)));
    if (offer.discount.is_zero()) return;
    offer.lines.push_back({OfferKind::discount, offer.discount == wanted ? "Discount " + rate : "Discount", 1.0, "",
                           -offer.discount, -room});
}

}  // namespace

std::string_view word(OfferKind k) {
    switch (k) {
        case OfferKind::patch:
            return "patch";
        case OfferKind::dig:
            return "dig";
        case OfferKind::extra:
            return "extra";
        case OfferKind::discount:
            return "discount";
    }
    return "patch";
}

Shares shared_out(const Part& patches, const Part& digs, Money total) {
    if (patches.count == 0) return {{}, total};
    if (digs.count == 0) return {total, {}};
    const Money own = patches.own + digs.own;
    const Money floor = patches.floor + digs.floor;
    Shares s;
    if (total >= own) {
        s.dig = digs.own;
    } else if (total >= floor) {
        const Money profit = own - floor;
        s.dig = digs.own - std::min(in_proportion(own - total, digs.own - digs.floor, profit), digs.own - digs.floor);
        // Whatever the rounding, the patches keep their floor.
        s.dig = std::min(s.dig, total - patches.floor);
    } else {
        s.dig = in_proportion(total, digs.floor, floor);
    }
    s.patch = total - s.dig;
    return s;
}

Offered offered(const Part& patches, const Part& digs, const Bracket& bracket, const job::Job& job,
                const job::Yard& yard, Working& working) {
    Offered offer;
    const job::PriceWish& wish = job.price;
    const bool work = patches.count > 0 || digs.count > 0;
    offer.wished = wish.given() && work;
    Shares shares;
    if (work && wish.net) {
        shares = shared_out(patches, digs, *wish.net);
    } else if (work && wish.per_patch && patches.count > 0) {
        shares = {*wish.per_patch * patches.count, digs.count > 0 ? digs.own : Money{}};
    } else if (work && (bracket.bid || wish.profit)) {
        shares = shared_out(patches, digs, wish.profit ? bracket.own : bracket.suggested);
    }
    const Money asked = shares.patch + shares.dig;
    if (!asked.is_zero()) {
        if (patches.count > 0)
            offer.lines.push_back({OfferKind::patch, counted("Patch repair", "Patch repairs", patches.count),
                                   static_cast<double>(patches.count), "no.", shares.patch, patches.floor});
        if (digs.count > 0)
            offer.lines.push_back({OfferKind::dig,
                                   counted("Excavation and new pipe", "Excavations and new pipe", digs.count),
                                   static_cast<double>(digs.count), "no.", shares.dig, digs.floor});
        warn_of_lines(patches, digs, shares, offer.warnings);
        if (offer.wished && patches.count > 0 && asked > bracket.limit)
            offer.warnings.push_back(fmt::format("price: {} lies above {}, where digging serves the customer better",
                                                 format(asked), format(bracket.limit)));
        if (offer.wished && asked < yard.rates.minimum_charge)
            offer.warnings.push_back(fmt::format("price: {} lies below our minimum charge, {}", format(asked),
                                                 format(yard.rates.minimum_charge)));
    }
    // Extras go with work; without an offer there is nothing for them to go with.
    Money extras{};
    if (!offer.lines.empty() || !work) {
        for (const job::Extra& extra : job.extras) {
            offer.lines.push_back(extra_line(extra, yard.price_list));
            extras += offer.lines.back().net;
        }
    }
    // A visit for extras alone is a visit.
    if (!work && !offer.lines.empty() && extras < yard.rates.minimum_charge) {
        const Money more = yard.rates.minimum_charge - extras;
        offer.lines.push_back({OfferKind::extra, "Up to our minimum charge", 1.0, "", more, {}});
        extras += more;
    }
    if (!wish.net) add_discount(offer, yard.rates);
    offer.total = asked + extras - offer.discount;
    offer.work = asked - offer.discount;
    working.add(offered_formula, {asked, extras, offer.discount}, offer.total);
    return offer;
}

ListedPrice by_price_list(const std::vector<ListedSleeve>& sleeves, int visits, Money floor, const job::PriceList& list,
                          UnitSystem units) {
    ListedPrice price;
    if (list.patches.empty() || sleeves.empty()) return price;
    std::vector<Money> first_extra;  // what being first on a visit adds
    for (const ListedSleeve& sleeve : sleeves) {
        const auto row = std::find_if(list.patches.begin(), list.patches.end(), [&](const job::PatchPrice& p) {
            return sleeve.bore <= p.bore_to && sleeve.length <= p.length_to;
        });
        if (row == list.patches.end()) {
            price.beyond.push_back(fmt::format("{}: bore {}, length {}", sleeve.id,
                                               format(Show::tape, sleeve.bore, units),
                                               format(Show::run_distance, sleeve.length, units)));
            continue;
        }
        price.patches += row->further;
        first_extra.push_back(row->first - row->further);
    }
    std::sort(first_extra.begin(), first_extra.end(), std::greater<>{});
    const auto firsts = std::min(first_extra.size(), static_cast<std::size_t>(std::max(1, visits)));
    for (std::size_t i = 0; i < firsts; ++i) price.patches += first_extra[i];
    price.listed = price.beyond.empty();
    price.margin = price.patches - floor;
    return price;
}

}  // namespace patchwright::price
