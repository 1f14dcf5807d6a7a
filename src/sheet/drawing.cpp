#include "patchwright/sheet/drawing.hpp"

#include <algorithm>

namespace patchwright::sheet {
namespace {

void shift(Point& p, double by) { p.y += by; }

}  // namespace

Drawing stacked(const std::vector<Drawing>& drawings) {
    constexpr double gap = 6.0;
    Drawing all;
    all.height = 0;
    all.width = 0;
    for (const auto& drawing : drawings) {
        const double top = all.height > 0 ? all.height + gap : 0.0;
        for (auto shape : drawing.shapes) {
            std::visit(
                [&](auto& s) {
                    using S = std::decay_t<decltype(s)>;
                    if constexpr (std::is_same_v<S, Line>) {
                        shift(s.a, top), shift(s.b, top);
                    } else if constexpr (std::is_same_v<S, Polygon>) {
                        for (auto& p : s.points) shift(p, top);
                    } else if constexpr (std::is_same_v<S, Arc>) {
                        shift(s.centre, top);
                    } else {
                        shift(s.at, top);
                    }
                },
                shape);
            all.shapes.push_back(std::move(shape));
        }
        all.height = top + drawing.height;
        all.width = std::max(all.width, drawing.width);
        all.name += (all.name.empty() ? "" : "-") + drawing.name;
        all.title += (all.title.empty() ? "" : "; ") + drawing.title;
    }
    if (drawings.empty()) all.width = all.height = 10;
    return all;
}

}  // namespace patchwright::sheet
