// Schemas, page and dictionaries say what the table of fields says, in both directions.
#include <fmt/core.h>

#include <map>
#include <nlohmann/json.hpp>
#include <regex>
#include <set>

#include "field_table.hpp"
#include "files.hpp"
#include "patchwright/io/read_record.hpp"

using namespace patchwright;
using namespace patchwright::io;
using namespace patchwright::job;
using nlohmann::json;

namespace {

struct MadeFile {
    std::string path, text;
};

std::vector<MadeFile> made_files() {
    const std::string job_schema = "data/schema/job.schema.json", yard_schema = "data/schema/yard.schema.json",
                      record_schema = "data/schema/record.schema.json";
    return {{job_schema, test::schema_text(test::project_file(job_schema), test::job_sections())},
            {yard_schema, test::schema_text(test::project_file(yard_schema), test::yard_sections())},
            {record_schema, test::schema_text(test::project_file(record_schema), test::record_sections())},
            {"docs/fields.md", test::page_text(test::project_file("data/yard.json"))},
            {"tests/fuzz/job.dict", test::dictionary_text("job", test::job_sections())},
            {"tests/fuzz/yard.dict", test::dictionary_text("yard", test::yard_sections())},
            {"tests/fuzz/record.dict", test::dictionary_text("record", test::record_sections())}};
}

}  // namespace

TEST_CASE("schemas, page and dictionaries are made from the table of fields", "[job][fields][schema][docs]") {
    for (const auto& file : made_files()) {
        INFO(file.path << ": make it anew with test_io \"[write-fields]\"");
        CHECK((test::project_file(file.path) == file.text));
    }
}

// Not a test: writes what the test above compares.
TEST_CASE("write the files that are made from the table of fields", "[.][write-fields]") {
    for (const auto& file : made_files()) {
        std::ofstream out{std::string{PATCHWRIGHT_SOURCE_DIR} + "/" + file.path, std::ios::binary};
        out << file.text;
        REQUIRE(out.good());
    }
}

namespace {

void add_keys(const std::vector<test::FieldSection>& sections, std::set<std::string>& keys,
              std::set<std::string>& words) {
    for (const auto& section : sections)
        for (const auto& row : section.rows) {
            keys.emplace(row.key);
            if (row.type.choices != nullptr)
                for (const auto word : row.type.choices()) words.emplace(word);
            if (row.type.shape == ValueType::Shape::spread) keys.insert({"low", "likely", "high"});
        }
}

/// What stands on a page as a key would: `word`, "word": or `"word": value`.
std::set<std::string> keys_said(const std::string& page) {
    std::set<std::string> said;
    const std::regex key{"`([a-z_][a-z_0-9]*)`|\"([a-z_][a-z_0-9]*)\":"};
    for (std::sregex_iterator it{page.begin(), page.end(), key}, end; it != end; ++it)
        said.insert((*it)[1].matched ? (*it)[1] : (*it)[2]);
    return said;
}

}  // namespace

TEST_CASE("every key stands on its file's page, and the page names no other", "[job][fields][docs]") {
    // Words that are no key: of JSON, of what stands under a key as text, of the other file, of the program.
    const std::map<std::string, std::set<std::string>> others{
        {"docs/job-file.md", {"_help", "null", "true", "false", "none", "check", "end", "price_list"}},
        {"docs/yard-file.md", {"remove", "_help", "true", "false"}}};
    for (const bool of_job : {true, false}) {
        const std::string path = of_job ? "docs/job-file.md" : "docs/yard-file.md";
        std::set<std::string> keys, words;
        add_keys(of_job ? test::job_sections() : test::yard_sections(), keys, words);
        const auto said = keys_said(test::project_file(path));
        for (const auto& key : keys) {
            CAPTURE(path, key);
            CHECK(said.count(key) == 1);
        }
        for (const auto& word : said) {
            CAPTURE(path, word);
            CHECK(keys.count(word) + words.count(word) + others.at(path).count(word) > 0);
        }
    }
}

TEST_CASE("every field says what it is, and usual values are possible ones", "[job][fields]") {
    for (const auto& sections : {test::job_sections(), test::yard_sections(), test::record_sections()})
        for (const auto& section : sections) {
            std::set<std::string_view> keys;
            for (const auto& row : section.rows) {
                CAPTURE(section.name, row.key);
                CHECK(keys.insert(row.key).second);
                CHECK_FALSE(row.words.empty());
                CHECK_FALSE(row.type.name.empty());
                const auto &possible = row.rule.possible, &usual = row.rule.usual;
                CHECK(possible.low <= possible.high);
                CHECK(usual.low <= usual.high);
                CHECK(usual.low >= possible.low);
                CHECK(usual.high <= possible.high);
            }
        }
}

namespace {

/// A value just outside a bound, as a file writes it: the bound's own number made smaller or greater.
std::string beyond(std::string_view bound, bool below) {
    const std::size_t end = bound.find_first_not_of("-.0123456789");
    const double value = std::stod(std::string{bound.substr(0, end)});
    const std::string unit = end == std::string_view::npos ? "" : std::string{bound.substr(end)};
    const int places = unit.find("EUR") == std::string::npos ? 6 : 2;
    const double step = std::max(0.01 * std::abs(value), value == 0.0 || places == 2 ? 0.01 : 0.0);
    return fmt::format("{:.{}f}{}", below ? value - step : value + step, places, unit);
}

/// A whole file with one value changed, as a file of its own.
class ChangedFile {
public:
    explicit ChangedFile(json file) : file_(std::move(file)) {}
    /// Every value of a field: of each item of a list, of the three of a spread.
    std::vector<json::json_pointer> places(std::string place, const test::FieldRow& row) const {
        std::vector<json::json_pointer> found{json::json_pointer{}};
        if (place == "the file") place.clear();
        std::istringstream steps{place + (place.empty() ? "" : ".") + std::string{row.key}};
        for (std::string step; std::getline(steps, step, '.');) {
            const bool list = step.ends_with("[]");
            if (list) step.resize(step.size() - 2);
            std::vector<json::json_pointer> next;
            for (const auto& p : found) {
                if (!file_.at(p).contains(step)) continue;
                if (!list) next.push_back(p / step);
                for (std::size_t i = 0; list && i < file_.at(p / step).size(); ++i) next.push_back(p / step / i);
            }
            found = next;
        }
        return found;
    }
    std::string with(const json::json_pointer& place, const json& value) const {
        json changed = file_;
        changed.at(place) = value;
        return changed.dump();
    }

private:
    json file_;
};

/// The demonstration job with the quantities that it does not give.
json whole_job() {
    json job = json::parse(test::project_file("examples/demo.json"));
    job["runs"][0]["counter_offset"] = "0.1 m";
    job["runs"][0]["chamber_opening"] = "600 mm";
    return job;
}

/// The demonstration record with the quantities that it does not give.
json whole_record() {
    json record = json::parse(test::project_file("examples/demo-record.json"));
    record["patches"][0]["measured_bore"] = "100 mm";
    record["tests"][0].update({{"length", "21.4 m"}, {"outside", "0 mbar"}, {"added", "1 l"}});
    return record;
}

using Read = std::vector<Diagnostic> (*)(const std::string&);
struct Tried {
    ChangedFile file;
    std::vector<test::FieldSection> sections;
    Read read;
    std::size_t least;  ///< values to be tried
};

bool tells(const std::vector<Diagnostic>& diagnostics, Severity severity, const std::string& pointer) {
    return std::any_of(diagnostics.begin(), diagnostics.end(),
                       [&](const Diagnostic& d) { return d.severity == severity && d.pointer.starts_with(pointer); });
}

}  // namespace

TEST_CASE("a value outside its possible range is an error, outside its usual range a warning", "[job][fields][error]") {
    const auto of = GENERATE(0, 1, 2);
    const Tried kind =
        of == 2   ? Tried{ChangedFile{whole_record()}, test::record_sections(),
                        [](const std::string& text) { return read_record(text, "r").diagnostics; }, 40}
        : of == 0 ? Tried{ChangedFile{json::parse(test::project_file("data/yard.json"))}, test::yard_sections(),
                          [](const std::string& text) { return read_yard(text, "y").diagnostics; }, 400}
                  : Tried{ChangedFile{whole_job()}, test::job_sections(),
                          [](const std::string& text) { return read_job(text, "j").diagnostics; }, 60};
    std::size_t tried = 0;
    for (const auto& section : kind.sections)
        for (const auto& row : section.rows) {
            if (row.rule.usual.text.empty()) continue;
            const auto places = kind.file.places(std::string{section.place}, row);
            if (places.empty()) continue;  // "tax_materials": absent from the built-in yard
            json::json_pointer place = places.front();
            if (row.type.shape == ValueType::Shape::list) place = place / 0;
            const bool bare = row.type.name == "a number" || row.type.name == "a whole number";
            for (const bool below : {true, false}) {
                for (const auto* range : {&row.rule.possible, &row.rule.usual}) {
                    if (range->text.empty()) continue;
                    const bool usual = range == &row.rule.usual;
                    const bool same = row.rule.possible.text.empty()
                                          ? below && row.rule.usual.low == 0.0
                                          : (below ? row.rule.usual.low == row.rule.possible.low
                                                   : row.rule.usual.high == row.rule.possible.high);
                    if (usual && same) continue;
                    const auto bound = below ? range->low_words : range->high_words;
                    const std::string text = beyond(bound, below);
                    if (!usual && text.starts_with('-') && row.type.name != "a temperature" && !bare) continue;
                    json value = text;
                    if (row.type.name == "a number") value = std::stod(text);
                    if (row.type.name == "a whole number") value = std::stoi(std::string{bound}) + (below ? -1 : 1);
                    auto at = place;
                    if (row.type.shape == ValueType::Shape::spread) at = at / (below ? "low" : "high");
                    CAPTURE(at.to_string(), value.dump(), usual);
                    CHECK(tells(kind.read(kind.file.with(at, value)), usual ? Severity::warning : Severity::error,
                                at.to_string()));
                    ++tried;
                }
            }
        }
    CHECK(tried > kind.least);
}
