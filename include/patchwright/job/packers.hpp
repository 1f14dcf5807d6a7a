#pragma once
#include <cstdint>
#include <string>
#include <string_view>

#include "patchwright/units/money.hpp"
#include "patchwright/units/quantity.hpp"

/// Packers, and the parts from which packers are built.
namespace patchwright::job {

enum class PackerShape : std::uint8_t { straight, t_piece, y_piece };
enum class BladderMaterial : std::uint8_t { silicone, rubber, pvc_hose };
std::string_view word(PackerShape v);
std::string_view word(BladderMaterial v);

/// A packer that stands built in the yard.
struct Packer {
    std::string id;
    PackerShape shape = PackerShape::straight;
    BladderMaterial material = BladderMaterial::silicone;
    Length usable_min{}, usable_max{};  ///< sleeve lengths that it carries
    Length bore_min{}, bore_max{};
    Length travelling_diameter{};       ///< deflated, without felt
    Length rigid_length{};              ///< longest stiff part (end fitting with tape and clamp, or core)
    Length rigid_diameter{};            ///< across that part, over the clamp
    Length projection{};                ///< bladder beyond the sleeve at each end, when inflated
    Length overall_length{};            ///< tip to tip, with end fittings
    Pressure fill_pressure{};           ///< gauge, to bring the bladder to the bore in open air
    Pressure rated_pressure{};          ///< gauge, marked on the bladder
    bool flow_through = false;          ///< has a bore that passes the drain's flow
    Length hose_length{}, hose_bore{};  ///< air line, counted in the stored energy
    int count = 1;
    Money price{};          ///< new
    int expected_uses = 1;  ///< wear of one use = price / expected uses
};

/// A set of end fittings from which packers are built, with its push rod.
struct Chassis {
    std::string id;
    Length diameter{};  ///< across tape and clamp: the rigid diameter
    Length fitting_length{};
    Length bore_min{}, bore_max{};
    Length rod_length{};  ///< flexible rod that joins the two fittings inside the bladder; longer packers are pulled
    int count = 1;
    Money price{};
    int expected_uses = 1;
};

/// Bladder material by the metre.
struct Bladder {
    std::string id;
    BladderMaterial material = BladderMaterial::silicone;
    Length diameter{};  ///< deflated, round
    Length wall{};
    Length roll_length{};
    double stretch = 1.0;      ///< greatest inflated / deflated diameter
    Pressure fill_pressure{};  ///< gauge, at the greatest stretch
    Pressure rated_pressure{};
    MoneyPer<Length> price{};
    int expected_uses = 1;
    bool doubled = false;  ///< used as two layers, one inside the other
};

}  // namespace patchwright::job
