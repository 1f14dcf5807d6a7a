// Nothing that a survey says is lost or made milder on its way into the draft.
#include <catch2/catch.hpp>

#include "import_support.hpp"

using namespace patchwright;
using namespace patchwright::test;
using Strings = std::vector<std::string>;

namespace {

intake::DraftRun run_of(const std::string& observations) {
    return import(survey_text("AAA;ABQ", "L1;20", observations)).draft.runs.at(0);
}

}  // namespace

TEST_CASE("the graver kind of a continuous defect counts", "[import]") {
    const auto collapse = run_of("2;A1;BAC;A;;;10;11\n2.3;C1;BAC;C;;;12;12\n2.6;B1;BAC;A;;;10;11\n").defects;
    REQUIRE(collapse.size() == 1);
    CHECK(collapse[0].kind == "collapse");
    CHECK(collapse[0].code == "BAC C");
    CHECK(collapse[0].remark.find("BAC A") != std::string::npos);
    const auto gone = run_of("2;A1;BAC;B;;;10;11\n2.6;B1;BAC;A;;;10;11\n").defects;
    CHECK(gone.at(0).kind == "missing wall");
    const auto crack = run_of("2;A1;BAB;B;A;;;\n2.6;B1;BAB;C;C;;;\n").defects;
    CHECK(crack.at(0).kind == "fissure");
    CHECK(crack.at(0).remark == "also BAB C C");
}

TEST_CASE("of two clock ranges of one defect the wider is taken and the other kept", "[import]") {
    const auto defects = run_of("2;A1;BAF;A;A;;11;1\n2.6;B1;BAF;A;A;;9;3\n").defects;
    CHECK(defects.at(0).clock == "9-3");
    CHECK(defects.at(0).remark == "clock also 11-1");
    CHECK(run_of("2;A1;BAF;A;A;;9;3\n2.6;B1;BAF;A;A;;11;1\n").defects.at(0).clock == "9-3");
}

TEST_CASE("an open wall that goes further than the opening beside it stays a place of its own", "[import]") {
    const auto defects = run_of("4;A1;BAC;A;;;;\n4.5;B1;BAC;A;;;;\n4.5;A2;BAO;;;;;\n7;B2;BAO;;;;;\n").defects;
    REQUIRE(defects.size() == 2);
    CHECK(defects[0].to == "4.50 m");
    CHECK(defects[1].at == "4.50 m");
    CHECK(defects[1].to == "7.00 m");
    CHECK(defects[1].kind == "missing wall");
}

TEST_CASE("what is said of a void goes to the opening, and what nobody could read stays", "[import]") {
    const auto joined = import(
        survey_text("AAA", "L1", "4;;BAC;B;;;3;void seen 0.5 m deep\n4;;BAP;;;;10;behind it\n", "I;J;A;B;C;D;G;F"));
    REQUIRE(joined.draft.runs.at(0).defects.size() == 1);
    CHECK(joined.draft.runs[0].defects[0].remark.find("behind it") != std::string::npos);
    const auto unread = run_of("4;;BAC;B;;;3;\n4;;BAO;;;;14;\n").defects;
    REQUIRE(unread.size() == 2);
    CHECK(unread[1].clock == "? 14");
}

TEST_CASE("a fitting seen over a stretch is placed by its middle, also when the run is turned", "[import]") {
    const std::string text = survey_text("AAA;ABQ;AAK;AAB;AAD;AAF", "L1;20;B;M2;M1;M2",
                                         "2;A1;BCC;A;A;30;;\n4;B1;BCC;A;A;30;;\n6;;BCA;A;B;100;3;\n0.5;;BDD;A;;5;;\n");
    const auto as_seen = intake::import_survey(text, "s.txt", {"T", "1.2 m"});
    REQUIRE(as_seen.draft.runs.at(0).fittings.size() == 2);
    CHECK(as_seen.draft.runs[0].fittings[0].at == "3.00 m");
    CHECK(as_seen.draft.runs[0].fittings[0].remark.find("2.00 m to 4.00 m") != std::string::npos);
    intake::ImportOptions turned{"T", "1.2 m"};
    turned.with_flow = true;
    const auto with_flow = intake::import_survey(text, "s.txt", turned);
    const auto& fittings = with_flow.draft.runs.at(0).fittings;
    REQUIRE(fittings.size() == 2);
    CHECK(fittings[0].at == "14.00 m");
    CHECK(fittings[1].at == "17.00 m");
    // The connection seen closed is told at its place in the job, what has no place there as the survey counted it.
    CHECK(says(with_flow, "junction at 14.00 m: seen closed"));
    CHECK_FALSE(says(with_flow, "6.00 m"));
    CHECK(says(with_flow, "distances as the survey counted them: BDD A at 0.50 m"));
}

TEST_CASE("a fitting that begins and never ends leaves a place to be asked for", "[import]") {
    const auto fittings = run_of("4;A2;BCA;A;A;75;3;\n").fittings;
    REQUIRE(fittings.size() == 1);
    CHECK(fittings[0].at.starts_with("?"));
}

TEST_CASE("a file without a survey of a pipe is an error", "[import]") {
    CHECK(errors(import("#A3=;\n#B01=CAA;CBA\nMH1;x\n#C=I;A\n1;DAB\n#Z\n")) ==
          Strings{"0:0 the file holds no survey of a pipe"});
}

TEST_CASE("an address that not all runs give is told beside", "[import]") {
    const auto imported = import("#A3=;\n#B01=AAA;AAJ\nL1;Mill Lane 1\n#Z\n#B01=AAA\nL2\n#Z\n");
    CHECK(imported.draft.site_address == "Mill Lane 1");
    CHECK(says(imported, "Run L1: Mill Lane 1."));
}

TEST_CASE("a number that is only too large is not called unreadable", "[import]") {
    CHECK(errors(import(survey_text("AAA;ACB", "L1;4000", "1;;BAB;C;A;;;\n")))
              .at(0)
              .ends_with("\"4000\" is too much for a height in mm (ACB)"));
    CHECK(errors(import(survey_text("AAA;ABQ", "L1;99999", "1;;BAB;C;A;;;\n")))
              .at(0)
              .ends_with("\"99999\" is too much for a length in m (ABQ)"));
}

TEST_CASE("a table's far node and length are held to each other", "[import][csv]") {
    const auto told = [](const std::string& rows) { return import("run;length;at;code;remark\n" + rows); };
    const auto counted = told("L1;10 m;0 m;BCD;key at the lodge\n;;12 m;BCE;at the wall\n");
    CHECK(counted.draft.runs.at(0).length == "12 m");
    CHECK(warnings(counted).size() == 1);
    CHECK(says(counted, "key at the lodge"));
    CHECK(says(counted, "at the wall"));
    CHECK(told("L1;12 m;0 m;BCD;\n;;12 m;BCE;\n").diagnostics.empty());
    const auto twice = told("L1;;12 m;BCE;\n;;13 m;BCE;\n");
    CHECK(errors(twice).at(0).find("12 m or 13 m") != std::string::npos);
    CHECK(twice.draft.runs.at(0).length.starts_with("?"));
}

TEST_CASE("a decimal comma is read with and without a unit", "[import][csv]") {
    const auto imported =
        import("run;length;at;kind;size\nL1;10,5 m;2,5 m;deformation;5,5 %\n;;3,5 m;fissure;2,5 mm\n");
    CHECK(errors(imported) == Strings{});
    CHECK(imported.draft.runs.at(0).length == "10.5 m");
    CHECK(imported.draft.runs[0].defects.at(0).at == "2.5 m");
    CHECK(imported.draft.runs[0].defects.at(0).size == "5.5 %");
    CHECK(imported.draft.runs[0].defects.at(1).size == "2.5 mm");
}
