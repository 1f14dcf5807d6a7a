#pragma once
#include <map>
#include <string>
#include <string_view>

/// Reads the arithmetic of a formula's text as the sheets print it, to hold texts to the code. Shares nothing with it.
namespace patchwright::test {

/// Values by symbol, in SI.
using Symbols = std::map<std::string, double, std::less<>>;

/// Value of "2 K EL / (P (1 - v^2))^(1/3)": numbers, symbols, + - * / ^, round and square brackets, products without
/// sign, which rank as *, and sqrt exp ln sin cos floor ceil min max up_to_step(value, step). A name that is no symbol
/// may be pi or a unit (kg, l, m2, min, ...). Throws std::invalid_argument for anything else.
double evaluate(std::string_view expression, const Symbols& symbols);

/// How near to the text's value the result must be.
enum class Rounding { none, nearest_gram, up_to_gram, nearest_cent };

/// A whole text: "x = expression" and, after commas or semicolons outside brackets, "y = expression" for a part of it,
/// "h in feet" for a symbol that goes in in that unit, roundings, and remarks, which are passed over.
struct TextValue {
    double value = 0.0;
    Rounding rounding = Rounding::none;
};
TextValue evaluate_text(std::string_view text, Symbols symbols);

}  // namespace patchwright::test
