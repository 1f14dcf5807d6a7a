// What a crew writes on the lines of a card in the browser, read into the record.
#include <set>
#include <variant>

#include "patchwright/io/read_record.hpp"
#include "patchwright/sheet/model.hpp"
#include "patchwright/sheet/record.hpp"
#include "record_of.hpp"

using namespace patchwright;

namespace {

/// A record of one patch with these lines written on.
job::PatchRecord written(std::vector<job::NotedText> lines, UnitSystem units = UnitSystem::metric) {
    job::Record record;
    record.patches.emplace_back().noted = std::move(lines);
    return sheet::with_card_notes(record, units).patches.front();
}

/// Labels of the lines to write on, as the page in a browser names them: a line of a table by its row.
void collect(const std::vector<sheet::Block>& blocks, bool in_card, std::set<std::string>& labels) {
    for (const auto& block : blocks) {
        if (const auto* columns = std::get_if<sheet::Columns>(&block.content))
            for (const auto& column : columns->columns) collect(column, in_card, labels);
        if (const auto* card = std::get_if<sheet::Card>(&block.content))
            collect(card->blocks, card->limits != nullptr, labels);
        if (!in_card) continue;
        if (const auto* fields = std::get_if<sheet::Fields>(&block.content))
            for (const auto& field : fields->fields)
                if (field.blank()) labels.insert(field.label);
        if (const auto* table = std::get_if<sheet::Table>(&block.content))
            for (const auto& row : table->rows)
                for (std::size_t i = 0; i < row.size(); ++i)
                    if (table->columns[i].blank) labels.insert(row.front() + ", " + table->columns[i].title);
    }
}

}  // namespace

TEST_CASE("the lines of a card are read as what they stand for", "[record][notes]") {
    const auto p = written({{"A weighed", "801 g"},
                            {"B weighed", "400"},
                            {"A batch, expiry", "FA-22, 2026-11-30"},
                            {"Bench test held", "6"},
                            {"Pressure, start", "0.65 bar"},
                            {"Half way", "9.4 psi"},
                            {"End", "0.62"},
                            {"Pipe, measured", "9"},
                            {"Resin, measured", "59 F"},
                            {"Witness hard, yes/no, at", "yes 13:39"},
                            {"Film no.", "V-7"},
                            {"Mixed, start timer, Actual", "10:05"},
                            {"INFLATED, at the latest, Actual", "10:21"},
                            {"DEFLATE, not before, Actual", "13:44"}});
    CHECK(p.noted.empty());
    CHECK(p.part_a->in(unit::g) == Approx(801));
    CHECK(p.part_b->in(unit::g) == Approx(400));
    CHECK(p.part_a_batch == "FA-22");
    CHECK(p.part_a_expiry == Date{2026, 11, 30});
    CHECK(p.bench_test.held->in(unit::minute) == Approx(6));
    REQUIRE(p.pressures.size() == 3);
    CHECK(p.pressures[0].at == ClockTime{10 * 60 + 21});
    CHECK(p.pressures[1].pressure.in(unit::psi) == Approx(9.4));
    CHECK(p.pressures[2].pressure.in(unit::bar) == Approx(0.62));
    CHECK(p.pipe_temperature->in_celsius() == Approx(9));
    CHECK(p.resin_temperature->in_celsius() == Approx(15));
    CHECK(p.witness.hard == job::YesNo::yes);
    CHECK(p.witness.at == ClockTime{13 * 60 + 39});
    CHECK(p.film == "V-7");
    CHECK(p.mixed_at == ClockTime{10 * 60 + 5});
}

TEST_CASE("what cannot be read stays a note, and what the record says itself stays", "[record][notes]") {
    const auto p = written({{"A weighed", "about 800"},
                            {"End", "fine"},
                            {"Half way", "-1 bar"},
                            {"Witness hard, yes/no, at", "?"},
                            {"Anything", "10:05"},
                            {"Poured, at the latest, Actual", "ten"}});
    CHECK(p.noted.size() == 6);
    CHECK_FALSE(p.part_a);
    CHECK(p.pressures.empty());
    // A bare weight on a sheet of pounds and ounces could be either.
    CHECK_FALSE(written({{"A weighed", "2"}}, UnitSystem::us).part_a);
    CHECK(written({{"A weighed", "1 lb 12 oz"}}, UnitSystem::us).part_a->in(unit::oz) == Approx(28));
    CHECK(written({{"End", "9.4"}}, UnitSystem::us).pressures.at(0).pressure.in(unit::psi) == Approx(9.4));

    job::Record record;
    auto& patch = record.patches.emplace_back();
    patch.mixed_at = ClockTime{600};
    patch.noted = {{"Mixed, start timer, Actual", "11:00"}};
    CHECK(sheet::with_card_notes(record, UnitSystem::metric).patches[0].mixed_at == ClockTime{600});
}

TEST_CASE("every line to write on of every card is known", "[record][notes]") {
    // Card and reader name the lines each by themselves; a card's new or renamed line must be read too.
    std::set<std::string> all;
    for (const auto* file : {"examples/demo.json", "examples/us-slab.json"}) {
        const auto planned = test::planned(test::project_file(file));
        for (const auto& day : sheet::day_sheets(planned.context(), std::nullopt)) collect(day.blocks, false, all);
    }
    REQUIRE(all.size() >= 15);  // the small card's and the large one's
    for (const auto& label : all) {
        CAPTURE(label);
        bool read = false;
        for (const char* text : {"10:05", "801 g", "801 g, 400 g", "F-1, 2026-11-30", "6 min", "9 C", "9 C, 15 C",
                                 "0.6 bar", "0.6 bar, 0.6 bar, 0.6 bar", "yes 13:39"})
            read = read || written({{label, text}}).noted.empty();
        // Two batches with two dates on one line are left to the reader's eye; the gel is not an act of the crew.
        CHECK(read != (label == "A, B batch, expiry" || label == "Sleeve gels, from then hold, Actual"));
    }
}
