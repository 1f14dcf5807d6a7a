// What the files say must arrive: every key of job and yard changes an output, or stands in a list with its reason.
#include <algorithm>
#include <nlohmann/json.hpp>
#include <optional>
#include <set>
#include <sstream>

#include "../io/field_table.hpp"
#include "key_situations.hpp"
#include "patchwright/io/read.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/sheet/sheets.hpp"
#include "support/project_file.hpp"

using namespace patchwright;
using namespace patchwright::test;
using nlohmann::json;
using Pointer = json::json_pointer;

namespace {

/// Keys that change nothing that is printed, each with the reason.
const std::map<std::string, std::string> silent{
    {"job: patchwright_job", "version of the form; only 1 can be read"},
    {"job: site.earliest", "for the week alone: tests/week"},
    {"job: site.latest", "for the week alone: tests/week"},
    {"job: site.window", "for the week alone: tests/week"},
    {"job: site.window.from", "for the week alone: tests/week"},
    {"job: site.window.to", "for the week alone: tests/week"},
    {"job: site.coordinates", "for the week alone: tests/week"},
    {"job: site.coordinates.latitude", "for the week alone: tests/week"},
    {"job: site.coordinates.longitude", "for the week alone: tests/week"},
    {"yard: drive", "for the week alone: tests/week"},
    {"yard: drive.from", "for the week alone: tests/week"},
    {"yard: drive.from.latitude", "for the week alone: tests/week"},
    {"yard: drive.from.longitude", "for the week alone: tests/week"},
    {"yard: drive.in_an_hour", "for the week alone: tests/week"},
    {"yard: drive.detour", "for the week alone: tests/week"},
    {"yard: patchwright_yard", "version of the form; only 1 can be read"},
    {"yard: extends", "how the file is read; what it brings in is listed as assumed"},
    {"yard: dig_rates", "a whole section, required: its keys are tried one by one"},
    {"yard: dig_rates.soils", "the cases' soils are in it; without them the job is refused"},
    {"yard: dig_rates.soils[].soil", "names the soil: changed, the job is refused"},
    {"yard: dig_rates.surfaces", "the cases' surfaces are in it; without them the job is refused"},
    {"yard: dig_rates.surfaces[].surface", "names the surface: changed, the job is refused"},
    {"yard: felts[].fibre", "check holds mass, thickness and voids of a felt against it, and only that"},
    {"yard: firm.logo", "a file beside the yard's, which only the program opens: tests/cli/test_offer.cpp"},
    {"yard: packers", "a whole section; its keys are tried one by one"},
    {"yard: packers[].projection", "check holds the packer's overall length against it, which says all else"},
    {"yard: rates", "a whole section, required: its keys are tried one by one"},
    {"yard: rates.currency", "every price would have to change with it"},
    {"yard: risks[].id", "by it an extending yard names the risk; sheets print its words"},
};

/// Everything that the commands print of a job, but for doubts about single values; nothing when it cannot be read.
std::optional<std::string> printed(const json& job_file, const json& yard_file) {
    const auto job = io::read_job(job_file.dump(), "job");
    const auto yard = io::read_yard(yard_file.dump(), "yard");
    if (!job || !yard) return std::nullopt;
    std::string out;
    bool refused = false;
    for (const auto& d : io::cross_check(*job.value, *yard.value)) {
        out += d.message;
        refused = refused || d.severity == io::Severity::error;
    }
    if (refused) return std::nullopt;
    plan::Options options;
    options.trials = 100;
    const plan::Plan plan = plan::make_plan(*job.value, *yard.value, options);
    const sheet::Context context{&plan, job.value->units};
    out += sheet::plan_json(context, true);
    std::vector<sheet::Sheet> sheets = sheet::day_sheets(context, std::nullopt);
    for (auto&& s : {sheet::quote_sheet(context), sheet::inside_sheet(context), sheet::pick_list(context),
                     sheet::plan_sheet(context), sheet::why_sheet(context, "")})
        sheets.push_back(s);
    for (const auto& s : sheets) out += sheet::text(s, {});
    return out;
}

/// Every object of the file that a section describes.
std::vector<Pointer> objects(const json& file, std::string place) {
    std::vector<Pointer> found{Pointer{}};
    if (place == "the file") return found;
    std::istringstream steps{place};
    for (std::string step; std::getline(steps, step, '.');) {
        const bool list = step.ends_with("[]");
        if (list) step.resize(step.size() - 2);
        std::vector<Pointer> next;
        for (const auto& p : found) {
            if (!file.at(p).contains(step)) continue;
            if (!list) next.push_back(p / step);
            for (std::size_t i = 0; list && i < file.at(p / step).size(); ++i) next.push_back(p / step / i);
        }
        found = next;
    }
    return found;
}

/// "62 mm" made so many times larger; nothing for texts that do not begin with one number and its unit.
std::optional<std::string> scaled(const std::string& text, double factor) {
    const std::size_t end = text.find_first_not_of("-.0123456789");
    if (end == 0 || text.empty()) return std::nullopt;
    std::ostringstream out;
    out << std::stod(text.substr(0, end)) * factor << (end == std::string::npos ? "" : text.substr(end));
    return out.str();
}

json as_value(const test::FieldRow& row, std::string_view text) {
    if (row.type.name == "a whole number") return std::stoi(std::string{text});
    if (row.type.name == "a number") return std::stod(std::string{text});
    return std::string{text};
}

/// Other values that a key could hold; null: left out.
std::vector<json> others(const test::FieldRow& row, const json* given) {
    std::vector<json> values;
    const auto& type = row.type;
    const auto& usual = row.rule.usual;
    if (type.choices != nullptr)
        for (const auto word : type.choices()) values.push_back(word);
    if (type.name == "true or false") values = {true, false};
    if (type.name == "a name" || type.name == "a note") values = {"Another text", "standard", "slow"};
    if (type.name == "a date") values = {"2027-06-11"};
    if (type.name == "a time of day") values = {"06:10", "19:40"};
    if (type.name == "a clock position") values = {"3", "6-7"};
    if (type.name == "a length or a percentage") values = {"2 mm", "12 mm", "60 mm", "12 %", "45 %"};
    if (!usual.text.empty()) {
        if (given != nullptr && given->is_string())
            for (const double factor : {1.2, 0.8, 3.0, 0.9, 1.1, 0.95})
                if (const auto text = scaled(given->get<std::string>(), factor)) values.push_back(*text);
        if (given != nullptr && given->is_number())
            for (const int step : {1, -1})
                values.push_back(given->get<double>() + step * (type.name == "a number" ? 0.1 : 1));
        values.push_back(as_value(row, usual.low_words));
        values.push_back(as_value(row, usual.high_words));
        if (const auto low = scaled(std::string{usual.high_words}, 0.1)) values.push_back(as_value(row, *low));
    }
    if (type.shape == io::ValueType::Shape::spread && given != nullptr) {
        values.clear();
        for (const double factor : {1.3, 0.7, 3.0}) {
            json three = *given;
            for (auto& v : three) {
                if (v.is_number()) v = v.get<double>() * factor;
                if (v.is_string()) v = scaled(v.get<std::string>(), factor).value_or("");
            }
            values.push_back(three);
        }
    }
    if (type.shape == io::ValueType::Shape::list)
        for (auto& v : values) v = json::array({v});
    if (given != nullptr && row.need != io::Need::always) values.push_back(nullptr);
    if (given != nullptr && given->is_array() && given->size() > 1) {
        json fewer = *given;
        fewer.erase(fewer.end() - 1);
        values.push_back(fewer);
        fewer = *given;
        fewer.erase(fewer.begin());
        values.push_back(fewer);
    }
    if (type.name == "a currency") values.clear();  // every price would have to change with it
    return values;
}

const json* given_at(const json& object, const std::string& key) {
    const auto found = object.find(key);
    return found == object.end() ? nullptr : &*found;
}

void set(json& object, const std::string& key, const json& value) {
    if (value.is_null())
        object.erase(key);
    else
        object[key] = value;
}

/// Whether a file with some of a key's values changed prints anything else.
class Key {
public:
    Key(const Case& base, const std::string& before, json Case::*file, const std::string& place,
        const test::FieldRow& row)
        : base_{base}, before_{before}, file_{file}, key_{row.key}, objects_{objects(base.*file, place)} {
        for (const Pointer& object : objects_) values_.push_back(others(row, given_at((base.*file).at(object), key_)));
    }
    /// In all objects of the list at once, which nearly always tells.
    bool arrives_from_all() const {
        std::size_t most = 0;
        for (const auto& values : values_) most = std::max(most, values.size());
        for (std::size_t v = 0; v < most; ++v) {
            Case changed = base_;
            for (std::size_t i = 0; i < objects_.size(); ++i)
                if (v < values_[i].size()) set((changed.*file_).at(objects_[i]), key_, values_[i][v]);
            if (tells(changed)) return true;
        }
        return false;
    }
    bool arrives_from_one() const {
        for (std::size_t i = 0; i < objects_.size() && objects_.size() > 1; ++i)
            for (const json& value : values_[i]) {
                Case changed = base_;
                set((changed.*file_).at(objects_[i]), key_, value);
                if (tells(changed)) return true;
            }
        return false;
    }

private:
    bool tells(const Case& changed) const {
        const auto after = printed(changed.job, changed.yard);
        return after && *after != before_;
    }

    const Case& base_;
    const std::string& before_;
    json Case::*file_;
    std::string key_;
    std::vector<Pointer> objects_;
    std::vector<std::vector<json>> values_;
};

std::vector<Case> cases() {
    const json yard = without_help(json::parse(project_file("data/yard.json")));
    const json demo = without_help(json::parse(project_file("examples/demo.json")));
    const json slab = without_help(json::parse(project_file("examples/us-slab.json")));
    // One run that asks for much at once: a narrower pipe beyond, a packer to be built, a long dig, water, traffic.
    json narrow = demo;
    narrow["runs"] = json::array({demo.at("runs").at(0)});
    auto& run = narrow["runs"][0];
    run["bore"] = "70 mm";
    run.erase("measured_bore");
    run["condition"] = "fully deteriorated";
    run["water_table"] = "0.4 m";
    run["depth"] = "3.2 m";
    run["fittings"][1]["bore"] = "50 mm";
    narrow["dig"]["soil"] = "rock";
    json big_yard = yard;
    big_yard["rates"]["tax_materials"] = "10 %";
    // The estimator's own word, each way to give it, and work on top.
    json wished = demo;
    wished["runs"] = json::array({demo.at("runs").at(0)});
    wished["extras"] = json::array(
        {{{"words", "Root cutting"}, {"quantity", 2}, {"unit", "h"}, {"rate", "90.00 EUR"}, {"cost", "60.00 EUR"}}});
    json share = wished, each = wished;
    wished["price"] = {{"net", "1500.00 EUR"}};
    share["price"] = {{"profit", "8 %"}};
    each["price"] = {{"per_patch", "450.00 EUR"}};
    // Hot air: the quick resin must be cooled.
    json hot = wished;
    hot["site"]["air_temperature"] = "28 C";
    hot["runs"][0]["resin"] = "standard";
    // The quick ones first; the demonstration's whole job takes ten times as long as any other.
    return {{"slab", slab, yard}, {"narrow", narrow, big_yard}, {"wished", wished, yard}, {"share", share, yard},
            {"each", each, yard}, {"hot", hot, yard},           {"demo", demo, yard}};
}

bool has_situation(const std::string& name) {
    return std::any_of(situations().begin(), situations().end(), [&](const Situation& s) {
        return std::find(s.keys.begin(), s.keys.end(), name) != s.keys.end();
    });
}

std::string name_of(const std::string& kind, const test::FieldSection& section, const test::FieldRow& row) {
    const std::string place{section.place};
    return kind + ": " + (place == "the file" ? "" : place + ".") + std::string{row.key};
}

void walk(const std::string& kind, json Case::*file, const std::vector<test::FieldSection>& sections) {
    auto all = cases();
    // The estimator's word on a price says nothing of the yard.
    if (file == &Case::yard)
        std::erase_if(all, [](const Case& c) { return c.name == "wished" || c.name == "share" || c.name == "each"; });
    std::vector<std::string> before;
    for (const auto& c : all) before.push_back(printed(c.job, c.yard).value());
    std::set<std::string> missing;
    for (const auto& section : sections)
        for (const auto& row : section.rows) {
            const std::string name = name_of(kind, section, row);
            if (has_situation(name)) continue;
            std::vector<Key> keys;
            for (std::size_t i = 0; i < all.size(); ++i) {
                if (all[i].name == "demo" && silent.count(name) != 0) continue;  // nothing new for its time
                keys.emplace_back(all[i], before[i], file, std::string{section.place}, row);
            }
            const auto told = [&](auto how) {
                return std::any_of(keys.begin(), keys.end(), [how](const Key& key) { return (key.*how)(); });
            };
            if (told(&Key::arrives_from_all)) continue;
            if (silent.count(name) == 0 && told(&Key::arrives_from_one)) continue;
            missing.insert(name);
        }
    std::set<std::string> expected;
    for (const auto& [name, reason] : silent)
        if (name.starts_with(kind + ":")) expected.insert(name);
    CHECK(missing == expected);
}

}  // namespace

TEST_CASE("keys of rare situations change what is printed", "[plan]") {
    std::set<std::string> found;
    for (const auto& situation : situations()) {
        const auto& base = situation.base;
        CAPTURE(base.name);
        const auto before = printed(base.job, base.yard);
        REQUIRE(before);
        for (const bool is_job : {true, false})
            for (const auto& section : is_job ? test::job_sections() : test::yard_sections())
                for (const auto& row : section.rows) {
                    const auto name = name_of(is_job ? "job" : "yard", section, row);
                    if (std::find(situation.keys.begin(), situation.keys.end(), name) == situation.keys.end()) continue;
                    CAPTURE(name);
                    const Key key{base, *before, is_job ? &Case::job : &Case::yard, std::string{section.place}, row};
                    CHECK((key.arrives_from_all() || key.arrives_from_one()));
                    found.insert(name);
                }
        for (const auto& name : situation.keys) {
            CAPTURE(name);
            CHECK(found.count(name) == 1);
        }
    }
}

TEST_CASE("every key of the job file changes what is printed, or says why none does", "[.slow]") {
    walk("job", &Case::job, test::job_sections());
}

TEST_CASE("every key of the yard file changes what is printed, or says why none does", "[.slow]") {
    walk("yard", &Case::yard, test::yard_sections());
}
