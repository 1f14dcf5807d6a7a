// The web form in a real browser: Debian's Chromium without a window. Needs it installed; fails without.
#include <catch2/catch.hpp>

#include <unistd.h>

#include <array>
#include <cstdio>
#include <ctime>
#include <filesystem>
#include <fstream>
#include <memory>

#include <fmt/format.h>

#include "patchwright/io/read_record.hpp"
#include "patchwright/sheet/html.hpp"
#include "patchwright/sheet/record.hpp"

using namespace patchwright;
using namespace patchwright::sheet;

namespace {

/// A card with tables of invented figures.
Sheet card_sheet() {
    Limits limits;
    limits.patch = "A-P1";
    limits.unit = "C";
    limits.least = 5;
    limits.pipes = {{6, 30, 130, 300}, {8, 28, 110, 260}, {10, 25, 95, 230}, {12, 22, 80, 200}};
    limits.airs = {{15, 12, 20, 26}, {15, 20, 18, 22}, {28, 12, 13, 16}, {28, 28, 12, 15}};
    Card card;
    card.title = "Patch A-P1";
    card.limits = std::make_shared<const Limits>(limits);
    card.blocks.push_back({Fields{{Field{"A weighed", ""}}, 4}});
    card.blocks.push_back({Ticks{{"Cleaned"}}});
    Sheet sheet;
    sheet.kind = "Day sheet";
    sheet.reference = "Q-1";
    sheet.title = "Invented";
    sheet.blocks.push_back({card});
    return sheet;
}

/// What the browser makes of the page after that script has run, as the text of an element added at its end.
std::string after(const std::string& script, const std::vector<Sheet>& sheets = {card_sheet()},
                  const char* window = "1200,900") {
    auto page = html(sheets, [](const Drawing&) { return std::string{}; });
    const std::string end = "</body>";
    page.replace(
        page.rfind(end), end.size(),
        fmt::format(
            R"(<script>const put = (name, value) => {{ const box = document.querySelector("[data-live=" + name + "]");
        box.value = value; box.dispatchEvent(new Event("input", {{ bubbles: true }})); }};
        const said = () => [...document.querySelectorAll("output div")].map(line => line.textContent).join("|");
        let result = ""; {} document.body.append(Object.assign(document.createElement("pre"), {{ textContent: "RESULT " + result + " END" }}));</script></body>)",
            script));
    const auto folder = std::filesystem::temp_directory_path() / fmt::format("patchwright-browser-{}", ::getpid());
    std::filesystem::create_directories(folder);
    std::ofstream{folder / "page.html"} << page;
    const auto command = fmt::format(
        "timeout 120 chromium --headless --no-sandbox --disable-gpu --window-size={1} --user-data-dir={0}/profile "
        "--dump-dom file://{0}/page.html 2>/dev/null",
        folder.string(), window);
    std::string dom;
    const std::unique_ptr<FILE, int (*)(FILE*)> pipe{::popen(command.c_str(), "r"), &::pclose};
    REQUIRE(pipe);
    std::array<char, 4096> buffer{};
    for (std::size_t got = 0; (got = std::fread(buffer.data(), 1, buffer.size(), pipe.get())) > 0;)
        dom.append(buffer.data(), got);
    std::filesystem::remove_all(folder);
    const auto from = dom.rfind("<pre>RESULT "), to = dom.find(" END</pre>", from == std::string::npos ? 0 : from);
    INFO("what the browser printed: " << dom.size() << " bytes");
    REQUIRE(from != std::string::npos);
    return dom.substr(from + 12, to - from - 12);
}

}  // namespace

TEST_CASE("the browser looks limits up between rows on the safe side, and says do not outside the tables",
          "[browser]") {
    const auto measured = [](const char* pipe, const char* resin, const char* air) {
        return after(
            fmt::format("put('pipe', '{}'); put('resin', '{}'); put('air', '{}'); result = said();", pipe, resin, air));
    };
    // Pipe 9: the row of 10 for inflating (25) and gelling (95), of 8 for deflating (260); air 14 the row of 20 (22),
    // which is shorter.
    CHECK(measured("9", "15", "14") ==
          "From mixing: poured by 18 min|Inflated by 22 min|Gels, from then hold 1 h 35 min|Deflate, not before 4 h 20 "
          "min");
    CHECK(measured("10", "15", "12") ==
          "From mixing: poured by 20 min|Inflated by 25 min|Gels, from then hold 1 h 35 min|Deflate, not before 3 h 50 "
          "min");
    CHECK(measured("8,5", "16", "12") ==
          "From mixing: poured by 13 min|Inflated by 16 min|Gels, from then hold 1 h 35 min|Deflate, not before 4 h 20 "
          "min");
    CHECK(measured("4.9", "15", "12") == "Pipe colder than the resin allows: do not mix.");
    CHECK(measured("5.5", "15", "12") == "Pipe colder than the table: do not mix.");
    CHECK(measured("13", "15", "12") == "Pipe warmer than the table: do not mix.");
    CHECK(measured("9", "29", "12") == "Resin or air warmer than the table: do not mix.");
    CHECK(measured("9", "14", "12") == "Resin or air colder than the table: do not mix.");
    CHECK(measured("9", "15", "11") == "Resin or air colder than the table: do not mix.");
}

TEST_CASE("the browser gives clock times once the mixing time is known, and a record of what was noted", "[browser]") {
    const auto said =
        after("put('pipe', '9'); put('resin', '15'); put('air', '14'); put('mixed', '10:00'); result = said();");
    CHECK(said.find("Inflated by 10:22") != std::string::npos);
    CHECK(said.find("Gels, from then hold 11:35") != std::string::npos);
    CHECK(said.find("Deflate, not before 14:20") != std::string::npos);
    const auto record = after(R"(put('pipe', '9'); put('mixed', '10:00');
        document.querySelector("[data-label='A weighed']").value = "801 g";
        document.querySelector("[data-label='Cleaned']").checked = true;
        let kept = ""; window.Blob = function (parts) { kept = parts[0]; };
        URL.createObjectURL = () => "#kept"; URL.revokeObjectURL = () => {};
        document.querySelector(".save button").click(); result = kept;)");
    for (const char* words :
         {"\"patchwright_record\": 1", "\"job\": \"Q-1\"", "\"id\": \"A-P1\"", "\"pipe_temperature\": \"9 C\"",
          "\"mixed_at\": \"10:00\"", "\"A weighed\": \"801 g\"", "\"Cleaned\""}) {
        CAPTURE(record, words);
        CHECK(record.find(words) != std::string::npos);
    }
    const io::RecordNames names{"Q-1", {"A-P1"}, {}};
    const auto read = io::read_record(record, "record.json", &names);
    REQUIRE(read);
    CHECK(read.value->patches.at(0).mixed_at == ClockTime{600});
    CHECK(with_card_notes(*read.value, UnitSystem::metric).patches.at(0).part_a->in(unit::g) == Approx(801));
}

TEST_CASE("the record keeps every note of every sheet, though their labels are the same", "[browser]") {
    Table order;
    order.columns = {{"From"}, {"What"}, {"Done at", Align::left, true}};
    order.rows = {{"08:00", "travel", ""}, {"08:00", "set up", ""}};
    std::vector<Sheet> sheets(2, card_sheet());
    for (std::size_t day = 0; day < sheets.size(); ++day) {
        sheets[day].subject = fmt::format("day {}", day + 1);
        sheets[day].blocks.push_back({order});
        const Field twice{"Gas test", ""};
        sheets[day].blocks.push_back({Fields{{twice, twice}, 4}});
    }
    // Each box gets a number of its own; all numbers must come back, with what they belong to.
    const auto record = after(R"(let n = 100; const all = [];
        for (const box of document.querySelectorAll("input[data-label]")) if (box.type !== "checkbox") { box.value = "note " + ++n; all.push(box.value); }
        let kept = ""; window.Blob = function (parts) { kept = parts[0]; };
        URL.createObjectURL = () => "#kept"; URL.revokeObjectURL = () => {};
        document.querySelector(".save button").click();
        const told = JSON.parse(kept);
        result = all.length + " written, lost: " + all.filter(text => !kept.includes('"' + text + '"')).length + "; "
          + told.sheets.map(s => s.kind + " " + s.subject + ": " + Object.keys(s.noted).join(", ")).join("; ");)",
                              sheets);
    CHECK(record ==
          "10 written, lost: 0; "
          "Day sheet day 1: 08:00 travel, Done at, 08:00 set up, Done at, Gas test, Gas test (2); "
          "Day sheet day 2: 08:00 travel, Done at, 08:00 set up, Done at, Gas test, Gas test (2)");
}

TEST_CASE("on a phone the numbers of the day stand whole, and every card is one touch away", "[browser]") {
    auto sheet = card_sheet();
    Table numbers;
    numbers.strong = true;
    numbers.columns = {{"Patch"},           {"Mark, from"},       {"A", Align::right},
                       {"B", Align::right}, {"Cut, long x wide"}, {"Set pressure"},
                       {"Never above"},     {"Inflated by"},      {"Deflate, not before"}};
    numbers.rows = {{"A-P1", "12.30 m, MH2", "1537 g", "768 g", "1020 mm x 562 mm", "1.10 bar", "2.50 bar", "32 min",
                     "3 h 54 min"}};
    sheet.blocks.insert(sheet.blocks.begin(), {numbers});
    sheet.blocks.insert(sheet.blocks.begin(), {Heading{"The numbers of the day", 1, "Numbers"}});
    Card wrong;
    wrong.title = "If it goes wrong";
    sheet.blocks.push_back({wrong});
    CHECK(after(R"(const wide = document.querySelector(".wide");
        const cells = [...document.querySelectorAll("table.strong td")];
        const inside = cells.every(cell => cell.getBoundingClientRect().right <= window.innerWidth);
        const links = [...document.querySelectorAll(".jumps a")];
        const led = links.map(link => link.textContent + ":" + (place => (place.querySelector("h3") || place).textContent)(document.querySelector(link.getAttribute("href"))));
        result = window.innerWidth + "|" + (wide.scrollWidth <= wide.clientWidth) + "|" + inside + "|" + led.join("|");)",
                {sheet}, "500,900") ==
          "500|true|true|Numbers:The numbers of the day|A-P1:Patch A-P1|If it goes wrong:If it goes wrong");
}

TEST_CASE("each day of a page has its own buttons, and no other day's", "[browser]") {
    std::vector<Sheet> sheets(2, card_sheet());
    for (std::size_t day = 0; day < sheets.size(); ++day) {
        auto card = std::get<Card>(sheets[day].blocks.front().content);
        card.title = fmt::format("Patch A-P{}", day + 1);
        sheets[day].subject = fmt::format("day {} of 2", day + 1);
        sheets[day].blocks.front() = {card};
        Card wrong;
        wrong.title = "If it goes wrong";
        sheets[day].blocks.push_back({wrong});
        Paragraph filler;
        filler.text = "Invented.";
        for (int i = 0; i < 80; ++i) sheets[day].blocks.push_back({filler});
    }
    const auto said =
        after(R"(const links = bar => [...bar.querySelectorAll("a")].map(link => link.textContent).join(",");
        const led = [...document.querySelectorAll(".jumps a")].every(link => {
            const target = document.querySelector(link.getAttribute("href"));
            return target.closest(".sheet") === link.closest(".sheet") || target.className === "days"; });
        document.querySelectorAll(".days a")[1].click();
        const second = document.querySelectorAll(".sheet")[1];
        document.querySelector("#card-4").scrollIntoView();
        const bar = second.querySelector(".jumps").getBoundingClientRect();
        result = links(document.querySelector(".days")) + "|" + [...document.querySelectorAll(".jumps")].map(links).join("|") + "|"
          + led + "|" + location.hash + "|" + (bar.top >= 0 && bar.bottom < 120);)",
              sheets, "500,900");
    CHECK(said == "day 1 of 2,day 2 of 2|A-P1,If it goes wrong,Days|A-P2,If it goes wrong,Days|true|#sheet-2|true");
}

TEST_CASE("a page of several days opens at today's", "[browser]") {
    const auto opened = [](int days_from_now) {
        std::vector<Sheet> sheets(2, card_sheet());
        const auto time = std::time(nullptr) + days_from_now * 86400;
        std::tm date{};
        ::localtime_r(&time, &date);
        sheets[1].subject =
            fmt::format("Mon {:04}-{:02}-{:02}, day 2 of 2", date.tm_year + 1900, date.tm_mon + 1, date.tm_mday);
        for (auto& sheet : sheets) sheet.blocks.insert(sheet.blocks.end(), 80, Block{Paragraph{"Invented."}});
        return after("result = window.scrollY > 0 ? 'scrolled' : 'top';", sheets, "500,900");
    };
    CHECK(opened(0) == "scrolled");
    CHECK(opened(7) == "top");
}
