// Where the distances of a survey begin. Fields AAB, AAD, AAF and AAK by the code tables of EN 13508-2:2003+A1:2011
// (C.1); that BCD and BCE name their node in the first quantity, and that "node 1" may lie at either end of the flow,
// as in the sample file published beside those tables. All surveys here are invented.
#include "import_support.hpp"

using namespace patchwright;
using namespace patchwright::test;
using Strings = std::vector<std::string>;

namespace {

struct Told {
    std::string ends, at;
    Strings warnings;
};

/// AAB;AAD;AAF;AAK and what BCD at zero and BCE name.
Told told(const std::string& header, const std::string& begin, const std::string& finish,
          const std::string& counter = "0") {
    const auto imported =
        import(survey_text("AAA;AAB;AAD;AAF;AAK", "L1;" + header,
                           counter + ";;BCD;;;" + begin + ";;\n4.20;;BAB;;;;1;3\n12.40;;BCE;;;" + finish + ";;\n"));
    CHECK(errors(imported).empty());
    const auto& run = imported.draft.runs.at(0);
    CHECK(run.access == run.from);
    return {run.from + ">" + run.to, run.defects.at(0).at + " " + run.defects.at(0).clock, warnings(imported)};
}

}  // namespace

TEST_CASE("distances begin where the survey says that it began", "[import][reference]") {
    struct Row {
        std::string header, begin, finish, ends;
    };
    const auto row = GENERATE(values<Row>({
        // AAB decides, whichever node it is and whichever way the water runs.
        {"MH1;MH1;MH2;A", "MH1", "MH2", "MH1>MH2"},
        {"MH2;MH1;MH2;A", "MH2", "MH1", "MH2>MH1"},
        {"MH1;MH1;MH2;B", "MH1", "MH2", "MH1>MH2"},
        {"MH2;MH1;MH2;B", "", "", "MH2>MH1"},
        // Without it the observation at zero, else the one at the far node.
        {";MH1;MH2;A", "MH2", "", "MH2>MH1"},
        {";MH1;MH2;B", "MH1", "MH2", "MH1>MH2"},
        {";MH1;MH2;A", "", "MH1", "MH2>MH1"},
        {";;;A", "MH7", "MH8", "MH7>MH8"},
        // A far node that the header does not know.
        {"MH1;MH1;;A", "", "", "MH1>"},
        {"MH1;;MH2;A", "", "", "MH1>MH2"},
        {"MH1;;;", "", "", "MH1>"},
        // The header knows no far node, the last observation does.
        {"MH1;;;", "", "MH2", "MH1>MH2"},
    }));
    CAPTURE(row.header, row.begin, row.finish);
    const Told got = told(row.header, row.begin, row.finish);
    CHECK(got.ends == row.ends);
    CHECK(got.at == "4.20 m 1-3");  // as the camera counted and saw it, against the flow too
    CHECK(got.warnings == Strings{});
}

TEST_CASE("nodes and direction order the ends only when nothing else does, and that is told", "[import]") {
    const auto with = told(";MH1;MH2;A", "", "");
    CHECK(with.ends == "MH1>MH2");
    REQUIRE(with.warnings.size() == 1);
    CHECK(with.warnings[0].starts_with("8:5 the survey does not say where it began (AAB); taken as \"MH1\""));
    CHECK(told(";MH1;MH2;B", "", "").ends == "MH2>MH1");
    CHECK(told(";MH1;MH2;", "", "").warnings.size() == 1);
}

TEST_CASE("contradictions are told, and zero stays where the survey began", "[import]") {
    const auto other = told("MH1;MH1;MH2;A", "MH2", "");
    CHECK(other.ends == "MH1>MH2");
    CHECK(other.warnings.size() == 1);
    const auto finish = told("MH1;MH1;MH2;A", "MH1", "MH1");
    CHECK(finish.ends == "MH1>MH2");
    CHECK(finish.warnings.size() == 1);
    const auto third = told("IC9;MH1;MH2;A", "", "");
    CHECK(third.ends == "IC9>MH2");
    CHECK(third.warnings.size() == 1);
    CHECK(told("IC9;MH1;MH2;B", "", "").ends == "IC9>MH1");
    CHECK(told("IC9;MH1;MH2;B", "", "MH2").ends == "IC9>MH2");
    // A node passed further on is not where the survey began, and what no node is called is no node.
    CHECK(told(";MH1;MH2;A", "MH2", "", "0.5").ends == "MH1>MH2");
    CHECK(told("MH1;MH1;MH2;A", "17", "").warnings.empty());
    const auto strange = told("MH1;MH1;MH2;A", "MH9", "");
    CHECK(strange.ends == "MH1>MH2");
    REQUIRE(strange.warnings.size() == 1);
    CHECK(strange.warnings[0].ends_with("BCD names \"MH9\", a node that the header does not know"));
    // Zero is taken to lie at an end without a name: told all the same.
    const auto nameless = told(";MH1;;B", "", "");
    CHECK(nameless.ends == ">MH1");
    REQUIRE(nameless.warnings.size() == 1);
    CHECK(nameless.warnings[0].find("taken as the end without a name") != std::string::npos);
    CHECK(told("MH1;MH1;MH2;X", "", "").warnings.size() == 1);
}

TEST_CASE("a first observation away from zero, or at zero twice, is told where it names another node", "[import]") {
    struct Row {
        std::string header, observations, ends, part;
    };
    const auto row = GENERATE(values<Row>({
        {";N1;N2;A", "0.30;;BCD;;;N2;;\n", "N1>N2",
         "names \"N2\" as the node where the survey began, but stands at "
         "\"0.30\", not at zero; distances run from \"N1\""},
        {"N1;N1;N2;A", "0.30;;BCD;;;N2;;\n", "N1>N2", "not at zero"},
        {"N1;N1;N2;A", "x;;BCD;;;N2;;\n", "N1>N2", "stands at \"x\""},
        {"N1;N1;N2;A", ";;BCD;;;N2;;\n", "N1>N2", "stands at no distance"},
        {";N1;N2;A", "0.00;;BCD;;;N1;;\n0.30;;BCD;;;N2;;\n", "N1>N2", "not at zero"},
        {";N1;N2;A", "0.00;;BCD;;;N2;;\n0.00;;BCD;;;N1;;\n", "N2>N1",
         "BCD names \"N1\", and before it \"N2\"; the first is taken"},
        {";;;A", "0.00;;BCD;;;N7;;\n0.00;;BCD;;;N8;;\n", "N7>", "the first is taken"},
        {"N1;N1;N2;A", "0.30;;BCD;;;N9;;\n", "N1>N2", "a node that the header does not know"},
        {"N1;N1;N2;A", "6.00;;BCE;;;N1;;\n9.00;;BCE;;;N2;;\n", "N1>N2", "the last is taken"},
    }));
    CAPTURE(row.header, row.observations);
    const auto imported = import(survey_text("AAA;AAB;AAD;AAF;AAK", "L1;" + row.header, row.observations));
    const auto& run = imported.draft.runs.at(0);
    CHECK(run.from + ">" + run.to == row.ends);
    const auto has = [&](const Strings& list) {
        return std::count_if(list.begin(), list.end(),
                             [&](const std::string& text) { return text.find(row.part) != std::string::npos; });
    };
    CHECK(has(warnings(imported)) == 1);
    CHECK(has(imported.draft.notes) == 1);
}

TEST_CASE("a first observation that names the node where distances begin is no contradiction", "[import]") {
    // The counter away from zero is told, as it is of every survey.
    const auto begun = told("MH1;MH1;MH2;A", "MH1", "", "0.30");
    REQUIRE(begun.warnings.size() == 1);
    CHECK(begun.warnings[0].find("the counter stood at 0.30 m") != std::string::npos);
    const auto ordered = told(";MH1;MH2;A", "MH1", "", "0.30");
    CHECK(ordered.ends == "MH1>MH2");
    REQUIRE(ordered.warnings.size() == 2);
    for (const auto& warning : ordered.warnings) CHECK(warning.find("BCD names") == std::string::npos);
}

TEST_CASE("a remark names a node only if the header knows it", "[import]") {
    const auto from = [](const std::string& remark) {
        return import("#A3=;\n#B01=AAA;AAD;AAF\nL1;MH1;MH2\n#C=I;A;F\n0;BCD;" + remark + "\n9;BCE;\n")
            .draft.runs.at(0)
            .from;
    };
    CHECK(from("MH2") == "MH2");
    CHECK(from("in the yard") == "MH1");
}

TEST_CASE("two surveys of one pipe that do not agree on the flow are told", "[import]") {
    const auto imported = import(
        "#A3=;\n#B01=AAA;AAB;AAD;AAF;AAK\nL1;MH1;MH1;MH2;A\n#Z\n#B01=AAA;AAB;AAD;AAF;AAK\nL2;MH2;MH1;MH2;A\n#Z\n"
        "#B01=AAA;AAB;AAD;AAF;AAK\nL3;MH2;MH1;MH2;B\n#Z\n");
    CHECK(warnings(imported) ==
          Strings{"5:1 runs L1 and L2 lie between the same ends, but water would run in at \"MH1\" in "
                  "the one and at \"MH2\" in the other"});
    CHECK(imported.draft.notes.size() == 4);  // two twins, the contradiction, the run against the flow
}

TEST_CASE("a survey against the flow is turned round only when asked", "[import]") {
    // AAK: A with the flow, B against it, from memory. 20 m from the lower node MH2; turned, distances from the upper
    // node are 20 m less those counted, and what was right is left.
    const std::string observations =
        "2.00;A1;BAB;;;;1;3\n3.50;B1;BAB;;;;1;3\n6.00;;BCA;;;100;2;\n8.00;;BAJ;B;;5;12;12\n9;;BAF;;;;11;4\n20.00;;BCE;;"
        ";;;\n";
    const auto read = [](const std::string& text, bool with_flow) {
        return intake::import_survey(text, "s.txt", {"T-1", "1.2 m", with_flow});
    };
    const std::string text = survey_text("AAA;AAB;AAD;AAF;AAK", "L1;MH2;MH1;MH2;B", observations);
    const auto kept = read(text, false).draft.runs.at(0);
    CHECK(kept.from == "MH2");
    CHECK(kept.defects.at(0).at == "2.00 m");
    CHECK(kept.defects.at(0).clock == "1-3");

    const auto imported = read(text, true);
    CHECK(errors(imported).empty());
    CHECK(warnings(imported).empty());
    const auto& run = imported.draft.runs.at(0);
    CHECK(run.from == "MH1");
    CHECK(run.to == "MH2");
    CHECK(run.access == "MH2");
    REQUIRE(run.defects.size() == 3);
    CHECK(run.defects[0].at == "11.00 m");
    CHECK(run.defects[0].clock == "8-1");
    CHECK(run.defects[1].at == "12.00 m");
    CHECK(run.defects[1].clock == "12-12");
    CHECK(run.defects[2].at == "16.50 m");
    CHECK(run.defects[2].to == "18.00 m");
    CHECK(run.defects[2].clock == "9-11");
    REQUIRE(run.fittings.size() == 1);
    CHECK(run.fittings[0].at == "14.00 m");
    CHECK(run.fittings[0].clock == "10");

    SECTION("without names the camera went in at the far end") {
        const auto unnamed = [&](const char* direction) {
            return read(survey_text("AAA;AAK", std::string{"L1;"} + direction, observations), true)
                .draft.runs.at(0)
                .access;
        };
        CHECK(unnamed("A").empty());
        CHECK(unnamed("B") == "end");
    }
    SECTION("without a length nothing can be turned") {
        const auto open = read(survey_text("AAA;AAB;AAD;AAF;AAK", "L1;MH2;MH1;MH2;B", "2.00;;BAB;;;;1;3\n"), true);
        CHECK(open.draft.runs.at(0).from == "MH2");
        CHECK(open.draft.runs.at(0).defects.at(0).at == "2.00 m");
        CHECK(open.draft.runs.at(0).defects.at(0).clock == "1-3");
        CHECK(warnings(open).size() == 1);
    }
    SECTION("what lies beyond the length has no place from the other end") {
        const auto far = read(
            survey_text("AAA;AAB;AAD;AAF;AAK;ABQ", "L1;MH2;MH1;MH2;B;15", "2.00;;BAB;;;;1;3\n16;;BAF;;;;;\n"), true);
        CHECK(far.draft.runs.at(0).length == "15.00 m");
        CHECK(far.draft.runs.at(0).defects.at(0).at == "13.00 m");
        CHECK(far.draft.runs.at(0).defects.at(1).at == "? 16.00 m from the other end, beyond the run");
    }
}
