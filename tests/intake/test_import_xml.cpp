// The XML form: root DATA, form fields in ZA, inspections in ZB, observations in ZC, codes as in the text form
// (EN 13508-2:2003+A1:2011, Annex B.3). All surveys here are invented.
#include "import_support.hpp"
#include "support/project_file.hpp"

using namespace patchwright;
using namespace patchwright::test;
using Strings = std::vector<std::string>;

namespace {

std::string inspection(const std::string& inner) {
    return "<?xml version=\"1.0\"?>\n<DATA>\n<ZB>\n" + inner + "\n</ZB>\n</DATA>\n";
}

}  // namespace

TEST_CASE("a survey in XML becomes the same runs as one in text", "[import][reference]") {
    const auto imported = intake::import_survey(project_file("examples/survey.xml"), "survey.xml", {"X", ""});
    CHECK(imported.diagnostics.empty());
    REQUIRE(imported.draft.runs.size() == 2);
    const auto& run = imported.draft.runs[0];
    CHECK(run.id == "K1");
    CHECK(run.from + ">" + run.to == "IC4>IC5");
    CHECK(run.length == "14.60 m");
    CHECK(run.bore == "150 mm");
    CHECK(run.material == "clay");
    CHECK(run.depth == "1.45 m");
    CHECK(run.joint_spacing == "1.00 m");
    REQUIRE(run.defects.size() == 3);
    CHECK(run.defects[0].at + "-" + run.defects[0].to == "3.10 m-3.85 m");
    CHECK(run.defects[0].size == "6 mm");
    CHECK(run.defects[0].clock == "11-2");
    CHECK(run.defects[2].remark == "fine roots < 1 mm; at a joint");
    REQUIRE(run.fittings.size() == 2);
    CHECK(run.fittings[0].angle == "30 deg");
    CHECK(imported.draft.runs[1].from == "IC6");
    CHECK(imported.draft.runs[1].defects.at(0).at == "4.35 m");
    CHECK(imported.draft.site_address == "Nowhere Lane 7, Inventham");
}

TEST_CASE("text and XML of one survey give one draft", "[import]") {
    const auto text = import(
        "#A1=UTF-8\n#A3=;\n#A6=2010\n#B01=AAA;AAB;AAD;AAF;AAK;ACB;ACD;ADE\nL1;N1;N1;N2;A;100;AE;key: no. 7\n"
        "#C=I;J;A;B;C;D;G;H;K;F\n0;;BCD;X;;N1;;;;\n2.5;A1;BAB;C;A;3;10;2;;\n3;B1;BAB;C;A;3;10;2;;\n4;;BCA;A;A;75;3;;A;"
        "r\u00F6d\n9;;BCE;X;;N2;;;;\n#Z\n");
    const auto xml = import(
        "<DATA><ZA><A2>en</A2><A6>2010</A6></ZA><ZB><B><AAA>L1</AAA><AAB>N1</AAB><AAD>N1</AAD><AAF>N2</AAF><AAK>A</AAK>"
        "</B><ACB>100</ACB><ACD>AE</ACD><ADE>key: no. 7</ADE>"
        "<ZC><A>BCD</A><B>X</B><D>N1</D><I>0</I></ZC>"
        "<ZC><A>BAB</A><B>C</B><C>A</C><D>3</D><G>10</G><H>2</H><I>2.5</I><J>A1</J></ZC>"
        "<ZC><A>BAB</A><B>C</B><C>A</C><D>3</D><G>10</G><H>2</H><I>3</I><J>B1</J></ZC>"
        "<ZC><A>BCA</A><B>A</B><C>A</C><D>75</D><F>r&#246;d</F><G>3</G><I>4</I><K>A</K></ZC>"
        "<ZC><A>BCE</A><B>X</B><D>N2</D><I>9</I></ZC></ZB></DATA>");
    CHECK(text.diagnostics.empty());
    CHECK(xml.diagnostics.empty());
    REQUIRE(text.draft.runs.size() == 1);
    REQUIRE(xml.draft.runs.size() == 1);
    const auto shown = [](const intake::Imported& imported) {
        const auto& run = imported.draft.runs[0];
        Strings out{run.id, run.from, run.to, run.length, run.bore, run.material, run.access};
        for (const auto& d : run.defects) out.push_back(d.at + d.to + d.kind + d.size + d.clock + d.code + d.remark);
        for (const auto& f : run.fittings) out.push_back(f.at + f.kind + f.bore + f.clock + f.remark);
        out.insert(out.end(), imported.draft.notes.begin(), imported.draft.notes.end());
        return out;
    };
    CHECK(shown(text) == shown(xml));
    CHECK(shown(xml).back() == "Run L1, from the survey: key: no. 7");
}

TEST_CASE("an empty element before a filled one of the same name loses nothing", "[import]") {
    const auto imported = import(inspection("<ZC><A>BAB</A><B>C</B><I>2</I><D></D><D>5</D></ZC>"));
    CHECK(imported.diagnostics.empty());
    CHECK(imported.draft.runs.at(0).defects.at(0).size == "5 mm");
}

TEST_CASE("faults in XML have line and column, counted in characters", "[import][error]") {
    CHECK(errors(import(inspection("<AAA>R\u00F6</AAA><ACB>1x0</ACB>\n<ZC><A>BAB</A><I>2,5</I></ZC>"))) ==
          Strings{"4:19 \"1x0\" is no height in mm (ACB); a number with the decimal mark \".\" belongs here",
                  "5:18 \"2,5\" is no distance in m; a number with the decimal mark \".\" belongs here"});
    CHECK(errors(import(inspection("<ZC><A>BCA</A><I>\n  6.0</I><G>14</G></ZC>"))) ==
          Strings{"5:13 \"14\" is no place on the clock; whole hours from 1 to 12 are"});
    CHECK(errors(import(inspection("<ZC><A>BAB</A></ZC>"))) == Strings{"4:1 the distance (I) is missing"});
    CHECK(errors(import(inspection("<ZC><A>BAB<I>3</I></A></ZC>"))).size() == 3);
    CHECK(errors(import(inspection("words <AAA>L1</AAA>"))) ==
          Strings{"4:1 words between the elements; every value stands in an element of its own"});
    const auto cut = errors(import("<DATA>\n<ZB><AAA>L1</AAB></ZB>\n</DATA>"));
    REQUIRE(cut.size() == 1);
    CHECK(cut[0].starts_with("2:"));
    CHECK(cut[0].find("this is no sound XML") != std::string::npos);
    CHECK(errors(import("<OTHER/>")) ==
          Strings{"1:1 the root element is \"OTHER\"; DATA is that of the exchange form"});
    CHECK(errors(import("<DATA/>")) == Strings{"1:1 no inspection (ZB) in the file"});
    CHECK(errors(import("<DATA><ZB/></DATA><DATA/>")).size() == 1);
}

TEST_CASE("what does not belong into the XML form stays for somebody to look at", "[import]") {
    const auto imported =
        import("<DATA><ZX>9</ZX><ZB><AAA>L1</AAA><ZC><A>BAB</A><I>1</I><P><Q>2</Q></P></ZC></ZB></DATA>");
    CHECK(errors(imported).size() == 2);
    const auto& defects = imported.draft.runs.at(0).defects;
    REQUIRE(defects.size() == 3);
    CHECK(defects[1].kind == "?");
    CHECK(defects[1].remark.find("<ZX>9</ZX>") != std::string::npos);
    CHECK(defects[2].remark.find("<P><Q>2</Q></P>") != std::string::npos);
}

TEST_CASE("character sets of XML", "[import]") {
    const auto name = [](const std::string& declared, const std::string& bytes) {
        const auto imported =
            import("<?xml version='1.0' encoding='" + declared + "'?><DATA><ZB><AAA>" + bytes + "</AAA></ZB></DATA>");
        return imported.draft.runs.empty() ? errors(imported).at(0) : imported.draft.runs[0].id;
    };
    CHECK(name("UTF-8", "R\u00F6hre") == "R\u00F6hre");
    CHECK(name("ISO-8859-1", "R\xF6hre") == "R\u00F6hre");
    CHECK(name("ISO-8859-15", "\xA4") == "\u20AC");
    CHECK(name("windows-1252", "\x80") == "\u20AC");
    CHECK(name("UTF-8", "R\xF6hre").starts_with("1:"));
    CHECK(name("EBCDIC", "x").find("\"EBCDIC\" is not read") != std::string::npos);
}

TEST_CASE("XML that is out to do harm is refused", "[import][error]") {
    // Entities that grow, parts outside the file: both need a document type.
    CHECK(errors(import(
              "<!DOCTYPE d [<!ENTITY a \"aaaa\"><!ENTITY b \"&a;&a;\">]>\n<DATA><ZB><AAA>&b;</AAA></ZB></DATA>")) ==
          Strings{"1:1 a document type (DOCTYPE) is not read here; leave it out"});
    CHECK(errors(import("<!DOCTYPE d SYSTEM \"file:///etc/passwd\"><DATA/>")).size() == 1);
    std::string deep;
    for (int i = 0; i < 100'000; ++i) deep += "<B>";
    CHECK(errors(import("<DATA><ZB>" + deep + "</ZB></DATA>")).size() == 1);
    std::string closed = deep;
    for (int i = 0; i < 100'000; ++i) closed += "</B>";
    CHECK(errors(import("<DATA><ZB>" + closed + "</ZB></DATA>")).size() == 1);
    std::string many = "<DATA>";
    for (int i = 0; i < 1'000'001; ++i) many += "<a/>";
    const auto refused = errors(import(many + "</DATA>"));
    REQUIRE(refused.size() == 1);
    CHECK(refused[0].find("the file is too large") != std::string::npos);
}
