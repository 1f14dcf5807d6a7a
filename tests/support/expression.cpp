#include "expression.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <vector>

namespace patchwright::test {
namespace {

bool begins_name(char c) { return std::isalpha(static_cast<unsigned char>(c)) != 0; }
bool in_name(char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_' || c == '\''; }

// Handbook values of the units that stand in texts.
const Symbols constants{{"pi", std::numbers::pi},
                        {"kg", 1.0},
                        {"m", 1.0},
                        {"m2", 1.0},
                        {"s", 1.0},
                        {"min", 60.0},
                        {"h", 3600.0},
                        {"l", 1e-3},
                        {"J", 1.0},
                        {"K", 1.0},
                        {"in", 0.0254},
                        {"ft", 0.3048},
                        {"W", 1.0},
                        {"mm", 1e-3},
                        {"days", 86400.0},
                        {"gram", 1e-3}};

class Reader {
public:
    Reader(std::string_view text, const Symbols& symbols) : text_{text}, symbols_{symbols} {}

    double all() {
        const double value = sum();
        skip();
        if (at_ != text_.size()) fail("cannot read on");
        return value;
    }

private:
    [[noreturn]] void fail(const std::string& why) const {
        throw std::invalid_argument(why + " at \"" + std::string{text_.substr(std::min(at_, text_.size()))} + "\"");
    }
    void skip() {
        while (at_ < text_.size() && text_[at_] == ' ') ++at_;
    }
    bool take(char c) {
        skip();
        if (at_ >= text_.size() || text_[at_] != c) return false;
        ++at_;
        return true;
    }
    char next() {
        skip();
        return at_ < text_.size() ? text_[at_] : '\0';
    }
    double sum() {
        double value = product();
        for (;;) {
            if (take('+')) {
                value += product();
            } else if (take('-')) {
                value -= product();
            } else {
                return value;
            }
        }
    }
    double product() {
        double value = factor();
        for (;;) {
            const char c = next();
            if (take('*')) {
                value *= factor();
            } else if (take('/')) {
                value /= factor();
            } else if (c == '(' || c == '[' || begins_name(c) || std::isdigit(static_cast<unsigned char>(c))) {
                value *= factor();
            } else {
                return value;
            }
        }
    }
    double factor() {
        if (take('-')) return -factor();
        const double base = primary();
        return take('^') ? std::pow(base, factor()) : base;
    }
    double primary() {
        for (const auto [open, close] : {std::pair{'(', ')'}, std::pair{'[', ']'}}) {
            if (!take(open)) continue;
            const double value = sum();
            if (!take(close)) fail("a bracket is not closed");
            return value;
        }
        const char c = next();
        if (std::isdigit(static_cast<unsigned char>(c))) return number();
        if (begins_name(c)) return name();
        fail("a value is missing");
    }
    double number() {
        std::size_t used = 0;
        const double value = std::stod(std::string{text_.substr(at_)}, &used);
        at_ += used;
        return value;
    }
    double name() {
        const std::size_t from = at_;
        while (at_ < text_.size() && in_name(text_[at_])) ++at_;
        const std::string word{text_.substr(from, at_ - from)};
        if (const auto symbol = symbols_.find(word); symbol != symbols_.end()) return symbol->second;
        if (at_ < text_.size() && text_[at_] == '(') return function(word);
        if (const auto constant = constants.find(word); constant != constants.end()) return constant->second;
        at_ = from;
        fail("no symbol \"" + word + "\"");
    }
    double function(const std::string& word) {
        take('(');
        std::vector<double> values{sum()};
        while (take(',')) values.push_back(sum());
        if (!take(')')) fail("a bracket is not closed");
        if (word == "min") return *std::min_element(values.begin(), values.end());
        if (word == "max") return *std::max_element(values.begin(), values.end());
        if (word == "up_to_step" && values.size() == 2)
            return values[1] > 0.0 ? std::ceil(values[0] / values[1] - 1e-9) * values[1] : values[0];
        if (values.size() != 1) fail("too many values for " + word);
        const double x = values.front();
        if (word == "sqrt") return std::sqrt(x);
        if (word == "exp") return std::exp(x);
        if (word == "ln") return std::log(x);
        if (word == "sin") return std::sin(x);
        if (word == "cos") return std::cos(x);
        // Marks come from divisions, which miss whole numbers by the last digit.
        if (word == "floor") return std::floor(x + 1e-9);
        if (word == "ceil") return std::ceil(x - 1e-9);
        fail("no function \"" + word + "\"");
    }

    std::string_view text_;
    const Symbols& symbols_;
    std::size_t at_ = 0;
};

std::string_view trimmed(std::string_view text) {
    while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
    while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
    return text;
}

/// Parts at commas and semicolons outside brackets.
std::vector<std::string_view> clauses(std::string_view text) {
    std::vector<std::string_view> parts;
    int depth = 0;
    std::size_t from = 0;
    for (std::size_t i = 0; i <= text.size(); ++i) {
        if (i < text.size() && (text[i] == '(' || text[i] == '[')) ++depth;
        if (i < text.size() && (text[i] == ')' || text[i] == ']')) --depth;
        if (i < text.size() && (depth > 0 || (text[i] != ',' && text[i] != ';'))) continue;
        parts.push_back(trimmed(text.substr(from, i - from)));
        from = i + 1;
    }
    return parts;
}

std::string_view last_word(std::string_view text) {
    const auto blank = text.rfind(' ');
    return blank == std::string_view::npos ? text : text.substr(blank + 1);
}

/// "h in feet": the symbol's value in that unit.
bool convert(std::string_view clause, Symbols& symbols) {
    const auto in = clause.find(" in ");
    if (in == std::string_view::npos) return false;
    const auto symbol = symbols.find(clause.substr(0, in));
    if (symbol == symbols.end()) return false;
    static const Symbols units{{"feet", 0.3048}, {"inches", 0.0254}, {"mm", 1e-3},     {"hours", 3600.0},
                               {"kelvin", 1.0},  {"radians", 1.0},   {"days", 86400.0}};
    const auto unit = units.find(clause.substr(in + 4));
    if (unit == units.end()) throw std::invalid_argument("no unit in \"" + std::string{clause} + "\"");
    symbol->second /= unit->second;
    return true;
}

}  // namespace

double evaluate(std::string_view expression, const Symbols& symbols) { return Reader{expression, symbols}.all(); }

TextValue evaluate_text(std::string_view text, Symbols symbols) {
    TextValue result;
    const auto parts = clauses(text);
    for (const auto& clause : parts) {
        if (clause == "to the gram") result.rounding = Rounding::nearest_gram;
        if (clause == "up to the whole gram") result.rounding = Rounding::up_to_gram;
        if (clause == "to the cent" || clause == "each to the cent") result.rounding = Rounding::nearest_cent;
        convert(clause, symbols);
    }
    // Parts of the expression that are named after it.
    for (std::size_t i = parts.size(); i-- > 1;) {
        const auto equals = parts[i].find(" = ");
        if (equals == std::string_view::npos) continue;
        symbols[std::string{last_word(parts[i].substr(0, equals))}] = evaluate(parts[i].substr(equals + 3), symbols);
    }
    const auto equals = parts.front().find(" = ");
    if (equals == std::string_view::npos) throw std::invalid_argument("no equation");
    result.value = evaluate(parts.front().substr(equals + 3), symbols);
    return result;
}

}  // namespace patchwright::test
