#pragma once
#include <cstdint>
#include <span>
#include <string>
#include <string_view>

#include "patchwright/plan/plan.hpp"

/// The figures that sheets show, each described once. Card, JSON, `why`, the page on JSON and the tests of keys go by
/// these tables: a new figure is one row, and a step of its working where it is computed.
namespace patchwright::plan {

/// The side to which a figure goes when it is printed: what must not be exceeded down, what must not be fallen short of
/// up. Felt is cut to whole millimetres, never short, whatever units the sheet speaks.
enum class Rounding : std::uint8_t { nearest, down, up, cut };
/// A figure as every sheet prints it.
std::string shown(Show show, Rounding rounding, double si, UnitSystem units);

/// One figure of a patch or of a mix.
template <class Owner>
struct FigureKind {
    std::string_view name;    ///< asked by `why A-P1.NAME`: "let-down"
    std::string_view key;     ///< in JSON, from the owner's object: "cure.let_down_min"
    std::string_view label;   ///< on sheets: "Deflate, not before"
    Show show = Show::ratio;  ///< unit and digits
    Rounding rounding = Rounding::nearest;
    double (*value)(const Owner&) = nullptr;  ///< SI, as in Operand
    const Working& (*working)(const Owner&) = nullptr;
    bool (*applies)(const Owner&) = nullptr;  ///< nullptr: to all

    bool applies_to(const Owner& owner) const { return applies == nullptr || applies(owner); }
    std::string shown(const Owner& owner, UnitSystem units) const {
        return plan::shown(show, rounding, value(owner), units);
    }
};

std::span<const FigureKind<Patch>> patch_figures();
std::span<const FigureKind<Batch>> batch_figures();

/// The row of that name. Throws std::out_of_range for a name that stands in no row: a fault of the caller.
const FigureKind<Patch>& patch_figure(std::string_view name);
const FigureKind<Batch>& batch_figure(std::string_view name);

}  // namespace patchwright::plan
