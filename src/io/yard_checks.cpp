#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "patchwright/job/tube.hpp"
#include "source.hpp"
#include "yard_fields.hpp"

namespace patchwright::io {
namespace {

/// Neither the value nor anything in it has a fault.
bool is_sound(const Node& node) {
    return !node.faulty && std::all_of(node.children.begin(), node.children.end(), is_sound);
}

/// One item of a list as the file gives it: the mark of a fault stands under the key that is given.
class Item {
public:
    Item(Reader& reader, const Node& node) : reader_{reader}, node_{node} {}
    /// Quiet when one of the keys is faulty by itself.
    bool readable(std::initializer_list<std::string_view> keys) const {
        return std::none_of(keys.begin(), keys.end(), [&](std::string_view key) {
            const Node* member = node_.find(key);
            return member != nullptr && member->faulty;
        });
    }
    void error(std::initializer_list<std::string_view> keys, std::string message) const {
        if (readable(keys)) reader_.error(place(keys), std::move(message));
    }
    void warn(std::initializer_list<std::string_view> keys, std::string message) const {
        if (readable(keys)) reader_.warn(place(keys), std::move(message));
    }

    /// An entry of the list `key`, with all that is in it, is as the file gives it.
    bool entry_readable(std::string_view key, std::size_t entry) const {
        const Node* list = node_.find(key);
        return list == nullptr || entry >= list->children.size() || is_sound(list->children[entry]);
    }
    /// The mark stands at the entry.
    void error_at(std::string_view key, std::size_t entry, std::string message) const {
        const Node* list = node_.find(key);
        if (!entry_readable(key, entry) || (list != nullptr && list->faulty)) return;
        reader_.error(list != nullptr && entry < list->children.size() ? list->children[entry] : place({key}),
                      std::move(message));
    }

private:
    const Node& place(std::initializer_list<std::string_view> keys) const {
        for (const std::string_view key : keys)
            if (const Node* member = node_.find(key)) return *member;
        return node_;
    }
    Reader& reader_;
    const Node& node_;
};

std::string pressure(Pressure p) { return format(Show::gauge_pressure, p, UnitSystem::metric); }
std::string tape(Length l) { return format(Show::tape, l, UnitSystem::metric); }

void check(const Item& item, const Packer& packer) {
    if (packer.rated_pressure < packer.fill_pressure)
        item.error(
            {"rated_pressure", "fill_pressure"},
            fmt::format("the rated pressure, {}, is below the filling pressure, {}: it could never fill the bore",
                        pressure(packer.rated_pressure), pressure(packer.fill_pressure)));
    if (packer.usable_max < packer.usable_min)
        item.error({"usable_max", "usable_min"}, "\"usable_max\" is shorter than \"usable_min\"");
    if (packer.bore_max < packer.bore_min)
        item.error({"bore_max", "bore_min"}, "\"bore_max\" is smaller than \"bore_min\"");
    if (packer.travelling_diameter >= packer.bore_min)
        item.error({"travelling_diameter", "bore_min"},
                   fmt::format("{} across, it cannot travel in its smallest bore, {}", tape(packer.travelling_diameter),
                               tape(packer.bore_min)));
    if (packer.rigid_diameter >= packer.bore_min)
        item.error({"rigid_diameter", "bore_min"},
                   fmt::format("{} across, its stiff part cannot travel in its smallest bore, {}",
                               tape(packer.rigid_diameter), tape(packer.bore_min)));
    if (packer.travelling_diameter < packer.rigid_diameter)
        item.error({"travelling_diameter", "rigid_diameter"},
                   fmt::format("{} across the whole packer cannot be less than {} across its stiff part",
                               tape(packer.travelling_diameter), tape(packer.rigid_diameter)));
    if (packer.overall_length < packer.usable_max + 2.0 * packer.projection)
        item.error({"overall_length", "usable_max", "projection"},
                   fmt::format("shorter than its longest sleeve with the bladder's projection at both ends, {}",
                               tape(packer.usable_max + 2.0 * packer.projection)));
    if (packer.rigid_length > packer.overall_length)
        item.error({"rigid_length", "overall_length"}, "the stiff part is longer than the whole packer");
}

void check(const Item& item, const Chassis& chassis) {
    if (chassis.bore_max < chassis.bore_min)
        item.error({"bore_max", "bore_min"}, "\"bore_max\" is smaller than \"bore_min\"");
    if (chassis.diameter >= chassis.bore_min)
        item.error({"diameter", "bore_min"}, fmt::format("{} across, it cannot travel in its smallest bore, {}",
                                                         tape(chassis.diameter), tape(chassis.bore_min)));
}

void check(const Item& item, const Bladder& bladder) {
    if (bladder.rated_pressure < bladder.fill_pressure)
        item.error(
            {"rated_pressure", "fill_pressure"},
            fmt::format("the rated pressure, {}, is below the filling pressure, {}: it could never fill the bore",
                        pressure(bladder.rated_pressure), pressure(bladder.fill_pressure)));
    if (2.0 * bladder.wall >= bladder.diameter) item.error({"wall", "diameter"}, "the wall fills the whole hose");
}

void check_tube(const Item& item, const Felt& felt) {
    if (felt.flat_width.si() <= 0.0 || felt.tube_bore_min.si() <= 0.0 || felt.tube_bore_max.si() <= 0.0)
        return item.error({"form"}, "a sewn tube needs \"flat_width\", \"tube_bore_min\" and \"tube_bore_max\"");
    if (felt.tube_bore_max < felt.tube_bore_min)
        return item.error({"tube_bore_max", "tube_bore_min"}, "\"tube_bore_max\" is smaller than \"tube_bore_min\"");
    const auto half = [](Length bore) { return 0.5 * std::numbers::pi * bore; };
    if (tube_fit(felt.flat_width, felt.tube_bore_min) == TubeFit::too_wide)
        item.error({"flat_width", "tube_bore_min"},
                   fmt::format("{} laid flat is too wide for a bore of {}: half its circumference is {}, and the tube "
                               "would lie in folds",
                               tape(felt.flat_width), tape(felt.tube_bore_min), tape(half(felt.tube_bore_min))));
    if (tube_fit(felt.flat_width, felt.tube_bore_max) == TubeFit::too_narrow)
        item.error({"flat_width", "tube_bore_max"},
                   fmt::format("{} laid flat is too narrow for a bore of {}: half its circumference is {}, and a tube "
                               "stretches to it from {} at least",
                               tape(felt.flat_width), tape(felt.tube_bore_max), tape(half(felt.tube_bore_max)),
                               tape(min_tube_share * half(felt.tube_bore_max))));
}

void check(const Item& item, const Felt& felt) {
    const bool tube = felt.form == FeltForm::sewn_tube;
    if (tube) check_tube(item, felt);
    // Fibre densities: polyester 1380, glass 2550 kg/m3 (from memory of handbooks).
    const Density fibre = (felt.fibre == Fibre::glass_mat ? 2550.0 : 1380.0) * unit::kg_m3;
    const double solid = felt.areal_mass / (fibre * felt.thickness);
    // A felt whose thickness is missing has an error of its own.
    const double apart = felt.thickness.si() > 0.0 ? std::abs(solid - (1.0 - felt.void_fraction)) : 0.0;
    if (apart > 0.25)
        item.error({"void_fraction", "areal_mass", "thickness"},
                   fmt::format("{} of fibres of {} in a layer {} thick {}",
                               format(Show::areal_mass, felt.areal_mass, UnitSystem::metric),
                               format(Show::density, fibre, UnitSystem::metric), tape(felt.thickness),
                               solid >= 1.0 ? std::string{"are more than the layer holds"}
                                            : fmt::format("leave {:.0f} % of voids, not {:.0f} %",
                                                          100.0 * (1.0 - solid), 100.0 * felt.void_fraction)));
    else if (apart > 0.05)
        item.warn({"void_fraction", "areal_mass", "thickness"},
                  fmt::format("mass and thickness make {:.0f} % of voids, not {:.0f} %", 100.0 * (1.0 - solid),
                              100.0 * felt.void_fraction));
    for (const FeltPiece& piece : felt.stock)
        if (!tube && piece.width > felt.roll_width) {
            item.warn({"stock"}, "a piece in stock is wider than the roll");
            break;
        }
}

/// Hardening comes after gelling, and shaping before both, where two times were taken on the same layer at one
/// temperature.
void check_order(const Item& item, const std::vector<DataPoint>& data, std::size_t earlier, std::size_t strip) {
    const DataPoint &a = data[earlier], &b = data[strip];
    if (b.kind != DataPointKind::strip || a.temperature != b.temperature || a.thickness != b.thickness ||
        b.time > a.time || !item.entry_readable("data", earlier))
        return;
    if (a.kind == DataPointKind::gel)
        item.error_at("data", strip, "the time to strip must be longer than the time to gel");
    else if (a.kind == DataPointKind::working && item.entry_readable("data", strip))
        item.error_at("data", earlier, "a layer cannot be shaped once it is hard: working time, then strip time");
}

void check_times(const Item& item, const std::vector<DataPoint>& data) {
    bool pot_life = data.empty();
    for (std::size_t i = 0; i < data.size(); ++i) {
        const bool pot = data[i].kind == DataPointKind::pot_life;
        pot_life = pot_life || pot || !item.entry_readable("data", i);
        if (pot && !data[i].mass)
            item.error_at("data", i, "a pot life hangs on the mass in the cup: it needs \"mass\"");
    }
    for (std::size_t i = 0; i < data.size(); ++i)
        for (std::size_t k = 0; k < data.size(); ++k) check_order(item, data, i, k);
    if (!pot_life) item.error({"data"}, "a resin needs a pot life among its data-sheet times");
}

void check(const Item& item, const Resin& resin) {
    if (resin.application_max <= resin.application_min)
        item.error({"application_max", "application_min"}, "\"application_max\" must lie above \"application_min\"");
    if (resin.glass_end <= resin.glass_start)
        item.error({"glass_end", "glass_start"}, "\"glass_end\" must lie above \"glass_start\"");
    if (resin.highest_safe > Temperature{} && resin.highest_safe <= resin.application_max)
        item.error({"highest_safe", "application_max"},
                   "\"highest_safe\" must lie above \"application_max\": it would be too hot before it reacts");
    // Scales on site show whole grams: of the smallest mix, some 100 g, the smaller part must not round to nothing.
    const double parts = resin.parts_a + resin.parts_b;
    if (parts > 0.0 && std::min(resin.parts_a, resin.parts_b) / parts < 0.005)
        item.error({"parts_b", "parts_a"}, "one part is less than 0.5 % of the mix: it would weigh 0 g in a small one");
    if (resin.data.empty()) item.error({"data"}, "a resin needs at least one time from its data sheet");
    if (resin.kits.empty()) item.error({"kits"}, "a resin needs at least one kit");
    check_times(item, resin.data);
    if (std::none_of(resin.data.begin(), resin.data.end(),
                     [](const DataPoint& p) { return p.kind == DataPointKind::gel || p.kind == DataPointKind::strip; }))
        item.warn({"data"},
                  "a pot life alone fixes the hardening time only within a factor of 2 to 3; add a gel or strip time");
}

void check(const Item&, const Risk&) {}
void check(const Item&, const Heater&) {}

template <class T>
void check_list(Reader& reader, const Node& root, std::string_view key, std::vector<T>& list) {
    const Node* node = root.find(key);
    if (node == nullptr || node->kind != NodeKind::array) return;
    for (const Node& child : node->children) {
        const Node* id = child.kind == NodeKind::object && !child.faulty ? child.find("id") : nullptr;
        if (id == nullptr || id->kind != NodeKind::string) continue;
        refuse_blank_name(reader, *id, "id");
        if (const T* item = item_named(list, id->text)) check(Item{reader, child}, *item);
    }
}

void check_rates(Reader& reader, const Node& root, const Yard& yard) {
    const Node* node = root.find("rates");
    if (node == nullptr || node->kind != NodeKind::object) return;
    const Item item{reader, *node};
    const auto whole = Share::percent(100.0);
    if (yard.rates.profit_is_margin && yard.rates.profit >= whole)
        item.error({"profit"}, "a margin is a share of the price and stays below 100 %");
    if (yard.rates.discount >= whole) item.error({"discount"}, "a discount stays below 100 %");
}

void check_outputs(Reader& reader, const Node& root, const Yard& yard) {
    const Node* rates = root.find("dig_rates");
    const Node* outputs = rates != nullptr ? rates->find("outputs") : nullptr;
    if (outputs == nullptr || outputs->faulty) return;
    const auto& list = yard.dig_rates.outputs;
    if (list.empty()) reader.error(*outputs, "the digging team needs its days for at least one depth");
    const bool rising =
        std::is_sorted(list.begin(), list.end(), [](const auto& a, const auto& b) { return a.depth_to < b.depth_to; });
    if (!rising) reader.error(*outputs, "\"depth_to\" must rise from entry to entry");
}

/// Keys of T whose amounts are in another currency: ("wage", "film"), or with how many ("felts (5)").
template <class T>
std::string foreign_keys(T& value, Currency currency, bool counted) {
    std::string keys;
    for (const Field<T>& f : Described<T>::fields()) {
        std::vector<Money*> amounts;
        if (f.money != nullptr) f.money(value, amounts);
        const auto foreign = std::count_if(amounts.begin(), amounts.end(),
                                           [&](const Money* m) { return !m->is_zero() && m->currency() != currency; });
        if (foreign == 0) continue;
        keys += keys.empty() ? "" : ", ";
        keys += counted ? fmt::format("{} ({})", f.key, foreign) : std::string{f.key};
    }
    return keys;
}

/// Prices of the file in another currency than the yard's: one by one, or all at once where they are many.
bool refuse_foreign_amounts(Reader& reader, Currency currency) {
    std::vector<const Reader::Amount*> foreign;
    for (const Reader::Amount& amount : reader.amounts)
        if (amount.currency != currency) foreign.push_back(&amount);
    const bool alike = std::all_of(foreign.begin(), foreign.end(),
                                   [&](const auto* a) { return a->currency == foreign.front()->currency; });
    if (foreign.size() > 3 && alike) {
        const std::string_view code = foreign.front()->currency.code();
        reader.error(*foreign.front()->node,
                     fmt::format("the yard's prices are in {}, {} of this file are in {}: say \"currency\": \"{}\" in "
                                 "\"rates\"",
                                 currency.code(), foreign.size(), code, code));
        return true;
    }
    for (const auto* amount : foreign)
        reader.error(*amount->node,
                     fmt::format("the yard's prices are in {0}, this one is in {1}; a yard in {1} says \"currency\": "
                                 "\"{1}\" in \"rates\"",
                                 currency.code(), amount->currency.code()));
    return !foreign.empty();
}

void check_currency(Reader& reader, const Node& root, Yard& yard) {
    const Currency currency = yard.rates.currency;
    if (currency.none()) return;
    const bool named = refuse_foreign_amounts(reader, currency);
    std::vector<Money*> amounts;
    collect_money(yard, amounts);
    std::size_t foreign = 0;
    for (Money* amount : amounts) {
        if (amount->is_zero())
            *amount = Money::cents(0, currency);
        else if (amount->currency() != currency)
            ++foreign;
    }
    if (foreign == 0 || named) return;
    const Node* rates = root.find("rates");
    const Node* place = rates != nullptr ? rates->find("currency") : nullptr;
    std::string wanted = foreign_keys(yard, currency, true);
    if (const auto keys = foreign_keys(yard.rates, currency, false); !keys.empty()) wanted += "; rates: " + keys;
    if (const auto keys = foreign_keys(yard.dig_rates, currency, false); !keys.empty())
        wanted += "; dig_rates: " + keys;
    reader.error(
        place != nullptr ? *place : root,
        fmt::format("{} prices still come from the built-in yard in another currency; give them all, or do not "
                    "extend it: {}",
                    foreign, wanted));
}

}  // namespace

void check_yard(Reader& reader, const Node& root, Yard& yard) {
    check_list(reader, root, "packers", yard.packers);
    check_list(reader, root, "chassis", yard.chassis);
    check_list(reader, root, "bladders", yard.bladders);
    check_list(reader, root, "felts", yard.felts);
    check_list(reader, root, "resins", yard.resins);
    check_list(reader, root, "heaters", yard.heaters);
    if (const Node* node = root.find("conditioning"); node != nullptr && !node->faulty)
        if (yard.conditioning.to < yard.conditioning.from)
            Item{reader, *node}.error({"to", "from"}, "\"to\" must not lie below \"from\"");
    check_list(reader, root, "risks", yard.risks);
    check_rates(reader, root, yard);
    check_outputs(reader, root, yard);
    check_currency(reader, root, yard);
    const auto nothing = [&](std::string_view key, bool empty) {
        const Node* node = root.find(key);
        if (node != nullptr && node->kind == NodeKind::array && !node->faulty && empty)
            reader.error(*node, fmt::format("a yard needs at least one of its {}", key));
    };
    nothing("felts", yard.felts.empty());
    nothing("resins", yard.resins.empty());
    nothing("packers", yard.packers.empty() && yard.chassis.empty());
}

namespace {

/// Nothing that the fit of a resin rests on has a fault; its price may.
bool can_be_fitted(const Node& resin) {
    return !resin.faulty && std::all_of(resin.children.begin(), resin.children.end(), [](const Node& member) {
        return member.key == "kits" || member.key == "source" || is_sound(member);
    });
}

}  // namespace

void check_resins(Reader& reader, const Node& root, const Yard& yard, const ResinCheck& check) {
    const Node* list = root.find("resins");
    if (list == nullptr || list->kind != NodeKind::array) return;
    for (const Node& child : list->children) {
        const Node* id = child.find("id");
        const Resin* resin = id != nullptr && id->kind == NodeKind::string ? yard.find_resin(id->text) : nullptr;
        if (resin == nullptr || !can_be_fitted(child)) continue;
        const Node* data = child.find("data");
        for (ResinFault& fault : check(*resin)) {
            const Node* place = fault.key.empty() ? nullptr : child.find(fault.key);
            if (fault.data >= 0 && data != nullptr && static_cast<std::size_t>(fault.data) < data->children.size())
                place = &data->children[static_cast<std::size_t>(fault.data)];
            reader.error(place != nullptr ? *place : child, std::move(fault.message));
        }
    }
}

void name_resins(Reader& reader, const Node& root) {
    const Node* list = root.find("resins");
    if (list == nullptr || list->kind != NodeKind::array) return;
    for (const Node& child : list->children)
        if (const Node* id = child.find("id"); id != nullptr && id->kind == NodeKind::string)
            reader.faults().name(child.start, child.end, fmt::format("resin \"{}\": ", quoted(id->text)));
}

}  // namespace patchwright::io
