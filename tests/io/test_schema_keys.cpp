// The schemas in data/schema say the same as the descriptions that read the files.
#include <nlohmann/json.hpp>
#include <set>

#include "files.hpp"
#include "yard_fields.hpp"

using namespace patchwright;
using namespace patchwright::io;
using namespace patchwright::job;
using nlohmann::json;

namespace {

std::set<std::string> keys_of(const json& object) {
    std::set<std::string> keys;
    for (const auto& [key, value] : object.items()) keys.insert(key);
    return keys;
}

/// Same keys; what the schema requires is what the reader always needs, unless `patched`: things of a yard that
/// extends another give only what differs.
template <class T>
void same(const json& schema, bool patched = false) {
    CAPTURE(Described<T>::what);
    std::set<std::string> keys, needed;
    for (const auto& field : Described<T>::fields()) {
        keys.emplace(field.key);
        if (field.need == Need::always) needed.emplace(field.key);
    }
    auto properties = keys_of(schema.at("properties"));
    properties.erase("$schema");
    properties.erase("remove");
    CHECK(properties == keys);
    CHECK(schema.at("additionalProperties") == false);
    CHECK(schema.at("patternProperties") == json{{"^_help", true}});
    std::set<std::string> required;
    for (const auto& key : schema.value("required", json::array())) required.insert(key.get<std::string>());
    if (!patched) CHECK(required == needed);
}

template <class E>
void same_words(const json& schema) {
    std::vector<std::string> words;
    for (const auto& entry : words_of(E{})) words.emplace_back(entry.first);
    CHECK(schema.at("enum") == words);
}

}  // namespace

TEST_CASE("the job's schema has the reader's keys and words", "[job][schema]") {
    const json schema = json::parse(test::project_file("data/schema/job.schema.json"));
    const json& types = schema.at("definitions");
    const json& run = types.at("run").at("properties");
    same<Job>(schema);
    same<Run>(types.at("run"));
    same<Fitting>(types.at("fitting"));
    same<Defect>(types.at("defect"));
    same<Site>(schema.at("properties").at("site"));
    same<Dig>(schema.at("properties").at("dig"));
    same<Customer>(schema.at("properties").at("customer"));
    same<PriceWish>(schema.at("properties").at("price"));
    same<Extra>(types.at("extra"));
    same<Flow>(run.at("flow"));
    same_words<Material>(run.at("material"));
    same_words<Condition>(run.at("condition"));
    same_words<Traffic>(run.at("traffic"));
    same_words<DefectKind>(types.at("defect").at("properties").at("kind"));
    same_words<Inflow>(types.at("defect").at("properties").at("inflow"));
    same_words<FittingKind>(types.at("fitting").at("properties").at("kind"));
    same_words<Certainty>(schema.at("properties").at("certainty"));
    same_words<UnitSystem>(schema.at("properties").at("units"));
    same_words<Surface>(schema.at("properties").at("dig").at("properties").at("surface"));
    same_words<Soil>(schema.at("properties").at("dig").at("properties").at("soil"));
}

TEST_CASE("the yard's schema has the reader's keys and words", "[job][schema]") {
    const json schema = json::parse(test::project_file("data/schema/yard.schema.json"));
    const json& types = schema.at("definitions");
    const json& top = schema.at("properties");
    same<Yard>(schema, true);
    same<Packer>(types.at("packer"), true);
    same<Chassis>(types.at("chassis"), true);
    same<Heater>(types.at("heater"), true);
    same<Conditioning>(top.at("conditioning"));
    same_words<HeatMedium>(types.at("heater").at("properties").at("medium"));
    same<Bladder>(types.at("bladder"), true);
    same<Felt>(types.at("felt"), true);
    same<FeltPiece>(types.at("felt").at("properties").at("stock").at("items"));
    same<Resin>(types.at("resin"), true);
    same<DataPoint>(types.at("resin").at("properties").at("data").at("items"));
    same<Kit>(types.at("resin").at("properties").at("kits").at("items"));
    same<Risk>(types.at("risk"), true);
    same<SurfaceRate>(types.at("surface"), true);
    same<SoilRate>(types.at("soil"), true);
    same<Limits>(top.at("limits"), true);
    same<Durations>(top.at("durations"), true);
    same<Rates>(top.at("rates"), true);
    same<DigRates>(top.at("dig_rates"), true);
    same<DigMarket>(top.at("dig_market"), true);
    same<PriceList>(top.at("price_list"), true);
    same<PatchPrice>(types.at("patch_price"));
    same<ListedExtra>(types.at("listed_extra"));
    same<Firm>(top.at("firm"), true);
    same<DigRates::Output>(top.at("dig_rates").at("properties").at("outputs").at("items"));
    same_words<PackerShape>(types.at("packer").at("properties").at("shape"));
    same_words<BladderMaterial>(types.at("bladder").at("properties").at("material"));
    same_words<FeltForm>(types.at("felt").at("properties").at("form"));
    same_words<Fibre>(types.at("felt").at("properties").at("fibre"));
    same_words<ResinKind>(types.at("resin").at("properties").at("kind"));
    same_words<DataPointKind>(types.at("resin").at("properties").at("data").at("items").at("properties").at("kind"));
    same_words<Risk::Consequence>(types.at("risk").at("properties").at("consequence"));
    same_words<Risk::Cause>(types.at("risk").at("properties").at("cause"));
}

TEST_CASE("every struct of the data compiled in is described whole", "[job][schema]") {
    // A key twice in a description would hide the second field from the reader.
    const auto distinct = []<class T>(const T*) {
        std::set<std::string_view> keys;
        for (const auto& field : Described<T>::fields()) CHECK(keys.insert(field.key).second);
    };
    distinct(static_cast<const Limits*>(nullptr));
    distinct(static_cast<const Rates*>(nullptr));
    distinct(static_cast<const DigRates*>(nullptr));
    distinct(static_cast<const Durations*>(nullptr));
    distinct(static_cast<const Resin*>(nullptr));
    distinct(static_cast<const Packer*>(nullptr));
}

namespace {

/// Parts of a cell: its words in backquotes, or its values between commas ("50 mm each": the same for every key).
std::vector<std::string> words_of_cell(const std::string& cell) {
    std::vector<std::string> words;
    for (auto from = cell.find('`'); from != std::string::npos; from = cell.find('`', from)) {
        const auto to = cell.find('`', from + 1);
        words.push_back(cell.substr(from + 1, to - from - 1));
        from = to + 1;
    }
    return words;
}
std::vector<std::string> values_of_cell(const std::string& cell, std::size_t keys) {
    const std::string each = " each";
    std::string text = cell;
    if (text.ends_with(each)) return std::vector<std::string>(keys, text.substr(0, text.size() - each.size()));
    std::vector<std::string> values;
    for (std::size_t start = 0; start <= text.size();) {
        const auto comma = std::min(text.find(", ", start), text.size());
        values.push_back(text.substr(start, comma - start));
        start = comma + 2;
    }
    return values;
}
/// As the page writes what the file holds: ft³ for ft3, °C for C.
std::string on_the_page(const json& value) {
    std::string text = value.is_string() ? value.get<std::string>() : value.dump();
    if (text.ends_with("ft3")) text.replace(text.size() - 1, 1, "\u00b3");
    if (text.ends_with(" C")) text.replace(text.size() - 1, 1, "\u00b0C");
    return text;
}

}  // namespace

TEST_CASE("the page on the yard file gives every limit as it is built in", "[job][yard][docs]") {
    const auto yard = json::parse(test::project_file("data/yard.json"));
    const auto page = test::project_file("docs/yard-file.md");
    std::set<std::string> told;
    auto line = page.find("\n| `");
    for (; line != std::string::npos; line = page.find("\n| `", line + 1)) {
        const auto first = page.find(" | ", line), second = page.find(" | ", first + 3);
        const auto keys = words_of_cell(page.substr(line, first - line));
        const auto values = values_of_cell(page.substr(first + 3, second - first - 3), keys.size());
        CAPTURE(keys, values);
        REQUIRE(values.size() == keys.size());
        for (std::size_t i = 0; i < keys.size(); ++i) {
            CHECK(told.insert(keys[i]).second);
            CHECK(values[i] == on_the_page(yard.at("limits").at(keys[i])));
        }
    }
    auto limits = keys_of(yard.at("limits"));
    for (auto it = limits.begin(); it != limits.end();)
        it = it->starts_with("_help") ? limits.erase(it) : std::next(it);
    CHECK(told == limits);
    // Durations: each named once.
    const auto from = page.find("### `durations`"), to = page.find("### `rates`");
    REQUIRE((from != std::string::npos && to != std::string::npos));
    const auto listed = words_of_cell(page.substr(from + 15, to - from - 15));
    CHECK(std::set<std::string>(listed.begin(), listed.end()) == keys_of(yard.at("durations")));
    CHECK(listed.size() == yard.at("durations").size());
}
