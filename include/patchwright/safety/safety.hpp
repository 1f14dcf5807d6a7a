#pragma once
#include <cstdint>
#include <string_view>
#include <vector>

#include "patchwright/job/job.hpp"
#include "patchwright/job/resin.hpp"
#include "patchwright/units/format.hpp"
#include "patchwright/units/quantity.hpp"

/// One table of cautions, each with what triggers it. Wording of our own; public source beside each.
/// A caution says what is dangerous and ends in what to do. None replaces local codes, the resin's safety data sheet
/// or licensed practice, and the first, which is always there, says so.
namespace patchwright::safety {

struct Caution {
    std::string_view id;      ///< "epoxy-skin"; stable
    std::string_view title;   ///< "Epoxy on skin"
    std::string_view text;    ///< what is dangerous, then what to do
    std::string_view source;  ///< public source, or "common practice, no source"
    bool always = false;
};

/// What the job brings with it.
struct Situation {
    std::vector<job::ResinKind> resins;
    std::vector<job::Material> hosts;
    Length deepest{};          ///< ground to invert of the deepest place dug or entered
    Energy greatest_energy{};  ///< stored in one inflated packer with its hose
    bool compressed_air = true;
    bool plug_or_stopper = false;
    bool confined_entry_possible = false;  ///< chambers deep enough to tempt somebody in
    bool traffic = false;
    bool dig = false;
    bool water_running = false;  ///< through a defect
    bool cutting_or_grinding = false;
    bool services_near = false;
    bool overnight = false;
    bool jetting = false;
    bool heated_cure = false;
    UnitSystem units = UnitSystem::metric;  ///< of the sheets: some texts have a quantity
};

/// The triggered ones, in the table's order.
std::vector<const Caution*> cautions(const Situation& situation);
std::vector<const Caution*> all_cautions();
/// Above this the air in one packer has a caution of its own: about a 1.3 m packer in a 100 mm pipe at 1 bar.
inline constexpr Energy energy_worth_a_caution = 1.0 * unit::kJ;
/// Chambers from this depth tempt somebody in. Common practice, no source.
inline constexpr Length entry_depth = 1.0 * unit::m;
/// Digs deeper than this need an engineer's design of the support. 29 CFR 1926.652(b), (c).
inline constexpr Length engineer_depth = 20.0 * unit::ft;

}  // namespace patchwright::safety
