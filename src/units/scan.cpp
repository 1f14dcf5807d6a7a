#include "scan.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <vector>

#include <fmt/core.h>

namespace patchwright::detail {
namespace {

/// End of the run of digits at `pos`.
std::size_t digits_end(std::string_view text, std::size_t pos) {
    while (pos < text.size() && is_digit(text[pos])) ++pos;
    return pos;
}

Parsed<double> to_double(std::string_view text, std::size_t begin, std::size_t end) {
    double value = 0.0;
    const auto [ptr, error] = std::from_chars(text.data() + begin, text.data() + end, value, std::chars_format::fixed);
    if (error != std::errc{} || !std::isfinite(value))
        return TextError{begin, end - begin, "the number is too large or too small to work with"};
    return value;
}

TextError not_a_number(std::string_view text, std::size_t pos) {
    if (pos == text.size()) return {pos == 0 ? 0 : pos - 1, pos == 0 ? 0U : 1U, "a number is missing here"};
    std::size_t end = pos;
    while (end < text.size() && !is_space(text[end])) ++end;
    const std::string_view word = text.substr(pos, end - pos);
    if (word.front() == '-' || word.front() == '+') return {pos, 1, "only the first number may carry a sign"};
    if (word.front() == ',') return {pos, 1, "use a point as the decimal mark"};
    if (word.front() == '.') return {pos, 1, "digits must follow the decimal point"};
    return {pos, end - pos, fmt::format("\"{}\" is not a number; write it in digits", word)};
}

/// A mark after a number that shows what the writer meant.
const char* misplaced_mark(std::string_view text, std::size_t pos) {
    if (pos >= text.size()) return nullptr;
    const char next = pos + 1 < text.size() ? text[pos + 1] : '\0';
    switch (text[pos]) {
        case ',':
            return "use a point as the decimal mark, and no mark between thousands";
        case '.':
            return is_digit(next) ? "a number has one decimal point only" : "digits must follow the decimal point";
        case '_':
            return "write no mark between thousands";
        case 'e':
        case 'E': {
            const char after = pos + 2 < text.size() ? text[pos + 2] : '\0';
            const bool exponent = is_digit(next) || ((next == '-' || next == '+') && is_digit(after));
            return exponent ? "write the number without an exponent" : nullptr;
        }
        default:
            return nullptr;
    }
}

/// "3/8" at `pos`; `end` 0 when there is none.
Parsed<Number> scan_fraction(std::string_view text, std::size_t pos) {
    const std::size_t numerator_end = digits_end(text, pos);
    if (numerator_end == pos || numerator_end >= text.size() || text[numerator_end] != '/') return Number{};
    const std::size_t denominator_begin = numerator_end + 1;
    const std::size_t end = digits_end(text, denominator_begin);
    if (end == denominator_begin)
        return TextError{numerator_end, 1, "a fraction needs whole numbers on both sides, such as \"1/2\""};
    const auto numerator = to_double(text, pos, numerator_end);
    if (!numerator) return numerator.error();
    const auto denominator = to_double(text, denominator_begin, end);
    if (!denominator) return denominator.error();
    if (*denominator == 0.0) return TextError{denominator_begin, end - denominator_begin, "a fraction over zero"};
    return Number{*numerator / *denominator, end};
}

/// The fraction of "4 1/2" or "4-1/2", with `pos` after the whole number; `end` 0 when none follows.
Parsed<Number> scan_mixed_part(std::string_view text, std::size_t pos) {
    std::size_t begin = skip_space(text, pos);
    if (begin == pos) {
        if (pos >= text.size() || text[pos] != '-') return Number{};
        ++begin;
    }
    auto fraction = scan_fraction(text, begin);
    if (fraction && fraction->end != 0 && fraction->value >= 1.0)
        return TextError{begin, fraction->end - begin, "the fraction after a whole number must be below one"};
    return fraction;
}

/// Edits that turn `a` into `b`; a change of case alone counts for nothing.
std::size_t edit_distance(std::string_view a, std::string_view b) {
    const auto lower = [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; };
    std::vector<std::size_t> row(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j) row[j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        std::size_t diagonal = row[0];
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t substituted = diagonal + (lower(a[i - 1]) == lower(b[j - 1]) ? 0 : 1);
            diagonal = row[j];
            row[j] = std::min({row[j] + 1, row[j - 1] + 1, substituted});
        }
    }
    return row.back();
}

std::string_view nearest_unit(const Dimension& dimension, std::string_view unit) {
    if (unit.size() > 24) return {};
    const std::size_t limit = unit.size() <= 2 ? 0 : unit.size() <= 5 ? 1 : 2;
    std::string_view best;
    std::size_t best_distance = limit + 1;
    for (const UnitName& known : dimension.units) {
        const std::size_t distance = edit_distance(unit, known.name);
        if (distance < best_distance) {
            best = known.name;
            best_distance = distance;
        }
    }
    return best;
}

/// Where the unit that starts at `pos` ends: before the next number, or at the end of the text.
std::size_t unit_end(std::string_view text, std::size_t pos) {
    for (std::size_t i = pos; i < text.size(); ++i) {
        if (!is_space(text[i])) continue;
        const std::size_t next = skip_space(text, i);
        if (next == text.size()) return i;
        const bool sign = text[next] == '-' || text[next] == '+';
        if (is_digit(text[next]) || text[next] == '.' || sign) return i;
        i = next - 1;
    }
    return text.size();
}

struct Part {
    double value = 0.0;
    const UnitName* unit = nullptr;
    std::size_t unit_begin = 0, end = 0;
};

/// The unit after a number.
Parsed<Part> scan_unit(std::string_view text, const Number& number, const Dimension& dimension, bool first) {
    const std::size_t pos = number.end;
    const std::size_t begin = skip_space(text, pos);
    if (begin == text.size() && !first) return TextError{pos - 1, 1, "the last number has no unit"};
    if (begin == text.size())
        return TextError{0, text.size(),
                         fmt::format("give {} with its unit, such as \"{}\"", dimension.a_noun, dimension.example)};
    if (is_digit(text[begin]))
        return TextError{begin, digits_end(text, begin) - begin,
                         "two numbers with no unit between them; write no mark between thousands"};
    std::size_t end = unit_end(text, begin);
    const std::string_view written = text.substr(begin, end - begin);
    const UnitName* unit = find_spelt(dimension, written);
    if (unit == nullptr) {  // "6ft3in": the unit ends where a digit begins
        const std::size_t digit = written.find_first_of("0123456789");
        if (digit != std::string_view::npos && digit > 0) {
            const UnitName* head = find_unit(dimension, written.substr(0, digit));
            if (head != nullptr && head->family != Family::alone) {
                const std::string message = unknown_unit_message(dimension, written);
                const bool elsewhere = message.find(" is a unit of ") != std::string::npos;
                if (elsewhere) return TextError{begin, written.size(), message};
                unit = head;
                end = begin + digit;
            }
        }
    }
    if (unit == nullptr) return TextError{begin, written.size(), unknown_unit_message(dimension, written)};
    return Part{number.value, unit, begin, end};
}

}  // namespace

double scan_sign(std::string_view text, std::size_t& pos) {
    constexpr std::string_view minus_sign = "\u2212";
    if (text.substr(pos).starts_with(minus_sign)) {
        pos = skip_space(text, pos + minus_sign.size());
        return -1.0;
    }
    if (pos < text.size() && (text[pos] == '-' || text[pos] == '+')) {
        const double sign = text[pos] == '-' ? -1.0 : 1.0;
        pos = skip_space(text, pos + 1);
        return sign;
    }
    return 1.0;
}

Parsed<Number> scan_number(std::string_view text, std::size_t pos) {
    const std::size_t whole_end = digits_end(text, pos);
    std::size_t end = whole_end;
    if (end < text.size() && text[end] == '.' && end + 1 < text.size() && is_digit(text[end + 1]))
        end = digits_end(text, end + 1);
    if (end == pos) return not_a_number(text, pos);
    if (const char* message = misplaced_mark(text, end)) return TextError{end, 1, message};

    const bool whole = end == whole_end;
    const bool over = end < text.size() && text[end] == '/' && end + 1 < text.size() && is_digit(text[end + 1]);
    if (over && !whole)
        return TextError{pos, end - pos, "a fraction needs whole numbers on both sides, such as \"1/2\""};
    if (over) return scan_fraction(text, pos);
    const auto value = to_double(text, pos, end);
    if (!value) return value.error();
    if (whole) {
        const auto fraction = scan_mixed_part(text, end);
        if (!fraction) return fraction.error();
        if (fraction->end != 0) return Number{*value + fraction->value, fraction->end};
    }
    return Number{*value, end};
}

std::string normal_spelling(std::string_view unit) {
    std::string out;
    out.reserve(unit.size());
    for (std::size_t i = 0; i < unit.size(); ++i) {
        const std::string_view rest = unit.substr(i);
        const auto take = [&](std::string_view from, std::string_view to) {
            if (!rest.starts_with(from)) return false;
            out += to;
            i += from.size() - 1;
            return true;
        };
        if (take("\u00b2", "2") || take("\u00b3", "3") || take("\u00b7", " ") || take("*", " ") || take("^", ""))
            continue;
        if (is_space(unit[i])) {  // one space between words, none beside a stroke
            const std::size_t next = skip_space(unit, i);
            const bool keep =
                !out.empty() && out.back() != '/' && out.back() != ' ' && next < unit.size() && unit[next] != '/';
            if (keep) out += ' ';
            i = next - 1;
            continue;
        }
        out += unit[i];
    }
    return out;
}

const UnitName* find_unit(const Dimension& dimension, std::string_view normal) {
    const auto it = std::find_if(dimension.units.begin(), dimension.units.end(),
                                 [&](const UnitName& known) { return known.name == normal; });
    return it == dimension.units.end() ? nullptr : &*it;
}

const UnitName* find_spelt(const Dimension& dimension, std::string_view written) {
    // The tables' own spelling is normal, and what nearly every file has.
    const UnitName* unit = find_unit(dimension, written);
    return unit != nullptr ? unit : find_unit(dimension, normal_spelling(written));
}

std::string unknown_unit_message(const Dimension& dimension, std::string_view written) {
    const std::string unit = normal_spelling(written);
    if (dimension.noun == "pressure" && (unit == "psig" || unit == "psia" || unit == "barg" || unit == "bara"))
        return fmt::format("write plain \"{}\": the field itself states gauge or absolute pressure",
                           unit.substr(0, unit.size() - 1));
    for (const Dimension* other : all_dimensions()) {
        if (other != &dimension && find_unit(*other, unit) != nullptr)
            return fmt::format("\"{}\" is a unit of {}; give {} such as \"{}\"", written, other->noun, dimension.a_noun,
                               dimension.example);
    }
    const std::string_view nearest = nearest_unit(dimension, unit);
    if (!nearest.empty()) return fmt::format("unknown unit \"{}\"; did you mean \"{}\"?", written, nearest);
    return fmt::format("unknown unit \"{}\"; give {} in {}", written, dimension.a_noun, dimension.usual);
}

Parsed<double> parse_si(std::string_view text, const Dimension& dimension) {
    text = right_trimmed(text);
    std::size_t pos = skip_space(text, 0);
    if (pos == text.size())
        return TextError{0, text.size(), fmt::format("give {}, such as \"{}\"", dimension.a_noun, dimension.example)};
    const double sign = scan_sign(text, pos);
    double total = 0.0;
    const UnitName* previous = nullptr;
    while (pos < text.size()) {
        const auto number = scan_number(text, pos);
        if (!number) return number.error();
        const auto part = scan_unit(text, *number, dimension, previous == nullptr);
        if (!part) return part.error();
        const TextError here{part->unit_begin, part->end - part->unit_begin, {}};
        if (previous != nullptr) {
            const UnitName& unit = *part->unit;
            if (unit.family == Family::alone || unit.family != previous->family)
                return TextError{here.offset, here.length,
                                 fmt::format("\"{}\" cannot follow \"{}\" in one quantity", unit.name, previous->name)};
            if (unit.si >= previous->si)
                return TextError{
                    here.offset, here.length,
                    fmt::format("the larger unit comes first: \"{}\" cannot follow \"{}\"", unit.name, previous->name)};
        }
        total += part->value * part->unit->si;
        previous = part->unit;
        pos = skip_space(text, part->end);
    }
    if (previous == nullptr) return TextError{0, text.size(), "a number is missing after the sign"};
    if (!std::isfinite(total)) return TextError{0, text.size(), "the number is too large to work with"};
    return sign * total;
}

}  // namespace patchwright::detail
