// Text that is not a plain quantity: percentages, numbers, money.
#include "patchwright/units/parse.hpp"

#include <algorithm>

#include <fmt/core.h>

#include "scan.hpp"

namespace patchwright {
namespace {

/// Amounts that `scaled` still handles exactly.
constexpr std::int64_t max_cents = 9'000'000'000'000;

struct SignedNumber {
    double value = 0.0;
    std::size_t end = 0;
};

Parsed<SignedNumber> scan_signed(std::string_view text, std::string_view wanted) {
    std::size_t pos = detail::skip_space(text, 0);
    if (pos == text.size()) return TextError{0, text.size(), fmt::format("give {}", wanted)};
    const double sign = detail::scan_sign(text, pos);
    const auto number = detail::scan_number(text, pos);
    if (!number) return number.error();
    return SignedNumber{sign * number->value, number->end};
}

/// Whole cents of "1234.5"; digits only, so no rounding can creep in.
Parsed<std::int64_t> exact_cents(std::string_view text, std::size_t begin, std::size_t end) {
    std::int64_t cents = 0;
    int places = -1;  // digits after the point; -1 before it
    for (std::size_t i = begin; i < end; ++i) {
        if (text[i] == '.') {
            places = 0;
            continue;
        }
        if (places >= 0 && ++places > 2) return TextError{i, end - i, "an amount of money has at most two decimals"};
        cents = cents * 10 + (text[i] - '0');
        if (cents > max_cents) return TextError{begin, end - begin, "the amount is too large to work with"};
    }
    for (int i = places < 0 ? 0 : places; i < 2; ++i) cents *= 10;
    if (cents > max_cents) return TextError{begin, end - begin, "the amount is too large to work with"};
    return cents;
}

struct Amount {
    Money money;
    std::size_t end = 0;
};

/// "38.50 EUR" at the start of `text`.
Parsed<Amount> scan_amount(std::string_view text, std::string_view example) {
    const auto missing = [&] {
        return TextError{0, text.size(), fmt::format("give an amount with its currency, such as \"{}\"", example)};
    };
    const std::size_t start = detail::skip_space(text, 0);
    if (start == text.size()) return missing();
    const auto number = scan_signed(text, {});
    if (!number) {
        const bool currency_first = text[start] >= 'A' && text[start] <= 'Z';
        if (currency_first)
            return TextError{number.error().offset, number.error().length,
                             fmt::format("write the amount first, such as \"{}\"", example)};
        return number.error();
    }
    std::size_t begin = detail::skip_space(text, 0);
    const bool negative = detail::scan_sign(text, begin) < 0.0;
    if (text.substr(begin, number->end - begin).find('/') != std::string_view::npos)
        return TextError{begin, number->end - begin, "write an amount of money with a decimal point"};
    const auto cents = exact_cents(text, begin, number->end);
    if (!cents) return cents.error();

    const std::size_t code = detail::skip_space(text, number->end);
    if (code == text.size()) return missing();
    std::size_t end = code;
    while (end < text.size() && text[end] != '/' && !detail::is_space(text[end])) ++end;
    const std::string_view letters = text.substr(code, end - code);
    const bool capital =
        letters.size() == 3 && letters.find_first_not_of("ABCDEFGHIJKLMNOPQRSTUVWXYZ") == std::string_view::npos;
    if (!capital)
        return TextError{
            code, std::max<std::size_t>(1, end - code),
            fmt::format("\"{}\" is not a currency; use its three capital letters, such as EUR or USD", letters)};
    return Amount{Money::cents(negative ? -*cents : *cents, Currency{letters}), end};
}

}  // namespace

Parsed<double> parse_percent(std::string_view text) {
    text = detail::right_trimmed(text);
    const auto number = scan_signed(text, "a percentage, such as \"2 %\"");
    if (!number) return number.error();
    const std::size_t sign = detail::skip_space(text, number->end);
    const std::string_view rest = text.substr(sign);
    if (rest == "%" || rest == "percent") return number->value;
    if (rest.empty()) return TextError{0, text.size(), "give a percentage with its sign, such as \"2 %\""};
    return TextError{sign, rest.size(),
                     fmt::format("\"{}\" is not a percent sign; give a percentage such as \"2 %\"", rest)};
}

Parsed<double> parse_number(std::string_view text) {
    text = detail::right_trimmed(text);
    const auto number = scan_signed(text, "a number, such as \"2\" or \"0.5\"");
    if (!number) return number.error();
    const std::size_t end = detail::skip_space(text, number->end);
    if (end != text.size())
        return TextError{end, text.size() - end,
                         fmt::format("a plain number has no unit: leave out \"{}\"", text.substr(end))};
    return number->value;
}

Parsed<Money> parse_money(std::string_view text) {
    text = detail::right_trimmed(text);
    const auto amount = scan_amount(text, "38.50 EUR");
    if (!amount) return amount.error();
    if (amount->end != text.size())
        return TextError{amount->end, text.size() - amount->end, "nothing may follow the currency here"};
    return amount->money;
}

namespace detail {

Parsed<RateText> parse_rate_text(std::string_view text, const Dimension& dimension, std::string_view example) {
    text = right_trimmed(text);
    const auto amount = scan_amount(text, example);
    if (!amount) return amount.error();
    const std::size_t stroke = skip_space(text, amount->end);
    if (stroke == text.size() || text[stroke] != '/')
        return TextError{0, text.size(), fmt::format("give a price per unit, such as \"{}\"", example)};
    const std::size_t begin = skip_space(text, stroke + 1);
    if (begin == text.size())
        return TextError{stroke, 1, fmt::format("a unit must follow the stroke, such as \"{}\"", example)};
    const std::string_view unit = text.substr(begin);
    if (is_digit(unit.front()))
        return TextError{begin, unit.size(), fmt::format("a price is for one unit, such as \"{}\"", example)};
    const UnitName* found = find_spelt(dimension, unit);
    if (found == nullptr) return TextError{begin, unit.size(), unknown_unit_message(dimension, unit)};
    return RateText{amount->money, found->si};
}

}  // namespace detail
}  // namespace patchwright
