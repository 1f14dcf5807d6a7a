#include <catch2/catch.hpp>

#include <rapidcheck.h>

#include <limits>
#include <stdexcept>

#include "patchwright/units/error.hpp"
#include "patchwright/units/money.hpp"

using namespace patchwright;

namespace {
const Currency eur{"EUR"};
Money euro(std::int64_t cents) { return Money::cents(cents, eur); }
}  // namespace

TEST_CASE("rounding is half away from zero, to the cent", "[units][money]") {
    CHECK(scaled(euro(1), 0.5).in_cents() == 1);
    CHECK(scaled(euro(-1), 0.5).in_cents() == -1);
    CHECK(scaled(euro(1), 0.499999).in_cents() == 0);
    CHECK(scaled(euro(3), 0.5).in_cents() == 2);
    CHECK(scaled(euro(5), -0.5).in_cents() == -3);
    CHECK(scaled(euro(333), 1.0 / 3.0).in_cents() == 111);
    CHECK(scaled(euro(9'000'000'000'000), 1e6).in_cents() == 9'000'000'000'000'000'000);  // the stated limit
}

TEST_CASE("margin and markup of the same price", "[units][money][reference]") {
    // Source: arithmetic of any estimating handbook: margin = markup / (1 + markup). Figures to the cent on 1000.00.
    CHECK(marked_up(euro(100'000), Share::percent(25.0)).in_cents() == 125'000);
    CHECK(with_margin(euro(100'000), Share::percent(20.0)).in_cents() == 125'000);
    CHECK(with_margin(euro(100'000), Share::percent(33.333333)).in_cents() == 150'000);
    CHECK(with_margin(euro(100'000), Share::percent(15.0)).in_cents() == 117'647);
    CHECK(marked_up(marked_up(euro(100'000), Share::percent(15.0)), Share::percent(10.0)).in_cents() == 126'500);
    CHECK(share_of(euro(151'800), Share::percent(20.0)).in_cents() == 30'360);
    CHECK_THROWS_AS(with_margin(euro(1), Share::percent(100.0)), RangeError);
}

TEST_CASE("prices round up to the next whole step", "[units][money]") {
    CHECK(rounded_up_to(euro(123'401), euro(500)).in_cents() == 123'500);
    CHECK(rounded_up_to(euro(123'500), euro(500)).in_cents() == 123'500);
    CHECK(rounded_up_to(euro(0), euro(500)).in_cents() == 0);
    CHECK(rounded_up_to(euro(-501), euro(500)).in_cents() == -500);
    CHECK_THROWS_AS(rounded_up_to(euro(1), euro(0)), RangeError);
    CHECK_THROWS_AS(rounded_up_to(euro(std::numeric_limits<std::int64_t>::max()), euro(1000)), RangeError);
}

TEST_CASE("currencies never mix", "[units][money][error]") {
    const Money usd = Money::cents(100, Currency{"USD"});
    CHECK_THROWS_AS(euro(1) + usd, std::logic_error);
    CHECK_THROWS_AS(euro(1) < usd, std::logic_error);
    CHECK_THROWS_AS(rounded_up_to(euro(1), usd), std::logic_error);
    CHECK((Money{} + usd).currency() == Currency{"USD"});
    CHECK((usd + Money{}).currency() == Currency{"USD"});
    CHECK_THROWS_AS(Currency{"eur"}, InputError);
    CHECK_THROWS_AS(Currency{"EU"}, InputError);
    CHECK_THROWS_AS(Currency{""}, InputError);
}

TEST_CASE("amounts that do not fit are refused", "[units][money][error]") {
    const Money most = euro(std::numeric_limits<std::int64_t>::max());
    CHECK_THROWS_AS(most + euro(1), RangeError);
    CHECK_THROWS_AS(most * 2, RangeError);
    CHECK_THROWS_AS(scaled(most, 1.5), RangeError);
    CHECK_THROWS_AS(scaled(euro(1), std::numeric_limits<double>::quiet_NaN()), RangeError);
    CHECK_THROWS_AS(scaled(euro(1), 1.1e6), RangeError);
    CHECK_THROWS_AS(Share::percent(std::numeric_limits<double>::quiet_NaN()), RangeError);
}

TEST_CASE("properties of exact money", "[units][money][property]") {
    const auto cents = rc::gen::inRange<std::int64_t>(-1'000'000'000'000, 1'000'000'000'000);
    CHECK(rc::check("sums are exact and in any order the same", [&] {
        const std::int64_t a = *cents, b = *cents, c = *cents;
        RC_ASSERT(((euro(a) + euro(b)) + euro(c)).in_cents() == a + b + c);
        RC_ASSERT(euro(c) + euro(a) + euro(b) == euro(a) + euro(b) + euro(c));
        RC_ASSERT((euro(a) - euro(a)).is_zero());
    }));
    CHECK(rc::check("a share and its rest differ from the whole by a cent at most", [&] {
        const std::int64_t a = *cents;
        const auto n = *rc::gen::inRange<std::int64_t>(0, 1'000'001);
        const Money part = share_of(euro(a), Share::millionths(n)),
                    rest = share_of(euro(a), Share::millionths(1'000'000 - n));
        RC_ASSERT(std::abs((part + rest).in_cents() - a) <= 1);
    }));
    CHECK(rc::check("the product is the nearest cent, ties away from zero", [&] {
        const std::int64_t a = *rc::gen::inRange<std::int64_t>(-1'000'000'000, 1'000'000'000);
        const auto n = *rc::gen::inRange<std::int64_t>(-5'000'000, 5'000'000);
        const std::int64_t product = a * n;  // fits: below 5e15
        const std::int64_t got = share_of(euro(a), Share::millionths(n)).in_cents();
        const std::int64_t twice_off = 2 * (got * 1'000'000 - product);
        RC_ASSERT(std::abs(twice_off) <= 1'000'000);
        if (std::abs(twice_off) == 1'000'000) RC_ASSERT((twice_off > 0) == (product > 0));
        RC_ASSERT(scaled(euro(a), static_cast<double>(n) * 1e-6).in_cents() == got);
    }));
    CHECK(rc::check("a margin leaves its share of the price over cost", [&] {
        const std::int64_t a = *rc::gen::inRange<std::int64_t>(0, 1'000'000'000);
        const auto n = *rc::gen::inRange<std::int64_t>(0, 900'000);
        const Money price = with_margin(euro(a), Share::millionths(n));
        RC_ASSERT(std::abs((price - share_of(price, Share::millionths(n))).in_cents() - a) <= 1);
    }));
}
