#include <algorithm>
#include <map>

#include <fmt/format.h>

#include "blocks.hpp"
#include "csv.hpp"
#include "patchwright/sheet/drawing.hpp"
#include "words.hpp"

namespace patchwright::sheet {
namespace {

/// "offcut 800 mm x 600 mm": the name in the plan is in millimetres, the sheet's units may be others.
std::string stock_words(const Context& c, const cutting::Stock& stock) {
    const auto size = [&](int value) { return show(c, Show::tape, static_cast<double>(value) * unit::mm); };
    return fmt::format("{}{} x {}", stock.name.substr(0, stock.name.find_first_of("0123456789")), size(stock.length),
                       size(stock.width));
}

}  // namespace

void add_cutting(const Context& c, Sheet& sheet) {
    for (const auto& cut : c.plan->cutting) {
        const auto& felt = c.yard().felts[static_cast<std::size_t>(cut.felt)];
        Table table;
        table.title = fmt::format(
            "Felt {}: {}", felt.id,
            cut.plan.proven_optimal ? "cheapest cutting (proven)" : "good cutting, not proven the cheapest");
        table.columns = {{"Piece"}, {"Long", Align::right},  {"Wide", Align::right},
                         {"From"},  {"Along", Align::right}, {"Across", Align::right}};
        for (const auto& placed : cut.plan.placements) {
            const auto& piece = cut.pieces[static_cast<std::size_t>(placed.piece)];
            const auto& stock = cut.stock[static_cast<std::size_t>(placed.stock)];
            const auto mm = [&](int value) { return show(c, Show::tape, static_cast<double>(value) * unit::mm); };
            const auto size = [&](int value) { return cut_size(c, static_cast<double>(value) * unit::mm); };
            table.rows.push_back({piece.name, size(piece.length), size(piece.width),
                                  stock.count == 1 ? stock_words(c, stock)
                                                   : fmt::format("{} no. {}", stock_words(c, stock), placed.copy + 1),
                                  mm(placed.along), mm(placed.across)});
        }
        for (const int p : cut.plan.unplaced) {
            table.rows.push_back(
                {cut.pieces[static_cast<std::size_t>(p)].name, "", "", "TOO LARGE for any roll", "", ""});
        }
        sheet.blocks.push_back({table});
    }
    if (!c.plan->cutting.empty()) {
        auto picture = drawn(c, [&] { return draw_cutting(c); });
        sheet.blocks.push_back({Picture{std::move(picture), {}}});
    }
}

namespace {

void add_resin(const Context& c, Sheet& sheet) {
    std::map<std::string, std::pair<Mass, Mass>> parts;
    for (const auto& batch : c.plan->batches) {
        auto& row = parts[c.plan->resin_of(batch).id];
        row.first += batch.batch.part_a;
        row.second += batch.batch.part_b;
    }
    if (parts.empty()) return;
    Table table;
    table.title = "Resin to weigh, all mixes";
    table.columns = {{"Resin"}, {"A", Align::right}, {"B", Align::right}, {"Kits to buy"}};
    for (const auto& [id, masses] : parts) {
        std::string kits;
        for (const auto& [resin, bought] : c.plan->kits_to_buy) {
            if (resin == id)
                kits += fmt::format("{}{} x {}", kits.empty() ? "" : ", ", bought.count,
                                    show(c, Show::big_mass, bought.kit));
        }
        table.rows.push_back({id, show(c, Show::big_mass, masses.first), show(c, Show::big_mass, masses.second),
                              kits.empty() ? "none" : kits});
    }
    sheet.blocks.push_back({table});
}

void add_packers(const Context& c, Sheet& sheet) {
    Table table;
    table.title = "Packers";
    table.columns = {{"Packer"}, {"Bladder"}, {"For"}, {"Rated", Align::right}, {"Built"}};
    std::map<std::string, std::pair<const plan::Patch*, std::string>> rows;
    for (const auto& p : c.plan->patches) {
        auto& row = rows[p.option.packer.id];
        row.first = &p;
        row.second += (row.second.empty() ? "" : ", ") + p.id;
    }
    for (const auto& [id, row] : rows) {
        const auto& packer = row.first->option.packer;
        table.rows.push_back({id, std::string{job::word(packer.material)}, row.second,
                              show(c, Show::gauge_pressure, packer.rated_pressure),
                              row.first->option.to_build ? "to build" : "stands built"});
    }
    if (!table.rows.empty()) sheet.blocks.push_back({table});
}

void add_money(const Context& c, Sheet& sheet) {
    Table table;
    table.title = "What it costs";
    table.columns = {{"Item"}, {"Qty", Align::right}, {"Unit"}, {"Each", Align::right}, {"Amount", Align::right}};
    Money total = Money::cents(0, c.yard().rates.currency);
    for (const auto& billed : c.plan->offer.patch.lines) {
        if (billed.kind != price::LineKind::material) continue;
        const auto line = in_units(c, billed);
        total += line.amount;
        table.rows.push_back({line.words, fmt::format("{:.2f}", line.quantity), line.unit, decimal_text(line.rate),
                              decimal_text(line.amount)});
    }
    if (table.rows.empty()) return;
    table.total_rows = {table.rows.size()};
    table.rows.push_back({"All materials", "", "", "", decimal_text(total)});
    sheet.blocks.push_back({table});
}

}  // namespace

Sheet pick_list(const Context& c) {
    Sheet sheet;
    sheet.kind = "Pick list";
    sheet.title = c.job().title;
    sheet.reference = c.job().reference;
    sheet.subject = c.job().date ? format(*c.job().date) : "";
    add_money_banner(c, sheet);
    add_cutting(c, sheet);
    add_resin(c, sheet);
    add_packers(c, sheet);
    std::vector<std::size_t> all(c.plan->patches.size());
    for (std::size_t i = 0; i < all.size(); ++i) all[i] = i;
    if (all.empty())
        sheet.blocks.push_back(
            paragraph("Nothing can be patched: no felt, no resin, no packer. Materials for digging:"));
    else
        add_load_list(c, all, sheet);
    add_money(c, sheet);
    add_doubts(c, sheet);
    return sheet;
}

std::string pick_csv(const Context& c) {
    std::string csv = "list,item,quantity,unit,detail\n";
    const auto row = [&](const std::string& list, const std::string& item, const std::string& quantity,
                         const std::string& unit, const std::string& detail) {
        csv +=
            fmt::format("{},{},{},{},{}\n", csv_text(list), csv_text(item), quantity, csv_text(unit), csv_text(detail));
    };
    if (c.yard().demonstration) row("note", "demonstration prices, not yours", "", "", "");
    for (const auto& cut : c.plan->cutting) {
        const auto& felt = c.yard().felts[static_cast<std::size_t>(cut.felt)];
        for (const auto& placed : cut.plan.placements) {
            const auto& piece = cut.pieces[static_cast<std::size_t>(placed.piece)];
            const auto size = [&](int value) { return cut_size(c, static_cast<double>(value) * unit::mm); };
            row("felt", felt.id, "1", "piece",
                fmt::format("{}: {} x {} from {}", piece.name, size(piece.length), size(piece.width),
                            stock_words(c, cut.stock[static_cast<std::size_t>(placed.stock)])));
        }
    }
    const bool us = c.units == UnitSystem::us;
    const auto mass = [&](Mass m) {
        return us ? fmt::format("{:.2f}", m.in(unit::lb)) : fmt::format("{:.0f}", m.in(unit::g));
    };
    const std::string mass_unit = us ? "lb" : "g";
    for (const auto& batch : c.plan->batches) {
        const auto& id = c.plan->resin_of(batch).id;
        row("resin", id + " part A", mass(batch.batch.part_a), mass_unit, "mix " + batch.id);
        row("resin", id + " part B", mass(batch.batch.part_b), mass_unit, "mix " + batch.id);
    }
    for (const auto& [resin, bought] : c.plan->kits_to_buy) {
        row("buy", resin, std::to_string(bought.count), "kit", fmt::format("{} {} each", mass(bought.kit), mass_unit));
    }
    for (const auto& p : c.plan->patches) row("packer", p.option.packer.id, "1", "piece", p.id);
    for (const auto& billed : c.plan->offer.patch.lines) {
        if (billed.kind != price::LineKind::material) continue;
        const auto line = in_units(c, billed);
        row("cost", line.words, fmt::format("{:.3f}", line.quantity), line.unit,
            fmt::format("{} {}", decimal_text(line.amount), c.yard().rates.currency.code()));
    }
    return csv;
}

}  // namespace patchwright::sheet
