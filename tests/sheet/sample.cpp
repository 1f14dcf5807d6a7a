#include "sample.hpp"

#include <memory>

#include <fmt/format.h>

using namespace patchwright::sheet;

namespace sample {

std::string words(int count) {
    static const char* const list[] = {"felt", "sleeve", "resin", "packer",  "bladder",
                                       "mark", "gauge",  "seam",  "witness", "crease"};
    std::string text;
    for (int i = 0; i < count; ++i) {
        if (i > 0) text += ' ';
        text += list[i * 7 % 10];
    }
    return text;
}

Drawing picture() {
    Drawing d;
    d.name = "picture";
    d.title = "A picture of every shape";
    d.width = 120;
    d.height = 40;
    d.shapes.emplace_back(Label{{0, 4}, d.title, 3.6, -1, true, false, false, Ink::black});
    int place = 0;
    for (const auto hatch : {Hatch::slanted, Hatch::crossed, Hatch::dots}) {
        Polygon p;
        const double x = 5.0 + 25.0 * place++;
        p.points = {{x, 10}, {x + 20, 10}, {x + 20, 24}, {x, 20}};
        p.hatch = hatch;
        d.shapes.emplace_back(p);
    }
    Polygon grey;
    grey.points = {{80, 10}, {100, 10}, {90, 24}};
    grey.filled = true;
    d.shapes.emplace_back(grey);
    d.shapes.emplace_back(Line{{5, 30}, {60, 30}, 0.4, Ink::black, Dash::dashed, true});
    d.shapes.emplace_back(Line{{5, 34}, {60, 34}, 0.4, Ink::mid, Dash::dotted, false});
    d.shapes.emplace_back(Arc{{110, 17}, 6, 0, 360, 0.4, Ink::black, true, Ink::light});
    d.shapes.emplace_back(Arc{{110, 33}, 5, -90, 120, 0.6, Ink::dark, false, Ink::light});
    d.shapes.emplace_back(Label{{62, 31}, "12.50 m", 2.6, -1, false, false, true, Ink::black});
    d.shapes.emplace_back(Label{{118, 38}, "upwards", 2.6, -1, false, true, false, Ink::black});
    return d;
}

namespace {

Card card(const Wanted& wanted, int i) {
    Card c;
    c.title = fmt::format("Patch A-P{}", i + 1);
    c.subtitle = fmt::format("run A (MH1 to MH2), 100 mm clay, mends A{}", i + 1);
    c.blocks.push_back(
        {Bullets{{fmt::format("A{} fissure at {}.90 m, 10-2 o'clock. {}", i + 1, i, words(wanted.remark_words))}}});
    Fields fields;
    fields.columns = 3;
    fields.fields = {{"Push in from MH1", fmt::format("mark {}.15 m", i + 3), Emphasis::arm},
                     {"Part A", fmt::format("{} g", 801 + i), Emphasis::arm},
                     {"Part B", fmt::format("{} g", 271 + i), Emphasis::arm},
                     {"SET PRESSURE", fmt::format("0.{} bar", 61 + i), Emphasis::arm},
                     {"Felt", "felt 4 mm, 1 layer"},
                     {"Bench test", "1.20 bar for 5 min", Emphasis::strong},
                     {"A weighed", ""},
                     {"B weighed", ""}};
    c.blocks.push_back({fields});
    Table times;
    times.title = "Times";
    times.columns = {{"Step"}, {"Plan"}, {"From mixing", Align::right}, {"Real", Align::left, true}};
    times.rows = {{"A meets B", fmt::format("10:{:02}", 10 + i + wanted.number % 40), "0", ""},
                  {"INFLATED, at the latest", "10:32", "22 min", ""},
                  {"DEFLATE, not before", "13:05", "2 h 55 min", ""}};
    c.blocks.push_back({times});
    c.blocks.push_back({Ticks{{"Cleaned, no standing water", "Packer run through dry", "Witness bag in the pipe"}}});
    return c;
}

}  // namespace

Sheet day_sheet(const Wanted& wanted) {
    Sheet s;
    s.kind = "Day sheet";
    s.title = wanted.name;
    s.reference = fmt::format("Q-{:04}", 412 + wanted.number);
    s.subject = "2026-04-14";
    s.banners = {"Invented yard: do not work from this sheet."};
    s.compact = true;
    Fields plan;
    plan.columns = 4;
    plan.fields = {{"Job", wanted.name, Emphasis::strong},
                   {"Leave the yard", "07:30", Emphasis::arm},
                   {"Back by plan", "15:40", Emphasis::arm},
                   {"Crew", ""},
                   {"Weather", ""},
                   {"Gas test", ""}};
    s.blocks.push_back({plan});
    s.blocks.push_back({Heading{"Load before leaving"}});
    s.blocks.push_back({Ticks{{"Felt for A-P1: 820 mm x 365 mm", "Packer S100, bench tested", "Resin standard: 1072 g",
                               "Scale (1 g), pots", "Timer, thermometers", "Air line, gauge, relief valve"}}});
    s.blocks.push_back({Heading{"Order of work"}});
    Table order;
    order.columns = {{"From"}, {"To"}, {"What"}, {"Where"}, {"Done at", Align::left, true}};
    order.side_by_side = 2;
    for (int i = 0; i < 6 + 4 * wanted.patches; ++i) {
        order.rows.push_back({fmt::format("{:02}:{:02}", 7 + i / 4, i % 4 * 15),
                              fmt::format("{:02}:{:02}", 7 + (i + 1) / 4, (i + 1) % 4 * 15),
                              i % 3 == 0 ? "wet-out" : "bench test", fmt::format("A-P{}", i % wanted.patches + 1), ""});
    }
    s.blocks.push_back({order});
    s.blocks.push_back({Picture{std::make_shared<Drawing>(picture()), "picture"}});
    s.blocks.push_back({Heading{"Cautions for this job"}});
    for (int i = 0; i < 4; ++i)
        s.blocks.push_back({Caution{fmt::format("Caution {}", i + 1), words(24), "common practice"}});
    for (int i = 0; i < wanted.patches; i += 2) {
        if (i % 4 == 0) s.blocks.push_back({PageBreak{}});
        Columns row;
        for (int k = i; k < std::min(i + 2, wanted.patches); ++k) row.columns.push_back({Block{card(wanted, k)}});
        s.blocks.push_back({row});
    }
    s.blocks.push_back({Signature{{"Crew lead", "Date", "Weights checked by"}}});
    return s;
}

}  // namespace sample
