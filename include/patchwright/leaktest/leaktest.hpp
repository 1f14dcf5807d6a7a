#pragma once
#include <cstdint>

#include "patchwright/units/quantity.hpp"
#include "patchwright/working/working.hpp"

/// Acceptance tests of the finished pipe. Method and limits: docs/methods/leaktest.md.
namespace patchwright::leaktest {

enum class AirMethod : std::uint8_t { la, lb, lc, ld, f1417 };
/// EN 1610 gives dry concrete pipes a shorter time, since some air passes their wall.
enum class Wall : std::uint8_t { other, dry_concrete };

struct AirTest {
    Pressure start{};         ///< gauge, above the pressure of any water outside
    Pressure allowed_drop{};  ///< over `time`
    Duration time{};
    Duration settling{};  ///< least wait at `start` before the clock runs
};

/// Air test of a pipe length.
///
/// EN 1610 methods LA, LB, LC, LD (10, 50, 100, 200 mbar; drops 2.5, 10, 15, 15 mbar):
///   t = (1 / Kp) ln(p0 / (p0 - dp)) minutes, Kp = min(0.058, 12 / DN), dry concrete min(0.058, 16 / DN), DN in mm,
///   rounded as the standard's table: to half a minute up to 5 min, to the minute above.
/// ASTM F1417 (plastic pipe, 3.5 psi, drop 0.5 psi):
///   T = 0.085 D K / Q / 2 seconds, K = max(1, 0.000419 D L), D in inches, L in feet, Q = 0.0015 cfm/ft2; not rounded.
/// Source: EN 1610, 13.2 and its table of test times; ASTM F1417, clause on the test time. Both from memory, checked
///   against published tables in the tests.
/// Range: bores to 1000 mm (EN 1610) and 36 in (F1417). Throws RangeError beyond, and unless bore and length are
///   finite and above zero.
AirTest air_test(AirMethod method, Length bore, Length length, Working& working, Wall wall = Wall::other);

struct WaterTest {
    Pressure min_pressure{}, max_pressure{};  ///< at the crown; by filling to ground level between the two
    Duration soaking{};                       ///< pipe full before the clock runs
    Duration time{};
    Volume allowed{};  ///< water added to hold the level over `time`
    Volume fill{};     ///< water to fill the pipe
    Area wetted{};
};

/// EN 1610 method W for pipes without chambers: at most 0.15 l/m2 of wetted wall in 30 min.
///   A = pi D L, V = 0.15 l/m2 A, fill = pi D^2 / 4 L.
/// Source: EN 1610, 13.3. Throws RangeError unless bore and length are finite and above zero.
WaterTest water_test(Length bore, Length length, Working& working);

}  // namespace patchwright::leaktest
