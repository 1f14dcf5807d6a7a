// The loops as they are compiled for wider registers against the same loops compiled for any processor: every bit.
#include <algorithm>
#include <bit>
#include <catch2/catch.hpp>
#include <cstdint>
#include <random>
#include <vector>

#include "calibrate.hpp"
#include "cases.hpp"
#include "rate_law.hpp"

#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__)

using namespace patchwright;
using namespace patchwright::cure;
using namespace patchwright::cure::detail;

namespace {

constexpr std::size_t cells = 37;

struct Evaluated {
    std::vector<double> values;
    Rates rates;
    Evaluated() : values(cells) { rates.resize(cells); }
};

[[gnu::target("avx2"), gnu::flatten]] void wide(const RateLaw& law, const std::vector<double>& conversion,
                                                const std::vector<double>& kelvin, Evaluated& out) {
    law.values(conversion.size(), conversion.data(), kelvin.data(), out.values.data());
    law.many(conversion.size(), conversion.data(), kelvin.data(), out.rates);
}

[[gnu::flatten]] void plain(const RateLaw& law, const std::vector<double>& conversion,
                            const std::vector<double>& kelvin, Evaluated& out) {
    law.values(conversion.size(), conversion.data(), kelvin.data(), out.values.data());
    law.many(conversion.size(), conversion.data(), kelvin.data(), out.rates);
}

bool same_bits(const std::vector<double>& a, const std::vector<double>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](double x, double y) {
        return std::bit_cast<std::uint64_t>(x) == std::bit_cast<std::uint64_t>(y);
    });
}

}  // namespace

TEST_CASE("wide registers change no bit of a rate", "[cure]") {
    if (__builtin_cpu_supports("avx2") == 0) {
        WARN("this processor has no AVX2: nothing to compare");
        return;
    }
    std::mt19937 dice{11};
    std::uniform_real_distribution<double> conversion{-0.01, 1.01}, kelvin{270.0, 420.0};
    for (const auto& resin : {test::fast(), test::slow()}) {
        const RateLaw law{calibrate(resin).kinetics};
        for (int round = 0; round < 200; ++round) {
            std::vector<double> a(cells), t(cells);
            for (double& x : a) x = conversion(dice);
            for (double& x : t) x = kelvin(dice);
            Evaluated in_four, in_two;
            wide(law, a, t, in_four);
            plain(law, a, t, in_two);
            CHECK(same_bits(in_four.values, in_two.values));
            CHECK(same_bits(in_four.rates.value, in_two.rates.value));
            CHECK(same_bits(in_four.rates.by_conversion, in_two.rates.by_conversion));
            CHECK(same_bits(in_four.rates.by_temperature, in_two.rates.by_temperature));
        }
    }
}

#endif
