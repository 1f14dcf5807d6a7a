#pragma once
#include <cstdint>
#include <string_view>
#include <vector>

#include "patchwright/job/job.hpp"
#include "patchwright/job/yard.hpp"
#include "patchwright/units/quantity.hpp"

/// One table of cautions, each with what triggers it. Wording of our own; public source beside each.
namespace patchwright::safety {

struct Caution {
    std::string_view id;      ///< "epoxy-skin"
    std::string_view title;   ///< "Epoxy on skin"
    std::string_view text;    ///< what to do
    std::string_view source;  ///< public source, or "common practice, no source"
    bool always = false;
};
/// What the job brings with it.
struct Situation {
    std::vector<job::ResinKind> resins;
    std::vector<job::Material> hosts;
    Length deepest{};
    Energy greatest_energy{};
    bool compressed_air = true, plug_or_stopper = false, confined_entry_possible = false, traffic = false, dig = false,
         water_running = false, cutting_or_grinding = false, services_near = false, overnight = false, jetting = false;
};
/// The triggered ones, in the table's order. The general one (local codes, data sheet, licensed practice) is always
/// there.
std::vector<const Caution*> cautions(const Situation& situation);
std::vector<const Caution*> all_cautions();

}  // namespace patchwright::safety
