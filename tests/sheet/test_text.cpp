// Lines of plain text: where they break, how columns stand.
#include <catch2/catch.hpp>

#include "patchwright/sheet/sheets.hpp"
#include "support/dice.hpp"
#include "text_lines.hpp"

using namespace patchwright::sheet;

namespace {

std::vector<std::string> lines_of(std::string_view text, std::size_t width) {
    std::vector<std::string> lines;
    LineBreaker breaker{text, width};
    do {
        const auto line = breaker.next();
        CHECK(line.columns == text_width(line.text));
        lines.emplace_back(line.text);
    } while (breaker.more());
    return lines;
}

using Lines = std::vector<std::string>;

}  // namespace

TEST_CASE("text breaks at spaces, of which several count as one", "[text]") {
    CHECK(lines_of("", 10) == Lines{""});
    CHECK(lines_of("   ", 10) == Lines{""});
    CHECK(lines_of("felt", 10) == Lines{"felt"});
    CHECK(lines_of("ten chars!", 10) == Lines{"ten chars!"});
    CHECK(lines_of("mix A and B at once", 10) == Lines{"mix A and", "B at once"});
    CHECK(lines_of("  mix  A   and B at once ", 10) == Lines{"mix A and", "B at once"});
    CHECK(lines_of("a b ", 2) == Lines{"a", "b"});
}

TEST_CASE("a word longer than the line is broken anywhere", "[text]") {
    CHECK(lines_of("abcdefgh ij", 3) == Lines{"abc", "def", "gh", "ij"});
    CHECK(lines_of("ab cdefg", 3) == Lines{"ab", "cde", "fg"});
    CHECK(lines_of("abcd e", 3) == Lines{"abc", "d e"});
}

TEST_CASE("text with accents breaks where text without them does", "[text]") {
    // Letters of one column each: the width decides, not the bytes.
    patchwright::test::Dice dice{20260414};
    for (int n = 0; n < 2000; ++n) {
        std::string plain, accented;
        for (int letters = dice.between(0, 60); letters > 0; --letters) {
            const bool space = dice.chance(20);
            plain += space ? ' ' : 'e';
            accented += space ? " " : dice.chance(30) ? "\u00e9" : "e";
        }
        const auto width = static_cast<std::size_t>(dice.between(1, 20));
        CAPTURE(plain, accented, width);
        auto lines = lines_of(accented, width);
        for (auto& line : lines) line = ascii(line);
        REQUIRE(lines == lines_of(plain, width));
        for (const auto& line : lines) REQUIRE(line.size() <= width);
    }
}

TEST_CASE("columns are counted as a terminal shows them", "[text]") {
    CHECK(text_width("12 \u00b0C") == 5);
    CHECK(text_width("a long line with one sign far behind: \u00b0") == 39);
    CHECK(text_width("e\u0301") == 1);       // with a combining accent
    CHECK(text_width("\u6e05\u6d41") == 4);  // wide
    CHECK(text_width("\xC3") == 1);          // a stray byte
    CHECK(lines_of("\u6e05\u6d41\u6e05", 4) == Lines{"\u6e05\u6d41", "\u6e05"});
    CHECK(lines_of("\u6e05\u6d41", 1) == Lines{"\u6e05", "\u6d41"});  // wider than the line: one all the same
    CHECK(lines_of("\u6e05 a", 1) == Lines{"\u6e05", "a"});
    CHECK(lines_of("9 \u00b0C to 12 \u00b0C", 5) == Lines{"9 \u00b0C", "to 12", "\u00b0C"});
}

TEST_CASE("a table gives way in its widest column and rules off its sums", "[text]") {
    Table table;
    table.columns = {{"What"}, {"Price", Align::right}, {"", Align::left, true}};
    table.rows = {{"Felt for the sleeve", "7.00", ""}, {"Sum", "7.00", "none"}};
    table.total_rows = {1};
    std::string out;
    append_table(out, table, 28);
    CHECK(out ==
          "What         Price\n"
          "----------------------------\n"
          "Felt for      7.00  ________\n"
          "the sleeve\n"
          "----------------------------\n"
          "Sum           7.00  none\n");
}

TEST_CASE("without UTF-8 signs have their usual stand-ins", "[text]") {
    CHECK(ascii("caf\u00e9, 9 \u00b0C, 90\u00b0, 2 m\u00b2, \u2265 3 \u2013 5\u2026") ==
          "cafe, 9 C, 90 deg, 2 m2, >= 3 - 5...");
    CHECK(ascii("\u00c4rger \u00df \u6e05") == "Aerger ss ?");
    CHECK(ascii("plain, and longer than eight bytes") == "plain, and longer than eight bytes");
}

TEST_CASE("a narrow table cuts no word while another column can give way", "[text]") {
    Table table;
    table.columns = {{"Patch"}, {"Where it is and what stands round it"}, {"deflate, not before"}};
    table.rows = {{"cleanout-A", "by the rear wall of the yard, under the third flag from the gate", "3 h 31 min"}};
    for (const std::size_t width : {30U, 34U, 40U, 60U}) {
        CAPTURE(width);
        std::string out;
        append_table(out, table, width);
        for (const char* word : {"Patch", "deflate,", "before", "cleanout-A", "stands"})
            CHECK(out.find(word) != std::string::npos);
        for (std::size_t at = 0; at < out.size();) {
            const auto end = out.find('\n', at);
            CHECK(end - at <= width);
            at = end + 1;
        }
    }
}
