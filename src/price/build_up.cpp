#include "patchwright/price/build_up.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include <fmt/core.h>

#include "patchwright/units/error.hpp"
#include "unit_word.hpp"

namespace patchwright::price {
namespace {

constexpr std::array hour_symbols{
    Symbol{"w", "wage an hour", Show::money},
    Symbol{"c", "on-costs", Show::percent},
    Symbol{"u", "productive share of paid hours", Show::percent},
    Symbol{"n", "people", Show::count},
};
constexpr Formula hour_formula{.id = "price.crew-hour",
                               .result = {"k", "cost of a team hour", Show::money},
                               .text = "k = n w (1 + c) / u",
                               .inputs = hour_symbols,
                               .source = "common practice, no source",
                               .page = "price"};
constexpr std::array labour_symbols{
    Symbol{"t", "team time by the schedule", Show::span},
    Symbol{"k", "cost of a team hour", Show::money},
};
constexpr Formula labour_formula{.id = "price.labour",
                                 .result = {"C", "labour", Show::money},
                                 .text = "C = t k, t in hours",
                                 .inputs = labour_symbols,
                                 .source = "derived here, docs/methods/price.md",
                                 .page = "price"};
constexpr std::array overhead_symbols{
    Symbol{"C", "direct cost", Show::money},
    Symbol{"R", "risk", Show::money},
    Symbol{"o", "overhead, share", Show::percent},
};
constexpr std::array overhead_day_symbols{
    Symbol{"o_d", "overhead a crew-day", Show::money},
    Symbol{"d", "crew-days", Show::ratio},
};
constexpr Formula overhead_formula{.id = "price.overhead",
                                   .result = {"O", "overhead", Show::money},
                                   .text = "O = o (C + R)",
                                   .inputs = overhead_symbols,
                                   .source = "common practice, no source",
                                   .page = "price"};
constexpr Formula overhead_by_day{.id = "price.overhead_by_day",
                                  .result = {"O", "overhead", Show::money},
                                  .text = "O = o_d d",
                                  .inputs = overhead_day_symbols,
                                  .source = "common practice, no source",
                                  .page = "price"};
constexpr std::array net_symbols{
    Symbol{"K", "direct + risk + overhead", Show::money},
    Symbol{"p", "profit, markup or margin as the yard says", Show::percent},
    Symbol{"m", "minimum charge", Show::money},
    Symbol{"s", "price step", Show::money},
};
constexpr Formula markup_net{.id = "price.net.markup",
                             .result = {"N", "net price", Show::money},
                             .text = "N = up_to_step(max(K (1 + p), m), s)",
                             .inputs = net_symbols,
                             .source = "common practice, no source",
                             .page = "price"};
constexpr Formula margin_net{.id = "price.net.margin",
                             .result = {"N", "net price", Show::money},
                             .text = "N = up_to_step(max(K / (1 - p), m), s)",
                             .inputs = net_symbols,
                             .source = "common practice, no source",
                             .page = "price"};

Money overhead_of(Money direct_and_risk, double crew_days, const job::Rates& rates) {
    if (!rates.overhead_per_crew_day.is_zero()) return scaled(rates.overhead_per_crew_day, crew_days);
    return share_of(direct_and_risk, rates.overhead);
}
Money with_profit(Money cost, const job::Rates& rates) {
    return rates.profit_is_margin ? with_margin(cost, rates.profit) : marked_up(cost, rates.profit);
}
/// Nothing to do costs nothing: the minimum charge is for a job.
Money at_least_minimum(Money price, const job::Rates& rates) {
    if (price.is_zero()) return price;
    return std::max(price, rates.minimum_charge);
}

Share share_from(double value) { return Share::millionths(std::llround(value * 1e6)); }

bool bears_input_tax(LineKind k) {
    return k == LineKind::material || k == LineKind::plant || k == LineKind::wear || k == LineKind::disposal ||
           k == LineKind::surface || k == LineKind::subcontract;
}

void tax_net(BuildUp& b, const job::Rates& rates) {
    b.tax = Money{};
    for (const TaxPart& part : tax_parts(b, b.net, rates)) b.tax += part.tax;
    b.gross = b.net + b.tax;
}

}  // namespace

std::string_view word(LineKind k) {
    switch (k) {
        case LineKind::labour:
            return "labour";
        case LineKind::material:
            return "material";
        case LineKind::plant:
            return "plant";
        case LineKind::wear:
            return "wear";
        case LineKind::job_specific:
            return "job-specific";
        case LineKind::mobilisation:
            return "mobilisation";
        case LineKind::disposal:
            return "disposal";
        case LineKind::surface:
            return "surface";
        case LineKind::subcontract:
            return "subcontract";
        case LineKind::risk:
            return "risk";
    }
    return "labour";
}

MoneyPer<Duration> team_hour(const job::Rates& rates, int team, Working& working) {
    const double productive = rates.productive.as_double();
    if (!(productive > 0.0 && productive <= 1.0)) {
        throw RangeError(
            fmt::format("rates: the productive share of paid hours must be above 0 % and at most 100 %, "
                        "got {} %",
                        100.0 * productive));
    }
    if (rates.wage.amount < Money{} || rates.wage.per.si() <= 0.0 || rates.on_costs < Share{} || team < 0) {
        throw RangeError("rates: wage, on-costs and team size may not be negative");
    }
    const double hours = unit::h / rates.wage.per;
    const double factor = hours * (1.0 + rates.on_costs.as_double()) / productive * team;
    // From the wage in one step: a rate rounded before it is multiplied would cost a cent an hour and head.
    const double cents = static_cast<double>(rates.wage.amount.in_cents()) * factor;
    if (!(std::abs(cents) < 9e12)) throw RangeError("rates: the cost of a team hour is beyond any wage");
    const Money amount = Money::cents(std::llround(cents), rates.wage.amount.currency());
    working.add(hour_formula,
                {{rates.wage.amount, Origin::yard},
                 {rates.on_costs.as_double(), Origin::yard},
                 {productive, Origin::yard},
                 {static_cast<double>(team), Origin::yard}},
                amount);
    return {amount, unit::h};
}

MoneyPer<Duration> crew_hour(const job::Rates& rates, Working& working) {
    return team_hour(rates, rates.crew_size, working);
}

MoneyPer<Duration> hour_cost(const MoneyPer<Duration>& wage, Share on_costs, Share productive, Working& working) {
    job::Rates rates;
    rates.wage = wage;
    rates.on_costs = on_costs;
    rates.productive = productive;
    return team_hour(rates, 1, working);
}

Share margin_from_markup(Share markup) {
    const double m = markup.as_double();
    if (m <= -1.0) throw RangeError("markup: -100 % or less leaves no price");
    return share_from(m / (1.0 + m));
}
Share markup_from_margin(Share margin) {
    const double g = margin.as_double();
    if (g >= 1.0) throw RangeError("margin: 100 % of the price or more leaves nothing for the cost");
    return share_from(g / (1.0 - g));
}
std::vector<TaxPart> tax_parts(const BuildUp& b, Money net, const job::Rates& rates) {
    if (!rates.tax_registered) return {};
    const Share on_materials = rates.tax_materials.value_or(rates.tax);
    if (on_materials == rates.tax || b.direct.is_zero()) return {{rates.tax, net, share_of(net, rates.tax)}};
    double materials = 0.0;
    for (const Line& line : b.lines) {
        if (line.kind == LineKind::material) materials += static_cast<double>(line.amount.in_cents());
    }
    const Money part = scaled(net, materials / static_cast<double>(b.direct.in_cents()));
    return {{on_materials, part, share_of(part, on_materials)},
            {rates.tax, net - part, share_of(net - part, rates.tax)}};
}
Money tax_on(Money net, Share tax) { return share_of(net, tax); }
Money tax_within(Money gross, Share tax) {
    const double t = tax.as_double();
    if (t < 0.0) throw RangeError("tax: the rate may not be negative");
    const double net = static_cast<double>(gross.in_cents()) / (1.0 + t);
    return gross - Money::cents(std::llround(net), gross.currency());
}

void add_line(std::vector<Line>& lines, LineKind kind, std::string_view words, double quantity, std::string_view unit,
              Money rate) {
    const Money amount = scaled(rate, quantity);
    if (amount.is_zero()) return;
    lines.push_back({kind, std::string{words}, quantity, std::string{unit}, rate, amount});
}

Money sum(const std::vector<Line>& lines) {
    Money total{};
    for (const Line& line : lines) total += line.amount;
    return total;
}

void add_input_tax(std::vector<Line>& lines, const job::Rates& rates) {
    if (rates.tax_registered || rates.tax == Share{}) return;
    Money bought{};
    for (const Line& line : lines) {
        if (bears_input_tax(line.kind)) bought += line.amount;
    }
    add_line(lines, LineKind::job_specific, input_tax_words, rates.tax.as_double(), "of them", bought);
}

std::vector<Line> patch_lines(const PatchWorks& works, const job::Rates& rates, Working& working) {
    std::vector<Line> lines;
    if (works.patches <= 0) return lines;
    if (works.days <= 0 || works.visits <= 0) {
        throw InputError("price: patches without a day or a visit; the schedule must give both");
    }
    constexpr std::size_t max_others = 10;
    lines.reserve(works.materials.size() + works.wear.size() + works.hired.size() + max_others);
    const MoneyPer<Duration> hour = crew_hour(rates, working);
    add_line(lines, LineKind::labour, fmt::format("Team of {}, hours by the schedule", rates.crew_size),
             works.crew_time.in(unit::h), "h", hour.amount);
    working.add(labour_formula, {works.crew_time, hour.amount}, cost(hour, works.crew_time));
    add_line(lines, LineKind::labour, "Overtime, premium", works.overtime.in(unit::h), "h",
             share_of(hour.amount, rates.overtime_premium));
    add_line(lines, LineKind::labour, "Helper", works.helper_days, "days", rates.helper_per_day);
    for (const PatchWorks::Material& m : works.materials) {
        if (!m.amount.is_zero()) {
            lines.push_back({LineKind::material, m.words, m.quantity, m.unit, m.rate, m.amount});
        }
    }
    add_line(lines, LineKind::material, "Consumables, each patch", works.patches, "patches",
             rates.consumables_per_patch);
    add_line(lines, LineKind::material, "Consumables, each visit", works.visits, "visits", rates.consumables_per_visit);
    for (const PatchWorks::Material& m : works.wear) {
        if (!m.amount.is_zero()) lines.push_back({LineKind::wear, m.words, m.quantity, m.unit, m.rate, m.amount});
    }
    add_line(lines, LineKind::plant, "Vehicle", works.days, "days", rates.vehicle_per_day);
    add_line(lines, LineKind::plant, "Jetter", works.days, "days", rates.jetter_per_day);
    add_line(lines, LineKind::plant, "Camera", works.days, "days", rates.camera_per_day);
    add_line(lines, LineKind::plant, "Compressor", works.days, "days", rates.compressor_per_day);
    for (const PatchWorks::Material& m : works.hired)
        if (!m.amount.is_zero()) lines.push_back({LineKind::plant, m.words, m.quantity, m.unit, m.rate, m.amount});
    if (works.cutter_needed) add_line(lines, LineKind::plant, "Cutter", 1, "days", rates.cutter_per_day);
    add_line(lines, LineKind::job_specific, "Cure overnight", works.nights, "nights", rates.premium_overnight);
    add_line(lines, LineKind::mobilisation, "Road, there and back",
             2.0 * works.visits * (rates.travel_distance / rates.travel_cost.per), unit_word(rates.travel_cost.per),
             rates.travel_cost.amount);
    return lines;
}

double price_of_cost(double cents, double crew_days, const job::Rates& rates) {
    const double overhead = rates.overhead_per_crew_day.is_zero()
                                ? cents * rates.overhead.as_double()
                                : static_cast<double>(rates.overhead_per_crew_day.in_cents()) * crew_days;
    const double p = rates.profit.as_double();
    const double price = rates.profit_is_margin ? (cents + overhead) / (1.0 - p) : (cents + overhead) * (1.0 + p);
    return price == 0.0 ? 0.0 : std::max(price, static_cast<double>(rates.minimum_charge.in_cents()));
}

Money price_of_cost(Money direct_and_risk, double crew_days, const job::Rates& rates) {
    const Money cost = direct_and_risk + overhead_of(direct_and_risk, crew_days, rates);
    return at_least_minimum(with_profit(cost, rates), rates);
}

void close(BuildUp& b, const job::Rates& rates, Working& working) {
    b.direct = sum(b.lines);
    b.risk = sum(b.risk_lines);
    b.overhead = overhead_of(b.direct + b.risk, b.crew_days, rates);
    if (rates.overhead_per_crew_day.is_zero())
        working.add(overhead_formula, {b.direct, b.risk, {rates.overhead.as_double(), Origin::yard}}, b.overhead);
    else
        working.add(overhead_by_day, {{rates.overhead_per_crew_day, Origin::yard}, b.crew_days}, b.overhead);
    const Money price = price_of_cost(b.direct + b.risk, b.crew_days, rates);
    b.net = rates.round_to.is_zero() ? price : rounded_up_to(price, rates.round_to);
    b.profit = b.net - b.direct - b.risk - b.overhead;
    working.add(rates.profit_is_margin ? margin_net : markup_net,
                {b.cost(),
                 {rates.profit.as_double(), Origin::yard},
                 {rates.minimum_charge, Origin::yard},
                 {rates.round_to, Origin::yard}},
                b.net);
    tax_net(b, rates);
}

}  // namespace patchwright::price
