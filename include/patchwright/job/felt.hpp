#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/units/money.hpp"
#include "patchwright/units/quantity.hpp"

/// Felt and glass mat, as bought and as it lies in the yard.
namespace patchwright::job {

enum class FeltForm : std::uint8_t { sheet, sewn_tube };
enum class Fibre : std::uint8_t { polyester_felt, glass_mat };
std::string_view word(FeltForm v);
std::string_view word(Fibre v);

struct FeltPiece {
    Length length{}, width{};
    int count = 1;
    bool offcut = false;  ///< owned already: used first, at `offcut_value` of its price
};

struct Felt {
    std::string id;
    FeltForm form = FeltForm::sheet;
    Fibre fibre = Fibre::polyester_felt;
    Length thickness{};  ///< of one layer, under packer pressure
    ArealMass areal_mass{};
    double void_fraction = 0.0;               ///< of the felt under packer pressure
    Length tube_bore_min{}, tube_bore_max{};  ///< sewn tube: bores that it fits
    Length flat_width{};                      ///< sewn tube: width laid flat
    double take_up = 0.0;                     ///< share of length lost when the tube widens to the bore
    Length roll_width{}, roll_length{};       ///< as bought
    MoneyPer<Area> price{};
    double offcut_value = 0.0;  ///< share of the price at which an owned offcut is charged
    std::vector<FeltPiece> stock;
};

}  // namespace patchwright::job
