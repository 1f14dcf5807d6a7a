#pragma once
#include <cstddef>
#include <span>
#include <string>
#include <string_view>

#include "patchwright/units/parse.hpp"

/// What the parsers of quantity text share. Private to the module.
namespace patchwright::detail {

/// Units of one family may follow each other in a compound: "6 ft 3 in", never "6 ft 30 mm".
enum class Family : char { alone, metric, us, time };

struct UnitName {
    std::string_view name;
    double si = 1.0;  ///< SI value of one unit
    Family family = Family::alone;
};

/// The closed table of one dimension and the words for its messages.
struct Dimension {
    std::string_view noun;     ///< "length"
    std::string_view a_noun;   ///< "a length"
    std::string_view example;  ///< "100 mm"
    std::string_view usual;    ///< "mm, cm, m, in or ft"
    std::span<const UnitName> units;
};

/// Every table, so that a unit of the wrong dimension is named as such.
std::span<const Dimension* const> all_dimensions();

struct Number {
    double value = 0.0;
    std::size_t end = 0;  ///< first byte after it
};
/// An unsigned number or (mixed) fraction that starts at `pos`.
Parsed<Number> scan_number(std::string_view text, std::size_t pos);
/// The sign at `pos`, if any: -1 or 1; moves `pos` past it.
double scan_sign(std::string_view text, std::size_t& pos);
inline bool is_digit(char c) { return c >= '0' && c <= '9'; }
inline bool is_space(char c) { return c == ' ' || c == '\t'; }
inline std::size_t skip_space(std::string_view text, std::size_t pos) {
    while (pos < text.size() && is_space(text[pos])) ++pos;
    return pos;
}
/// `text` without space at its end.
inline std::string_view right_trimmed(std::string_view text) {
    while (!text.empty() && is_space(text.back())) text.remove_suffix(1);
    return text;
}

/// "m²", "m^2" and "J / (kg·K)" in the spelling of the tables: "m2", "J/(kg K)".
std::string normal_spelling(std::string_view unit);
const UnitName* find_unit(const Dimension& dimension, std::string_view normal);
/// The same by any spelling that `normal_spelling` knows.
const UnitName* find_spelt(const Dimension& dimension, std::string_view written);
/// What is wrong with a unit that `dimension` does not have.
std::string unknown_unit_message(const Dimension& dimension, std::string_view unit);

/// Number and unit, or a compound, in SI.
Parsed<double> parse_si(std::string_view text, const Dimension& dimension);

/// "62.00 EUR/h": amount, stroke, unit of `dimension`; the amount and the SI value of the unit.
struct RateText {
    Money amount;
    double per_si = 1.0;
};
Parsed<RateText> parse_rate_text(std::string_view text, const Dimension& dimension, std::string_view example);

}  // namespace patchwright::detail
