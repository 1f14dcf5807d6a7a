// The office's table: a line a job.
#include <cmath>

#include <fmt/format.h>

#include "csv.hpp"
#include "patchwright/plan/outlook.hpp"
#include "patchwright/sheet/sheets.hpp"

namespace patchwright::sheet {
namespace {

std::string share(double value) { return fmt::format("{:.4f}", value); }

}  // namespace

std::string quote_csv_header() {
    return "reference,patches,digs,days,currency,floor,own,suggested,offered,ceiling,margin,chance_late,"
           "chance_patch_cheaper,error";
}

std::string quote_csv_row(const Context& c) {
    const auto& offer = c.plan->offer;
    Money cost = offer.bracket.floor;
    for (const auto& line : offer.offered.lines)
        if (line.kind == price::OfferKind::extra) cost += line.floor;
    const bool offered = !offer.offered.lines.empty();
    const double total = static_cast<double>(offer.offered.total.in_cents());
    const double margin = total > 0.0 ? 1.0 - static_cast<double>(cost.in_cents()) / total : 0.0;
    return fmt::format(
        "{},{},{},{},{},{},{},{},{},{},{},{},{},", csv_text(c.job().reference), c.plan->patches.size(),
        offer.unavoidable_works.pits.size(), static_cast<int>(std::ceil(offer.patch_outcome.days - 1e-9)),
        c.yard().rates.currency.code(), decimal_text(offer.bracket.floor), decimal_text(offer.bracket.own),
        offer.bracket.bid ? decimal_text(offer.bracket.suggested) : "",
        offered ? decimal_text(offer.offered.total) : "", decimal_text(offer.bracket.ceiling),
        offered ? share(margin) : "", c.plan->patches.empty() ? "" : share(plan::late_probability(*c.plan)),
        c.plan->patches.empty() ? "" : share(offer.risk.patch_cheaper));
}

std::string quote_csv_error(const std::string& message) {
    std::string line = message;
    for (char& letter : line)
        if (letter == '\n') letter = ';';
    return ",,,,,,,,,,,,," + csv_text(line);
}

}  // namespace patchwright::sheet
