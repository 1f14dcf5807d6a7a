#include "patchwright/job/pipe_table.hpp"

#include <array>

namespace patchwright::job {
namespace {

/// Walls in mm at bores of 100, 150 and 200 mm.
constexpr std::array<double, 3> walls_mm(Material material) {
    switch (material) {
        case Material::clay:
            return {15.0, 18.0, 21.0};
        case Material::concrete:
            return {22.0, 25.0, 30.0};
        case Material::cast_iron:
            return {5.0, 5.0, 6.0};
        case Material::pvc_u:
            return {3.2, 4.0, 4.9};
        case Material::asbestos_cement:
            return {9.0, 11.0, 14.0};
        case Material::pitch_fibre:
            return {8.0, 11.0, 14.0};
        case Material::other:
            return {10.0, 12.0, 15.0};
    }
    return {10.0, 12.0, 15.0};
}

}  // namespace

Sourced<Length> wall_thickness(Material material, Length bore) {
    const auto walls = walls_mm(material);
    const double bore_mm = bore.in(unit::mm);
    double wall_mm = 0.0;
    if (bore_mm <= 100.0) {
        wall_mm = walls[0] * bore_mm / 100.0;
    } else if (bore_mm <= 150.0) {
        wall_mm = walls[0] + (walls[1] - walls[0]) * (bore_mm - 100.0) / 50.0;
    } else if (bore_mm <= 200.0) {
        wall_mm = walls[1] + (walls[2] - walls[1]) * (bore_mm - 150.0) / 50.0;
    } else {
        wall_mm = walls[2] * bore_mm / 200.0;
    }
    return {wall_mm * unit::mm, Origin::looked_up};
}

}  // namespace patchwright::job
