#include <catch2/catch.hpp>

#include <limits>

#include "patchwright/excavation/trench.hpp"
#include "patchwright/units/error.hpp"
#include "support/working_off.hpp"

using namespace patchwright;
using namespace patchwright::excavation;

namespace {
constexpr double nan_value = std::numeric_limits<double>::quiet_NaN();
double width_m(double od_mm, double depth_m, bool battered = false) {
    return least_width_en1610(od_mm * unit::mm, depth_m * unit::m, battered, off).in(unit::m);
}
}  // namespace

TEST_CASE("trench widths follow the tables of EN 1610", "[excavation][reference]") {
    // Source: EN 1610:2015, 6.2, tables 1 and 2, as printed in the widths annex of DGUV Information 201-052 and a
    // training page on the standard: OD + 0.40 m to DN 225; OD + 0.50 m to DN 350, but 0.40 m battered to 60 degrees
    // or flatter; by depth none below 1.00 m, 0.80 m to 1.75 m, 0.90 m to 4.00 m, 1.00 m beyond; the larger governs.
    // OD + 0.70 m above DN 350: the same table, from memory.
    struct Row {
        double od_mm, depth_m;
        bool battered;
        double width_m;
    };
    const auto row = GENERATE(Row{110, 0.90, false, 0.510}, Row{110, 0.999, false, 0.510}, Row{110, 1.00, false, 0.80},
                              Row{110, 1.50, false, 0.80}, Row{110, 1.75, false, 0.80}, Row{110, 1.76, false, 0.90},
                              Row{160, 0.90, false, 0.560}, Row{160, 4.00, false, 0.90}, Row{160, 4.01, false, 1.00},
                              Row{250, 0.90, false, 0.750}, Row{315, 0.90, false, 0.815}, Row{315, 3.00, true, 0.715},
                              Row{110, 3.00, true, 0.510}, Row{400, 2.00, false, 1.10}, Row{225, 0.90, false, 0.625});
    CAPTURE(row.od_mm, row.depth_m, row.battered);
    CHECK(width_m(row.od_mm, row.depth_m, row.battered) == Approx(row.width_m).margin(1e-12).epsilon(0));
}

TEST_CASE("trench width by ASTM D2321", "[excavation][reference]") {
    // Source: ASTM D2321-05 (section 6, from memory), on a training page: the greater of OD + 16 in and 1.25 OD + 12
    // in. First row: 4 in sewer pipe, OD 4.215 in (ASTM D3034, table 1): max(20.215, 17.269) in = 513 mm. Last row:
    // where the two rules meet, OD 16 in.
    struct Row {
        double od_in, width_in;
    };
    const auto row = GENERATE(Row{4.215, 20.215}, Row{6.275, 22.275}, Row{20.0, 37.0}, Row{16.0, 32.0});
    CAPTURE(row.od_in);
    CHECK(least_width_d2321(row.od_in * unit::in, off).in(unit::in) == Approx(row.width_in).epsilon(1e-12));
    CHECK(least_width_d2321(107.0 * unit::mm, off).in(unit::mm) == Approx(513.4).margin(0.01));
}

TEST_CASE("a trench is dug with the next wider bucket", "[excavation]") {
    // Bucket widths actually dug, 300 to 900 mm: common practice, no source.
    const std::vector<Length> buckets{300 * unit::mm, 450 * unit::mm, 600 * unit::mm, 750 * unit::mm, 900 * unit::mm};
    CHECK(bucket_width(510 * unit::mm, buckets) == 600 * unit::mm);
    CHECK(bucket_width(600 * unit::mm, buckets) == 600 * unit::mm);
    CHECK(bucket_width(601 * unit::mm, buckets) == 750 * unit::mm);
    CHECK(bucket_width(100 * unit::mm, buckets) == 300 * unit::mm);
    CHECK(bucket_width(1.1 * unit::m, buckets) == 1.1 * unit::m);  // two cuts
    CHECK(bucket_width(510 * unit::mm, {}) == 510 * unit::mm);
    CHECK(bucket_width(510 * unit::mm, {900 * unit::mm, 600 * unit::mm}) == 600 * unit::mm);  // in any order
}

TEST_CASE("volumes of battered trenches and pits", "[excavation][reference]") {
    // Source: prismoidal rule on b = 0.6 m, L = 3 m by hand: D [b L + z D (b + L) + 4/3 z^2 D^2] and L D (b + z D).
    struct Row {
        double depth, slope, sides_only, pit, average_of_areas, top_width;
    };
    const auto row = GENERATE(Row{1.5, 0.0, 2.700, 2.700, 2.700, 0.60}, Row{1.5, 1.0, 9.450, 15.300, 17.550, 3.60},
                              Row{1.5, 1.5, 12.825, 24.975, 30.0375, 5.10}, Row{2.5, 0.0, 4.500, 4.500, 4.500, 0.60});
    CAPTURE(row.depth, row.slope);
    const Length b = 0.6 * unit::m;
    const Length l = 3.0 * unit::m;
    const Length d = row.depth * unit::m;
    const Trench t = trench(b, l, d, row.slope, off);
    CHECK(t.volume.in(unit::m3) == Approx(row.pit).epsilon(1e-12));
    CHECK(side_battered_volume(b, l, d, row.slope).in(unit::m3) == Approx(row.sides_only).epsilon(1e-12));
    CHECK(t.top_width.in(unit::m) == Approx(row.top_width).epsilon(1e-12));
    const Volume average = 0.5 * d * (b * l + t.top_area);
    CHECK(average.in(unit::m3) == Approx(row.average_of_areas).epsilon(1e-12));
    CHECK(t.volume.si() <= average.si() + 1e-12);
    // The same by the rule for any prismoid, D/6 (A_bottom + 4 A_middle + A_top).
    const Area middle = (b + row.slope * d) * (l + row.slope * d);
    CHECK(prismoidal_volume(b * l, middle, t.top_area, d).si() == Approx(t.volume.si()).epsilon(1e-12));
}

TEST_CASE("the volume of a pit is the sum of its slices", "[excavation][reference]") {
    // Outside the closed form: the section at height h is (b + 2 z h)(L + 2 z h); the midpoint rule with n slices errs
    // by less than D^3 / (24 n^2) times the second derivative 8 z^2, here 3e-7 m3 at most.
    const double slope = GENERATE(0.0, 0.5, 0.75, 1.5);
    const double height = GENERATE(0.4, 1.1, 2.3);
    const Trench t = trench(0.75 * unit::m, 1.9 * unit::m, 2.3 * unit::m, slope, off);
    constexpr int n = 4000;
    double sum = 0.0;
    for (int i = 0; i < n; ++i) {
        const double h = height * (i + 0.5) / n;
        sum += (0.75 + 2 * slope * h) * (1.9 + 2 * slope * h) * height / n;
    }
    CAPTURE(slope, height);
    CHECK(volume_below(t, height * unit::m).si() == Approx(sum).margin(1e-6).epsilon(0));
    CHECK(volume_below(t, 9.0 * unit::m) == t.volume);
    CHECK(volume_below(t, -1.0 * unit::m) == Volume{});
}

TEST_CASE("sheeted area is the four sides", "[excavation]") {
    const Trench t = trench(0.6 * unit::m, 3.0 * unit::m, 1.5 * unit::m, 0.0, off);
    CHECK(t.sheeted.in(unit::m2) == Approx(2 * (3.0 + 0.6) * 1.5));
}

TEST_CASE("the new pipe has a listed outside diameter", "[excavation][reference]") {
    // Source: EN 1401-1 (table 3, from memory), as in makers' tables: nominal outside diameters 110 to 500 mm; the
    // usual pairs of nominal size DN/ID and DN/OD (100 - 110, 150 - 160, 300 - 315), common practice. A bore between
    // two sizes takes the larger.
    struct Row {
        double bore, od;
    };
    const auto row = GENERATE(Row{100, 110}, Row{101.6, 110}, Row{103, 110}, Row{110, 125}, Row{150, 160},
                              Row{152.4, 160}, Row{160, 200}, Row{200, 250}, Row{225, 250}, Row{300, 315}, Row{70, 75});
    CAPTURE(row.bore);
    CHECK(replacement_diameter(row.bore * unit::mm).in(unit::mm) == Approx(row.od));
}

TEST_CASE("a bore beyond the list takes the nearest pipe, and says that it is none of the list", "[excavation]") {
    struct Row {
        double bore, od;
        bool listed;
    };
    const auto row = GENERATE(Row{1e-7, 40, false}, Row{20, 40, false}, Row{24.9, 40, false}, Row{25, 40, true},
                              Row{100, 110, true}, Row{480, 500, true}, Row{481, 500, false}, Row{600, 500, false});
    CAPTURE(row.bore);
    CHECK(replacement_diameter(row.bore * unit::mm).in(unit::mm) == Approx(row.od));
    CHECK(replacement_listed(row.bore * unit::mm) == row.listed);
}

TEST_CASE("trench calculations refuse what makes no trench", "[excavation][error]") {
    const double bad = GENERATE(-1.0, 0.0, nan_value);
    CAPTURE(bad);
    const Length m = 1.0 * unit::m;
    CHECK_THROWS_AS(trench(bad * m, m, m, 0.0, off), RangeError);
    CHECK_THROWS_AS(trench(m, bad * m, m, 0.0, off), RangeError);
    CHECK_THROWS_AS(trench(m, m, bad * m, 0.0, off), RangeError);
    CHECK_THROWS_AS(least_width_en1610(bad * m, m, off), RangeError);
    CHECK_THROWS_AS(least_width_en1610(0.1 * m, bad * m, off), RangeError);
    CHECK_THROWS_AS(least_width_d2321(bad * m, off), RangeError);
    CHECK_THROWS_AS(bucket_width(bad * m, {}), RangeError);
    CHECK_THROWS_AS(replacement_diameter(bad * m), RangeError);
    CHECK_THROWS_AS(prismoidal_volume(m * m, m * m, m * m, bad * m), RangeError);
    CHECK_THROWS_AS(side_battered_volume(m, m, bad * m, 0.0), RangeError);
}

TEST_CASE("trench calculations refuse slopes and pipes beyond the method", "[excavation][error]") {
    const Length m = 1.0 * unit::m;
    CHECK_THROWS_AS(trench(m, m, m, -0.1, off), RangeError);
    CHECK_THROWS_AS(trench(m, m, m, nan_value, off), RangeError);
    CHECK_THROWS_AS(trench(m, m, m, 11.0, off), RangeError);
    CHECK_THROWS_AS(least_width_en1610(0.71 * m, m, off), RangeError);
    CHECK_THROWS_AS(least_width_en1610(0.1 * m, 15.1 * m, off), RangeError);
    CHECK_THROWS_AS(prismoidal_volume(-1.0 * (m * m), m * m, m * m, m), RangeError);
}

TEST_CASE("the working of a trench says formula, values and source", "[excavation]") {
    Working w;
    least_width_en1610(110 * unit::mm, 1.5 * unit::m, w);
    trench(0.9 * unit::m, 3 * unit::m, 1.5 * unit::m, 0.0, w);
    REQUIRE(w.steps().size() == 2);
    CHECK(w.steps()[0].formula->id == "en1610.width");
    CHECK(w.steps()[0].result == Approx(0.8));
    CHECK(w.steps()[1].result == Approx(0.9 * 3 * 1.5));
    CHECK(w.steps()[1].inputs().size() == w.steps()[1].formula->inputs.size());
}
