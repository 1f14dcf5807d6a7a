#pragma once
#include <array>
#include <compare>
#include <cstdint>
#include <string>
#include <string_view>

#include "patchwright/units/quantity.hpp"

namespace patchwright {

/// ISO 4217 code. The default is "none": a plain zero that fits every currency.
class Currency {
public:
    constexpr Currency() = default;
    /// Throws InputError unless `code` is three capital letters.
    explicit Currency(std::string_view code);
    constexpr bool none() const { return code_[0] == '\0'; }
    std::string_view code() const { return none() ? std::string_view{} : std::string_view{code_.data(), 3}; }
    constexpr bool operator==(const Currency&) const = default;

private:
    std::array<char, 3> code_{};
};

/// An exact amount in hundredths of the currency.
///
/// Rounding rule, the only one in the program: half away from zero, to the cent, once per line
/// of a build-up, at the moment a rate meets a quantity. Sums are exact.
class Money {
public:
    constexpr Money() = default;
    static constexpr Money cents(std::int64_t value, Currency currency) { return Money{value, currency}; }

    constexpr std::int64_t in_cents() const { return cents_; }
    constexpr Currency currency() const { return currency_; }
    constexpr bool is_zero() const { return cents_ == 0; }

    /// Throws std::logic_error when both have a currency and they differ (the reader has refused such a file
    /// long before), RangeError when the result does not fit.
    Money& operator+=(Money other);
    Money& operator-=(Money other) { return *this += -other; }
    friend Money operator+(Money a, Money b) { return a += b; }
    friend Money operator-(Money a, Money b) { return a -= b; }
    constexpr Money operator-() const { return Money{-cents_, currency_}; }
    friend Money operator*(Money a, std::int64_t n);

    /// Order by amount. Throws std::logic_error on different currencies.
    std::strong_ordering operator<=>(const Money& other) const;
    bool operator==(const Money& other) const { return (*this <=> other) == 0; }

private:
    constexpr Money(std::int64_t value, Currency currency) : cents_{value}, currency_{currency} {}
    std::int64_t cents_ = 0;
    Currency currency_{};
};

/// A proportion held exactly, in millionths: 12.5 % is 125 000.
class Share {
public:
    constexpr Share() = default;
    static constexpr Share millionths(std::int64_t n) { return Share{n}; }
    static Share percent(double p);  ///< rounded to a millionth
    constexpr std::int64_t in_millionths() const { return n_; }
    constexpr double as_double() const { return static_cast<double>(n_) * 1e-6; }
    constexpr auto operator<=>(const Share&) const = default;

private:
    constexpr explicit Share(std::int64_t n) : n_{n} {}
    std::int64_t n_ = 0;
};

/// `amount` times `factor`, the factor first rounded to a millionth, the product to the cent.
/// Exact for |amount| up to 9e12 cents and |factor| up to 1e6. Throws RangeError for a factor beyond that or NaN,
/// and for a result that does not fit.
Money scaled(Money amount, double factor);
Money share_of(Money amount, Share share);
/// Markup that turns cost into price: cost * (1 + share).
Money marked_up(Money cost, Share markup);
/// Price at which `margin` of the price is left over cost: cost / (1 - margin). Throws RangeError unless margin < 1.
Money with_margin(Money cost, Share margin);
/// `amount` rounded up to a whole multiple of `step` (towards the customer's next round figure).
/// Throws RangeError unless `step` is above zero.
Money rounded_up_to(Money amount, Money step);

/// A price per unit of something, such as 38.50 EUR/m. `amount` is what one `per` costs.
template <class Q>
struct MoneyPer {
    Money amount{};
    Q per = Q::from_si(1.0);
};
template <Dim D>
Money cost(const MoneyPer<Quantity<D>>& rate, Quantity<D> quantity) {
    return scaled(rate.amount, quantity.in(rate.per));
}

/// "1234.50", a decimal string with two places and no currency: the form of the JSON output.
std::string decimal_text(Money amount);

}  // namespace patchwright
