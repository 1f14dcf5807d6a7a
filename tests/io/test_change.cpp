// A job or yard file with some of its keys set to other values: what is typed, what becomes of the file, what is
// refused.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "patchwright/io/change.hpp"
#include "patchwright/io/read.hpp"
#include "patchwright/units/error.hpp"
#include "support/dice.hpp"
#include "support/project_file.hpp"

using namespace patchwright;
using job::Change;
using job::FileKind;
using Json = nlohmann::json;

namespace {

Json demo() { return Json::parse(test::project_file("examples/demo.json")); }

Json changed(const std::string& file, FileKind kind, const std::vector<std::string>& changes) {
    std::vector<Change> list;
    for (const auto& change : changes) list.push_back(io::parse_change(change));
    return Json::parse(io::with_changes(file, kind, list));
}
Json changed_demo(const std::string& change) {
    return changed(test::project_file("examples/demo.json"), FileKind::job, {change});
}

/// What is said of a change of the demo and of a yard that extends the built-in one.
std::string refusal(const std::string& change) {
    try {
        const auto read = io::parse_change(change);
        static_cast<void>(io::with_changes(test::project_file("examples/demo.json"), FileKind::job, {read}));
        static_cast<void>(io::with_changes(R"({"patchwright_yard": 1, "extends": "builtin"})", FileKind::yard, {read}));
        return {};
    } catch (const InputError& error) {
        return error.what();
    }
}

}  // namespace

TEST_CASE("a change is a key's path and a value, of the file that has the first key", "[job][change]") {
    const auto site = io::parse_change("site.finish=18:00");
    CHECK(site.file == FileKind::job);
    CHECK(site.path == std::vector<std::string>{"site", "finish"});
    CHECK(site.value == "\"18:00\"");
    const auto helper = io::parse_change("limits.helpers=1");
    CHECK(helper.file == FileKind::yard);
    CHECK(helper.value == "1");
    CHECK(io::parse_change("yard:limits.helpers=1").file == FileKind::yard);
    CHECK(io::parse_change("job:limits.helpers=1").file == FileKind::job);  // the reader will say what it thinks of it
    // JSON where it is JSON, else a text.
    CHECK(io::parse_change("runs.0.depth=1.5 m").value == "\"1.5 m\"");
    CHECK(io::parse_change("runs.0.depth=\"1.5 m\"").value == "\"1.5 m\"");
    CHECK(io::parse_change("limits.overnight_cure=true").value == "true");
    CHECK(io::parse_change("runs.A.access=[\"MH1\"]").value == "[\"MH1\"]");
    CHECK(io::parse_change("title=").value == "\"\"");
    CHECK(io::parse_change("title=a=b").value == "\"a=b\"");
    CHECK(io::parse_change("runs.\"A.1\".resin=slow").path == std::vector<std::string>{"runs", "A.1", "resin"});
}

TEST_CASE("a change is written as it is typed", "[job][change]") {
    for (const char* text : {"site.finish=18:00", "limits.helpers=1", "runs.\"A.1\".resin=slow", "runs.A=null",
                             "limits.overnight_cure=true", "runs.A.access=[\"a\",\"b\"]", "title=\"1\""}) {
        CAPTURE(text);
        const auto change = io::parse_change(text);
        CHECK(io::text(change) == text);
    }
}

TEST_CASE("the file with a change is the file with that value", "[job][change]") {
    Json expected = demo();
    expected["site"]["finish"] = "18:00";
    CHECK(changed_demo("site.finish=18:00") == expected);
    expected = demo();
    expected["runs"][1]["defects"][0]["inflow"] = "none";
    CHECK(changed_demo("runs.B.defects.B1.inflow=none") == expected);
    CHECK(changed_demo("runs.1.defects.0.inflow=none") == expected);
    expected = demo();
    expected["price"]["profit"] = "10 %";  // what the path leads through is put in
    CHECK(changed_demo("price.profit=10 %") == expected);
    expected = demo();
    expected["runs"].erase(2);
    CHECK(changed_demo("runs.C=null") == expected);
    expected = demo();
    expected["runs"][0].erase("joint_spacing");
    CHECK(changed_demo("runs.A.joint_spacing=null") == expected);
    expected = demo();
    expected["notes"].push_back("one more");
    CHECK(changed_demo("notes.2=one more") == expected);
}

TEST_CASE("an id goes before a place in the list", "[job][change]") {
    const std::string file = R"({"runs": [{"id": "1", "depth": "1 m"}, {"id": "0", "depth": "2 m"}]})";
    const auto named = changed(file, FileKind::job, {"runs.0.depth=3 m"});
    CHECK(named["runs"][1]["depth"] == "3 m");
    CHECK(named["runs"][0]["depth"] == "1 m");
}

TEST_CASE("things of the built-in yard are changed by their ids in a file that extends it", "[job][change]") {
    const std::string file =
        R"({"patchwright_yard": 1, "extends": "builtin", "packers": [{"id": "T100", "count": 2}]})";
    const auto read = [&](const std::vector<std::string>& changes) {
        const auto yard = io::read_yard(changed(file, FileKind::yard, changes).dump(), "yard.json");
        for (const auto& d : yard.diagnostics) UNSCOPED_INFO(d.message);
        REQUIRE(yard);
        return *yard.value;
    };
    const auto count = [](const job::Yard& yard, std::string_view id) {
        for (const auto& packer : yard.packers)
            if (packer.id == id) return packer.count;
        return -1;
    };
    auto yard = read({"packers.S100-07.count=5", "packers.T100.count=3"});
    CHECK(count(yard, "S100-07") == 5);
    CHECK(count(yard, "T100") == 3);
    CHECK(yard.packers.size() == io::builtin_yard().packers.size());
    yard = read({"packers.S100-07=null"});
    CHECK(count(yard, "S100-07") == -1);
    // A list whose things have no name is said as a whole; the rest of it stays.
    const auto& kits = io::builtin_yard().resins.front().kits;
    yard = read({"resins." + io::builtin_yard().resins.front().id + ".kits.0.price=43.00 EUR"});
    REQUIRE(yard.resins.front().kits.size() == kits.size());
    CHECK(decimal_text(yard.resins.front().kits[0].price) == "43.00");
    CHECK(yard.resins.front().kits[1].price == kits[1].price);
}

TEST_CASE("what is no change is refused, and what would be right is said", "[job][change]") {
    struct Row {
        const char* change;
        std::vector<std::string> words;
    };
    const Row rows[] = {
        {"", {"KEY=VALUE"}},
        {"site.finish", {"KEY=VALUE", "site.finish=18:00"}},
        {"=1", {"KEY=VALUE"}},
        {"site..finish=1", {"KEY=VALUE"}},
        {"sitte.finish=18:00", {"\"sitte\" is no key of a job or yard file; did you mean ", "site"}},
        {"overtime=1 h", {"did you mean", "limits.overtime"}},
        {"overtiem=1 h", {"did you mean", "limits.overtime"}},
        {"zzzzzzzz=1", {"\"zzzzzzzz\" is no key", "docs/fields.md"}},
        {"runs.D.depth=1 m", {"runs has no \"D\"", "A, B, C"}},
        {"runs.9.depth=1 m", {"runs has no \"9\""}},
        {"runs.A.defects.A9=null", {"runs.A.defects has no \"A9\"", "A1, A2, A3"}},
        {"site.finish.hour=18", {"site.finish is a single value"}},
        {"site.nothing=null", {"site has no \"nothing\" that could be taken out"}},
        {"packers.S100-08.count=1", {"packers has no \"S100-08\"", "did you mean \"S100-0"}},
        {"runs.\"A.depth=1 m", {"double quotes"}},
        {"a.b.c.d.e.f.g.h.i=1", {"8 levels"}},
        {"title=\xff", {"UTF-8"}},
    };
    for (const auto& row : rows) {
        CAPTURE(row.change);
        const auto said = refusal(row.change);
        CAPTURE(said);
        for (const auto& words : row.words) CHECK(said.find(words) != std::string::npos);
    }
}

TEST_CASE("a value nested too deep is a text, which the reader refuses", "[job][change]") {
    const std::string deep(100'000, '[');
    const auto change = io::parse_change("site=" + deep);
    CHECK(Json::parse(change.value).is_string());
}

TEST_CASE("the built-in yard's file reads as the built-in yard", "[job][change]") {
    const auto yard = io::read_yard(io::builtin_yard_text(), "yard");
    REQUIRE(yard);
    CHECK_FALSE(io::has_errors(yard.diagnostics));
    const auto& built_in = io::builtin_yard();
    CHECK(yard.value->name == built_in.name);
    CHECK(yard.value->demonstration);
    CHECK(yard.value->assumptions.empty());
    CHECK(yard.value->packers.size() == built_in.packers.size());
    CHECK(yard.value->resins.size() == built_in.resins.size());
    CHECK(yard.value->rates.wage.amount == built_in.rates.wage.amount);
}

TEST_CASE("whatever is typed, it is a change or is refused", "[job][change]") {
    const std::vector<std::string> pieces{
        "runs",   "A",        "0",       "9",       "defects", "A1",    "site",
        "finish", "limits",   "packers", "S100-07", "notes",   ".",     ".",
        ".",      "=",        "=",       "null",    "\"",      "\\",    "{",
        "}",      "[",        "]",       "1 m",     "job:",    "yard:", "{\"id\": \"A\"}",
        "1e999",  "\xc3\xa9", "\xff"};
    const auto job = test::project_file("examples/demo.json");
    const std::string yard = R"({"patchwright_yard": 1, "extends": "builtin", "notes": 3})";
    test::Dice dice{7};
    int made = 0;
    for (int n = 0; n < 20'000; ++n) {
        std::string text;
        // Half of them begin as changes do.
        const auto name = [&] { return pieces[static_cast<std::size_t>(dice.between(0, 11))]; };
        if (n % 2 == 0) text = name() + "." + name() + (n % 4 == 0 ? "=" : "");
        for (int count = dice.between(0, 6); count > 0; --count) text += dice.one_of(pieces);
        CAPTURE(text);
        try {
            const auto change = io::parse_change(text);
            CHECK(io::parse_change(io::text(change)).value == Json::parse(change.value).dump());
            (void)io::read_job(io::with_changes(job, FileKind::job, {change}), "job.json");
            (void)io::with_changes(yard, FileKind::yard, {change});
            ++made;
        } catch (const InputError& error) {
            CHECK_FALSE(std::string{error.what()}.empty());
        }
    }
    CHECK(made > 500);
}
