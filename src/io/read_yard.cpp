#include <fmt/core.h>

#include <stdexcept>

#include "patchwright/io/read.hpp"
#include "yard_fields.hpp"
#include "yard_json.hpp"

namespace patchwright::io {
namespace {

bool extends_builtin(const Node& root) {
    const Node* extends = root.kind == NodeKind::object ? root.find("extends") : nullptr;
    return extends != nullptr;  // what it says is checked with the rest
}

/// What stands before the file is read: the whole built-in yard, or only what is no stock and no price.
Yard starting_point(bool extending) {
    if (extending) {
        Yard yard = builtin_yard();
        yard.name.clear();
        // Nobody's letters go out under an invented name, and nobody's prices are listed for him.
        yard.firm = {};
        yard.price_list = {};
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
    yard.dig_market = builtin_yard().dig_market;
    yard.drive = builtin_yard().drive;
    return yard;
}

/// One line for the sheets, not one for each of a hundred figures.
void note_extended(const Node& root, Yard& yard) {
    std::string whole, partly;
    for (const std::string_view section :
         {"packers", "chassis", "bladders", "felts", "resins", "heaters", "conditioning", "limits", "durations",
          "rates", "dig_rates", "dig_market", "risks"}) {
        std::string& names = root.find(section) == nullptr ? whole : partly;
        names += (names.empty() ? "" : ", ") + std::string{section};
    }
    if (!whole.empty())
        yard.assumptions.push_back({"yard", whole, "the demonstration yard's", "the yard file extends it"});
    if (!partly.empty())
        yard.assumptions.push_back(
            {"yard", "what is not given of " + partly, "the demonstration yard's", "the yard file extends it"});
}

template <class T>
void note_built_in(const Node& root, std::string_view section, Yard& yard) {
    std::string names;
    for (const std::string_view key : left_out<T>(root.find(section)))
        names += (names.empty() ? "" : ", ") + std::string{key};
    if (names.empty()) return;
    yard.assumptions.push_back({"yard", std::string{section}, "built-in values for " + names,
                                "not in the yard file; common practice, no source"});
}

void note_assumptions(const Node& root, bool extending, Yard& yard) {
    if (extending) return note_extended(root, yard);
    note_built_in<Limits>(root, "limits", yard);
    note_built_in<Durations>(root, "durations", yard);
    note_built_in<Rates>(root, "rates", yard);
    note_built_in<DigRates>(root, "dig_rates", yard);
    note_built_in<DigMarket>(root, "dig_market", yard);
    if (root.find("risks") == nullptr)
        yard.assumptions.push_back({"yard", "risks", "none", "not in the yard file; no allowance for failures"});
}

/// `compiled_in`: the data of this program, which must give everything and stands on nothing.
Yard read_tree(Reader& reader, const Node& root, bool compiled_in, const ResinCheck& check) {
    if (is_other_file(root, "patchwright_job", "patchwright_yard")) {
        reader.error(root, "this is a job file, where a yard file belongs");
        return {};
    }
    const bool extending = !compiled_in && extends_builtin(root);
    Yard yard = compiled_in ? Yard{} : starting_point(extending);
    reader.everything_required = compiled_in;
    reader.patching = extending;
    read_object(reader, root, yard, extending);
    if (root.kind != NodeKind::object) return yard;
    if (extending && root.find("patchwright_yard") == nullptr)
        reader.error(root, "a yard needs \"patchwright_yard\": 1");
    if (extending && yard.name.empty()) yard.name = "Demonstration yard, changed";
    check_yard(reader, root, yard);
    if (check) check_resins(reader, root, yard, check);
    name_resins(reader, root);
    if (!compiled_in && !reader.has_errors()) note_assumptions(root, extending, yard);
    return yard;
}

ReadResult<Yard> read_over(std::string_view text, Document document, std::string_view file, bool compiled_in,
                           const ResinCheck& check = {}) {
    Reader reader{text, std::move(document.faults)};
    Yard yard;
    if (document.complete) yard = read_tree(reader, document.root, compiled_in, check);
    ReadResult<Yard> result;
    if (!reader.has_errors()) result.value = std::move(yard);
    result.diagnostics = diagnostics_of(text, file, document.root, std::move(reader.faults()));
    return result;
}

Yard compiled_in_yard() {
    ReadResult<Yard> result = read_over(yard_json(), parse_document(yard_json()), "the built-in yard", true);
    if (result && result.diagnostics.empty()) return std::move(*result.value);
    std::string said;  // only possible while data/yard.json is being changed; a test holds it
    for (const Diagnostic& diagnostic : result.diagnostics) said += io::text(diagnostic) + "\n";
    throw std::logic_error(said);
}

}  // namespace

const Yard& builtin_yard() {
    static const Yard yard = compiled_in_yard();
    return yard;
}

ReadResult<Yard> read_yard(std::string_view text, std::string_view file, const ResinCheck& check) {
    return read_over(text, parse_document(text), file, false, check);
}

}  // namespace patchwright::io
