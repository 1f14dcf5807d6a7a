#include "patchwright/liner/felt.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <tuple>

#include <fmt/core.h>

#include "patchwright/job/tube.hpp"
#include "patchwright/job/yard.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::liner {
namespace {

constexpr Length small_size = 100.0 * unit::mm;  ///< nominal; to here the smaller seam overlap
// Sizes in which the trade buys drains, in millimetres; 4 in is bought as 100, 6 in as 150.
constexpr std::array nominal_sizes{50.0, 75.0, 100.0, 125.0, 150.0, 175.0, 200.0};

/// The nominal size nearest to a measured or converted bore.
Length nominal_size(Length bore) {
    const auto nearest = std::min_element(nominal_sizes.begin(), nominal_sizes.end(), [&](double a, double b) {
        return std::abs(bore.in(unit::mm)-a) < std::abs(bore.in(unit::mm)-b);
    });
    return *nearest * unit::mm;
}

constexpr std::array installed_symbols{Symbol{"n", "layers", Show::count},
                                       Symbol{"tf", "felt under packer pressure", Show::thickness}};
constexpr Formula installed_formula{
    "felt.installed", {"ti", "installed thickness", Show::thickness}, "ti = n tf", installed_symbols, "derived here",
    "felt",
};
constexpr std::array width_symbols{Symbol{"D", "bore of the host", Show::thickness},
                                   Symbol{"d", "depth of the layer's middle below the host", Show::thickness},
                                   Symbol{"o", "seam overlap", Show::tape}};
constexpr Formula width_formula{
    "felt.width", {"b", "cut width", Show::tape}, "b = pi (D - 2 d) + o", width_symbols, "derived here", "felt",
};
constexpr std::array tube_symbols{Symbol{"f", "flat width of the tube", Show::tape}};
constexpr Formula tube_formula{
    "felt.tube", {"b", "width of the tube laid flat", Show::tape}, "b = f", tube_symbols, "the yard file", "felt",
};
constexpr std::array length_symbols{Symbol{"Ls", "sleeve as installed", Show::run_distance},
                                    Symbol{"e", "trim at each end", Show::tape},
                                    Symbol{"u", "take-up of length", Show::percent}};
constexpr Formula length_formula{
    "felt.length", {"L", "cut length", Show::tape}, "L = (Ls + 2 e) / (1 - u)", length_symbols, "derived here", "felt",
};
constexpr std::array seam_symbols{Symbol{"D", "bore", Show::tape},
                                  Symbol{"os", "overlap for nominal sizes to 100 mm", Show::tape},
                                  Symbol{"ol", "overlap above", Show::tape}};
constexpr Formula seam_formula{
    "felt.seam",  {"o", "seam overlap", Show::tape},           "o = os for nominal sizes to 100 mm, else ol",
    seam_symbols, "the yard file; common practice, no source", "felt",
};
constexpr std::array area_symbols{Symbol{"L", "cut length", Show::tape},
                                  Symbol{"B", "widths of all layers and plies together", Show::tape}};
constexpr Formula area_formula{
    "felt.area", {"A", "felt area", Show::area}, "A = L B", area_symbols, "derived here", "felt",
};

Length circumference(Length diameter) { return std::numbers::pi * diameter; }
Length seam_overlap(const job::Limits& limits, Length bore) {
    return nominal_size(bore) <= small_size ? limits.seam_overlap_small : limits.seam_overlap_large;
}
/// Depth of the middle of a layer below the host's wall; layer 1 lies on the host.
Length middle_depth(Length thickness, int layer) { return (static_cast<double>(layer) - 0.5) * thickness; }
/// Diameter that a layer is pressed against.
Length layer_bore(Length bore, Length thickness, int layer) {
    return bore - 2.0 * static_cast<double>(layer - 1) * thickness;
}
Length sheet_width(Length bore, Length thickness, int layer, Length overlap) {
    return circumference(bore - 2.0 * middle_depth(thickness, layer)) + overlap;
}

/// Some roll or stock piece is as wide as `width`.
bool wide_enough(const job::Felt& felt, Length width) {
    if (felt.roll_length.si() > 0.0 && felt.roll_width >= width) return true;
    return std::any_of(felt.stock.begin(), felt.stock.end(),
                       [&](const job::FeltPiece& p) { return p.count > 0 && p.width >= width; });
}
/// A tube is sold by its length: any roll or piece of it will do for the width.
bool in_stock(const job::Felt& felt) {
    return felt.roll_length.si() > 0.0 ||
           std::any_of(felt.stock.begin(), felt.stock.end(), [](const job::FeltPiece& p) { return p.count > 0; });
}

bool tube_fits(const job::Felt& felt, Length bore, int layers) {
    if (!(felt.flat_width.si() > 0.0) || !in_stock(felt)) return false;
    for (int layer = 1; layer <= layers; ++layer) {
        const Length against = layer_bore(bore, felt.thickness, layer);
        if (against < felt.tube_bore_min || against > felt.tube_bore_max) return false;
        if (job::tube_fit(felt.flat_width, against) != job::TubeFit::lies_smooth) return false;
    }
    return true;
}

bool fits(const job::Felt& felt, const job::Limits& limits, Length bore, int layers) {
    if (felt.form == job::FeltForm::sewn_tube) return tube_fits(felt, bore, layers);
    return wide_enough(felt, sheet_width(bore, felt.thickness, 1, seam_overlap(limits, bore)));
}

double price_per_m2(const job::Felt& felt) {
    return static_cast<double>(felt.price.amount.in_cents()) / felt.price.per.in(unit::m2);
}

void require_valid(const job::Felt& felt, const FeltChoice& choice, Length bore, Length sleeve,
                   const job::Limits& limits) {
    const auto refuse = [](const std::string& what) { throw RangeError("cut sizes: " + what); };
    if (!(bore.si() > 0.0) || !is_finite(bore)) refuse(fmt::format("the bore must be above zero, got {}", bore.si()));
    if (!(sleeve.si() > 0.0) || !is_finite(sleeve))
        refuse(fmt::format("the sleeve needs a length, got {} m", sleeve.in(unit::m)));
    if (choice.layers < 1) refuse(fmt::format("at least one layer, got {}", choice.layers));
    if (!(felt.thickness.si() > 0.0) || !(2.0 * static_cast<double>(choice.layers) * felt.thickness < bore))
        refuse(fmt::format("{} layers of {} mm leave no bore in {} mm", choice.layers, felt.thickness.in(unit::mm),
                           bore.in(unit::mm)));
    if (!(felt.take_up >= 0.0) || !(felt.take_up < 1.0))
        refuse(fmt::format("take-up must be a share from 0 to below 1, got {}", felt.take_up));
    if (!(limits.end_trim.si() >= 0.0) || !(seam_overlap(limits, bore).si() >= 0.0))
        refuse("end trim and seam overlap must be zero or more");
    if (felt.form == job::FeltForm::sewn_tube && !(felt.flat_width.si() > 0.0))
        refuse("a sewn tube needs its flat width");
}

}  // namespace

std::vector<FeltChoice> felt_choices(const job::Yard& yard, Length bore, Length design, Length most) {
    if (!(bore.si() > 0.0) || !is_finite(bore) || !(design.si() >= 0.0) || !is_finite(design) || !is_finite(most))
        throw RangeError(
            fmt::format("felt: needs a bore above zero and a thickness of zero or more, got {} mm and {} mm",
                        bore.in(unit::mm), design.in(unit::mm)));
    constexpr double rounding = 1e-12;  // 3.0 mm asked for and 2 x 1.5 mm laid are the same
    std::vector<FeltChoice> choices;
    for (std::size_t i = 0; i < yard.felts.size(); ++i) {
        const job::Felt& felt = yard.felts[i];
        if (!(felt.thickness.si() > 0.0)) continue;
        for (int layers = 1; layers <= yard.limits.most_layers; ++layers) {
            const Length installed = static_cast<double>(layers) * felt.thickness;
            if (design > (1.0 + rounding) * installed) continue;
            if (installed > (1.0 + rounding) * most || 2.0 * installed >= bore) break;
            if (fits(felt, yard.limits, bore, layers)) choices.push_back({static_cast<int>(i), layers, installed});
        }
    }
    std::stable_sort(choices.begin(), choices.end(), [&](const FeltChoice& a, const FeltChoice& b) {
        const auto key = [&](const FeltChoice& c) {
            return std::tuple{std::llround(c.installed.in(1e-6 * unit::mm)), c.layers,
                              price_per_m2(yard.felts[static_cast<std::size_t>(c.felt)])};
        };
        return key(a) < key(b);
    });
    return choices;
}

CutSizes cut_sizes(const job::Felt& felt, const FeltChoice& choice, Length bore, Length sleeve,
                   const job::Limits& limits, Working& working) {
    require_valid(felt, choice, bore, sleeve, limits);
    const bool tube = felt.form == job::FeltForm::sewn_tube;
    CutSizes cut;
    working.add(installed_formula, {static_cast<double>(choice.layers), {felt.thickness, Origin::yard}},
                static_cast<double>(choice.layers) * felt.thickness);
    cut.length = (sleeve + 2.0 * limits.end_trim) / (1.0 - felt.take_up);
    working.add(length_formula, {sleeve, {limits.end_trim, Origin::yard}, {felt.take_up, Origin::yard}}, cut.length);
    if (!tube) {
        cut.seam_overlap = seam_overlap(limits, bore);
        working.add(seam_formula,
                    {bore, {limits.seam_overlap_small, Origin::yard}, {limits.seam_overlap_large, Origin::yard}},
                    cut.seam_overlap);
    }
    Length widths{};
    for (int layer = 1; layer <= choice.layers; ++layer) {
        FeltCut piece{layer, cut.length, felt.flat_width, tube ? 2 : 1};
        if (tube) {
            working.add(tube_formula, {{felt.flat_width, Origin::yard}}, piece.width);
        } else {
            piece.width = sheet_width(bore, felt.thickness, layer, cut.seam_overlap);
            working.add(width_formula, {bore, middle_depth(felt.thickness, layer), {cut.seam_overlap, Origin::yard}},
                        piece.width);
        }
        widths += static_cast<double>(piece.plies) * piece.width;
        cut.felt_area += piece.area();
        cut.pieces.push_back(piece);
    }
    cut.width = cut.pieces.front().width;
    working.add(area_formula, {cut.length, widths}, cut.felt_area);
    return cut;
}

bool can_be_cut(const job::Felt& felt, const CutSizes& cut) {
    const bool tube = felt.form == job::FeltForm::sewn_tube;
    return std::all_of(cut.pieces.begin(), cut.pieces.end(), [&](const FeltCut& piece) {
        if (felt.roll_length >= piece.length && (tube || felt.roll_width >= piece.width)) return true;
        return std::any_of(felt.stock.begin(), felt.stock.end(), [&](const job::FeltPiece& p) {
            return p.count > 0 && p.length >= piece.length && (tube || p.width >= piece.width);
        });
    });
}

}  // namespace patchwright::liner
