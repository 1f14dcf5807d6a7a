#include <catch2/catch.hpp>

#include <algorithm>

#include <fmt/format.h>

#include "paper_tools.hpp"
#include "patchwright/sheet/page.hpp"
#include "patchwright/units/error.hpp"
#include "sample.hpp"

using namespace patchwright;
using namespace patchwright::sheet;

namespace {

PageOptions options(Paper paper = Paper::a4) {
    PageOptions o;
    o.paper = paper;
    o.created = "2026-04-14T07:00:00Z";
    o.keep_boxes = true;
    return o;
}

Pages set(const std::vector<Sheet>& sheets, const PageOptions& o) {
    paper::pin_fonts();
    return pdf(sheets, o);
}

/// Text without white space: poppler puts what stands side by side on one line.
std::string joined(std::string text) {
    std::erase_if(text, [](char c) { return c == ' ' || c == '\n' || c == '\f'; });
    return text;
}

}  // namespace

TEST_CASE("a day of up to four patches takes two pages, front the day, back the cards", "[page]") {
    const int patches = GENERATE(1, 2, 3, 4);
    const auto paper = GENERATE(Paper::a4, Paper::letter);
    CAPTURE(patches);
    const auto pages = set({sample::day_sheet({.patches = patches})}, options(paper));
    CHECK(pages.count == 2);
    CHECK(paper::pages_of(pages.pdf) == 2);
    CHECK(pages.warnings.empty());
    const auto front = paper::text_of_page(pages.pdf, 1), back = paper::text_of_page(pages.pdf, 2);
    CHECK(front.find("Load before leaving") != std::string::npos);
    CHECK(front.find("Caution 4") != std::string::npos);
    CHECK(front.find("Patch A-P1") == std::string::npos);
    for (int i = 0; i < patches; ++i) {
        CHECK(back.find(fmt::format("Patch A-P{}", i + 1)) != std::string::npos);
        CHECK(back.find(fmt::format("{} g", 801 + i)) != std::string::npos);
        CHECK(back.find(fmt::format("0.{} bar", 61 + i)) != std::string::npos);
    }
}

TEST_CASE("a strong table is set larger than the rest, but breaks no figure for it", "[page]") {
    const auto height_of = [](bool strong, const std::string& figure) {
        Sheet sheet;
        sheet.kind = "Day sheet";
        sheet.reference = "Q-1";
        Table table;
        for (int i = 0; i < 6; ++i) table.columns.push_back({fmt::format("{}", i)});
        table.rows = {std::vector<std::string>(6, figure)};
        table.strong = strong;
        sheet.blocks = {{table}};
        double height = 0;
        int whole = 0;
        for (const auto& box : set({sheet}, options()).boxes) {
            if (box.text != figure) continue;
            height = box.height;
            ++whole;
        }
        CHECK(whole == 6);
        return height;
    };
    CHECK(height_of(true, "537 g") > 1.15 * height_of(false, "537 g"));
    const std::string long_figure = "12.70 bar, 41 ft 7";
    CHECK(height_of(true, long_figure) >= height_of(false, long_figure));
    CHECK(height_of(true, long_figure) < height_of(true, "537 g"));
}

TEST_CASE("what follows a break for want of room stays on the page where there is room", "[page]") {
    for (const int lines : {3, 200}) {
        Sheet sheet;
        sheet.kind = "Day sheet";
        sheet.reference = "Q-1";
        sheet.compact = true;
        Bullets first, second;
        for (int i = 0; i < 40; ++i) first.items.push_back(sample::words(10));
        for (int i = 0; i < lines; ++i) second.items.push_back(sample::words(10));
        sheet.blocks = {{first}, {PageBreak{true}}, {second}};
        CAPTURE(lines);
        CHECK((set({sheet}, options()).count == 1) == (lines == 3));
        sheet.blocks[1] = {PageBreak{}};
        CHECK(set({sheet}, options()).count >= 2);
    }
}

TEST_CASE("each page carries number, reference and day", "[page]") {
    const auto pages = set({sample::day_sheet({.patches = 12})}, options());
    REQUIRE(pages.count == 4);
    for (int page = 1; page <= pages.count; ++page) {
        const auto text = paper::text_of_page(pages.pdf, page);
        CAPTURE(page);
        CHECK(text.find(fmt::format("{} of {}", page, pages.count)) != std::string::npos);
        CHECK(text.find("Q-0412") != std::string::npos);
        CHECK(text.find("2026-04-14") != std::string::npos);
        CHECK(text.find("do not work from this sheet") != std::string::npos);
    }
}

TEST_CASE("no text meets another or the margins", "[page]") {
    const auto wanted = GENERATE(sample::Wanted{.patches = 1}, sample::Wanted{.patches = 12},
                                 sample::Wanted{.patches = 4, .name = "Ninety-nine Long Terraces Behind The Mill"},
                                 sample::Wanted{.patches = 3, .name = "Двор за домом, улица Примерная; Πίσω αυλή"},
                                 sample::Wanted{.patches = 2, .name = std::string(160, 'W')},
                                 sample::Wanted{.patches = 4, .remark_words = 150});
    const auto paper = GENERATE(Paper::a4, Paper::letter);
    CAPTURE(wanted.patches, wanted.name);
    const auto pages = set({sample::day_sheet(wanted)}, options(paper));
    CHECK(paper::overlaps(pages) == std::vector<std::string>{});
    CHECK(paper::outside(pages, paper) == std::vector<std::string>{});
    REQUIRE(pages.boxes.size() > 50);
}

TEST_CASE("names in other letters can be read back", "[page]") {
    auto sheet = sample::day_sheet({.patches = 1, .name = "Двор за домом"});
    sheet.blocks.push_back({Paragraph{"Αυλή, Łódź, Åse's þing, ½ Größe"}});
    const auto text = paper::text_of(set({sheet}, options()).pdf);
    CHECK(text.find("Двор за домом") != std::string::npos);
    CHECK(text.find("Αυλή, Łódź, Åse's þing, ½ Größe") != std::string::npos);
}

TEST_CASE("letters that must be shaped are shaped", "[page]") {
    auto sheet = sample::day_sheet({.patches = 1});
    sheet.blocks.push_back({Paragraph{"عربي 12"}});
    CHECK(set({sheet}, options()).count == 2);
}

TEST_CASE("a character without a glyph is refused by name", "[page][error]") {
    auto sheet = sample::day_sheet({.patches = 1, .name = "后院"});
    CHECK_THROWS_AS(set({sheet}, options()), IoError);
    CHECK_THROWS_WITH(set({sheet}, options()), Catch::Contains("U+540E"));
    auto drawing = sample::picture();
    std::get<Label>(drawing.shapes.front()).text = "后";
    CHECK_THROWS_AS(svg(drawing), IoError);
    CHECK_THROWS_AS(png(drawing, 72), IoError);
}

TEST_CASE("what is of private use or not assigned is refused, whatever font is installed", "[page][error]") {
    struct Row {
        const char* name;
        const char* said;
    };
    // The first two stand in the very font of the sheets (DejaVu Sans): U+F001 as "fi", U+F6C5. Planes 15 and 16 are of
    // private use (Unicode 15, 23.5), U+0378 and U+FFFF are assigned to nothing.
    for (const Row& row : {Row{"a\uF001", "U+F001"},
                           {"\uF6C5", "U+F6C5"},
                           {"\uE000", "U+E000"},
                           {"\uF8FF", "U+F8FF"},
                           {"\U000F0000", "U+F0000"},
                           {"\U0010FFFD", "U+10FFFD"},
                           {"a\u0378", "U+0378"},
                           {"\uFFFF", "U+FFFF"}}) {
        CAPTURE(row.said);
        const auto sheet = sample::day_sheet({.patches = 1, .name = row.name});
        for (int again = 0; again < 2; ++again)
            CHECK_THROWS_WITH(set({sheet}, options()), Catch::Contains(row.said) && Catch::Contains("write it with"));
    }
    auto drawing = sample::picture();
    std::get<Label>(drawing.shapes.front()).text = "\uF001";
    CHECK_THROWS_AS(svg(drawing), IoError);
    // What replaces a damaged byte is assigned.
    CHECK(set({sample::day_sheet({.patches = 1, .name = "a\xFF"})}, options()).count > 0);
}

TEST_CASE("a card is never divided while it can be set smaller", "[page]") {
    auto sheet = sample::day_sheet({.patches = 2, .remark_words = GENERATE(20, 300, 700)});
    sheet.compact = false;
    const auto pages = set({sheet}, options());
    CHECK(pages.warnings.empty());
    for (int i = 1; i <= 2; ++i) {
        int holding = 0;
        for (int page = 1; page <= pages.count; ++page) {
            const auto text = joined(paper::text_of_page(pages.pdf, page));
            const bool head = text.find(fmt::format("PatchA-P{}", i)) != std::string::npos;
            const bool foot = text.find(fmt::format("{}g", 800 + i)) != std::string::npos;
            CHECK(head == foot);
            holding += head ? 1 : 0;
        }
        CHECK(holding == 1);
    }
}

TEST_CASE("what no page can hold is divided, and says so", "[page]") {
    Sheet sheet;
    sheet.kind = "Day sheet";
    Card card;
    card.title = "Endless";
    card.blocks.push_back({Paragraph{sample::words(6000)}});
    sheet.blocks.push_back({card});
    const auto pages = set({sheet}, options());
    CHECK(pages.count > 1);
    REQUIRE(pages.warnings.size() == 1);
    CHECK(pages.warnings.front().find("Endless") != std::string::npos);
    const auto text = paper::text_of(pages.pdf);
    CHECK(std::count(text.begin(), text.end(), 'f') >= 600);  // every "felt" of the text
}

TEST_CASE("a table cell longer than a page goes on overleaf, whole", "[page]") {
    Sheet sheet;
    sheet.kind = "Offer";
    Table table;
    table.columns = {{"Place"}, {"Finding"}};
    table.rows = {{"A", sample::words(5000)}};
    sheet.blocks.push_back({table});
    const auto pages = set({sheet}, options());
    CHECK(pages.count > 1);
    CHECK(paper::outside(pages, Paper::a4) == std::vector<std::string>{});
    const auto text = joined(paper::text_of(pages.pdf));
    std::size_t found = 0;
    for (std::size_t at = text.find("packer"); at != std::string::npos; at = text.find("packer", at + 1)) ++found;
    CHECK(found == 500);
}

TEST_CASE("the head of a table stands again on the next page", "[page]") {
    Sheet sheet;
    sheet.kind = "Pick list";
    Table table;
    table.columns = {{"Thing"}, {"How many", Align::right}};
    for (int i = 0; i < 150; ++i) table.rows.push_back({fmt::format("thing {}", i), std::to_string(i)});
    sheet.blocks.push_back({table});
    const auto pages = set({sheet}, options());
    REQUIRE(pages.count > 1);
    for (int page = 1; page <= pages.count; ++page)
        CHECK(paper::text_of_page(pages.pdf, page).find("How many") != std::string::npos);
    CHECK(paper::overlaps(pages).empty());
}

TEST_CASE("title, language and date are in the file; fonts are embedded", "[page]") {
    const auto pages = set({sample::day_sheet({})}, options());
    const auto info = paper::info_of(pages.pdf);
    CHECK(info.find("Day sheet Q-0412 Rear yard drain") != std::string::npos);
    CHECK(info.find("Apr 14") != std::string::npos);
    CHECK(info.find("A4") != std::string::npos);
    CHECK(paper::info_of(set({sample::day_sheet({})}, options(Paper::letter)).pdf).find("letter") != std::string::npos);
    CHECK(pages.pdf.find("/Lang (en)") != std::string::npos);
    const auto fonts = paper::fonts_of(pages.pdf);
    CHECK(fonts.find("DejaVuSans") != std::string::npos);
    // Columns "emb sub uni" of every row after the two of the head.
    std::size_t at = fonts.find('\n', fonts.find('\n') + 1) + 1;
    REQUIRE(at < fonts.size());
    for (; at < fonts.size(); at = fonts.find('\n', at) + 1) {
        CHECK(fonts.substr(at, fonts.find('\n', at) - at).find("yes yes yes") != std::string::npos);
    }
}

TEST_CASE("same sheets, same bytes; only the date tells two apart", "[page]") {
    const auto sheet = sample::day_sheet({});
    const auto first = set({sheet}, options()).pdf;
    CHECK(first == set({sheet}, options()).pdf);
    auto undated = options();
    undated.created.reset();
    const auto without = set({sheet}, undated).pdf;
    CHECK(without == set({sheet}, undated).pdf);
    CHECK(without.find("CreationDate") == std::string::npos);
    CHECK(svg(sample::picture()) == svg(sample::picture()));
    CHECK(png(sample::picture(), 100) == png(sample::picture(), 100));
}

TEST_CASE("nothing is coloured", "[page]") {
    // Every colour of the SVG is a grey: three equal pairs of digits.
    paper::pin_fonts();
    const auto text = svg(sample::picture());
    int colours = 0;
    for (auto at = text.find("\"#"); at != std::string::npos; at = text.find("\"#", at + 1)) {
        const auto code = text.substr(at + 2, 6);
        CHECK(code.substr(0, 2) == code.substr(2, 2));
        CHECK(code.substr(2, 2) == code.substr(4, 2));
        ++colours;
    }
    CHECK(colours > 5);
}

TEST_CASE("a picture too large for memory is refused", "[page][error]") {
    paper::pin_fonts();
    auto drawing = sample::picture();
    drawing.height = 1e6;
    CHECK_THROWS_AS(png(drawing, 600), RangeError);
    drawing.height = 0;
    CHECK_THROWS_AS(png(drawing, 100), RangeError);
}
