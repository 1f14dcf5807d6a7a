// Water that arrives behind a blocked pipe.
#include <algorithm>
#include <numbers>

#include "patchwright/schedule/schedule.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::schedule {
namespace {

constexpr Symbol fill_inputs[] = {{"S", "storage upstream", Show::litres}, {"Q", "inflow", Show::flow}};
constexpr Formula fill_formula{"flow.fills-in",
                               {"tf", "until the storage is full", Show::span},
                               "tf = S / Q",
                               fill_inputs,
                               "conservation of volume; derived here, docs/methods/schedule.md",
                               "schedule"};
constexpr Symbol pump_inputs[] = {
    {"Q", "inflow", Show::flow}, {"S", "storage upstream", Show::litres}, {"tb", "pipe blocked", Show::span}};
constexpr Formula pump_formula{"flow.pump",
                               {"Qp", "to be pumped over", Show::flow},
                               "Qp = max(0, Q - S / tb)",
                               pump_inputs,
                               "conservation of volume; derived here, docs/methods/schedule.md",
                               "schedule"};
constexpr Symbol push_inputs[] = {{"g", "unit weight of water", Show::unit_weight},
                                  {"H", "water above the middle of the pipe", Show::run_distance},
                                  {"D", "bore", Show::tape}};
constexpr Formula push_formula{"flow.push-on-stopper",
                               {"F", "push of the water on stopper or packer", Show::force},
                               "F = g * H * pi * D^2 / 4",
                               push_inputs,
                               "hydrostatics: pressure at the centroid times area, any textbook",
                               "schedule"};

constexpr Duration a_year = 365.0 * unit::day;

template <Dim D>
void require(Quantity<D> value, const char* what) {
    if (!(is_finite(value) && value.si() >= 0.0))
        throw RangeError(std::string{"flow: "} + what + " must be a number, not below zero");
}

}  // namespace

FlowVerdict flow_while_blocked(VolumeFlow inflow, Volume storage, Duration blocked, Working& working) {
    require(inflow, "inflow");
    require(storage, "storage");
    require(blocked, "the blocked time");
    FlowVerdict out;
    out.fills_in = inflow > VolumeFlow{} ? std::min(a_year, storage / inflow) : a_year;
    working.add(fill_formula, {storage, inflow}, out.fills_in);
    // By volumes, not by the rounded quotients: a storage that is just enough holds.
    out.holds = inflow * blocked <= storage * (1.0 + 1e-12);
    if (!out.holds) out.pump = std::max(VolumeFlow{}, inflow - storage / blocked);
    working.add(pump_formula, {inflow, storage, blocked}, out.pump);
    return out;
}

Force push_on_stopper(Length bore, Length head, Working& working) {
    require(bore, "bore");
    require(head, "head");
    const Force push = constant::water_unit_weight * head * (std::numbers::pi / 4.0 * (bore * bore));
    working.add(push_formula, {{constant::water_unit_weight, Origin::looked_up}, head, bore}, push);
    return push;
}

}  // namespace patchwright::schedule
