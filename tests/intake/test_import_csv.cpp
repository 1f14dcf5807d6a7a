// Tables with named columns, and starters. All of it invented.
#include "import_support.hpp"
#include "patchwright/intake/starter.hpp"

using namespace patchwright;
using namespace patchwright::test;
using Strings = std::vector<std::string>;

TEST_CASE("a table with named columns becomes runs", "[import]") {
    const auto imported = import(
        "run,from,to,length,bore,material,at,end,code,kind,size,clock,remark\n"
        "R1,IC1,IC2,12.6 m,100 mm,clay,2.35 m,2.95 m,BAB C A,,2 mm,11-1,\"long, fine\"\n"
        "R1,,,,,,4.1 m,,,bend,45 deg,,\n"
        "R1,,,,,,6.8 m,,BAJ A,displaced joint,6 mm,,\n"
        "R2,IC2,IC3,30 ft,4 in,pvc,5 ft 2 in,,,crack,1/8 in,,\n");
    CHECK(errors(imported) == Strings{});
    CHECK(warnings(imported) == Strings{});
    REQUIRE(imported.draft.runs.size() == 2);
    const auto& run = imported.draft.runs[0];
    CHECK(run.from == "IC1");
    CHECK(run.length == "12.6 m");
    CHECK(run.material == "clay");
    REQUIRE(run.defects.size() == 2);
    CHECK(run.defects[0].to == "2.95 m");
    CHECK(run.defects[0].remark == "long, fine");
    CHECK(run.defects[0].clock == "11-1");
    CHECK(run.defects[1].code == "BAJ A");
    REQUIRE(run.fittings.size() == 1);
    CHECK(run.fittings[0].angle == "45 deg");
    CHECK(imported.draft.units == UnitSystem::us);
    CHECK(imported.draft.runs[1].defects.at(0).at == "5 ft 2 in");
    CHECK(imported.draft.runs[1].defects.at(0).kind == "fissure");
}

TEST_CASE("numbers without a unit take the column's, else metres and millimetres, and that is said", "[import]") {
    const auto imported = import(
        "run;length (ft);bore;at "
        "(ft);kind;size;angle\nA;30,5;100;12,5;fissure;3;\nA;;;20;bend;;45\nA;;;21;deformation;6;\n");
    CHECK(errors(imported) == Strings{});
    const auto& run = imported.draft.runs.at(0);
    CHECK(run.length == "30.5 ft");
    CHECK(run.bore == "100 mm");
    CHECK(run.defects.at(0).at == "12.5 ft");
    CHECK(run.defects.at(0).size == "3 mm");
    CHECK(run.defects.at(1).size == "6 %");
    CHECK(run.fittings.at(0).angle == "45 deg");
    CHECK(warnings(imported) ==
          Strings{"2:8 a number without a unit: read as mm; name the column \"bore (mm)\" to say so",
                  "2:25 a number without a unit: read as mm; name the column \"size (mm)\" to say so",
                  "3:14 a number without a unit: read as deg; name the column \"angle (deg)\" to say so"});
}

TEST_CASE("faults of a table are told with their place", "[import][error]") {
    const auto wrong = [](const std::string& rows) {
        return errors(import("run,length,at,end,code,kind,size,clock,inflow\n" + rows));
    };
    CHECK(wrong("A,10 m,1 m,,,fissure,3 mm,13,\n").at(0).starts_with("2:27 "));
    CHECK(wrong("A,10 m,2 m,1 m,,fissure,,,\n") == Strings{"2:12 ends before it begins"});
    CHECK(wrong("A,10 m,,,,fissure,,,\n") == Strings{"2:1 the place (column \"at\") is missing"});
    CHECK(wrong("A,10 m,1 m,,,,,,\n") == Strings{"2:8 a place without a code or a kind"});
    CHECK(wrong("A,10 m,1 m,,,fisure,,,\n").at(0).starts_with("2:14 the kind \"fisure\" is not known"));
    CHECK(wrong("A,10 m,1 m,,,fissure,,,\nA,11 m,2 m,,,fissure,,,\n") ==
          Strings{"3:3 run A has the length \"10 m\" in an earlier line"});
    CHECK(wrong("A,10 m,1 m,,,fissure,,,\nA,10 m,2 m,,,fissure,,,\nA,10 m,3 m,,,fissure,,,\n") == Strings{});
    CHECK(wrong("A,10 m,1 m,,,deformation,3 mm,,\n") ==
          Strings{"2:26 the size of this kind is a share of the pipe, such as \"15 %\""});
    CHECK(wrong("A,10 m,1 m,,,fissure,3 %,,\n") == Strings{"2:22 the size of this kind is a length, such as \"8 mm\""});
    CHECK(wrong("A,10 m,1 m,,,infiltration,,,wet\n") ==
          Strings{"2:29 \"wet\" is not known; none, sweating, dripping, running and gushing are"});
    CHECK(wrong("A,10 m,1 m,,,fissure,,,,more\n") == Strings{"2:25 more fields than the 9 columns"});
    CHECK(wrong("A,-1 m,1 m,,,fissure,,,\n").size() == 1);
    CHECK(errors(import("name,value\n1,2\n")).at(0).starts_with("1:1 the first line must name the columns"));
    CHECK(errors(import("")) == Strings{"0:0 the file is empty"});
    CHECK(errors(import("at,kind,at\n1 m,fissure,2 m\n")) ==
          Strings{"1:9 the column \"at\" stands twice; the first is taken"});
}

TEST_CASE("a table without rows is an error with words", "[import][error]") {
    CHECK(errors(import("run,at,kind\n")) == Strings{"1:1 the table names its columns, but has no row below them"});
    CHECK(errors(import("\n\nrun;at;code\n\n")) ==
          Strings{"3:1 the table names its columns, but has no row below them"});
}

TEST_CASE("what a row says and nobody understands stays in the draft", "[import]") {
    const auto imported = import(
        "run,length,at,end,kind,size,clock,angle,inflow,colour\n"
        "A,10 m,,,,\"open\nA,10 m,1 m,,junction,75 mm,14,,,\nA,,x,,fissure,,,,,\nA,,2 m,,fisure,,,,,\nA,,3 "
        "m,,bend,,,200 deg,,\n"
        "A,,4 m,3 m,fissure,,,,,red\nA,,5 m,,fissure,big,,,,\nA,,6 m,,infiltration,,,,wet,\nA,12 "
        "m,,,,,,,,\nB,long,,,,,,,,\n");
    CHECK(errors(imported).size() == 10);
    REQUIRE(imported.draft.runs.size() == 2);
    const auto& run = imported.draft.runs[0];
    REQUIRE(run.fittings.size() == 2);
    CHECK(run.fittings[0].kind == "junction");
    CHECK(run.fittings[0].clock == "? 14");
    CHECK(run.fittings[0].remark.find("survey line 3") != std::string::npos);
    CHECK(run.fittings[1].angle == "? 200 deg");
    Strings shown;
    for (const auto& d : run.defects) shown.push_back(d.at + "|" + d.to + "|" + d.kind + "|" + d.size + "|" + d.inflow);
    CHECK(shown == Strings{"2 m||? fisure||", "4 m|? 3 m|fissure||", "5 m||fissure|? big|", "6 m||infiltration||? wet",
                           "? x||fissure||", "?||?||", "?||?||"});
    CHECK(run.length == "10 m");
    CHECK(imported.draft.runs[1].length == "? long");
    const auto& notes = imported.draft.notes;
    CHECK(std::any_of(notes.begin(), notes.end(),
                      [](const std::string& note) { return note.find("colour \"red\"") != std::string::npos; }));
}

TEST_CASE("a starter is filled from what is known", "[starter]") {
    const auto made =
        intake::make_starter({.bore = "4 in",
                              .length = "30 ft",
                              .material = "Clay",
                              .defects = {"12 ft crack", "15 ft to 16 ft 6 in Displaced Joint 1/4 in clock 10-2"}});
    CHECK(made.errors == Strings{});
    const auto& run = made.draft.runs.at(0);
    CHECK(made.draft.units == UnitSystem::us);
    CHECK(run.bore == "4 in");
    CHECK(run.length == "30 ft");
    CHECK(run.depth == "4 ft");
    REQUIRE(run.defects.size() == 2);
    CHECK(run.defects[0].id == "A1");
    CHECK(run.defects[1].id == "A2");
    CHECK(run.defects[0].kind == "fissure");
    CHECK(run.defects[0].at == "12 ft");
    CHECK(run.defects[1].kind == "displaced joint");
    CHECK(run.defects[1].to == "16 ft 6 in");
    CHECK(run.defects[1].size == "1/4 in");
    CHECK(run.defects[1].clock == "10-2");
    CHECK(made.hints == Strings{"--defect: \"crack\" is called fissure in a job file",
                                "only examples, put in what is true: depth 4 ft"});
}

TEST_CASE("a starter refuses what it cannot read", "[starter][error]") {
    const auto wrong = [](const intake::StarterOptions& options) {
        return intake::make_starter(options).errors.size();
    };
    CHECK(wrong({}) == 0);
    CHECK(wrong({.bore = "4"}) == 1);
    CHECK(wrong({.length = "0 m"}) == 1);
    CHECK(wrong({.material = "chocolate"}) == 1);
    CHECK(wrong({.defects = {"12 ft"}}) == 1);
    CHECK(wrong({.defects = {"fissure"}}) == 1);
    CHECK(wrong({.defects = {"12 fissure"}}) == 1);
    CHECK(wrong({.defects = {"3 m to 2 m fissure"}}) == 1);
    CHECK(wrong({.defects = {"3 m fissure wide"}}) == 1);
    CHECK(wrong({.defects = {""}}) == 1);
}
