#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "blocks.hpp"
#include "letter.hpp"
#include "words.hpp"

namespace patchwright::sheet {
namespace {

std::string tax_name(const Context& c) {
    const auto& name = c.yard().firm.tax_name;
    return name == "tax" ? "Tax" : name;
}

/// Lines, net, tax, total. Returns the total with tax.
Money add_amounts(const Context& c, Table& table) {
    const auto& offer = c.plan->offer;
    const auto& rates = c.yard().rates;
    for (const auto& line : offer.offered.lines) {
        const bool counted = line.kind == price::OfferKind::extra && (!line.unit.empty() || line.quantity != 1.0);
        const char* space = line.unit.empty() ? "" : " ";
        table.rows.push_back(
            {counted ? fmt::format("{}, {:g}{}{}", line.words, line.quantity, space, line.unit) : line.words,
             format(line.net)});
    }
    const Money net = offer.offered.total;
    Money due = net;
    table.total_rows.push_back(table.rows.size());
    table.rows.push_back({"Total net", format(net)});
    const auto parts = price::tax_parts(offer.patch, net, rates);
    for (const auto& part : parts) {
        const auto rate = format(Show::percent, part.rate.as_double(), c.units);
        const auto& whose = &part == &parts.front() ? "materials" : "work";
        table.rows.push_back({parts.size() == 1
                                  ? fmt::format("{} {}", tax_name(c), rate)
                                  : fmt::format("{} {} on {} ({})", tax_name(c), rate, whose, format(part.on)),
                              format(part.tax)});
        due += part.tax;
    }
    if (parts.empty()) return due;
    table.total_rows.push_back(table.rows.size());
    table.rows.push_back({fmt::format("Total incl. {}", c.yard().firm.tax_name), format(due)});
    return due;
}

void add_price(const Context& c, Sheet& sheet) {
    const auto& offer = c.plan->offer;
    const bool estimate = letter_of(c) == Letter::estimate;
    sheet.blocks.push_back(heading(estimate ? "Estimated price" : "Price"));
    Table table;
    table.columns = {{"Item"}, {"Amount", Align::right}};
    add_amounts(c, table);
    sheet.blocks.push_back({table});
    const Money least = c.yard().rates.minimum_charge;
    if (!offer.offered.wished && !least.is_zero() && offer.offered.work == least)
        sheet.blocks.push_back(paragraph("This is our minimum charge for a visit."));
    if (!c.yard().rates.tax_registered)
        sheet.blocks.push_back(paragraph(fmt::format("No {} is charged.", c.yard().firm.tax_name)));
    if (estimate) {
        sheet.blocks.push_back(paragraph(
            fmt::format(
                "This is an estimate from {}. After a camera survey the price may come to between {} and {} "
                "net. The survey costs {} net and gives us what we need for a firm offer.",
                c.job().certainty == job::Certainty::call ? "what we were told on the telephone" : "photographs",
                format(offer.band_from), format(offer.band_to), format(c.yard().rates.survey_price)),
            Emphasis::strong));
    }
}

std::string as_said(const Context& c) { return letter_of(c) == Letter::estimate ? "As estimated" : "As offered"; }

/// Digging as the other way to do the same.
void add_comparison(const Context& c, Sheet& sheet) {
    const auto& offer = c.plan->offer;
    if (c.plan->patches.empty() || offer.saving.is_zero()) return;
    const auto& patch = offer.patch_outcome;
    const auto& dig = offer.dig_outcome;
    const auto about = [](double days) { return fmt::format("about {:.0f}", std::ceil(days - 1e-9)); };
    const auto or_none = [&](Show how, auto value) {
        return value.si() > 0.0 ? show(c, how, value) : std::string{"none"};
    };
    Table table;
    table.columns = {{""}, {as_said(c)}, {"Digging up every place"}};
    table.rows = {
        {c.job().extras.empty() ? "Price, net" : "Price, net, without extras", format(offer.offered.work),
         "about " + format(offer.bracket.ceiling)},
        {"Days on site", about(patch.days), about(dig.days)},
        {"Surface broken and put back", or_none(Show::area, patch.surface_broken),
         or_none(Show::area, dig.surface_broken)},
        {"Soil carted away", or_none(Show::spoil_mass, patch.carted), or_none(Show::spoil_mass, dig.carted)},
        {"What it leaves", "bore smaller by twice the liner; fall as it was",
         "new pipe on a new bed; the fall can be put right"},
    };
    sheet.blocks.push_back(heading("Compared with digging"));
    sheet.blocks.push_back({table});
    add_customer_note(c, sheet);
}

/// Other ways to patch that cost nearly as much, beside the one offered and digging.
void add_options(const Context& c, Sheet& sheet) {
    const auto& others = c.plan->layout.others;
    if (others.empty()) return;
    const auto& offer = c.plan->offer;
    const auto sleeves = [&](std::size_t count, Length longest) {
        return fmt::format("{} patch{}, the longest {}", count, count == 1 ? "" : "es",
                           show(c, Show::run_distance, longest));
    };
    Length longest{};
    for (const auto& p : c.plan->patches) longest = std::max(longest, p.length());
    Table table;
    table.columns = {{"Way"}, {"Days of patching", Align::right}, {"Price, net", Align::right}};
    table.rows.push_back({as_said(c) + ": " + sleeves(c.plan->patches.size(), longest),
                          fmt::format("{}", c.plan->schedule.days.size()), format(offer.offered.work)});
    for (const auto& other : others) {
        const Money price = offer.offered.work + other.more;
        if (price >= offer.bracket.ceiling) continue;
        table.rows.push_back({sleeves(other.patches, other.longest), fmt::format("{}", other.days), format(price)});
    }
    if (table.rows.size() == 1) return;
    sheet.blocks.push_back(heading("Ways to do it"));
    sheet.blocks.push_back({table});
}

/// What the firm says of payment, guarantee and the rest; where it says nothing of its own, plain sentences.
void add_terms(const Context& c, Sheet& sheet) {
    const auto& firm = c.yard().firm;
    const bool binding = letter_of(c) == Letter::offer;
    Bullets list;
    if (!firm.payment_terms.empty()) list.items.push_back("Payment: " + firm.payment_terms);
    if (!firm.deposit.empty()) list.items.push_back("Deposit: " + firm.deposit);
    if (!firm.bank.empty()) list.items.push_back("Bank: " + firm.bank);
    if (!c.plan->patches.empty()) {
        if (firm.guarantee_years && *firm.guarantee_years > 0)
            list.items.push_back(fmt::format("Guarantee on the patches: {} year{}. {}", *firm.guarantee_years,
                                             *firm.guarantee_years == 1 ? "" : "s", firm.guarantee));
        else if (!firm.guarantee.empty())
            list.items.push_back("Guarantee: " + firm.guarantee);
    }
    if (!firm.terms.empty()) {
        for (auto& line : filled_lines(firm.terms)) list.items.push_back(std::move(line));
    } else if (binding) {
        list.items.emplace_back(
            "If the drain differs from the survey, we stop, show you the footage and agree the change "
            "in writing before we go on.");
        list.items.emplace_back("Private customers may have a legal right to cancel; we will tell you how.");
    }
    if (list.items.empty()) return;
    sheet.blocks.push_back(heading("Terms"));
    sheet.blocks.push_back({std::move(list)});
}

/// What the camera has still to show, with the price of either answer. Not part of the total.
void add_open_questions(const Context& c, Sheet& sheet) {
    if (c.plan->look_again.empty()) return;
    Bullets list;
    const bool on_top = letter_of(c) != Letter::advice;
    for (const auto& item : c.plan->look_again) {
        const auto& run = c.plan->run_of(item);
        const auto& defect = run.defects[static_cast<std::size_t>(item.defect)];
        const bool dug = defect.kind != job::DefectKind::infiltration;
        const char* sign = on_top ? "+ " : "about ";
        list.items.push_back(fmt::format(
            "{}, drain {} at {}: if {}, a patch: {}{}; if {}, {}: {}{} net.", defect.id, run.id,
            show(c, Show::run_distance, defect.at), item.mended_if, sign, format(item.mended), item.beyond_if,
            dug ? "excavated" : "a patch after stopping the water", sign, format(item.beyond)));
    }
    sheet.blocks.push_back(
        heading(on_top ? "To be confirmed by camera; not in the total" : "What it may then come to, each by itself"));
    sheet.blocks.push_back({std::move(list)});
}

/// Patches that only the length of the day, or the resin, keeps from being made. Not part of the total.
void add_conditional(const Context& c, Sheet& sheet) {
    Bullets longer, other;
    for (const auto& item : c.plan->not_planned) {
        const auto& run = c.plan->run_of(item.patch);
        const bool day = item.minutes > 0;
        (day ? longer : other)
            .items.push_back(
                fmt::format("{}, drain {}: a patch of {}{}{}.", defect_ids(c, item.patch), run.id,
                            show(c, Show::run_distance, item.patch.length()),
                            day || !item.otherwise ? "" : ", with " + item.otherwise->words,
                            item.extra_net ? ": + " + format(*item.extra_net) + " net" : ", price on request"));
    }
    const auto add = [&](const char* words, Bullets list) {
        if (list.items.empty()) return;
        sheet.blocks.push_back(heading(words));
        sheet.blocks.push_back({std::move(list)});
    };
    add("Possible on a longer working day; not in the total", std::move(longer));
    add("Possible under another condition; not in the total", std::move(other));
}

void add_limits(const Context& c, Sheet& sheet) {
    const bool dug = !c.plan->offer.unavoidable_works.pits.empty();
    sheet.blocks.push_back(heading("Not included"));
    Bullets list{{dug ? "What nobody can know beforehand: damage that the camera could not show, buried services that "
                        "no plan shows, asbestos, contaminated ground"
                      : "What nobody can know beforehand: damage that the camera could not show"}};
    list.items.emplace_back(dug ? "Access over other people's land, water and power on site, work out of hours"
                                : "Permits, access over other people's land, water and power on site, work out of "
                                  "hours");
    if (!c.plan->patches.empty()) list.items.emplace_back("Taking out a sag: a patch follows the pipe as it lies");
    sheet.blocks.push_back({std::move(list)});
    if (auto rests_on = conditions(c); !rests_on.empty()) {
        sheet.blocks.push_back(heading("The price is based on this"));
        sheet.blocks.push_back({Bullets{std::move(rests_on)}});
    }
}

/// No offer: what serves the customer instead.
void add_advice(const Context& c, Sheet& sheet) {
    const auto& offer = c.plan->offer;
    const bool dig = !offer.pits.empty();
    const bool looked_at = std::any_of(c.plan->runs.begin(), c.plan->runs.end(), [](const auto& run) {
        return std::any_of(run.verdicts.begin(), run.verdicts.end(),
                           [](const auto& v) { return v.assessment.verdict == survey::Verdict::look_again; });
    });
    if (dig) {
        sheet.blocks.push_back(paragraph(
            "We advise you to have these places dug up and the pipe renewed. Patching from inside would cost you more, "
            "so we make no offer for it.",
            Emphasis::strong));
        add_excavations(c, offer.pits, sheet);
        sheet.blocks.push_back(paragraph(fmt::format(
            "As a guide, such work is done for about {} net, with tracing of buried services, new pipe, backfill "
            "and the surface put back. Ask for offers that name these same items.",
            format(offer.bracket.ceiling))));
    } else if (looked_at) {
        sheet.blocks.push_back(
            paragraph("The footage does not show enough for a firm price. A second look with the camera "
                      "at the places above, after cleaning, comes first.",
                      Emphasis::strong));
        sheet.blocks.push_back(
            paragraph(fmt::format("This survey costs {} net.", format(c.yard().rates.survey_price))));
        add_open_questions(c, sheet);
    } else {
        sheet.blocks.push_back(
            paragraph(c.job().certainty == job::Certainty::survey
                          ? "The survey shows no damage that needs mending. Nothing is offered."
                          : "From what we know there is no damage that needs mending. Nothing is offered.",
                      Emphasis::strong));
    }
}

}  // namespace

Sheet quote_sheet(const Context& c) {
    const Letter letter = letter_of(c);
    Sheet sheet;
    sheet.kind = letter == Letter::offer ? "Offer" : letter == Letter::estimate ? "Estimate" : "Advice";
    sheet.title = c.job().title;
    if (letter == Letter::offer) sheet.reference = c.job().reference;
    sheet.subject = c.job().customer.name;
    sheet.compact = true;
    add_money_banner(c, sheet);
    add_letterhead(c, sheet);
    if (c.former != nullptr && letter != Letter::advice) {
        auto changes = changes_since(c, *c.former);
        if (changes.empty()) changes.emplace_back("None but in dates or price.");
        sheet.blocks.push_back(heading("Changes since the former offer"));
        sheet.blocks.push_back({Bullets{std::move(changes)}});
    }
    add_findings(c, sheet);
    if (letter == Letter::advice) {
        add_advice(c, sheet);
        return sheet;
    }
    add_scope(c, sheet);
    add_price(c, sheet);
    add_open_questions(c, sheet);
    add_conditional(c, sheet);
    add_options(c, sheet);
    add_comparison(c, sheet);
    add_limits(c, sheet);
    add_terms(c, sheet);
    if (letter == Letter::offer) {
        const auto& firm = c.yard().firm.name.empty() ? c.yard().name : c.yard().firm.name;
        sheet.blocks.push_back({Signature{{"Accepted by the customer", "Date", "For " + firm}}});
    }
    return sheet;
}

}  // namespace patchwright::sheet
