#pragma once
#include <cstdint>
#include "patchwright/units/quantity.hpp"
#include "patchwright/working/working.hpp"

/// Acceptance tests of the finished pipe.
namespace patchwright::leaktest {

enum class AirMethod : std::uint8_t { la, lb, lc, ld, f1417 };
struct AirTest {
    Pressure start{}, allowed_drop{};
    Duration time{}, settling{};
};
/// EN 1610 methods LA..LD ("other materials", rounded as its table); ASTM F1417, 0.5 psi drop (not rounded).
AirTest air_test(AirMethod method, Length bore, Length length, Working& working);

struct WaterTest {
    Pressure pressure{};
    Duration time{};
    Volume allowed{};
    Volume fill{};
    Area wetted{};
};
/// EN 1610 method W: 0.15 l/m2 in 30 min for pipes.
WaterTest water_test(Length bore, Length length, Working& working);

}  // namespace patchwright::leaktest
