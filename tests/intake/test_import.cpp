// Surveys in the text exchange form. The form, the codes and the fields are those of EN 13508-2:2003+A1:2011, as
// published in code tables and a sample file by a public water-research centre. All surveys here are invented.
#include <numeric>

#include "import_support.hpp"

using namespace patchwright;
using namespace patchwright::test;
using Strings = std::vector<std::string>;

TEST_CASE("a survey in the exchange form becomes a run", "[import][reference]") {
    const auto imported = import(
        "#A1=ISO-8859-1\n#A2=en\n#A3=;\n#A4=.\n#A5=\"\n#A6=2010\n#B01=AAA;ACB;ACD\nL7;150;AE\n#C=I;J;A;B;C;D;G;H\n"
        "0;;BCD;X;P;;;\n4.20;A1;BAB;C;A;3;10;2\n5.05;B1;BAB;C;A;3;10;2\n12.40;;BCE;X;P;;;\n#Z\n");
    CHECK(errors(imported).empty());
    REQUIRE(imported.draft.runs.size() == 1);
    const auto& run = imported.draft.runs[0];
    CHECK(run.id == "L7");
    CHECK(run.bore == "150 mm");
    CHECK(run.material == "clay");
    CHECK(run.length == "12.40 m");
    CHECK(run.depth == "1.2 m");
    REQUIRE(run.defects.size() == 1);
    const auto& defect = run.defects[0];
    CHECK(defect.at == "4.20 m");
    CHECK(defect.to == "5.05 m");
    CHECK(defect.kind == "fissure");
    CHECK(defect.size == "3 mm");
    CHECK(defect.code == "BAB C A");
    // From 10 clockwise through 12 to 2: four of twelve hours.
    CHECK(defect.clock == "10-2");
    CHECK(parse_clock_range(defect.clock)->share() == Approx(4.0 / 12.0));
}

TEST_CASE("continuous defects may overlap and interleave", "[import][reference]") {
    const auto imported =
        import(survey_text("AAA", "L1",
                           "1.00;A1;BAB;C;A;2;;\n1.50;A2;BAF;C;;;5;7\n2.00;A3;BBB;;;5;;\n2.50;B2;BAF;C;;;5;7\n"
                           "3.00;B1;BAB;C;A;4;;\n3.10;A2;BAF;C;;;;\n3.60;B2;BAF;C;;;;\n4.00;B3;BBB;;;9;;\n"));
    CHECK(errors(imported).empty());
    const auto& defects = imported.draft.runs.at(0).defects;
    REQUIRE(defects.size() == 4);
    Strings places;
    for (const auto& d : defects) places.push_back(d.id + " " + d.at + " " + d.to + " " + d.size);
    // Of the two readings of one defect the worse counts; an ended id may be used again.
    CHECK(places ==
          Strings{"L1-1 1.00 m 3.00 m 4 mm", "L1-2 1.50 m 2.50 m ", "L1-3 2.00 m 4.00 m 9 %", "L1-4 3.10 m 3.60 m "});
}

TEST_CASE("broken continuous defects are told with their place", "[import][error]") {
    const auto wrong = [](const std::string& observations) {
        return errors(import(survey_text("AAA", "L1", observations)));
    };
    CHECK(wrong("1.00;B1;BAB;;;;;\n") == Strings{"10:6 B1 ends a continuous defect that never began with A1"});
    CHECK(wrong("1.00;A1;BAB;;;;;\n2.00;A1;BAB;;;;;\n3;B1;BAB;;;;;\n") ==
          Strings{"11:6 the continuous defect A1 began in line 10 and has not ended"});
    CHECK(wrong("1.00;A1;BAB;;;;;\n2.00;B1;BAF;;;;;\n3;B1;BAB;;;;;\n") ==
          Strings{"11:6 B1 ends BAF, but A1 in line 10 began BAB"});
    CHECK(wrong("2.00;A1;BAB;;;;;\n1.00;B1;BAB;;;;;\n3;B1;BAB;;;;;\n") ==
          Strings{"11:6 B1 ends at 1.00 m, before A1 begins at 2.00 m"});
    CHECK(wrong("2.00;C1;BAB;;;;;\n") == Strings{"10:6 C1 changes a continuous defect that never began with A1"});
    CHECK(wrong("2.00;D1;BAB;;;;;\n").size() == 1);
    CHECK(wrong("2.00;A;BAB;;;;;\n").size() == 1);

    const auto open = import(survey_text("AAA", "L1", "1.00;A1;BAB;;;;;\n5.00;;BDA;;;;;\n"));
    CHECK(errors(open) == Strings{"10:6 the continuous defect A1 has no end B1; the survey went to 5.00 m"});
    CHECK(open.draft.runs.at(0).defects.at(0).to == "? A1");
}

TEST_CASE("separator, decimal mark, quotes and order of fields are the file's own", "[import][reference]") {
    // #A1 to #A6 as in the sample file; further groups of the header from #B02 on from memory.
    const auto defect = [](const std::string& text) {
        const auto imported = import(text);
        CHECK(errors(imported) == Strings{});
        return imported.draft.runs.at(0).defects.at(0);
    };
    SECTION("comma between fields, free text without quotes") {
        const auto d = defect("#A3=,\n#A4=.\n#B01=AAA\nL1\n#C=I,A,B,F\n3.25,BAB,C,wide open\n");
        CHECK(d.at == "3.25 m");
        CHECK(d.remark == "wide open");
    }
    SECTION("decimal comma") {
        const auto d = defect("#A3=;\n#A4=,\n#B01=AAA\nL1\n#C=A;I;D\nBAB;3,25;1,5\n");
        CHECK(d.at == "3.25 m");
        CHECK(d.size == "1.5 mm");
    }
    SECTION("quotes hold separators, and doubled quotes a quote") {
        const auto d =
            defect("#A3=,\n#A4=,\n#A5=\"\n#B01=AAA\nL1\n#C=F,A,I\n\"cracks, \"\"wide\"\" ones\",BAB,\"3,25\"\n");
        CHECK(d.at == "3.25 m");
        CHECK(d.remark == "cracks, \"wide\" ones");
    }
    SECTION("another quote mark, tab between fields") {
        const auto d = defect("#A3=\t\n#A4=.\n#A5='\n#B01=AAA\nL1\n#C=F\tA\tI\n'a\tb \"c\"'\tBAB\t3.25\n");
        CHECK(d.remark == "a\tb \"c\"");
        CHECK(d.at == "3.25 m");
    }
    SECTION("header groups, lower case, CRLF, blank lines, surplus empty fields") {
        const auto imported = import(
            "#A3=;\r\n#A4=.\r\n\r\n#B01=aaa;aad\r\nL1;N1\r\n#B02=acb;ACD\r\n225;ax\r\n#B03=AAF\r\nN2\r\n#c=i;a;\r\n1.5;"
            "bab;;\r\n\r\n#z\r\n");
        CHECK(errors(imported) == Strings{});
        const auto& run = imported.draft.runs.at(0);
        CHECK(run.from == "N1");
        CHECK(run.to == "N2");
        CHECK(run.bore == "225 mm");
        CHECK(run.material == "PVC-U");
        CHECK(run.defects.size() == 1);
    }
}

TEST_CASE("the character set is the one that the file names", "[import][reference]") {
    const auto remark = [](const std::string& set, const std::string& bytes) {
        return import("#A1=" + set + "\n#A3=;\n#B01=AAA\nL1\n#C=I;A;F\n1;BAB;" + bytes + "\n")
            .draft.runs.at(0)
            .defects.at(0)
            .remark;
    };
    // ISO/IEC 8859-1, 8859-15, code page 1252 and UTF-8 as in their code tables.
    CHECK(remark("ISO-8859-1", "R\xF6hre \xBD") == "R\u00F6hre \u00BD");
    CHECK(remark("iso-8859-1:1998", "\xE9") == "\u00E9");
    CHECK(remark("ISO-8859-15", "\xA4") == "\u20AC");
    CHECK(remark("windows-1252", "\x80 \x93x\x94") == "\u20AC \u201Cx\u201D");
    CHECK(remark("UTF-8", "R\u00F6hre") == "R\u00F6hre");

    const auto bad = import("#A1=UTF-8\n#A3=;\n#B01=AAA\nL1\n#C=I;A;F\n1;BAB;R\xF6hre\n2;BAB;x\n");
    REQUIRE(errors(bad).size() == 1);
    CHECK(errors(bad)[0].starts_with("6:8 "));
    CHECK(bad.draft.runs.at(0).defects.size() == 2);  // the other as a question
    CHECK(remark("\"ISO-8859-1:1998\"", "\xE9") == "\u00E9");
    CHECK(remark("ISO/IEC 8859-15:1999", "\xA4") == "\u20AC");
    CHECK(errors(import("#A1=EBCDIC\n#A3=;\n#B01=AAA\nL1\n")).at(0).starts_with("1:5 the character set \"EBCDIC\""));
    CHECK(errors(import(std::string{"\xFF\xFE#\0", 4})).at(0) == "0:0 this is UTF-16 text: save it as UTF-8");
    CHECK(import("\xEF\xBB\xBF#A1=ISO-8859-1\n#A3=;\n#B01=AAA\nL\u00F6\n#C=I;A\n1;BAB\n").draft.runs.at(0).id ==
          "L\u00F6");
}

TEST_CASE("several surveys in a file, the last without its end", "[import][reference]") {
    const auto imported = import(
        "#A3=;\n#B01=AAA\nL1\n#C=I;A\n1;BAB\n#Z\n#B01=AAA\nL1\n#C=I;A\n2;BAB\n3;BAB\n#Z\n#B01=ACB\n100\n#C=A;I\nBAB;4\n"
        "#B01=AAA\nL9\n#C=I;A\n5;BAB");
    CHECK(errors(imported).empty());
    Strings runs;
    for (const auto& run : imported.draft.runs)
        runs.push_back(run.id + ":" + std::to_string(run.defects.size()) + run.defects.at(0).at);
    CHECK(runs == Strings{"L1:11.00 m", "L1 (2):22.00 m", "C:14.00 m", "L9:15.00 m"});
}

TEST_CASE("codes become kinds with sizes in their own units", "[import][reference]") {
    struct Row {
        std::string code, quantity;
        job::DefectKind kind;
        std::string size;
    };
    using job::DefectKind;
    // Main codes from the code tables. Characterisations (but BAC C) and units, mm or %, from memory.
    const auto row = GENERATE(values<Row>({{"BAA;A;", "6", DefectKind::deformation, "6 %"},
                                           {"BAB;B;C", "2.5", DefectKind::fissure, "2.5 mm"},
                                           {"BAC;A;", "20", DefectKind::fracture_break, "20 mm"},
                                           {"BAC;B;", "20", DefectKind::missing_wall, "20 mm"},
                                           {"BAC;C;", "", DefectKind::collapse, ""},
                                           {"BAF;C;", "", DefectKind::surface_damage, ""},
                                           {"BAG;;", "10", DefectKind::intruding_connection, "15 mm"},
                                           {"BAH;B;", "", DefectKind::defective_connection, ""},
                                           {"BAJ;A;", "12", DefectKind::displaced_joint, "12 mm"},
                                           {"BAJ;B;", "8", DefectKind::displaced_joint, "8 mm"},
                                           {"BAJ;C;", "5", DefectKind::displaced_joint, ""},
                                           {"BBA;B;", "15", DefectKind::root_intrusion, "15 %"},
                                           {"BBB;A;", "5", DefectKind::attached_deposit, "5 %"},
                                           {"BBF;B;", "", DefectKind::infiltration, ""},
                                           {"BBG;;", "", DefectKind::exfiltration, ""},
                                           {"BAO;;", "", DefectKind::missing_wall, ""}}));
    CAPTURE(row.code);
    const auto imported = import(survey_text("AAA;ACB", "L1;150", "4.20;;" + row.code + ";" + row.quantity + ";;\n"));
    CHECK(errors(imported).empty());
    REQUIRE(imported.draft.runs.at(0).defects.size() == 1);
    CHECK(imported.draft.runs[0].defects[0].kind == job::word(row.kind));
    CHECK(imported.draft.runs[0].defects[0].size == row.size);
}

TEST_CASE("connections, bends and changes of size become fittings", "[import][reference]") {
    const auto imported = import(survey_text(
        "AAA", "L1", "1;;BCA;A;A;100;2;\n2;;BCC;A;;45;;\n3;;AEC;A;;125;;\n4;;BCC;B;;;;\n5;;BCC;A;;200;;\n"));
    const auto& fittings = imported.draft.runs.at(0).fittings;
    REQUIRE(fittings.size() == 5);
    CHECK(fittings[0].kind == "junction");
    CHECK(fittings[0].bore == "100 mm");
    CHECK(fittings[0].clock == "2");
    CHECK(fittings[0].remark == "BCA A A");
    CHECK(fittings[1].kind == "bend");
    CHECK(fittings[1].angle == "45 deg");
    CHECK(fittings[2].kind == "size change");
    CHECK(fittings[2].bore == "125 mm");
    CHECK(fittings[3].angle.empty());  // for `check` to ask
    CHECK(fittings[4].angle == "? 200");
    CHECK(errors(imported) == Strings{"14:11 200 degrees is too much for BCC A"});
}

TEST_CASE("soil or a void seen belongs to the opening beside it", "[import]") {
    const auto imported =
        import(survey_text("AAA", "L1", "3.00;;BAC;B;;30;;\n3.00;;BAO;;;;;\n3.00;;BAP;;;;;\n8.00;;BAP;;;;;\n"));
    const auto& defects = imported.draft.runs.at(0).defects;
    REQUIRE(defects.size() == 2);
    CHECK(defects[0].surrounding_sound == false);
    CHECK(defects[0].remark == "BAO; BAP");
    CHECK(defects[1].at == "8.00 m");
    CHECK(defects[1].surrounding_sound == false);
}

TEST_CASE("what has no place in a job is left out and listed", "[import]") {
    const auto imported =
        import(survey_text("AAA;ACB;ACC;ACD;AAK;ABQ", "L1;300;200;QQ;X;9",
                           "0.5;;BCD;;;;;\n1;;BDD;A;;5;;\n2;;ZZZ;;;;;\n3;;BAF;;;7;;\n4;;BAB;C;;0;;\n10;;BCE;;;;;\n"));
    CHECK(errors(imported).empty());
    CHECK(warnings(imported).size() == 7);
    const auto& run = imported.draft.runs.at(0);
    CHECK(run.bore == "? 200 mm wide and 300 mm high");
    CHECK(run.material == "? QQ");
    CHECK(run.length == "10.00 m");
    CHECK(run.defects.size() == 2);
    CHECK(run.defects[0].size.empty());
    CHECK(run.defects[1].size.empty());  // a quantity of nought is none
    CHECK(run.defects[0].remark.starts_with("a quantity of 7 beside BAF"));
    const std::string notes = std::accumulate(imported.draft.notes.begin(), imported.draft.notes.end(), std::string{});
    for (const std::string word :
         {"not round", "\"QQ\"", "ZZZ at 2.00 m", "BDD A at 1.00 m, quantity 5", "9.00 m expected"}) {
        CAPTURE(word, notes);
        CHECK(notes.find(word) != std::string::npos);
    }
}

TEST_CASE("malformed lines are told with line and column and the rest is read", "[import][error]") {
    const auto imported = import(
        "#A3=;\n#A4=.\n#B01=AAA;ACB\nL1;1x0\n#C=I;J;A;B;C;D;G;H\n1.0;;BAB;;;;;\n2,0;;BAB;;;;;\n3.0;;BAB\n4.0;;BAB;;;;;;"
        "more\n"
        "5.0;;BAB;;;;13;\n6.0;;BAB;;;3mm;;\n7.0;;;;;;;\n;;BAB;;;;;\n-1;;BAB;;;;;\n8.0;;BAB;;;;;\"open\n9.0;;BAB;;;;;\n#"
        "Q\nstray\n#Z\nstray\n");
    CHECK(errors(imported) ==
          Strings{"4:4 \"1x0\" is no height in mm (ACB); a number with the decimal mark \".\" belongs here",
                  "7:1 \"2,0\" is no distance in m; a number with the decimal mark \".\" belongs here",
                  "8:6 3 fields where the list names 8",
                  "9:15 more fields than the 8 that the list names; is a \";\" in the text not quoted?",
                  "10:13 \"13\" is no place on the clock; whole hours from 1 to 12 are",
                  "11:12 \"3mm\" is no quantity; a number with the decimal mark \".\" belongs here",
                  "12:1 the main code (A) is missing", "13:1 the distance (I) is missing",
                  "14:1 -1 m is no distance along a drain", "15:14 this quote is not closed on its line",
                  "17:1 \"#Q\" is not known; a line begins with #A1= to #A6=, #B01=, #C= or is #Z",
                  "18:1 1 field where the list names 8",
                  "20:1 a line of values without a list of fields (#B01= or #C=) before it"});
    const auto& defects = imported.draft.runs.at(0).defects;
    Strings places;
    for (const auto& d : defects) places.push_back(d.at + "|" + d.kind);
    CHECK(places == Strings{"1.00 m|fissure", "5.00 m|fissure", "6.00 m|fissure", "7.00 m|?", "9.00 m|fissure",
                            "? 2,0|fissure", "?|fissure", "? -1|fissure", "?|?", "?|?", "?|?", "?|?", "?|?", "?|?"});
    CHECK(imported.draft.runs.at(0).bore == "? 1x0");
    REQUIRE(imported.diagnostics.size() > 1);
    CHECK(io::text(imported.diagnostics[0]) ==
          "s.txt:4:4: error: \"1x0\" is no height in mm (ACB); a number with the decimal mark \".\" belongs here\n"
          " 4 | L1;1x0\n"
          "   |    ^");
}

TEST_CASE("faults of the lists themselves", "[import][error]") {
    CHECK(errors(import("#A3=;\n#B01=AAA\nL1\n#C=J;A\n1;BAB\n")) ==
          Strings{"4:4 the list has no field I (distance)",
                  "5:1 \"1\" marks no continuous defect; A1 begins one and B1 "
                  "ends it"});
    CHECK(errors(import("#A3=;\n#B01=AAA\n#C=I;A\n1;BAB\n")) ==
          Strings{"3:1 the values of the header group are missing: one line follows each #B line"});
    const auto twice = import("#A3=;\n#B01=AAA\nL1\n#C=I;A;I\n1;BAB;2\n");
    CHECK(errors(twice).empty());
    CHECK(warnings(twice) == Strings{"5:7 the field I stands twice, as \"1\" and as \"2\"; the first is taken"});
    CHECK(warnings(import("#A3=;\n#B01=AAA;ACB;ACB\nL1;100;150\n")) ==
          Strings{"3:8 the header field ACB stands twice, as \"100\" and as \"150\"; the first is taken"});
    CHECK(errors(import("#A3=;;\n#A4=x\n#A5=abc\n#B01=AAA\nL1\n")).size() == 3);
    CHECK(errors(import("#A1=UTF-8\n")) == Strings{"0:0 no survey found: a survey begins with a line #B01="});
}
