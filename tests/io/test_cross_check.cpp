#include "files.hpp"
#include "patchwright/io/placed.hpp"

using namespace patchwright;
using namespace patchwright::io;
using namespace patchwright::job;

namespace {

std::vector<Diagnostic> found(const std::string& bore, const std::string& more, const Yard& yard = builtin_yard()) {
    std::string text = test::small_job(more + (more.empty() ? "" : ", ") +
                                       R"("defects": [{"id": "1", "at": "3 m", "kind": "fissure"}])");
    text.replace(text.find("100 mm"), 6, bore);
    const auto job = read_job(text, "j");
    CAPTURE(test::errors_of(job.diagnostics));
    REQUIRE(job);
    return cross_check(*job.value, yard);
}

}  // namespace

TEST_CASE("a job that the yard serves raises nothing", "[job]") { CHECK(found("100 mm", "").empty()); }

TEST_CASE("a resin that the yard has not is an error", "[job][error]") {
    const auto diagnostics = found("100 mm", R"("resin": "quick")");
    REQUIRE(diagnostics.size() == 1);
    CHECK(diagnostics[0].severity == Severity::error);
    CHECK(diagnostics[0].pointer == "/runs/0/resin");
    CHECK(diagnostics[0].message.find("the yard has no resin \"quick\"; it has \"fast\", \"standard\"") !=
          std::string::npos);
    CHECK(text(diagnostics[0]).starts_with("error: run A: the yard has no resin"));
}

TEST_CASE("a resin outside its range in that pipe is a warning", "[job]") {
    const auto diagnostics = found("100 mm", R"("resin": "polyester", "ground_temperature": "9 C")");
    REQUIRE(diagnostics.size() == 1);
    CHECK(diagnostics[0].severity == Severity::warning);
    CHECK(diagnostics[0].message.find("resin \"polyester\" is for 15") != std::string::npos);
}

TEST_CASE("a bore of 10 mm: no packer, outside the standards, no felt", "[job]") {
    const auto diagnostics = found("10 mm", "");
    REQUIRE(diagnostics.size() == 3);
    for (const Diagnostic& d : diagnostics) {
        CHECK(d.severity == Severity::warning);
        CHECK(d.pointer == "/runs/0/bore");
    }
    CHECK(diagnostics[0].message.find("no packer of the yard") != std::string::npos);
    CHECK(diagnostics[1].message.find("outside the scope of the published standards") != std::string::npos);
    CHECK(diagnostics[2].message.find("every felt") != std::string::npos);
}

TEST_CASE("ground at 40 C: no resin may be used", "[job]") {
    const auto diagnostics = found("100 mm", R"("ground_temperature": "40 C")");
    REQUIRE(diagnostics.size() == 1);
    CHECK(diagnostics[0].message.find("no resin of the yard may be used at 40") != std::string::npos);
}

TEST_CASE("a surface or soil without a dig rate is an error", "[job][error]") {
    Yard yard = builtin_yard();
    yard.dig_rates.surfaces.clear();
    yard.dig_rates.soils.clear();
    const auto diagnostics = found("100 mm", "", yard);
    REQUIRE(diagnostics.size() == 2);
    CHECK(diagnostics[0].message == "the yard has no dig rate for the surface \"concrete\"");
    CHECK(diagnostics[1].message == "the yard has no dig rate for the soil \"C\"");
    CHECK(has_errors(diagnostics));
}

TEST_CASE("packers that can be built count, packers that are gone do not", "[job]") {
    Yard yard = builtin_yard();
    for (Packer& packer : yard.packers) packer.count = 0;
    CHECK(found("100 mm", "", yard).empty());  // chassis and bladder
    yard.bladders.clear();
    CHECK(found("100 mm", "", yard).size() == 1);
}

TEST_CASE("a finding that knows only its pointer gets its place", "[job][check]") {
    const std::string file =
        "{\n \"runs\": [\n  {\"id\": \"A\"},\n  {\"id\": \"B\", \"bore\": \"1 mm\"}],\n \"title\": \"t\"}";
    const auto at = [&](const char* pointer) {
        return placed({{Severity::warning, {}, 0, 0, "odd", pointer, "", ""}}, file, "job.json").at(0);
    };
    CHECK(at("/title").line == 5);
    CHECK(at("/title").column == 11);
    CHECK(at("/runs/1/bore").line == 4);
    CHECK(at("/runs/1/bore").column == 23);
    CHECK(at("/runs/1/bore").pointer == "/runs/1/bore");
    CHECK(at("/runs/1/bore").caret.find("^~~~~~") != std::string::npos);
    CHECK(at("/runs/0/access").line == 3);  // what is missing stands at what would hold it
    CHECK(at("/runs/0/access").column == 3);
    CHECK(at("/runs/7/bore").line == 2);  // no such run: the list
    CHECK(at("/offer_date").line == 0);
    CHECK(at("/offer_date").file == "job.json");
    // Those without a place first, then in order of the file.
    const auto list = placed({{Severity::error, {}, 0, 0, "b", "/title", "", ""},
                              {Severity::error, {}, 0, 0, "a", "/runs/0/id", "", ""},
                              {Severity::error, {}, 0, 0, "none", "", "", ""}},
                             file, "job.json");
    REQUIRE(list.size() == 3);
    CHECK(list[0].message == "none");
    CHECK(list[1].message == "a");
    CHECK(list[2].message == "b");
}
