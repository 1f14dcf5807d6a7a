#include <fmt/format.h>

#include "recorded.hpp"
#include "words.hpp"

/// Acceptance tests of the finished pipe: readings, what is allowed, verdict.
namespace patchwright::sheet {
namespace {

using record::Verdict;

std::string verdict_words(const record::Test& test) {
    if (!test.refused.empty()) return "not judged: " + test.refused;
    if (test.verdict == Verdict::kept) return "PASSED";
    return test.verdict == Verdict::missed ? "NOT PASSED" : "not judged: not everything was noted";
}

Table readings_table(const Context& c, const job::LeakRecord& r) {
    Table table;
    table.title = "Readings";
    table.columns = {{"After"}, {"Pressure", Align::right}};
    for (const auto& reading : r.readings)
        table.rows.push_back({show(c, Show::seconds, reading.after), show(c, Show::test_pressure, reading.pressure)});
    return table;
}

Block test_card(const Context& c, const record::Test& test) {
    const auto& r = *test.record;
    Card card;
    card.title = fmt::format("Run {}: {}", r.run, test_words(r.method));
    card.subtitle = verdict_words(test);
    Fields fields;
    const auto given = [&](const char* label, std::string value) {
        if (!value.empty()) fields.fields.push_back({label, std::move(value)});
    };
    given("Date", r.date ? format(*r.date) : "");
    given("By", r.who);
    given("Between", r.between);
    if (test.length > Length{})
        given("Pipe", fmt::format("{} bore, {} long", show(c, Show::tape, test.bore),
                                  show(c, Show::run_distance, test.length)));
    given("Wall", r.dry_concrete == job::YesNo::yes ? "dry concrete" : "");
    given("Ground water presses with", r.outside ? show(c, Show::test_pressure, *r.outside) : "");
    given("Remark", r.remark);
    card.blocks.push_back({std::move(fields)});
    if (!r.readings.empty()) card.blocks.push_back({readings_table(c, r)});
    if (!test.checks.empty()) {
        Table table;
        table.columns = {{""}, {"Done"}, {"Allowed"}, {"Verdict"}};
        for (const auto& check : test.checks) {
            auto text = check_text(c, check);
            table.rows.push_back(
                {std::string{check.what}, std::move(text.done), std::move(text.limit), std::move(text.verdict)});
        }
        card.blocks.push_back({std::move(table)});
    }
    return {std::move(card)};
}

}  // namespace

void add_tests(const Context& c, const Recorded& recorded, std::vector<Sheet>& sheets) {
    if (recorded.built->tests.empty()) return;
    Sheet sheet;
    sheet.kind = "Acceptance tests";
    sheet.title = c.job().title;
    sheet.reference = c.job().reference;
    sheet.subject = c.job().customer.site_address;
    sheet.compact = true;
    for (const auto& test : recorded.built->tests) sheet.blocks.push_back(test_card(c, test));
    sheet.blocks.push_back(
        paragraph("By EN 1610, 13.2 and 13.3, and ASTM F1417, as the program knows them; where the work is accepted "
                  "under another edition or a local rule, that one counts."));
    sheet.blocks.push_back({Signature{{"Tested by", "Date", "Seen by the client", "Date"}}});
    sheets.push_back(std::move(sheet));
}

}  // namespace patchwright::sheet
