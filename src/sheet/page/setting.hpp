#pragma once
#include <memory>
#include <string>
#include <variant>
#include <vector>

#include "fonts.hpp"
#include "patchwright/sheet/drawing.hpp"
#include "patchwright/sheet/model.hpp"

/// From the blocks of a sheet to pieces of known height, and from those to marks on paper. Millimetres throughout.
namespace patchwright::sheet {

struct TextMark {
    std::string text;
    double x = 0, y = 0;  ///< left end of the base line
    double size = 3.0;
    Face face = Face::regular;
    double grey = 0.0;
};
struct RuleMark {
    double x1 = 0, y1 = 0, x2 = 0, y2 = 0;
    double width = 0.2, grey = 0.0;
    bool stitched = false;
};
struct BoxMark {
    double x = 0, y = 0, width = 0, height = 0;
    double line = 0.3, grey = 0.0;
    double fill = -1;  ///< grey; below zero: empty
};
/// The sign before a caution: a triangle with a stroke and a dot.
struct SignMark {
    double x = 0, y = 0, height = 3.0;
};
struct PictureMark {
    double x = 0, y = 0, scale = 1.0;
    std::shared_ptr<const Drawing> drawing;
};
struct ImageMark {
    double x = 0, y = 0, width = 0, height = 0;
    Image image;
};
using Mark = std::variant<TextMark, RuleMark, BoxMark, SignMark, PictureMark, ImageMark>;

/// What is never divided between two pages.
struct Piece {
    double height = 0;
    double before = 0;       ///< white above, left out at the head of a page
    bool keep_next = false;  ///< not the last thing on a page
    bool page_break = false;
    std::vector<Mark> marks;              ///< from the piece's upper left corner
    std::shared_ptr<const Piece> repeat;  ///< head of the table, printed again on a new page
    std::vector<Piece> parts;             ///< of a card: for the case that it is higher than a page
    std::string name;                     ///< of a card, for the warning
};
/// Of pieces one under the other.
double stacked_height(const std::vector<Piece>& pieces);
/// Adds the marks of a piece to another, moved.
void add_marks(Piece& into, const Piece& piece, double x, double y);

/// Sizes of type and space.
struct Style {
    double scale = 1.0;
    double text = 3.0, small = 2.5, label = 2.3, arm = 4.8, heading = 3.9;
    double leading = 1.24;  ///< line to line, of the size
    double gap = 1.3;       ///< between blocks
    double gutter = 4.0;    ///< between columns
    double write = 6.2;     ///< height of a line to write on
    /// Type shrinks, the room to write by hand hardly does.
    static Style of(double scale);
};

class Setter {
public:
    explicit Setter(Fonts& fonts) : fonts_{fonts} {}
    /// Room between header and footer: nothing that stays whole is set higher if it can be helped.
    void set_page_height(double height) { page_height_ = height; }

    std::vector<Piece> set(const std::vector<Block>& blocks, double width, const Style& style);
    /// Lines of one face as marks from (x, y), y being the top; returns the height.
    double add_text(Piece& piece, std::string_view text, double x, double y, double width, Face face, double size,
                    const Style& style, double grey = 0.0);
    /// One line, cut off with an ellipsis if need be.
    std::string shortened(const std::string& text, Face face, double size, double width);
    Fonts& fonts() { return fonts_; }

private:
    void add(const Heading&, double width, const Style&, std::vector<Piece>& out);
    void add(const Paragraph&, double width, const Style&, std::vector<Piece>& out);
    void add(const Bullets&, double width, const Style&, std::vector<Piece>& out);
    void add(const Fields&, double width, const Style&, std::vector<Piece>& out);
    void add(const Table&, double width, const Style&, std::vector<Piece>& out);
    void add(const Ticks&, double width, const Style&, std::vector<Piece>& out);
    void add(const Caution&, double width, const Style&, std::vector<Piece>& out);
    void add(const Signature&, double width, const Style&, std::vector<Piece>& out);
    void add(const Picture&, double width, const Style&, std::vector<Piece>& out);
    void add(const Image&, double width, const Style&, std::vector<Piece>& out);
    void add(const Card&, double width, const Style&, std::vector<Piece>& out);
    void add(const Columns&, double width, const Style&, std::vector<Piece>& out);
    void add(const PageBreak&, double, const Style&, std::vector<Piece>& out);

    Piece card_inside(const Card& card, double width, const Style& style);
    Piece caution(const Caution& caution, double width, const Style& style);
    void add_cautions(const std::vector<const Caution*>& list, double width, const Style& style,
                      std::vector<Piece>& out);
    void add_list(const std::vector<std::string>& items, bool boxes, int max_columns, double width, const Style& style,
                  std::vector<Piece>& out);
    void add_rows(const Table& table, double width, const Style& style, std::vector<Piece>& out);

    Fonts& fonts_;
    double page_height_ = 250.0;
};

/// Widths of a table's columns that together take `width` at most, from what each wants and needs at least.
std::vector<double> share_width(std::vector<double> wanted, const std::vector<double>& least, double width);

}  // namespace patchwright::sheet
