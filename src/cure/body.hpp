#pragma once
// A body cut into cells in a row: what conducts, what reacts. SI doubles; per metre of pipe, per square metre or
// absolute, as long as capacity, links and heat are all of one kind.
#include <cstddef>
#include <vector>

namespace patchwright::cure::detail {

enum class Shape { slab, cylinder, sphere };

struct Body {
    std::vector<double> capacity;         ///< heat capacity of each cell, J/K
    std::vector<double> link;             ///< conductance from cell i to cell i + 1, W/K; one fewer than cells
    double inner_link = 0.0;              ///< conductance from cell 0 to the inner surroundings, W/K; 0: insulated
    double outer_link = 0.0;              ///< from the last cell to the outer surroundings
    std::size_t first = 0, reacting = 0;  ///< the reacting cells, in a row
    std::vector<double> heat;             ///< heat set free by full conversion of each reacting cell, J
    /// Temperature of the reacting block's outer face: weight of the last reacting cell; the rest is its neighbour's.
    double face_weight = 1.0;

    std::size_t cells() const { return capacity.size(); }
    std::size_t last_reacting() const { return first + reacting - 1; }
};

struct State {
    std::vector<double> temperature;  ///< of each cell, K
    std::vector<double> conversion;   ///< of each reacting cell
    double face_conversion = 0.0;     ///< at the block's outer face: carries no heat, only tells the coldest point
};

/// A layer of one material, cut into cells, from the inside outwards.
struct Layer {
    double thickness = 0.0;        ///< m
    double conductivity = 0.0;     ///< W/(m K)
    double volumetric_heat = 0.0;  ///< rho cp, J/(m3 K)
    std::size_t cells = 1;
    double growth = 1.0;         ///< thickness of a cell over that of the one before
    double reaction_heat = 0.0;  ///< of full conversion, J/m3; 0: inert
    double contact = 0.0;        ///< film on its outer side, W/(m2 K); 0: perfect contact
};

/// Finite volumes with conductances exact for steady radial conduction between cell centres.
/// Cylinders per metre of length, slabs per square metre. `inner_film`, `outer_film`: W/(m2 K); 0 at the inside:
/// insulated; 0 at the outside: the surroundings touch the last face.
Body make_body(Shape shape, double inner_radius, const std::vector<Layer>& layers, double inner_film, double outer_film,
               bool outer_insulated = false);

/// Every cell at one temperature, the reacting ones at one conversion.
State uniform_state(const Body& body, double kelvin, double conversion);

/// Heat stored above `reference`, with the heat of reaction not yet set free, J.
double energy(const Body& body, const State& state, double reference);

}  // namespace patchwright::cure::detail
