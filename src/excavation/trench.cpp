#include "patchwright/excavation/trench.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/core.h>

#include "patchwright/units/error.hpp"

namespace patchwright::excavation {
namespace {

constexpr std::array width_symbols{
    Symbol{"OD", "outside diameter", Show::tape},
    Symbol{"D", "trench depth", Show::run_distance},
    Symbol{"x", "addition by pipe size", Show::tape},
    Symbol{"b_D", "least width by depth", Show::tape},
};
constexpr Formula en1610_width{.id = "en1610.width",
                               .result = {"b", "least trench width", Show::tape},
                               .text = "b = max(OD + x, b_D)",
                               .inputs = width_symbols,
                               .source = "EN 1610:2015, 6.2, tables 1 and 2",
                               .page = "excavation"};

constexpr std::array d2321_symbols{Symbol{"OD", "outside diameter", Show::tape}};
constexpr Formula d2321_width{.id = "d2321.width",
                              .result = {"b", "least trench width", Show::tape},
                              .text = "b = max(OD + 16 in, 1.25 OD + 12 in)",
                              .inputs = d2321_symbols,
                              .source = "ASTM D2321, section 6",
                              .page = "excavation"};

constexpr std::array prismoid_symbols{
    Symbol{"b", "bottom width", Show::tape},
    Symbol{"L", "bottom length", Show::run_distance},
    Symbol{"D", "depth", Show::run_distance},
    Symbol{"z", "slope, horizontal per vertical", Show::ratio},
};
constexpr Formula prismoid{.id = "trench.volume",
                           .result = {"V", "volume", Show::big_volume},
                           .text = "V = D [b L + z D (b + L) + 4/3 z^2 D^2]",
                           .inputs = prismoid_symbols,
                           .source = "prismoidal rule; derived here, docs/methods/excavation.md",
                           .page = "excavation"};

void need_positive(Length value, std::string_view what) {
    if (!is_finite(value) || value.si() <= 0.0) {
        throw RangeError(fmt::format("trench: the {} must be above zero, got {} m", what, value.in(unit::m)));
    }
}
void need_slope(double slope) {
    if (!(slope >= 0.0 && slope <= 10.0)) {
        throw RangeError(fmt::format("trench: slope is horizontal per vertical, 0 to 10, got {}", slope));
    }
}

Length addition_by_size(Length outside_diameter, bool battered) {
    if (battered || outside_diameter <= 225.0 * unit::mm) return 0.40 * unit::m;
    if (outside_diameter <= 350.0 * unit::mm) return 0.50 * unit::m;
    return 0.70 * unit::m;
}
Length min_by_depth(Length depth, bool battered) {
    if (battered || depth < 1.00 * unit::m) return {};
    if (depth <= 1.75 * unit::m) return 0.80 * unit::m;
    if (depth <= 4.00 * unit::m) return 0.90 * unit::m;
    return 1.00 * unit::m;
}

Volume prismoid_volume(Length b, Length l, Length d, double z) {
    return d * (b * l + z * d * (b + l) + (4.0 / 3.0) * z * z * (d * d));
}

}  // namespace

Length least_width_en1610(Length outside_diameter, Length depth, bool battered, Working& working) {
    need_positive(outside_diameter, "outside diameter");
    need_positive(depth, "depth");
    if (outside_diameter > 0.7 * unit::m || depth > 15.0 * unit::m) {
        throw RangeError(
            fmt::format("trench width: the tables are held here up to 700 mm pipe and 15 m depth, got {} mm "
                        "and {} m; ask an engineer",
                        outside_diameter.in(unit::mm), depth.in(unit::m)));
    }
    const Length x = addition_by_size(outside_diameter, battered);
    const Length by_depth = min_by_depth(depth, battered);
    const Length width = std::max(outside_diameter + x, by_depth);
    working.add(en1610_width,
                {{outside_diameter, Origin::looked_up}, depth, {x, Origin::looked_up}, {by_depth, Origin::looked_up}},
                width);
    return width;
}

Length least_width_d2321(Length outside_diameter, Working& working) {
    need_positive(outside_diameter, "outside diameter");
    if (outside_diameter > 1.5 * unit::m) {
        throw RangeError(fmt::format("trench width: the rule is held here up to 1500 mm pipe, got {} mm",
                                     outside_diameter.in(unit::mm)));
    }
    const Length width = std::max(outside_diameter + 16.0 * unit::in, 1.25 * outside_diameter + 12.0 * unit::in);
    working.add(d2321_width, {{outside_diameter, Origin::looked_up}}, width);
    return width;
}

Length bucket_width(Length least, const std::vector<Length>& buckets) {
    need_positive(least, "least width");
    Length best{};
    for (const Length bucket : buckets) {
        // A tape reads no finer than a millimetre: a bucket that is as good as wide enough is wide enough.
        if (bucket >= least - 0.5 * unit::mm && (best == Length{} || bucket < best)) best = bucket;
    }
    return best == Length{} ? least : best;
}

bool replacement_listed(Length bore) { return bore >= 25.0 * unit::mm && bore <= 480.0 * unit::mm; }

Length replacement_diameter(Length bore) {
    need_positive(bore, "bore");
    constexpr std::array diameters_mm{40.0,  50.0,  63.0,  75.0,  90.0,  110.0, 125.0, 160.0,
                                      200.0, 250.0, 315.0, 355.0, 400.0, 450.0, 500.0};
    constexpr double bore_share = 1.0 - 2.0 / 34.0;  // SDR 34
    for (const double d : diameters_mm) {
        if (d * bore_share >= 0.97 * bore.in(unit::mm)) return d * unit::mm;
    }
    return diameters_mm.back() * unit::mm;
}

Trench trench(Length width, Length length, Length depth, double slope, Working& working) {
    need_positive(width, "width");
    need_positive(length, "length");
    need_positive(depth, "depth");
    need_slope(slope);
    Trench t;
    t.width = width;
    t.length = length;
    t.depth = depth;
    t.slope = slope;
    t.top_width = width + 2.0 * slope * depth;
    t.top_length = length + 2.0 * slope * depth;
    t.volume = prismoid_volume(width, length, depth, slope);
    t.sheeted = 2.0 * (length + width) * depth;
    t.top_area = t.top_width * t.top_length;
    working.add(prismoid, {width, length, depth, slope}, t.volume);
    return t;
}

Volume volume_below(const Trench& t, Length height) {
    return prismoid_volume(t.width, t.length, std::clamp(height, Length{}, t.depth), t.slope);
}

Volume prismoidal_volume(Area bottom, Area middle, Area top, Length depth) {
    need_positive(depth, "depth");
    if (!(bottom.si() >= 0.0 && middle.si() >= 0.0 && top.si() >= 0.0)) {
        throw RangeError("prismoidal rule: areas may not be negative");
    }
    return depth * (bottom + 4.0 * middle + top) / 6.0;
}

Volume side_battered_volume(Length width, Length length, Length depth, double slope) {
    need_positive(width, "width");
    need_positive(length, "length");
    need_positive(depth, "depth");
    need_slope(slope);
    return length * depth * (width + slope * depth);
}

}  // namespace patchwright::excavation
