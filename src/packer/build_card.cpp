#include "patchwright/packer/build_card.hpp"

#include <array>

#include "patchwright/job/yard.hpp"
#include "patchwright/packer/contact.hpp"

namespace patchwright::packer {
namespace {

constexpr std::array<Symbol, 3> cut_inputs{{{"l", "sleeve length", Show::tape},
                                            {"p", "bladder past the sleeve, each end", Show::tape},
                                            {"f", "fold-over on each fitting", Show::tape}}};
constexpr Formula cut_formula{"packer.bladder_cut",         {"c", "bladder cut length", Show::tape},
                              "c = l + 2 p + 2 f",          cut_inputs,
                              "common practice, no source", "packer"};

std::vector<Part> parts_for(const job::Chassis& chassis, const job::Bladder& bladder, const BuildCard& card,
                            Length covered) {
    std::vector<Part> parts;
    parts.push_back({2, "end fitting, set " + chassis.id, {}});
    if (chassis.rod_length > Length{}) {
        parts.push_back({1, "flexible rod between the fittings", chassis.rod_length});
    }
    parts.push_back(
        {card.layers, "bladder " + bladder.id + ", " + std::string(word(bladder.material)), card.bladder_cut});
    parts.push_back({1, "roll of thread tape", {}});
    parts.push_back({1, "roll of soft tape, under and over the clamps", {}});
    parts.push_back({2, "low-profile clamp", {}});
    if (card.film) parts.push_back({1, "separating film, two wraps", covered});
    parts.push_back({1, "air line with gauge, regulator, relief valve and shut-off", {}});
    parts.push_back({2, "strap, one at each end", {}});
    return parts;
}

std::vector<std::string> steps_for(const BuildCard& card) {
    std::vector<std::string> steps;
    steps.emplace_back("Look the bladder over for nicks, old resin and thin places; cut it square.");
    if (card.layers > 1) steps.emplace_back("Draw one length of hose into the other without a twist.");
    steps.emplace_back("Seal the fittings' threads with thread tape and screw in air line and blank end.");
    steps.emplace_back("Wind soft tape round each fitting where the clamp will sit.");
    steps.emplace_back("Draw the bladder over the fittings, fold it over both, and keep it free of twist and crease.");
    steps.emplace_back("Set a low-profile clamp on each fold-over, its lock away from the bladder, and tighten it.");
    steps.emplace_back("Wind soft tape over the clamps so that no edge can cut bladder, felt or pipe.");
    steps.emplace_back("Measure the finished end across tape and clamp: no thicker than the yard file says.");
    if (card.film) steps.emplace_back("Wrap the separating film over the bladder; it must be whole from end to end.");
    steps.emplace_back("Fix a strap to each end and pull on both by hand.");
    steps.emplace_back(
        "Bench test inside a length of pipe, never in the open: fill, shut the valve, hold, read the gauge.");
    return steps;
}

}  // namespace

std::optional<BuildCard> build_card(const job::Yard& yard, const Option& option, Length sleeve, job::ResinKind resin,
                                    Working& working) {
    if (!option.to_build) return std::nullopt;
    const job::Chassis& chassis = yard.chassis.at(static_cast<std::size_t>(option.chassis));
    const job::Bladder& bladder = yard.bladders.at(static_cast<std::size_t>(option.bladder));
    const Length projection = yard.limits.bladder_projection;
    const Length fold_over = yard.limits.bladder_fold_over;

    BuildCard card;
    card.layers = bladder_layers(bladder);
    card.film = contact(bladder.material, resin) == Contact::film_needed;
    card.bladder_cut = sleeve + 2.0 * projection + 2.0 * fold_over;
    working.add(cut_formula, {sleeve, Operand{projection, Origin::yard}, Operand{fold_over, Origin::yard}},
                card.bladder_cut);
    card.parts = parts_for(chassis, bladder, card, sleeve + 2.0 * projection);
    card.steps = steps_for(card);
    return card;
}

}  // namespace patchwright::packer
