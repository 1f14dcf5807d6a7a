// Headers as they come. Fields and material codes by the code tables of EN 13508-2:2003+A1:2011 (C.1 to C.5); how
// headers in use are spread and quoted: common practice, no source. All surveys here are invented.
#include "import_support.hpp"
#include "support/project_file.hpp"

using namespace patchwright;
using namespace patchwright::test;
using Strings = std::vector<std::string>;

namespace {

intake::DraftRun run_with(const std::string& fields, const std::string& values) {
    return intake::import_survey("#A3=;\n#B01=AAA;" + fields + "\nL1;" + values + "\n#C=I;A\n0;BCD\n", "s", {"T", ""})
        .draft.runs.at(0);
}

}  // namespace

TEST_CASE("a quoted header in three groups with fillers is read", "[import]") {
    const auto imported =
        intake::import_survey(project_file("examples/survey-quoted.txt"), "survey-quoted.txt", {"Q", ""});
    CHECK(errors(imported) == Strings{});
    REQUIRE(imported.draft.runs.size() == 2);
    const auto& run = imported.draft.runs[0];
    CHECK(run.from == "C2");
    CHECK(run.to == "C1");
    CHECK(run.bore == "100 mm");
    CHECK(run.material == "pitch fibre");
    CHECK(run.depth == "1.30 m");
    CHECK(run.joint_spacing == "1.50 m");
    CHECK(imported.draft.site_address == "Nowhere Lane 3, Inventham");
    CHECK(says(imported, "gate key at the lodge"));
    CHECK(says(imported, "Run P1, junction at 6.40 m: blanked off"));
    REQUIRE(run.defects.size() == 3);
    CHECK(run.defects[0].to == "3.90 m");
    CHECK(run.defects[0].size == "6 %");  // the worst of begin, change and end
    CHECK(run.defects[1].kind == "missing wall");
    CHECK(run.defects[2].inflow == "dripping");
    CHECK(imported.draft.runs[1].from == "C3");
    CHECK(imported.draft.runs[1].defects.at(0).at == "5.10 m");
    CHECK(warnings(imported).size() == 1);  // the connection that looked closed
}

TEST_CASE("material codes are those of the published table", "[import][reference]") {
    // EN 13508-2:2003+A1:2011, table C.4, as published in code tables by a public water-research centre.
    using Row = std::pair<std::string, std::string>;
    const auto row = GENERATE(
        values<Row>({{"AA", "asbestos cement"}, {"AC", "pitch fibre"}, {"AE", "clay"},           {"AG", "concrete"},
                     {"AH", "concrete"},        {"AI", "concrete"},    {"AJ", "concrete"},       {"AM", "cast iron"},
                     {"AN", "cast iron"},       {"AO", "cast iron"},   {"AX", "PVC-U"},          {"AB", "other"},
                     {"AD", "other"},           {"AF", "other"},       {"AL", "other"},          {"AP", "other"},
                     {"AQ", "other"},           {"AR", "other"},       {"AS", "other"},          {"AT", "other"},
                     {"AU", "other"},           {"AV", "other"},       {"AW", "other"},          {"AY", "other"},
                     {"AZ", "other"},           {"Z", "other"},        {"AK", "asbestos cement"}}));
    CAPTURE(row.first);
    CHECK(run_with("ACD", row.first).material == row.second);
}

TEST_CASE("depths and the length of a pipe are read where metres and millimetres cannot be taken for one another",
          "[import]") {
    CHECK(run_with("ACH;ACI", "1.20;1.85").depth == "1.85 m");
    CHECK(run_with("ACH;ACI", "1.20;").depth == "1.20 m");
    CHECK(run_with("ACH;ACI", ";1850").depth == "1.85 m");
    CHECK(run_with("ACH;ACI", "0;0").depth.empty());
    CHECK(run_with("ACH", "100").depth == "? 100");
    CHECK(run_with("ACH", "deep").depth == "? deep");
    CHECK(run_with("ACG", "2").joint_spacing == "2.00 m");
    CHECK(run_with("ACG", "600").joint_spacing == "0.60 m");
    CHECK(run_with("ACG", "100").joint_spacing == "? 100");
    CHECK(run_with("ACG", "").joint_spacing.empty());
    const auto given = intake::import_survey("#A3=;\n#B01=AAA;ACH\nL1;0.80\n#Z\n#B01=AAA\nL2\n", "s", {"T", "1.2 m"});
    CHECK(given.draft.runs.at(0).depth == "0.80 m");
    CHECK(given.draft.runs.at(1).depth == "1.2 m");
}

TEST_CASE("a pipe that is not round has no bore", "[import]") {
    CHECK(run_with("ACA;ACB;ACC", "A;100;100").bore == "100 mm");
    CHECK(run_with("ACA;ACB;ACC", "C;300;200").bore == "? 200 mm wide and 300 mm high, shape C");
    CHECK(run_with("ACA;ACB", "B;100").bore == "? 100 mm wide and 100 mm high, shape B");
}

TEST_CASE("older editions, national annexes and unknown fields are notes", "[import]") {
    const auto imported = import(
        "#A3=;\n#A6=2003\n#B01=AAA;ABA;ABB;XYZ\nL1;EN 13508-2:2003;house code;7\n#C=I;A;F\n1;BZZ;something\n#Z\n"
        "#B01=AAA;ABA\nL2;EN 13508-2:2003\n#Z\n#B01=AAA;ABA\nL3;our own rules\n#Z\n");
    CHECK(errors(imported) == Strings{});
    for (const std::string words : {"Runs L1, L2: coded after \"EN 13508-2:2003\" (ABA), an edition older",
                                    "our own rules", "translated from \"house code\"", "XYZ \"7\"",
                                    "All runs: the form is of edition 2003", "BZZ at 1.00 m (something)"}) {
        CAPTURE(words);
        CHECK(says(imported, words));
    }
    CHECK(warnings(imported).size() == 6);
}

TEST_CASE("header fields are those of the standard's tables and no others", "[import][reference]") {
    // Source: EN 13508-2:2003+A1:2011, tables C.1 to C.5: AAA to AAV, ABA to ABT, ACA to ACN, ADA to ADE. The ends of
    // the rows are from memory.
    for (const char* known : {"AAV", "ABT", "ACN", "ADE", "ADA"}) {
        CAPTURE(known);
        CHECK_FALSE(says(import(survey_text(std::string{"AAA;"} + known, "L1;x", "")), "older edition"));
    }
    for (const char* other : {"AAW", "ABU", "ACO", "ADF", "AEA", "BAA", "ABAB", "A@A", "BBB"}) {
        CAPTURE(other);
        CHECK(says(import(survey_text(std::string{"AAA;"} + other, "L1;x", "")), "older edition"));
    }
}

TEST_CASE("a second quantity is kept as a remark unless it is nought", "[import]") {
    const auto remark = [](const std::string& second) {
        const auto imported = import("#A3=;\n#B01=AAA\nL1\n#C=I;A;B;D;E\n4;BAB;B;2;" + second + "\n#Z\n");
        return imported.draft.runs.at(0).defects.at(0).remark;
    };
    CHECK(remark("35") == "second quantity 35");
    CHECK(remark("0").empty());
}

TEST_CASE("zero that lies elsewhere than usual, a lined pipe and an abandoned survey are told", "[import]") {
    const auto imported = import(survey_text("AAA;ABC;ACE;ACF;ACJ;AAM;AAJ;ABF", "L1;B;A;AT;B;Town;A street;2026-01-02",
                                             "4;;BDC;A;;;;\n3;;BDG;A;;;;\n1;;BCA;A;B;;3;\n"));
    CHECK(errors(imported) == Strings{});
    for (const std::string words :
         {"reference point \"B\"", "lined already", "type of sewer \"B\"", "ordered by Town", "surveyed on 2026-01-02",
          "given up here", "did not see", "junction at 1.00 m: seen closed: taken as live"}) {
        CAPTURE(words);
        CHECK(says(imported, words));
    }
    CHECK(imported.draft.site_address == "A street");
}

TEST_CASE("the inspection of a manhole is no run", "[import]") {
    const auto imported = import("#A3=;\n#B01=CAA;CBA\nMH1;x\n#C=I;A\n1;DAB\n#Z\n#B01=AAA\nL1\n#Z\n");
    CHECK(imported.draft.runs.size() == 1);
    CHECK(imported.draft.runs.at(0).id == "L1");
    CHECK(warnings(imported) == Strings{"2:1 the inspection of a manhole or chamber with 1 observation is not read"});
    CHECK(says(imported, "manhole"));
}
