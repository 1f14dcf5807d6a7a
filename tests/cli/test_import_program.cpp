// `import` and `new` as a user runs them. Invented surveys.
#include <catch2/catch.hpp>

#include "support/program.hpp"

using namespace patchwright::test;

namespace {

const std::string good = "#A3=;\n#B01=AAA;ACB;ACD\nL7;150;AE\n#C=I;A;D\n4.20;BAB;3\n12.40;BCE;\n#Z\n";
const std::string bad = "#A3=;\n#B01=AAA;ACB;ACD\nL7;150;AE\n#C=I;A;D\n4.20;BAB;3\n5,20;BAB;3\n12.40;BCE;\n#Z\n";

Result run_with(const std::string& input, std::vector<std::string> arguments) {
    Call call;
    call.arguments = std::move(arguments);
    call.input = input;
    return run(call);
}

Result import(const std::string& text, std::vector<std::string> more = {}) {
    std::vector<std::string> arguments{"import", "-"};
    arguments.insert(arguments.end(), more.begin(), more.end());
    return run_with(text, arguments);
}

}  // namespace

TEST_CASE("import, check and plan follow one another", "[import][program]") {
    const Folder folder;
    folder.write("survey.txt", good);
    const auto made = run({"import", folder / "survey.txt", "--depth", "1.2 m", "-o", folder / "job.json"});
    INFO(made.err);
    CHECK(made.status == 0);
    CHECK(made.out.empty());
    CHECK(folder.read("job.json").find("\"reference\": \"survey\"") != std::string::npos);
    CHECK(run({"check", folder / "job.json"}).status == 0);
    CHECK(run({"plan", folder / "job.json"}).status == 0);
}

TEST_CASE("without a depth the job is written and check asks", "[import][program]") {
    const auto made = import(good);
    CHECK(made.status == 0);
    CHECK(made.err.find("--depth") != std::string::npos);
    const auto checked = run_with(made.out, {"check", "-"});
    CHECK(checked.status == 3);
    CHECK(checked.out.find("depth") != std::string::npos);
}

TEST_CASE("a malformed line stops the import unless it is to keep going", "[import][program][error]") {
    const Folder folder;
    folder.write("job.json", "old");
    const auto stopped = import(bad, {"-o", folder / "job.json"});
    CHECK(stopped.status == 3);
    CHECK(stopped.err.find("standard input:6:1: error: ") != std::string::npos);
    CHECK(folder.read("job.json") == "old");

    const auto going = import(bad, {"--keep-going", "--depth", "4 ft"});
    CHECK(going.status == 0);
    CHECK(going.err.find("standard input:6:1: error: ") != std::string::npos);
    CHECK(going.out.find("\"at\": \"? 5,20\"") != std::string::npos);
    const auto checked = run_with(going.out, {"check", "-"});
    CHECK(checked.status == 3);
    CHECK(checked.out.find("? 5,20") != std::string::npos);
    const auto empty = import("run,at,kind\n");
    CHECK(empty.status == 3);
    CHECK(empty.err.find("no row below them") != std::string::npos);

    CHECK(import("nothing of the kind").status == 3);
    CHECK(import("", {"--keep-going"}).status == 3);
    CHECK(import(good, {"--depth", "1.2"}).status == 2);
    CHECK(run({"import", folder / "none.txt"}).status == 1);
}

TEST_CASE("a survey against the flow is turned when asked", "[import][program]") {
    const std::string against =
        "#A3=;\n#B01=AAA;AAB;AAD;AAF;AAK;ACB;ACD\nL7;MH2;MH1;MH2;B;150;AE\n#C=I;A;G\n4.20;BAB;2\n12.40;BCE;\n#Z\n";
    const auto kept = import(against);
    CHECK(kept.out.find("\"from\": \"MH2\"") != std::string::npos);
    CHECK(kept.out.find("\"at\": \"4.20 m\"") != std::string::npos);
    const auto turned = import(against, {"--with-flow"});
    CHECK(turned.out.find("\"from\": \"MH1\"") != std::string::npos);
    CHECK(turned.out.find("\"at\": \"8.20 m\"") != std::string::npos);
    CHECK(turned.out.find("\"clock\": \"10\"") != std::string::npos);
    CHECK(turned.out.find("\"MH2\"\n") != std::string::npos);  // the camera, and so the crew, goes in there
}

TEST_CASE("new gives a job that checks", "[starter][program]") {
    const auto made = run({"new", "--bore", "4 in", "--length", "30 ft", "--defect", "12 ft crack", "--defect",
                           "20 ft root intrusion 10 %"});
    CHECK(made.status == 0);
    CHECK(made.err.find("\"crack\" is called fissure") != std::string::npos);
    CHECK(made.out.find("\"kind\": \"fissure\"") != std::string::npos);
    CHECK(run_with(made.out, {"check", "-"}).status == 0);
    CHECK(run_with(run({"new"}).out, {"check", "-"}).status == 0);

    CHECK(run({"new", "--bore", "4"}).status == 2);
    CHECK(run({"new", "--length", "3 m", "--defect", "5 m fissure"}).status == 2);
}
