#pragma once
#include <optional>
#include <string>
#include <vector>

#include "canvas.hpp"
#include "patchwright/units/parse.hpp"

/// The wall of the pipe unrolled: length to the right, the clock from 6 over 9, 12 and 3 back to 6.
namespace patchwright::sheet {

/// A piece of the run on paper.
struct Window {
    double from = 0, to = 1;       ///< metres along the run
    double left = 0, right = 100;  ///< mm on paper
    double scale() const { return (right - left) / (to - from); }
    double x(double metres) const { return left + (metres - from) * scale(); }
};

/// What is on the strip, in metres.
struct StripContent {
    struct Patch {
        std::string id;
        double start = 0, end = 0;
        double mends_from = 0, mends_to = 0;  ///< of the defects under it
        bool covers = false;
    };
    struct Defect {
        std::string id;
        double at = 0, to = 0;
        std::optional<ClockRange> clock;
    };
    struct Fitting {
        std::string words;
        double at = 0, half_length = 0;  ///< of a bend along the pipe, of a branch half its bore
        bool bend = false, live = true, size_change = false;
        std::optional<ClockRange> clock;
    };
    double length = 0;
    std::vector<Patch> patches;
    std::vector<Defect> defects;
    std::vector<Fitting> fittings;
};
StripContent strip_content(const Context& context, int run);

/// A part of the run that is shown again, larger.
struct Lens {
    double from = 0, to = 0;
    std::string name;  ///< "a", "b", ...
};
/// Where patches or defects stand too close to be told apart at the window's scale. Empty: nowhere.
std::vector<Lens> lenses_of(const StripContent& content, const Window& window);

struct StripStyle {
    double height = 26.0;
    std::vector<Lens> lenses;  ///< what lies in one is labelled there, not here
    bool ends = false;         ///< print the ends of the patches to the centimetre or eighth
};
/// Draws strip, labels and scale from `y` downwards; returns where it ends.
double add_strip(Canvas& canvas, const Context& context, const StripContent& content, const Window& window, double y,
                 const StripStyle& style);
double add_lenses(Canvas& canvas, const Context& context, const StripContent& content, const std::vector<Lens>& lenses,
                  double y, double width);

}  // namespace patchwright::sheet
