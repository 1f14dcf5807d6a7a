#include <fmt/core.h>

#include <stdexcept>

#include "patchwright/job/read.hpp"
#include "yard_fields.hpp"
#include "yard_json.hpp"

namespace patchwright::job {
namespace {

bool extends_builtin(const Node& root) {
    const Node* extends = root.kind == NodeKind::object ? root.find("extends") : nullptr;
    return extends != nullptr && extends->kind == NodeKind::string && extends->text == "builtin";
}

/// What stands before the file is read: the whole built-in yard, or only what is no stock and no price.
Yard starting_point(bool extending) {
    if (extending) {
        Yard yard = builtin_yard();
        yard.name.clear();
        return yard;
    }
    Yard yard;
    yard.limits = builtin_yard().limits;
    yard.durations = builtin_yard().durations;
    yard.rates = builtin_yard().rates;
    yard.rates.currency = {};
    yard.rates.overhead_per_crew_day = {};
    yard.dig_rates = builtin_yard().dig_rates;
    yard.dig_rates.surfaces.clear();
    yard.dig_rates.soils.clear();
    return yard;
}

template <class T>
void assume_section(const Node& root, std::string_view section, bool extending, Yard& yard) {
    const Node* node = root.find(section);
    if (extending) {
        std::string value =
            node == nullptr ? "as in the demonstration yard" : "as in the demonstration yard where not given";
        yard.assumptions.push_back({"yard", std::string{section}, std::move(value), "the yard file extends it"});
        return;
    }
    const auto keys = left_out<T>(node);
    if (keys.empty()) return;
    std::string names;
    for (const std::string_view key : keys) names += (names.empty() ? "" : ", ") + std::string{key};
    yard.assumptions.push_back({"yard", std::string{section}, "built-in values for " + names,
                                "not in the yard file; common practice, no source"});
}

void note_assumptions(const Node& root, bool extending, Yard& yard) {
    assume_section<Limits>(root, "limits", extending, yard);
    assume_section<Durations>(root, "durations", extending, yard);
    assume_section<Rates>(root, "rates", extending, yard);
    assume_section<DigRates>(root, "dig_rates", extending, yard);
    if (root.find("risks") == nullptr && !extending)
        yard.assumptions.push_back({"yard", "risks", "none", "not in the yard file; no allowance for failures"});
    for (const std::string_view list : {"packers", "chassis", "bladders", "felts", "resins", "risks"})
        if (extending && root.find(list) == nullptr)
            yard.assumptions.push_back(
                {"yard", std::string{list}, "as in the demonstration yard", "the yard file extends it"});
}

/// `start`: what the file is laid over; nullptr for the data compiled in, which must give everything.
ReadResult<Yard> read_over(std::string_view text, std::string_view file, bool compiled_in) {
    Document document = parse_document(text);
    ReadResult<Yard> result;
    Reader reader{text};
    Yard yard;
    const bool extending = !compiled_in && extends_builtin(document.root);
    if (document.complete) {
        if (!compiled_in) yard = starting_point(extending);
        reader.everything_required = compiled_in;
        reader.patching = extending;
        read_object(reader, document.root, yard, extending);
        if (document.root.kind == NodeKind::object) {
            if (extending && document.root.find("patchwright_yard") == nullptr)
                reader.error(document.root, "a yard needs \"patchwright_yard\": 1");
            if (extending && yard.name.empty()) yard.name = "Demonstration yard, changed";
            check_yard(reader, document.root, yard);
        }
    }
    for (Fault& fault : document.faults) reader.add(std::move(fault));
    if (!reader.has_errors()) {
        if (!compiled_in) note_assumptions(document.root, extending, yard);
        result.value = std::move(yard);
    }
    result.diagnostics = diagnostics_of(text, file, document.root, std::move(reader.faults()));
    return result;
}

Yard compiled_in_yard() {
    ReadResult<Yard> result = read_over(yard_json(), "the built-in yard", true);
    if (result && result.diagnostics.empty()) return std::move(*result.value);
    std::string all;  // only possible while data/yard.json is being changed; a test holds it
    for (const Diagnostic& diagnostic : result.diagnostics) all += job::text(diagnostic) + "\n";
    throw std::logic_error(all);
}

}  // namespace

const Resin* Yard::find_resin(std::string_view id) const {
    for (const Resin& resin : resins)
        if (resin.id == id) return &resin;
    return nullptr;
}

const Yard& builtin_yard() {
    static const Yard yard = compiled_in_yard();
    return yard;
}

ReadResult<Yard> read_yard(std::string_view text, std::string_view file) { return read_over(text, file, false); }

}  // namespace patchwright::job
