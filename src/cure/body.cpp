#include "body.hpp"

#include <cmath>
#include <numbers>

namespace patchwright::cure::detail {
namespace {

constexpr double pi = std::numbers::pi;

double volume(Shape shape, double inside, double outside) {
    switch (shape) {
        case Shape::slab:
            return outside - inside;
        case Shape::cylinder:
            return pi * (outside * outside - inside * inside);
        case Shape::sphere:
            return 4.0 / 3.0 * pi * (outside * outside * outside - inside * inside * inside);
    }
    return 0.0;
}
double area(Shape shape, double radius) {
    switch (shape) {
        case Shape::slab:
            return 1.0;
        case Shape::cylinder:
            return 2.0 * pi * radius;
        case Shape::sphere:
            return 4.0 * pi * radius * radius;
    }
    return 0.0;
}
/// Steady thermal resistance between two radii, K/W.
double resistance(Shape shape, double inside, double outside, double conductivity) {
    switch (shape) {
        case Shape::slab:
            return (outside - inside) / conductivity;
        case Shape::cylinder:
            return std::log(outside / inside) / (2.0 * pi * conductivity);
        case Shape::sphere:
            return (1.0 / inside - 1.0 / outside) / (4.0 * pi * conductivity);
    }
    return 0.0;
}
/// Radius that halves the volume: the place of the cell's mean temperature, to second order.
double centre(Shape shape, double inside, double outside) {
    switch (shape) {
        case Shape::slab:
            return 0.5 * (inside + outside);
        case Shape::cylinder:
            return std::sqrt(0.5 * (inside * inside + outside * outside));
        case Shape::sphere:
            return std::cbrt(0.5 * (inside * inside * inside + outside * outside * outside));
    }
    return 0.0;
}

}  // namespace

Body make_body(Shape shape, double inner_radius, const std::vector<Layer>& layers, double inner_film, double outer_film,
               bool outer_insulated) {
    Body body;
    double face = inner_radius;
    double pending = 0.0;  // resistance from the last centre to the current face
    double contact = 0.0;
    double weight_numerator = 0.0;
    bool after_reacting = false;
    for (const Layer& layer : layers) {
        if (layer.thickness <= 0.0) continue;
        const auto count = static_cast<double>(layer.cells);
        double width = layer.growth == 1.0
                           ? layer.thickness / count
                           : layer.thickness * (layer.growth - 1.0) / (std::pow(layer.growth, count) - 1.0);
        for (std::size_t i = 0; i < layer.cells; ++i) {
            const double outside = face + width;
            const double middle = centre(shape, face, outside);
            const double inward = middle > face && (face > 0.0 || shape == Shape::slab)
                                      ? resistance(shape, face, middle, layer.conductivity)
                                      : 0.0;
            const double film = contact > 0.0 ? 1.0 / (contact * area(shape, face)) : 0.0;
            if (body.capacity.empty()) {
                if (inner_film > 0.0) body.inner_link = 1.0 / (1.0 / (inner_film * area(shape, face)) + inward);
            } else {
                body.link.push_back(1.0 / (pending + film + inward));
            }
            if (after_reacting && layer.reaction_heat == 0.0) {
                const double outward = film + inward;  // face temperature divides the drop between the two centres
                body.face_weight = outward / (weight_numerator + outward);
                after_reacting = false;
            }
            const double v = volume(shape, face, outside);
            if (layer.reaction_heat > 0.0) {
                if (body.reacting == 0) body.first = body.cells();
                ++body.reacting;
                body.heat.push_back(layer.reaction_heat * v);
            }
            body.capacity.push_back(layer.volumetric_heat * v);
            pending = resistance(shape, middle, outside, layer.conductivity);
            if (layer.reaction_heat > 0.0) {
                weight_numerator = pending;
                after_reacting = true;
            }
            contact = 0.0;
            face = outside;
            width *= layer.growth;
        }
        contact = layer.contact;
    }
    if (!outer_insulated) {
        const double film = outer_film > 0.0 ? 1.0 / (outer_film * area(shape, face)) : 0.0;
        body.outer_link = 1.0 / (pending + film);
        if (after_reacting) body.face_weight = film / (pending + film);  // the neighbour is the surroundings
    }
    return body;
}

State uniform_state(const Body& body, double kelvin, double conversion) {
    State state;
    state.temperature.assign(body.cells(), kelvin);
    state.conversion.assign(body.reacting, conversion);
    state.face_conversion = conversion;
    return state;
}

double energy(const Body& body, const State& state, double reference) {
    double sum = 0.0;
    for (std::size_t i = 0; i < body.cells(); ++i) sum += body.capacity[i] * (state.temperature[i] - reference);
    for (std::size_t i = 0; i < body.reacting; ++i) sum += body.heat[i] * (1.0 - state.conversion[i]);
    return sum;
}

}  // namespace patchwright::cure::detail
