#include <catch2/catch.hpp>

#include "patchwright/units/parse.hpp"

using namespace patchwright;

TEST_CASE("conversion factors of the handbook", "[units][reference]") {
    // Source: NIST SP 811 (2008), Appendix B.8, to the seven digits printed there; from memory.
    struct Row {
        const char* what;
        double ours, printed;
    };
    const auto row =
        GENERATE(Row{"inch, m", unit::in.si(), 2.54e-2}, Row{"foot, m", unit::ft.si(), 3.048e-1},
                 Row{"yard, m", unit::yd.si(), 9.144e-1}, Row{"gallon (US), m3", unit::gallon.si(), 3.785412e-3},
                 Row{"fluid ounce (US), m3", unit::fluid_ounce.si(), 2.957353e-5},
                 Row{"cubic yard, m3", unit::yd3.si(), 7.645549e-1}, Row{"cubic foot, m3", unit::ft3.si(), 2.831685e-2},
                 Row{"square foot, m2", unit::ft2.si(), 9.290304e-2}, Row{"pound, kg", unit::lb.si(), 4.535924e-1},
                 Row{"ounce, kg", unit::oz.si(), 2.834952e-2}, Row{"short ton, kg", unit::us_ton.si(), 9.071847e2},
                 Row{"pound-force, N", unit::lbf.si(), 4.448222}, Row{"psi, Pa", unit::psi.si(), 6.894757e3},
                 Row{"pound-force per square foot, Pa", unit::psf.si(), 4.788026e1},
                 Row{"foot pound-force, J", unit::ft_lbf.si(), 1.355818},
                 Row{"pound per cubic foot, kg/m3", parse_density("1 lb/ft3")->si(), 1.601846e1},
                 Row{"ounce per square foot, kg/m2", parse_areal_mass("1 oz/ft2")->si(), 3.051517e-1},
                 Row{"ounce per square yard, kg/m2", parse_areal_mass("1 oz/yd2")->si(), 3.390575e-2},
                 Row{"gallon per minute, m3/s", parse_volume_flow("1 gpm")->si(), 6.309020e-5});
    CAPTURE(row.what);
    CHECK(row.ours == Approx(row.printed).epsilon(5e-7));
}
