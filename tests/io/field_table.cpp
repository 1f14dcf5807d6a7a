#include "field_table.hpp"

#include <fmt/core.h>

#include <nlohmann/json.hpp>
#include <set>

namespace patchwright::test {
namespace {

using io::Need;
using Json = nlohmann::ordered_json;
using Shape = io::ValueType::Shape;

template <class T>
FieldSection section(std::string_view place, std::string_view schema) {
    FieldSection s{io::Described<T>::what, place, schema, {}};
    for (const auto& f : io::Described<T>::fields()) s.rows.push_back({f.key, f.words, f.need, f.type, f.rule});
    return s;
}

std::string sentence(std::string_view words) {
    std::string text{words};
    if (!text.empty()) text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
    return text.ends_with('.') || text.empty() ? text : text + ".";
}

std::string description(const FieldRow& row) {
    std::string text = sentence(row.words);
    if (!row.rule.usual.text.empty()) text += fmt::format(" Most often {}", row.rule.usual.text);
    if (!row.rule.usual.text.empty()) text += row.rule.possible.text.empty() ? "." : "; ";
    if (!row.rule.possible.text.empty()) text += fmt::format("possible {}.", row.rule.possible.text);
    return text;
}

/// Name of the schema's definition for a type of value; empty when it has none.
std::string definition(const FieldRow& row) {
    const std::string type{row.type.name};
    const bool above_zero =
        row.rule.possible.low > 0.0 || (row.rule.possible.low == 0.0 && row.rule.possible.low_excluded);
    if (type == "a length" || type == "a time") {
        const std::string name = type == "a length" ? "length" : "duration";
        return row.rule.possible.low < 0.0 ? "signed_" + name : above_zero ? "positive_" + name : name;
    }
    if (type == "an angle" && row.rule.possible.low < 0.0) return "signed_angle";
    static const std::map<std::string, std::string> special{
        {"an energy per mass", "heat"},
        {"a thermal conductivity", "conductivity"},
        {"a mass per area", "areal_mass"},
        {"a percentage", "percent"},
        {"an amount", "money"},
        {"an amount per length", "per_length"},
        {"an amount per area", "per_area"},
        {"an amount per volume", "per_volume"},
        {"an amount per mass", "per_mass"},
        {"an amount per time", "per_time"},
        {"a time of day", "clock_time"},
        {"a clock position", "clock"},
    };
    if (const auto found = special.find(type); found != special.end()) return found->second;
    std::string name = type.substr(type.find(' ') + 1);
    std::replace(name.begin(), name.end(), ' ', '_');
    return name;
}

Json number(const FieldRow& row) {
    const auto as_json = [&](double value) {
        return row.type.name == "a whole number" ? Json(static_cast<int>(value)) : Json(value);
    };
    Json leaf{{"type", row.type.name == "a whole number" ? "integer" : "number"}};
    leaf[row.rule.possible.low_excluded ? "exclusiveMinimum" : "minimum"] = as_json(row.rule.possible.low);
    leaf["maximum"] = as_json(row.rule.possible.high);
    return leaf;
}

/// What one value must look like, without words; null where the table cannot say it.
Json leaf_of(const FieldRow& row, const Json& definitions) {
    if (row.type.choices != nullptr) {
        Json words = Json::array();
        for (const auto word : row.type.choices()) words.push_back(word);
        if (definitions.contains("blank")) words.push_back("");  // of a form
        return {{"enum", words}};
    }
    if (row.type.name == "true or false") return {{"type", "boolean"}};
    if (row.type.name == "a number" || row.type.name == "a whole number") return number(row);
    const std::string name = definition(row);
    if (row.type.object || !definitions.contains(name)) return nullptr;
    return {{"$ref", "#/definitions/" + name}};
}

Json three_of(const Json& leaf, bool persons) {
    Json values{{"low", leaf}, {"likely", leaf}, {"high", leaf}};
    if (persons) values["persons"] = {{"type", "integer"}, {"minimum", 1}, {"maximum", 100}};
    return {{"type", "object"},
            {"required", {"low", "likely", "high"}},
            {"properties", values},
            {"patternProperties", {{"^_help", true}}},
            {"additionalProperties", false}};
}

Json property(const FieldRow& row, const Json& before, const Json& definitions) {
    Json leaf = leaf_of(row, definitions);
    // Names that must not be empty, objects, lists of objects, versions: the schema says more than the table.
    const bool id = before.is_object() && before.dump().find("#/definitions/id") != std::string::npos;
    if (id) leaf = {{"$ref", "#/definitions/id"}};
    Json out;
    if (leaf.is_null())
        out = before;
    else if (row.type.shape == Shape::spread)
        out = three_of(leaf, row.type.persons);
    else if (row.type.shape == Shape::list)
        out = {{"type", "array"}, {"items", leaf}};
    else if (leaf.contains("$ref"))
        out = {{"allOf", {leaf}}};
    else
        out = leaf;
    if (!out.contains("$ref")) out["description"] = description(row);
    return out;
}

/// Compact where it fits in a line.
void print(const Json& value, std::size_t indent, std::size_t column, std::string& out) {
    constexpr std::size_t width = 128;
    const std::string line = [&] {
        std::string text;  // as dump(), with a blank after commas and colons
        bool quoted = false;
        for (const char c : value.dump()) {
            text += c;
            if (c == '"' && (text.size() < 2 || text[text.size() - 2] != '\\')) quoted = !quoted;
            if (!quoted && (c == ',' || c == ':')) text += ' ';
        }
        return text;
    }();
    if (!value.is_structured() || value.empty() || column + line.size() <= width) {
        out += line;
        return;
    }
    const std::string pad(indent + 2, ' ');
    out += value.is_object() ? '{' : '[';
    bool first = true;
    for (const auto& [key, child] : value.items()) {
        out += (first ? "\n" : ",\n") + pad;
        first = false;
        const std::string label = value.is_object() ? Json(key).dump() + ": " : "";
        out += label;
        print(child, indent + 2, indent + 2 + label.size() + 1, out);
    }
    out += "\n" + std::string(indent, ' ') + (value.is_object() ? '}' : ']');
}

std::string need_words(const FieldRow& row, const Json& built_in) {
    if (row.need == Need::always) return "required";
    if (row.need == Need::never) return "";
    if (!built_in.is_object() || !built_in.contains(row.key)) return "assumed";
    const Json& value = built_in.at(std::string{row.key});
    const auto text = [](const Json& v) { return v.is_string() ? v.get<std::string>() : v.dump(); };
    if (row.type.shape == Shape::spread)
        return fmt::format("{}, {}, {}{}", text(value.at("low")), text(value.at("likely")), text(value.at("high")),
                           value.contains("persons") ? fmt::format("; {}", text(value.at("persons"))) : "");
    return value.is_structured() ? "built in" : text(value);
}

std::string type_words(const FieldRow& row) {
    std::string text{row.type.name};
    if (row.type.choices != nullptr) {
        text.clear();
        for (const auto word : row.type.choices()) text += fmt::format("{}`{}`", text.empty() ? "" : ", ", word);
    }
    if (row.type.shape == Shape::spread) text += ": low, likely, high";
    if (row.type.persons) text += "; persons";
    if (row.type.shape == Shape::list) text = "a list: " + text;
    return text;
}

void add_tables(std::string& page, const std::vector<FieldSection>& sections, const Json& yard) {
    for (const auto& s : sections) {
        page += fmt::format(
            "\n### {} (`{}`)\n\n| key | value | when left out | most often | possible | what it is |\n"
            "|---|---|---|---|---|---|\n",
            sentence(s.name).substr(0, s.name.size()), s.place);
        const std::string place{s.place};
        const Json built_in = yard.contains(place) ? yard.at(place) : Json{};
        for (const auto& row : s.rows)
            page += fmt::format("| `{}` | {} | {} | {} | {} | {} |\n", row.key, type_words(row),
                                need_words(row, built_in), row.rule.usual.text, row.rule.possible.text, row.words);
    }
}

}  // namespace

std::vector<FieldSection> job_sections() {
    return {section<job::Job>("the file", ""),
            section<job::Customer>("customer", "/properties/customer"),
            section<job::Site>("site", "/properties/site"),
            section<job::Hours>("site.window", "/properties/site/properties/window"),
            section<job::Coordinates>("site.coordinates", "/properties/site/properties/coordinates"),
            section<job::PriceWish>("price", "/properties/price"),
            section<job::Extra>("extras[]", "/definitions/extra"),
            section<job::Run>("runs[]", "/definitions/run"),
            section<job::Flow>("runs[].flow", "/definitions/run/properties/flow"),
            section<job::Fitting>("runs[].fittings[]", "/definitions/fitting"),
            section<job::Defect>("runs[].defects[]", "/definitions/defect"),
            section<job::Dig>("dig", "/properties/dig")};
}

std::vector<FieldSection> yard_sections() {
    return {section<job::Yard>("the file", ""),
            section<job::Packer>("packers[]", "/definitions/packer"),
            section<job::Chassis>("chassis[]", "/definitions/chassis"),
            section<job::Bladder>("bladders[]", "/definitions/bladder"),
            section<job::Felt>("felts[]", "/definitions/felt"),
            section<job::FeltPiece>("felts[].stock[]", "/definitions/felt/properties/stock/items"),
            section<job::Resin>("resins[]", "/definitions/resin"),
            section<job::DataPoint>("resins[].data[]", "/definitions/resin/properties/data/items"),
            section<job::Kit>("resins[].kits[]", "/definitions/resin/properties/kits/items"),
            section<job::Heater>("heaters[]", "/definitions/heater"),
            section<job::Conditioning>("conditioning", "/properties/conditioning"),
            section<job::Limits>("limits", "/properties/limits"),
            section<job::Durations>("durations", "/properties/durations"),
            section<job::Rates>("rates", "/properties/rates"),
            section<job::DigRates>("dig_rates", "/properties/dig_rates"),
            section<job::SurfaceRate>("dig_rates.surfaces[]", "/definitions/surface"),
            section<job::SoilRate>("dig_rates.soils[]", "/definitions/soil"),
            section<job::DigRates::Output>("dig_rates.outputs[]", "/properties/dig_rates/properties/outputs/items"),
            section<job::Risk>("risks[]", "/definitions/risk"),
            section<job::DigMarket>("dig_market", "/properties/dig_market"),
            section<job::PriceList>("price_list", "/properties/price_list"),
            section<job::PatchPrice>("price_list.patches[]", "/definitions/patch_price"),
            section<job::ListedExtra>("price_list.extras[]", "/definitions/listed_extra"),
            section<job::Firm>("firm", "/properties/firm"),
            section<job::Drive>("drive", "/properties/drive"),
            section<job::Coordinates>("drive.from", "/properties/drive/properties/from")};
}

std::vector<FieldSection> record_sections() {
    return {section<job::Record>("the file", ""),
            section<job::DayRecord>("days[]", "/definitions/day"),
            section<job::StepRecord>("days[].steps[]", "/definitions/step"),
            section<job::PatchRecord>("patches[]", "/definitions/patch"),
            section<job::NotedBenchTest>("patches[].bench_test", "/definitions/bench_test"),
            section<job::NotedPressure>("patches[].pressures[]", "/definitions/noted_pressure"),
            section<job::NotedTemperature>("patches[].temperatures[]", "/definitions/noted_temperature"),
            section<job::NotedWitness>("patches[].witness", "/definitions/witness"),
            section<job::LeakRecord>("tests[]", "/definitions/test"),
            section<job::LeakReading>("tests[].readings[]", "/definitions/reading"),
            section<job::SheetNotes>("sheets[]", "/definitions/sheet")};
}

std::string schema_text(const std::string& schema, const std::vector<FieldSection>& sections) {
    Json root = Json::parse(schema);
    const Json definitions = root.at("definitions");
    for (const auto& s : sections) {
        Json& object = root.at(Json::json_pointer{std::string{s.schema}});
        Json& properties = object.at("properties");
        Json made = Json::object();
        for (const auto* own : {"$schema", "remove"})
            if (properties.contains(own)) made[own] = properties.at(own);
        for (const auto& row : s.rows) {
            const std::string key{row.key};
            made[key] = property(row, properties.contains(key) ? properties.at(key) : Json{}, definitions);
        }
        properties = made;
    }
    std::string out;
    print(root, 0, 0, out);
    return out + "\n";
}

std::string page_text(const std::string& yard) {
    std::string page =
        "# All fields of job, yard and record file\n\n"
        "Made from the table by which the program reads (src/io/*_fields*.cpp); the tests hold this page, the "
        "schemas\n"
        "and the table to each other. What is not possible is an error, what is not usual a warning. Usual amounts "
        "are\n"
        "in euros; for currencies of another size than EUR, GBP, USD, CHF, CAD, AUD and NZD nothing is called "
        "unusual.\n"
        "An amount is never negative and at most ten million. The ranges are common practice, no source.\n"
        "[Job file](job-file.md), [yard file](yard-file.md) and [record file](record-file.md) explain the keys.\n\n"
        "## Job file\n";
    add_tables(page, job_sections(), Json::object());
    page += "\n## Yard file\n";
    add_tables(page, yard_sections(), Json::parse(yard));
    page += "\n## Record file\n";
    add_tables(page, record_sections(), Json::object());
    return page;
}

std::string dictionary_text(std::string_view kind, const std::vector<FieldSection>& sections) {
    std::set<std::string> keys, words;
    for (const auto& s : sections)
        for (const auto& row : s.rows) {
            keys.emplace(row.key);
            if (row.type.shape == Shape::spread) keys.insert({"low", "likely", "high"});
            if (row.type.persons) keys.insert("persons");
            if (row.type.choices != nullptr)
                for (const auto word : row.type.choices()) words.emplace(word);
        }
    if (kind == "yard") keys.insert("remove");
    std::string out = fmt::format("# Keys, words and units of a {} file, made from the table of fields.\n", kind);
    for (const auto* token : {"{", "}", "[", "]", ":", ",", "\\\"", "null", "true", "false", "1e400", "-0", "\\\\u0000",
                              "\\\\ud83d\\\\ude00", "\\xEF\\xBB\\xBF"})
        out += fmt::format("\"{}\"\n", token);
    for (const auto& key : keys) out += fmt::format("\"\\\"{}\\\":\"\n", key);
    for (const auto& word : words) out += fmt::format("\"\\\"{}\\\"\"\n", word);
    for (const auto* unit : {" mm",
                             " cm",
                             " m",
                             " in",
                             " ft",
                             " %",
                             " C",
                             " deg",
                             " l/s",
                             " min",
                             " h",
                             " EUR",
                             " EUR/h",
                             " EUR/m",
                             " bar",
                             " kPa",
                             " g",
                             " kg",
                             " l",
                             " kg/m3",
                             " K",
                             "10-2",
                             "12-12",
                             "2026-02-28",
                             "08:00",
                             "\\\"_help\\\":",
                             "\\\"extends\\\": \\\"builtin\\\""})
        out += fmt::format("\"{}\"\n", unit);
    return out;
}

}  // namespace patchwright::test
