// The schemas in data/schema say the same as the descriptions that read the files.
#include <nlohmann/json.hpp>
#include <set>

#include "files.hpp"
#include "yard_fields.hpp"

using namespace patchwright;
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
    const json schema = json::parse(test::whole_file("data/schema/job.schema.json"));
    const json& types = schema.at("definitions");
    const json& run = types.at("run").at("properties");
    same<Job>(schema);
    same<Run>(types.at("run"));
    same<Fitting>(types.at("fitting"));
    same<Defect>(types.at("defect"));
    same<Site>(schema.at("properties").at("site"));
    same<Dig>(schema.at("properties").at("dig"));
    same<Customer>(schema.at("properties").at("customer"));
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
    const json schema = json::parse(test::whole_file("data/schema/yard.schema.json"));
    const json& types = schema.at("definitions");
    const json& top = schema.at("properties");
    same<Yard>(schema, true);
    same<Packer>(types.at("packer"), true);
    same<Chassis>(types.at("chassis"), true);
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
