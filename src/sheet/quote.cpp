#include <algorithm>
#include <cctype>
#include <cmath>

#include <fmt/format.h>

#include "blocks.hpp"
#include "words.hpp"

namespace patchwright::sheet {
namespace {

std::string capital(std::string_view words) {
    std::string text{words};
    if (!text.empty()) text.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(text.front())));
    return text;
}

std::string day_after(Date date, int days) {
    for (int i = 0; i < days; ++i) date = next_day(date);
    return format(date);
}

void add_parties(const Context& c, Sheet& sheet) {
    const auto& job = *c.job;
    Fields fields;
    fields.fields = {{"Offer no.", job.reference, Emphasis::strong}, {"From", c.yard->name}};
    if (job.date) {
        fields.fields.push_back({"Date of the work", format(*job.date)});
        fields.fields.push_back({"Valid for", fmt::format("{} days, to {} at the latest", c.yard->rates.validity_days,
                                                          day_after(*job.date, c.yard->rates.validity_days))});
    } else {
        fields.fields.push_back({"Valid for", fmt::format("{} days", c.yard->rates.validity_days)});
    }
    const auto field = [&](const char* label, const std::string& value) {
        fields.fields.push_back({label, value, Emphasis::normal, value.empty()});
    };
    field("Customer", job.customer.name);
    field("Address", job.customer.address);
    field("Site", job.customer.site_address);
    sheet.blocks.push_back({fields});
}

void add_found(const Context& c, Sheet& sheet) {
    sheet.blocks.push_back(heading("What was found"));
    Table table;
    table.columns = {{"Place"}, {"Finding"}, {"What we offer"}};
    for (std::size_t r = 0; r < c.plan->runs.size(); ++r) {
        const auto& run = c.job->runs[r];
        for (std::size_t d = 0; d < run.defects.size(); ++d) {
            const auto& judgement = c.plan->runs[r].verdicts[d].judgement;
            // What wants a sleeve and gets none is dug, and charged as such.
            const bool no_room = survey::wants_patch(judgement.verdict) && !in_a_patch(c, r, d);
            table.rows.push_back(
                {fmt::format("{}: {} to {}", run.id, run.from, run.to), defect_words(c, run.defects[d]),
                 fmt::format("{}. {}",
                             no_room ? "Dig. No sleeve can be placed here" : capital(survey::word(judgement.verdict)),
                             judgement.reasons.empty() ? "" : judgement.reasons.front())});
        }
    }
    sheet.blocks.push_back({table});
}

void add_scope(const Context& c, Sheet& sheet) {
    sheet.blocks.push_back(heading("What we will do"));
    Table table;
    table.columns = {{"Patch"}, {"Run"}, {"From"}, {"To"}, {"Bore"}, {"Pipe"}, {"Wall when cured"}, {"Mends"}};
    auto patches = c.plan->patches;
    std::sort(patches.begin(), patches.end(), [](const auto& a, const auto& b) { return a.id < b.id; });
    for (const auto& p : patches) {
        const auto& run = run_of(c, p);
        table.rows.push_back({p.id, run.id, show(c, Show::run_distance, p.start), show(c, Show::run_distance, p.end),
                              show(c, Show::tape, p.bore), std::string{job::word(run.material)},
                              show(c, Show::thickness, p.felt.installed), defect_ids(c, p)});
    }
    if (table.rows.empty()) {
        sheet.blocks.push_back(paragraph("Nothing here can be mended with a patch. The honest answer is to dig."));
        return;
    }
    sheet.blocks.push_back({table});
    const bool dug_as_well = c.plan->offer.unavoidable_dig.net > Money{};
    sheet.blocks.push_back(paragraph(fmt::format(
        "Method: the drain is cleaned and filmed. A felt sleeve, wet with two-part resin, is taken in on an inflatable "
        "packer, pressed on the broken wall and left to harden. The packer comes out, the pipe is filmed again. {}",
        dug_as_well ? "No digging at these places." : "No digging.")));
    sheet.blocks.push_back(heading("Included", 3));
    sheet.blocks.push_back(
        {Bullets{{"Travel, set-up, cleaning and camera before and after", "Felt, resin, packers, waste",
                  "Film of the finished patches, record of times, weights and pressures"}}});
    sheet.blocks.push_back(heading("Not included", 3));
    sheet.blocks.push_back({Bullets{{"Collapse or damage that the survey could not show",
                                     "Services found in the ground, asbestos, contaminated ground",
                                     "Traffic permits, access by others, water and power on site",
                                     "Gradient: a patch does not lift a sag", "Work out of hours"}}});
}

void add_comparison(const Context& c, Sheet& sheet) {
    const auto& offer = c.plan->offer;
    if (c.plan->patches.empty()) return;
    sheet.blocks.push_back(heading("Patch or dig: the same places either way"));
    const auto& patch = offer.patch_outcome;
    const auto& dig = offer.dig_outcome;
    const auto about = [](double days) { return fmt::format("about {:.0f}", std::ceil(days - 1e-9)); };
    const auto or_none = [&](Show how, auto value) {
        return value.si() > 0.0 ? show(c, how, value) : std::string{"none"};
    };
    Table table;
    table.columns = {{""}, {"Patch"}, {"Dig"}};
    table.rows = {
        {"Price, net", format(offer.bracket.suggested), format(offer.bracket.ceiling)},
        {"Days on site", about(patch.days), about(dig.days)},
        {"Surface broken and put back", or_none(Show::area, patch.surface_broken),
         or_none(Show::area, dig.surface_broken)},
        {"Spoil carted away", or_none(Show::spoil_mass, patch.carted), or_none(Show::spoil_mass, dig.carted)},
        {"Noise, dust", "compressor, jetter", "breaker, saw, digger, lorries"},
        {"What it leaves", "bore smaller by twice the wall; gradient as it was",
         "new pipe on a new bed; gradient set right"},
        {"How long", "as long as the pipe round it stands", "as a new drain"},
    };
    sheet.blocks.push_back({table});
}

/// Other ways to patch that cost nearly as much, beside the one offered and digging.
void add_options(const Context& c, Sheet& sheet) {
    const auto& others = c.plan->layout.others;
    if (others.empty()) return;
    const auto& offer = c.plan->offer;
    const auto sleeves = [&](std::size_t count, Length longest) {
        return fmt::format("{} sleeve{}, the longest {}", count, count == 1 ? "" : "s",
                           show(c, Show::run_distance, longest));
    };
    Length longest{};
    for (const auto& p : c.plan->patches) longest = std::max(longest, p.length());
    Table table;
    table.columns = {{"Way"}, {"Days of patching", Align::right}, {"Price, net", Align::right}};
    table.rows.push_back({"As offered: " + sleeves(c.plan->patches.size(), longest),
                          fmt::format("{}", c.plan->schedule.days.size()), format(offer.bracket.suggested)});
    for (const auto& other : others) {
        const Money price = offer.bracket.suggested + other.more;
        if (price >= offer.bracket.ceiling) continue;
        table.rows.push_back({sleeves(other.patches, other.longest), fmt::format("{}", other.days), format(price)});
    }
    if (table.rows.size() == 1) return;
    table.rows.push_back({"Digging", "none", format(offer.bracket.ceiling)});
    sheet.blocks.push_back(heading("Ways to do it"));
    sheet.blocks.push_back({table});
}

void add_price(const Context& c, Sheet& sheet) {
    const auto& offer = c.plan->offer;
    const auto& rates = c.yard->rates;
    if (c.plan->patches.empty()) return;
    sheet.blocks.push_back(heading(offer.estimate_only ? "Estimate" : "Price"));
    Table table;
    table.columns = {{"Item"}, {"Amount", Align::right}};
    const Money net = offer.bracket.suggested;
    Money due = net;
    const Money dug = offer.unavoidable_dig.net;
    if (dug > Money{}) {
        table.rows.push_back({"Patches as above", format(net - dug)});
        table.rows.push_back({"Digging where no patch can help", format(dug)});
    }
    table.rows.push_back({"Net", format(net)});
    if (rates.discount.in_millionths() != 0) {
        const Money discount = share_of(net, rates.discount);
        due -= discount;
        table.rows.push_back({fmt::format("Discount {}", format(Show::percent, rates.discount.as_double(), c.units)),
                              format(-discount)});
    }
    const Money taxed = due;
    const auto parts = price::tax_parts(offer.patch, taxed, rates);
    for (const auto& part : parts) {
        const auto rate = format(Show::percent, part.rate.as_double(), c.units);
        const auto& whose = &part == &parts.front() ? "materials" : "work";
        table.rows.push_back({parts.size() == 1 ? fmt::format("Tax {}", rate)
                                                : fmt::format("Tax {} on {} of {}", rate, whose, format(part.on)),
                              format(part.tax)});
        due += part.tax;
    }
    table.rows.push_back({"To pay", format(due)});
    table.total_rows = {table.rows.size() - 1};
    sheet.blocks.push_back({table});
    if (offer.estimate_only) {
        sheet.blocks.push_back(paragraph(
            fmt::format("This is an estimate, not an offer: it rests on {}. The price after a camera survey may be "
                        "from {} to {}. The survey costs {} "
                        "net.",
                        c.job->certainty == job::Certainty::call ? "what was said on the telephone" : "photographs",
                        format(scaled(net, 1.0 + offer.band_low)), format(scaled(net, 1.0 + offer.band_high)),
                        format(rates.survey_price))));
    }
    if (offer.bracket.saving > Money{}) {
        sheet.blocks.push_back(
            paragraph(fmt::format("Against digging the same places you save {} net.", format(offer.bracket.saving))));
    }
}

void add_terms(const Context& c, Sheet& sheet) {
    sheet.blocks.push_back(heading("Terms"));
    sheet.blocks.push_back({Bullets{
        {"Work starts when this offer is signed and the occupiers know when no water may be used.",
         "If the pipe differs from the survey, we stop, show you the film and agree the change in writing before going "
         "on.",
         "Guarantee on the patches themselves, not on the pipe between them. Void after misuse or ground movement.",
         "Private customers may have a right to withdraw by law; we tell you how.",
         "Local codes, the resin's safety data sheet and licensed practice come first."}}});
    Fields blanks;
    for (const char* label : {"Deposit", "Payment within", "Guarantee, years", "Insurance no."}) {
        blanks.fields.push_back({label, "", Emphasis::normal, true});
    }
    sheet.blocks.push_back({blanks});
    if (!c.plan->assumptions.empty()) {
        sheet.blocks.push_back(heading("This offer assumes", 3));
        Bullets list;
        // The yard's assumptions are our own costs' business; the customer sees what was assumed of the drain.
        for (const auto& a : c.job->assumptions) list.items.push_back(assumption_text(a));
        sheet.blocks.push_back({list});
    }
    sheet.blocks.push_back({Signature{{"Accepted, customer", "Date", "For the firm"}}});
}

}  // namespace

Sheet quote_sheet(const Context& c) {
    Sheet sheet;
    sheet.kind = c.plan->offer.estimate_only ? "Estimate" : "Offer";
    sheet.title = c.job->title;
    sheet.reference = c.job->reference;
    sheet.subject = c.job->customer.name;
    add_money_banner(c, sheet);
    add_parties(c, sheet);
    add_found(c, sheet);
    add_scope(c, sheet);
    add_comparison(c, sheet);
    add_options(c, sheet);
    add_price(c, sheet);
    add_terms(c, sheet);
    return sheet;
}

}  // namespace patchwright::sheet
