#include "patchwright/units/money.hpp"

#include <cmath>
#include <limits>
#include <stdexcept>

#include <fmt/core.h>

#include "patchwright/units/error.hpp"

namespace patchwright {
namespace {

__extension__ using Wide = __int128;
constexpr std::int64_t million = 1'000'000;

/// numerator / denominator, half away from zero; `denominator` positive.
std::int64_t rounded_quotient(Wide numerator, Wide denominator) {
    const bool negative = numerator < 0;
    const Wide magnitude = negative ? -numerator : numerator;
    const Wide quotient = (magnitude + denominator / 2) / denominator;
    if (quotient > std::numeric_limits<std::int64_t>::max())
        throw RangeError("money: the amount is too large to work with");
    return static_cast<std::int64_t>(negative ? -quotient : quotient);
}

/// The currency of two amounts that meet.
Currency common_currency(Currency a, Currency b) {
    if (a.none()) return b;
    if (b.none() || a == b) return a;
    throw std::logic_error(fmt::format("money: {} and {} cannot be mixed", a.code(), b.code()));
}

std::int64_t to_millionths(double value, const char* what) {
    if (!(std::abs(value) <= 1e6)) throw RangeError(fmt::format("money: {} must be between -1e6 and 1e6", what));
    return std::llround(value * 1e6);
}

}  // namespace

Currency::Currency(std::string_view code) {
    const bool valid =
        code.size() == 3 && code.find_first_not_of("ABCDEFGHIJKLMNOPQRSTUVWXYZ") == std::string_view::npos;
    if (!valid) throw InputError(fmt::format("\"{}\" is not a currency; use three capital letters, such as EUR", code));
    for (std::size_t i = 0; i < 3; ++i) code_[i] = code[i];
}

Money& Money::operator+=(Money other) {
    currency_ = common_currency(currency_, other.currency_);
    if (__builtin_add_overflow(cents_, other.cents_, &cents_))
        throw RangeError("money: the sum is too large to work with");
    return *this;
}

Money operator*(Money a, std::int64_t n) {
    std::int64_t product = 0;
    if (__builtin_mul_overflow(a.cents_, n, &product)) throw RangeError("money: the amount is too large to work with");
    return Money{product, a.currency_};
}

std::strong_ordering Money::operator<=>(const Money& other) const {
    common_currency(currency_, other.currency_);
    return cents_ <=> other.cents_;
}

Share Share::percent(double p) { return Share{to_millionths(p / 100.0, "a percentage / 100")}; }

Money scaled(Money amount, double factor) {
    const std::int64_t millionths = to_millionths(factor, "a factor");
    return Money::cents(rounded_quotient(Wide{amount.in_cents()} * millionths, million), amount.currency());
}

Money share_of(Money amount, Share share) {
    return Money::cents(rounded_quotient(Wide{amount.in_cents()} * share.in_millionths(), million), amount.currency());
}

Money marked_up(Money cost, Share markup) {
    return Money::cents(rounded_quotient(Wide{cost.in_cents()} * (million + markup.in_millionths()), million),
                        cost.currency());
}

Money with_margin(Money cost, Share margin) {
    const std::int64_t left = million - margin.in_millionths();
    if (left <= 0) throw RangeError("money: a margin must be below 100 % of the price");
    return Money::cents(rounded_quotient(Wide{cost.in_cents()} * million, left), cost.currency());
}

Money rounded_up_to(Money amount, Money step) {
    const Currency currency = common_currency(amount.currency(), step.currency());
    const std::int64_t unit = step.in_cents();
    if (unit <= 0) throw RangeError("money: the step of rounding must be above zero");
    const std::int64_t cents = amount.in_cents();
    const std::int64_t below = cents - ((cents % unit) + unit) % unit;
    const Money floor = Money::cents(below, currency);
    return below == cents ? floor : floor + Money::cents(unit, currency);
}

std::string decimal_text(Money amount) {
    const std::int64_t cents = amount.in_cents();
    const std::uint64_t magnitude =
        cents < 0 ? 0 - static_cast<std::uint64_t>(cents) : static_cast<std::uint64_t>(cents);
    return fmt::format("{}{}.{:02}", cents < 0 ? "-" : "", magnitude / 100, magnitude % 100);
}

}  // namespace patchwright
