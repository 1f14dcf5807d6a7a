#pragma once
#include <bit>
#include <cstdint>

namespace patchwright::cure::detail {

/// exp(x) for -700 < x < 700, relative error below 2e-15 (measured over that range against the C library's in long
/// double). Written out so that it is inlined and gives the same bits on every machine: the library's own differs with
/// the processor in the last digit. Method: x = k ln 2 + r, Taylor polynomial of degree 12 for r, Estrin's order.
inline double exponential(double x) {
    constexpr double log2_e = 1.4426950408889634074;
    constexpr double ln2_high = 6.93147180369123816490e-01;  // the first 33 bits of ln 2, so that k ln2_high is exact
    constexpr double ln2_low = 1.90821492927058770002e-10;
    constexpr double shift = 6755399441055744.0;  // 1.5 * 2^52: adding it rounds to a whole number
    const double shifted = x * log2_e + shift;
    const double k = shifted - shift;
    const double r = (x - k * ln2_high) - k * ln2_low;
    const double r2 = r * r;
    const double r4 = r2 * r2;
    const double r8 = r4 * r4;
    const double p01 = 1.0 + r;
    const double p23 = 1.0 / 2 + r * (1.0 / 6);
    const double p45 = 1.0 / 24 + r * (1.0 / 120);
    const double p67 = 1.0 / 720 + r * (1.0 / 5040);
    const double p89 = 1.0 / 40320 + r * (1.0 / 362880);
    const double pab = 1.0 / 3628800 + r * (1.0 / 39916800);
    const double high = p89 + pab * r2 + r4 * (1.0 / 479001600);
    const double polynomial = (p01 + p23 * r2) + (p45 + p67 * r2) * r4 + high * r8;
    // The low bits of `shifted` hold k: moved into the exponent they multiply by 2^k.
    const auto bits = std::bit_cast<std::uint64_t>(shifted) << 52;
    return std::bit_cast<double>(std::bit_cast<std::uint64_t>(polynomial) + bits);
}

/// 1 / cbrt(x) for x > 0, to five digits: enough to choose a step by. A third of the exponent taken off in the bits,
/// then Newton's rule twice.
inline double inverse_cube_root(double x) {
    const auto third = std::bit_cast<std::uint64_t>(x) / 3;
    double y = std::bit_cast<double>(std::uint64_t{0x553EF0FF289DD796} - third);
    y *= (4.0 - x * y * y * y) * (1.0 / 3.0);
    y *= (4.0 - x * y * y * y) * (1.0 / 3.0);
    return y;
}

}  // namespace patchwright::cure::detail
