#include <algorithm>
#include <array>

#include "patchwright/safety/safety.hpp"

namespace patchwright::safety {
namespace {

using job::Material;
using job::ResinKind;

bool has(const Situation& s, ResinKind kind) { return std::count(s.resins.begin(), s.resins.end(), kind) > 0; }
bool has(const Situation& s, Material host) { return std::count(s.hosts.begin(), s.hosts.end(), host) > 0; }
bool has_styrene(const Situation& s) { return has(s, ResinKind::polyester) || has(s, ResinKind::vinyl_ester); }

/// Walls whose dust holds quartz; a host of unknown make is taken as one.
bool has_silica(const Situation& s) {
    return has(s, Material::clay) || has(s, Material::concrete) || has(s, Material::other);
}

struct Entry {
    Caution caution;
    bool (*applies)(const Situation&);
    /// Where the text has a quantity: the same for sheets in US units.
    Caution us{};
};

bool always(const Situation&) { return true; }
constexpr std::string_view practice = "common practice, no source";

constexpr std::array entries{
    Entry{{"general", "What goes first",
           "This plan replaces no rule and no permit. Follow local codes, the resin's safety data sheet and licensed "
           "practice; "
           "where they say otherwise, do as they say.",
           practice, true},
          always},
    Entry{{"sewage", "Sewage",
           "Drain water carries disease. Cover cuts, wear gloves and eye protection, keep hands from the face, and "
           "wash before "
           "eating, drinking or smoking.",
           "HSE INDG198, Working with sewage", true},
          always},
    Entry{{"lifting", "Lifting",
           "Covers, drums and loaded packers strain backs and crush fingers. Use a cover lifter, share any load above "
           "25 kg, "
           "and less when reaching.",
           "HSE L23, Manual handling, guideline filters", true},
          always,
          {"lifting", "Lifting",
           "Covers, drums and loaded packers strain backs and crush fingers. Use a cover lifter, share any load above "
           "55 lb, "
           "and less when reaching.",
           "HSE L23, Manual handling, guideline filters", true}},
    Entry{
        {"epoxy-skin", "Epoxy on skin",
         "Uncured epoxy and its hardener can make the skin allergic, as a rule for life. Wear the gloves that the data "
         "sheet "
         "names, with sleeves and goggles; change soiled gloves at once, wash with soap and water, never with solvent.",
         "HSE RR079; OSHwiki, Epoxy resins"},
        [](const Situation& s) { return has(s, ResinKind::epoxy); }},
    Entry{{"isocyanate", "Isocyanate",
           "This resin contains isocyanate, which can cause asthma. Nobody with asthma or an earlier reaction handles "
           "it; work "
           "in moving air with the mask, gloves and goggles of the data sheet, and stop at the first tight chest or "
           "cough.",
           "HSE EH40, respiratory sensitisers; the resin's safety data sheet"},
          [](const Situation& s) { return has(s, ResinKind::silicate_isocyanate); }},
    Entry{{"styrene", "Styrene vapour",
           "Styrene dulls the senses and its vapour burns from 0.9 % in air (flash point 31 C); US limit 100 ppm over "
           "the "
           "shift, NIOSH 50 ppm. It travels along the drain into houses. Fill the traps, cap the branches, ventilate, "
           "keep "
           "flames and sparks away, and measure the air before leaning over the opening.",
           "NIOSH Pocket Guide, DHHS 2005-151; NIOSH HHE 2019-0080-3379 (2021)"},
          has_styrene},
    Entry{
        {"peroxide", "Peroxide hardener",
         "The hardener is an organic peroxide: it burns eyes and skin, and reacts violently with the accelerator. Wear "
         "goggles, store and carry it apart from everything else, and never let it meet the accelerator undiluted.",
         "the hardener's safety data sheet"},
        has_styrene},
    Entry{{"resin-heat", "Resin that heats itself",
           "Mixed resin left in the pot heats up and can smoke or catch fire. Spread what is left thin on a tray "
           "outside, keep "
           "the pot open, and take uncured resin away as hazardous waste.",
           practice},
          [](const Situation& s) { return !s.resins.empty(); }},
    Entry{{"compressed-air", "Compressed air",
           "A packer that bursts, slips or is blown up in the open throws its fittings. Blow it up only inside the "
           "pipe or a "
           "test sleeve, set regulator and relief valve below the bladder's marked rating, tie the hose against "
           "whipping, "
           "stand out of line with the pipe, and vent before undoing anything.",
           "HSE GS4, Safety requirements for pressure testing; SHP court report, October 2008"},
          [](const Situation& s) { return s.compressed_air; }},
    Entry{{"stored-energy", "Energy in the packer",
           "The air in one packer of this job holds enough energy to break bones. Keep everybody away from both mouths "
           "of the "
           "pipe while it is up, put barriers round them, and read the gauge from the side.",
           "ASME PCC-2, Article 501, stored energy; HSE GS4"},
          [](const Situation& s) { return s.greatest_energy >= energy_worth_a_caution; }},
    Entry{{"plug", "Water behind a stopper",
           "Water dammed up pushes the stopper with a force that can kill, and it leaves the pipe in a cone. Brace it, "
           "tie it "
           "back, let nobody stand or kneel before the mouth, watch the level, and draw the water down before letting "
           "it off.",
           "Oregon OSHA, Resource newsletter, January 2014"},
          [](const Situation& s) { return s.plug_or_stopper; }},
    Entry{{"confined-space", "Chambers",
           "Bad air in a chamber kills, and then kills the rescuer. Plan the work from the surface. If entry cannot be "
           "avoided: permit, air tested before and all through, attendant, harness and winch; nobody goes down after a "
           "fallen person without them.",
           "29 CFR 1926 Subpart AA; Confined Spaces Regulations 1997 (UK); New York FACE report 10NY060"},
          [](const Situation& s) { return s.confined_entry_possible; }},
    Entry{{"sewer-gas", "Sewer gas",
           "Hydrogen sulphide is heavier than air and deadens the sense of smell before it kills. Do not trust the "
           "nose: hang "
           "a gas meter at the opening and move away when it sounds (US construction limit 10 ppm; UK 5 ppm over 8 h).",
           "NIOSH 77-158; HSE EH40"},
          [](const Situation& s) { return s.confined_entry_possible; }},
    Entry{
        {"trench", "Trench collapse",
         "A cubic metre of soil weighs 1.5 to 2 t and falls without warning; a trench over an old drain stands in "
         "loosened "
         "ground. Support or batter it before anybody goes in, keep spoil 0.6 m (2 ft) from the edge, set a ladder "
         "from "
         "1.2 m (4 ft) of depth, and have a competent person look at it each shift and after rain.",
         "29 CFR 1926 Subpart P; HSE press release E118:04 (2004)"},
        [](const Situation& s) { return s.dig; },
        {"trench", "Trench collapse",
         "A cubic yard of soil weighs 1.3 to 1.7 tons and falls without warning; a trench over an old drain stands in "
         "loosened "
         "ground. Support or batter it before anybody goes in, keep spoil 2 ft from the edge, set a ladder "
         "from "
         "4 ft of depth, and have a competent person look at it each shift and after rain.",
         "29 CFR 1926 Subpart P; HSE press release E118:04 (2004)"}},
    Entry{{"deep-trench", "Deep trench",
           "The dig is deeper than 6.1 m (20 ft). Have the support designed by a registered engineer before the ground "
           "is "
           "opened.",
           "29 CFR 1926.652(b) and (c)"},
          [](const Situation& s) { return s.dig && s.deepest > engineer_depth; },
          {"deep-trench", "Deep trench",
           "The dig is deeper than 20 ft. Have the support designed by a registered engineer before the ground "
           "is "
           "opened.",
           "29 CFR 1926.652(b) and (c)"}},
    Entry{
        {"services", "Buried services",
         "Plans of cables and gas pipes are never exact. Get them, give notice where the law asks for it, trace with a "
         "locator, dig trial holes by hand, and treat every service as live.",
         "HSE HSG47, Avoiding danger from underground services"},
        [](const Situation& s) { return s.services_near || s.dig; }},
    Entry{{"asbestos", "Asbestos cement",
           "Dust of asbestos cement causes cancer years later. Do not grind, saw or break it dry; keep it wet, use "
           "hand or snap "
           "tools under a written plan, and leave removal and waste to those licensed for it.",
           "29 CFR 1926.1101; Control of Asbestos Regulations 2012 (UK)"},
          [](const Situation& s) { return has(s, Material::asbestos_cement); }},
    Entry{{"silica", "Silica dust",
           "Cutting clay, concrete or mortar sets free silica dust that scars the lungs. Cut wet or with extraction, "
           "wear the "
           "mask, and keep others out of the dust (US limit 0.05 mg/m3, UK 0.1 mg/m3 over 8 h).",
           "29 CFR 1926.1153; HSE EH40"},
          [](const Situation& s) { return s.dig || (s.cutting_or_grinding && has_silica(s)); },
          {"silica", "Silica dust",
           "Cutting clay, concrete or mortar sets free silica dust that scars the lungs. Cut wet or with extraction, "
           "wear the "
           "mask, and keep others out of the dust (limit of 29 CFR 1926.1153: 50 micrograms in a cubic meter of air "
           "over 8 h).",
           "29 CFR 1926.1153; HSE EH40"}},
    Entry{{"cutter", "Cutters",
           "A cutter or chain that turns in the open cuts hands and throws stones. Start it only inside the pipe, keep "
           "hands "
           "off the shaft while power or air is on, and isolate it before changing heads.",
           practice},
          [](const Situation& s) { return s.cutting_or_grinding; }},
    Entry{{"jetting", "Water jet",
           "A jet injects water through skin; the small wound hides a surgical emergency. Keep the nozzle in the pipe "
           "with a "
           "leader hose, use a foot valve, and send anybody who is hit to hospital at once.",
           practice},
          [](const Situation& s) { return s.jetting; }},
    Entry{{"traffic", "Traffic",
           "Crew and hoses stand where vehicles pass. Set signs, cones and barriers by the local code before lifting a "
           "cover, "
           "wear bright clothing, and never leave an opening unguarded.",
           "MUTCD Part 6 (US); Safety at Street Works and Road Works (UK)"},
          [](const Situation& s) { return s.traffic; }},
    Entry{{"running-water", "Running water",
           "Water running through a defect washes resin out, into the drain and the ground. Stop the water first; if "
           "it will "
           "not stop, do not mix.",
           practice},
          [](const Situation& s) { return s.water_running; }},
    Entry{{"overnight", "Packer left overnight",
           "A packer under pressure stands unwatched and the drain is shut. Fit a gauge with alarm, lock and light the "
           "barriers, tell the occupier in writing how long no water may be used, and leave a number that is answered.",
           practice},
          [](const Situation& s) { return s.overnight; }},
    Entry{
        {"heated-cure", "Heated cure",
         "Heater, hoses and bladder are hot enough to burn, and exhaust that sinks into a chamber or a house kills. "
         "Stand the heater level in the open air, exhaust away from openings, fuel apart; wear heat-proof gloves, tie "
         "the hoses, keep within the bladder's and the resin's limits, stay with it, and let all cool before undoing "
         "it.",
         practice},
        [](const Situation& s) { return s.heated_cure; }},
};

}  // namespace

std::vector<const Caution*> cautions(const Situation& situation) {
    std::vector<const Caution*> out;
    for (const Entry& entry : entries)
        if (entry.applies(situation))
            out.push_back(situation.units == UnitSystem::us && !entry.us.id.empty() ? &entry.us : &entry.caution);
    return out;
}

std::vector<const Caution*> all_cautions() {
    std::vector<const Caution*> out;
    for (const Entry& entry : entries) out.push_back(&entry.caution);
    return out;
}

}  // namespace patchwright::safety
