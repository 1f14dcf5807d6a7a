// Damaged surveys: the import answers with a draft, errors or both, and never falls over. Invented data.
#include <random>

#include "import_support.hpp"
#include "support/project_file.hpp"

using namespace patchwright;
using namespace patchwright::test;

namespace {

std::string file(const std::string& name) { return project_file("examples/" + name); }

/// One small damage: bytes changed, lost, doubled or swapped.
void damage(std::string& text, std::mt19937& random) {
    using namespace std::string_literals;
    static const std::string bytes = "#=;,.\"\n\r\t \0\xFF\xC3\xE2"s + "0129ABCIJZ-%";
    const auto pick = [&](std::size_t n) { return n == 0 ? 0 : random() % n; };
    if (text.empty()) text = "#";
    const std::size_t at = pick(text.size());
    switch (random() % 5) {
        case 0:
            text[at] = bytes[pick(bytes.size())];
            break;
        case 1:
            text.erase(at, 1 + pick(20));
            break;
        case 2:
            text.insert(at, 1, bytes[pick(bytes.size())]);
            break;
        case 3:
            text.insert(at, text.substr(pick(text.size()), pick(60)));
            break;
        default:
            text[at] = static_cast<char>(random() % 256);
            break;
    }
}

}  // namespace

TEST_CASE("a damaged survey gives errors or a draft with sound places", "[import][fuzz]") {
    const std::string name = GENERATE("survey.txt", "survey-quoted.txt", "survey.xml", "survey.csv");
    const std::string whole = file(name);
    std::mt19937 random{20260302};
    std::size_t refused = 0;
    for (int round = 0; round < 4000; ++round) {
        std::string text = whole;
        for (auto i = 1 + random() % 6; i > 0; --i) damage(text, random);
        const auto imported = intake::import_survey(text, "s", {"T", ""});
        if (io::has_errors(imported.diagnostics)) ++refused;
        for (const auto& d : imported.diagnostics) {
            if (d.message.empty() || d.line < 0 || (d.line > 0 && d.column < 1))
                FAIL("a fault without a place: " << d.message);
        }
        for (const auto& run : imported.draft.runs) {
            if (run.id.size() > 200) FAIL("name too long");
            for (const auto& defect : run.defects) {
                const auto at = parse_length(defect.at);
                if (defect.at.starts_with('?') || defect.to.starts_with('?')) continue;  // for somebody to look at
                if (!at || *at < Length{} ||
                    (!defect.to.empty() && (!parse_length(defect.to) || *parse_length(defect.to) < *at)))
                    FAIL("a defect from \"" << defect.at << "\" to \"" << defect.to << "\"");
            }
        }
    }
    // The damage is real: both outcomes occur.
    CHECK(refused > 400);
    CHECK(refused < 3999);
}

TEST_CASE("the import does not depend on how much is in a file", "[import]") {
    std::string text = "#A3=;\n";
    for (int i = 0; i < 300; ++i)
        text += "#B01=AAA\nL" + std::to_string(i) + "\n#C=I;A;F\n1;BAB;" + std::string(200, 'x') + "\n#Z\n";
    text += "#B01=AAA\n" + std::string(5000, 'n') + "\n#C=I;A;F\n1;BAB;" + std::string(100000, 'x') + "\n";
    const auto imported = import(text);
    CHECK(errors(imported).empty());
    REQUIRE(imported.draft.runs.size() == 301);
    CHECK(imported.draft.runs.back().id.size() <= 200);
    CHECK(imported.draft.runs.back().defects.at(0).remark.size() <= 20000);
}

TEST_CASE("many surveys of one name, many fields of one list and many runs of a table take no time to speak of",
          "[import]") {
    // With a search through all that came before, each of these would take minutes.
    std::string one_name = "#A3=;\n";
    for (int i = 0; i < 6000; ++i) one_name += "#B01=AAA;AAB;AAD;AAF\nL;a;a;b\n#Z\n";
    const auto surveys = import(one_name);
    REQUIRE(surveys.draft.runs.size() == 6000);
    CHECK(surveys.draft.runs[0].id == "L");
    CHECK(surveys.draft.runs[1].id == "L (2)");
    CHECK(surveys.draft.runs[5999].id == "L (6000)");
    CHECK(surveys.draft.notes.front() ==
          "Runs L and L (2) lie between the same ends: if they are one pipe seen twice, keep one of them.");

    const auto list = import("#A3=;\n#B01=AAA" + std::string(200000, ';') + "AAB\n");
    CHECK(errors(list) == std::vector<std::string>{});

    std::string open_walls = "#A3=;\n#B01=AAA\nL\n#C=I;A;B\n";
    for (int i = 0; i < 20000; ++i) open_walls += std::to_string(i % 9000) + (i % 2 == 0 ? ";BAC;A\n" : ";BAO;\n");
    CHECK(import(open_walls).draft.runs.at(0).defects.size() > 10000);

    std::string table = "run,at,kind\n";
    for (int i = 0; i < 20000; ++i) table += std::to_string(i) + ",1 m,fissure\n";
    CHECK(import(table).draft.runs.size() == 20000);
}

TEST_CASE("a name given before a number was put behind it keeps its own", "[import]") {
    std::string text = "#A3=;\n";
    for (const std::string name : {"L", "L (2)", "L", "L"}) text += "#B01=AAA\n" + name + "\n#Z\n";
    const auto imported = import(text);
    std::vector<std::string> ids;
    for (const auto& run : imported.draft.runs) ids.push_back(run.id);
    CHECK(ids == std::vector<std::string>{"L", "L (2)", "L (3)", "L (4)"});
}

TEST_CASE("what is too much is refused with words, and takes little memory", "[import]") {
    std::string wrong = "#A3=;\n#B01=AAA\nL\n#C=I;A\n", rows = "run,at,kind\n", doubtful = wrong;
    for (int i = 0; i < 100000; ++i) {
        wrong += "1,5;BAB\n";
        rows += "A,x,fissure\n";
    }
    for (const std::string& text : {wrong, rows}) {
        const auto imported = import(text);
        CHECK(imported.draft.runs.empty());
        CHECK(imported.diagnostics.size() == 101);
        CHECK(imported.diagnostics.back().count == 901);
        CHECK(imported.diagnostics.back().message.starts_with("901 more errors, and reading was given up"));
    }
    for (int i = 0; i < 1500; ++i) doubtful += "1.5;BZZ\n";
    const auto told = import(doubtful);
    CHECK(told.draft.runs.size() == 1);
    CHECK(told.diagnostics.size() == 101);
    CHECK(told.diagnostics.back().count == 1400);
    CHECK(told.diagnostics.back().message.starts_with("1400 more warnings"));
    CHECK(errors(import(std::string(4'000'001, '#'))).at(0).find("4.0 MB; up to 4 MB are read") != std::string::npos);
}
