#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "canvas.hpp"
#include "words.hpp"

/// Where each piece comes off the rolls and offcuts.
namespace patchwright::sheet {
namespace {

constexpr double cutting_left = 12.0, cutting_right = 178.0;

std::string size_words(const Context& c, cutting::Millimetre length, cutting::Millimetre width) {
    return fmt::format("{} x {}", show(c, Show::tape, static_cast<double>(length) * unit::mm),
                       show(c, Show::tape, static_cast<double>(width) * unit::mm));
}

std::string cut_words(const Context& c, cutting::Millimetre length, cutting::Millimetre width) {
    return fmt::format("{} x {}", cut_size(c, static_cast<double>(length) * unit::mm),
                       cut_size(c, static_cast<double>(width) * unit::mm));
}

/// One roll or offcut: as long as is used of it, torn off where it goes on.
double add_stock(Canvas& canvas, const Context& c, const plan::FeltCutting& cut, int stock_place, int copy, double y) {
    const auto& stock = cut.stock[static_cast<std::size_t>(stock_place)];
    std::vector<const cutting::Placement*> here;
    cutting::Millimetre used = 0;
    for (const auto& p : cut.plan.placements) {
        if (p.stock != stock_place || p.copy != copy) continue;
        here.push_back(&p);
        used = std::max(used, p.along + cut.pieces[static_cast<std::size_t>(p.piece)].length);
    }
    if (here.empty()) return y;
    const bool goes_on = stock.length > used * 5 / 4 + 50;
    const double shown = goes_on ? used * 1.06 + 20.0 : stock.length;
    const double scale = std::min({(cutting_right - cutting_left) / shown, 34.0 / stock.width, 0.16});
    const double length = shown * scale, width = stock.width * scale;
    canvas.text({0, y + 3.0},
                fmt::format("{}: {}{}", stock.name.substr(0, stock.name.find(' ')),
                            size_words(c, stock.length, stock.width), stock.owned ? ", ours" : ""),
                2.7, -1, true);
    y += 4.6;
    if (goes_on) {
        std::vector<Point> outline{{cutting_left, y}, {cutting_left + length, y}};
        for (int i = 1; i < 8; ++i)
            outline.push_back({cutting_left + length + (i % 2 != 0 ? 1.6 : 0.0), y + width * i / 8.0});
        outline.insert(outline.end(), {{cutting_left + length, y + width}, {cutting_left, y + width}});
        canvas.polygon(outline, hatched(Hatch::slanted, Ink::light, 0.0));
        canvas.polygon(std::move(outline), Polygon{.points = {}, .width = 0.35});
    } else {
        canvas.rectangle(cutting_left, y, length, width, hatched(Hatch::slanted, Ink::light, 0.0));
        canvas.rectangle(cutting_left, y, length, width, Polygon{.points = {}, .width = 0.35});
    }
    std::vector<std::string> small_pieces;
    for (const auto* p : here) {
        const auto& piece = cut.pieces[static_cast<std::size_t>(p->piece)];
        const double x = cutting_left + p->along * scale, at = y + p->across * scale;
        const double wide = piece.length * scale, high = piece.width * scale;
        canvas.rectangle(x, at, wide, high, filled(Ink::white, 0.5));
        const auto size = cut_words(c, piece.length, piece.width);
        const double room = wide - 1.2;
        if (label_width(piece.name, 2.6, true) <= room && high >= 3.4) {
            const bool two = label_width(size, 2.2) <= room && high >= 7.0;
            canvas.text({x + wide / 2, at + high / 2 + (two ? -0.4 : 0.9)}, piece.name, 2.6, 0, true);
            if (two) {
                canvas.text({x + wide / 2, at + high / 2 + 2.7}, size, 2.2, 0);
            } else {
                small_pieces.push_back(fmt::format("{} {}", short_name(piece.name, 24), size));
            }
        } else {
            small_pieces.push_back(fmt::format("{} {} at {}", short_name(piece.name, 24), size,
                                               show(c, Show::tape, static_cast<double>(p->along) * unit::mm)));
        }
    }
    y += width;
    const double axis = y + 1.2;
    canvas.line({cutting_left, axis}, {cutting_left + length, axis}, 0.25);
    for (const auto* p : here) {
        for (const auto end : {p->along, p->along + cut.pieces[static_cast<std::size_t>(p->piece)].length}) {
            canvas.line({cutting_left + end * scale, axis - 0.7}, {cutting_left + end * scale, axis + 0.7}, 0.3);
        }
    }
    canvas.text({cutting_left, axis + 3.4},
                fmt::format("cut off after {}", show(c, Show::tape, static_cast<double>(used) * unit::mm)), 2.3);
    y = axis + 4.6;
    for (const auto& words : small_pieces) {
        canvas.text({cutting_left, y + 2.4}, fitted(words, 2.4, cutting_right - cutting_left), 2.4);
        y += 3.6;
    }
    return y + 1.6;
}

}  // namespace

Drawing draw_cutting(const Context& c) {
    Canvas canvas{"felt", "Cutting the felt", paper_width, 20};
    canvas.title("lengthways along the roll; each piece with its patch and layer, length x width");
    double y = 10.5;
    bool any = false;
    for (const auto& cut : c.plan->cutting) {
        canvas.text({0, y + 3.0},
                    fmt::format("Felt {}{}", c.yard().felts[static_cast<std::size_t>(cut.felt)].id,
                                cut.plan.proven_optimal ? " (least cost, proven)" : ""),
                    3.0, -1, true);
        y += 5.4;
        for (std::size_t s = 0; s < cut.stock.size() && s < cut.plan.used.size(); ++s) {
            for (int copy = 0; copy < cut.plan.used[s]; ++copy) {
                y = add_stock(canvas, c, cut, static_cast<int>(s), copy, y);
                any = true;
            }
        }
        for (const int piece : cut.plan.unplaced) {
            const auto& left_over = cut.pieces[static_cast<std::size_t>(piece)];
            canvas.text({0, y + 3.0},
                        fmt::format("No stock is cutting_left for {}: {}", short_name(left_over.name),
                                    cut_words(c, left_over.length, left_over.width)),
                        2.7, -1, true);
            y += 4.6;
        }
    }
    if (!any) {
        canvas.text({0, y + 3.0}, "Nothing is cut.", 2.8);
        y += 4.6;
    }
    canvas.set_height(y + 0.5);
    return canvas.take();
}

}  // namespace patchwright::sheet
