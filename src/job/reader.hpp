#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "document.hpp"
#include "patchwright/units/parse.hpp"
#include "rule.hpp"
#include "words.hpp"

/// Collects faults while a tree is turned into a model, and reads single values. Internal.
namespace patchwright::job {

class Reader {
public:
    explicit Reader(std::string_view text) : text_{text} {}

    void error(const Node& node, std::string message);
    void error_at_key(const Node& member, std::string message);
    /// A fault inside a string: the mark stands under the part at fault.
    void error_in_text(const Node& node, const TextError& fault);
    void warn(const Node& node, std::string message);
    void add(Fault fault) { faults_.add(std::move(fault)); }
    void add(FaultList&& faults) { faults_.add(std::move(faults)); }

    const FaultList& faults() const { return faults_; }
    bool has_errors() const { return faults_.has_errors(); }

    /// The data compiled into the program must give every field.
    bool everything_required = false;
    /// Objects stand already (a yard that is extended): only what differs is given.
    bool patching = false;

    /// An amount of money as it was read, to be held to the file's currency afterwards.
    struct Amount {
        const Node* node;
        Currency currency;
    };
    std::vector<Amount> amounts;

    /// "line 3, column 7" of a node, for messages that name a second place.
    std::string place_of(const Node& node) const;

private:
    std::string_view text_;
    FaultList faults_;
};

/// The node as text; nullptr, with an error that shows `example`, when it is something else.
const std::string_view* text_of(Reader& reader, const Node& node, std::string_view example);
/// "a bare number where a list belongs"
std::string wrong_kind(const Node& node, std::string_view wanted);
/// True when `value` is within the rule; else an error at the node.
bool keeps(Reader& reader, const Node& node, double value, const Rule& rule);
/// "\"metre\" is not known; did you mean \"meter\"? Known: ...", for choices and keys.
std::string unknown_word(std::string_view given, std::string_view what, const std::vector<std::string_view>& known);
std::string list_words(const std::vector<std::string_view>& words, std::string_view last = " and ");

/// An error when a name is empty or begins or ends with a blank.
void refuse_blank_name(Reader& reader, const Node& node, std::string_view key);

bool read_value(Reader& reader, const Node& node, std::string& out, const Rule& rule);
bool read_value(Reader& reader, const Node& node, bool& out, const Rule& rule);
bool read_value(Reader& reader, const Node& node, int& out, const Rule& rule);
bool read_value(Reader& reader, const Node& node, double& out, const Rule& rule);
bool read_value(Reader& reader, const Node& node, Share& out, const Rule& rule);
bool read_value(Reader& reader, const Node& node, Money& out, const Rule& rule);
bool read_value(Reader& reader, const Node& node, Temperature& out, const Rule& rule);
bool read_value(Reader& reader, const Node& node, Currency& out, const Rule& rule);
bool read_value(Reader& reader, const Node& node, Date& out, const Rule& rule);
bool read_value(Reader& reader, const Node& node, ClockTime& out, const Rule& rule);
bool read_value(Reader& reader, const Node& node, ClockRange& out, const Rule& rule);

/// What the parser calls each dimension, and an example for messages.
struct QuantityNames {
    std::string_view what, example;
};
template <class Q>
struct QuantityText;  // parse() and names
#define PATCHWRIGHT_QUANTITY_TEXT(TYPE, FUNCTION, WHAT, EXAMPLE)                    \
    template <>                                                                     \
    struct QuantityText<TYPE> {                                                     \
        static Parsed<TYPE> parse(std::string_view text) { return FUNCTION(text); } \
        static constexpr QuantityNames names{WHAT, EXAMPLE};                        \
    }
PATCHWRIGHT_QUANTITY_TEXT(Length, parse_length, "a length", "100 mm");
PATCHWRIGHT_QUANTITY_TEXT(Area, parse_area, "an area", "1.5 m2");
PATCHWRIGHT_QUANTITY_TEXT(Volume, parse_volume, "a volume", "60 l");
PATCHWRIGHT_QUANTITY_TEXT(Mass, parse_mass, "a mass", "1.5 kg");
PATCHWRIGHT_QUANTITY_TEXT(Duration, parse_duration, "a time", "35 min");
PATCHWRIGHT_QUANTITY_TEXT(Pressure, parse_pressure, "a pressure", "0.8 bar");
PATCHWRIGHT_QUANTITY_TEXT(TemperatureDifference, parse_temperature_difference, "a temperature difference", "3 K");
PATCHWRIGHT_QUANTITY_TEXT(Angle, parse_angle, "an angle", "45 deg");
PATCHWRIGHT_QUANTITY_TEXT(VolumeFlow, parse_volume_flow, "a flow", "0.02 l/s");
PATCHWRIGHT_QUANTITY_TEXT(Density, parse_density, "a density", "1120 kg/m3");
PATCHWRIGHT_QUANTITY_TEXT(ArealMass, parse_areal_mass, "a mass per area", "620 g/m2");
PATCHWRIGHT_QUANTITY_TEXT(UnitWeight, parse_unit_weight, "a unit weight", "18.9 kN/m3");
PATCHWRIGHT_QUANTITY_TEXT(Force, parse_force, "a force", "500 N");
PATCHWRIGHT_QUANTITY_TEXT(SpecificEnergy, parse_specific_energy, "an energy per mass", "400 J/g");
PATCHWRIGHT_QUANTITY_TEXT(SpecificHeat, parse_specific_heat, "a specific heat", "1900 J/(kg K)");
PATCHWRIGHT_QUANTITY_TEXT(Conductivity, parse_conductivity, "a thermal conductivity", "0.2 W/(m K)");
#undef PATCHWRIGHT_QUANTITY_TEXT

template <Dim D>
bool read_value(Reader& reader, const Node& node, Quantity<D>& out, const Rule& rule) {
    using Text = QuantityText<Quantity<D>>;
    const std::string_view* text = text_of(reader, node, Text::names.example);
    if (text == nullptr) return false;
    const auto parsed = Text::parse(*text);
    if (!parsed) {
        reader.error_in_text(node, parsed.error());
        return false;
    }
    if (!keeps(reader, node, parsed->si(), rule)) return false;
    out = *parsed;
    return true;
}

template <class Q>
bool read_value(Reader& reader, const Node& node, MoneyPer<Q>& out, const Rule&) {
    const std::string_view* text = text_of(reader, node, "38.50 EUR/m");
    if (text == nullptr) return false;
    const auto parsed = parse_rate<Q>(*text);
    if (!parsed) {
        reader.error_in_text(node, parsed.error());
        return false;
    }
    if (!keeps(reader, node, static_cast<double>(parsed->amount.in_cents()), DefaultRule<Money>::rule)) return false;
    reader.amounts.push_back({&node, parsed->amount.currency()});
    out = *parsed;
    return true;
}

template <class E>
requires std::is_enum_v<E>
bool read_value(Reader& reader, const Node& node, E& out, const Rule&) {
    const auto list = words_of(E{});
    const std::string_view* text = text_of(reader, node, list.front().first);
    if (text == nullptr) return false;
    for (const auto& [name, value] : list) {
        if (name != *text) continue;
        out = value;
        return true;
    }
    std::vector<std::string_view> known;
    for (const auto& entry : list) known.push_back(entry.first);
    reader.error(node, unknown_word(*text, node.key.empty() ? std::string_view{"choice"} : node.key, known));
    return false;
}

}  // namespace patchwright::job
