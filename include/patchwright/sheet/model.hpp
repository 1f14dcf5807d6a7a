#pragma once
#include <cstdint>
#include <memory>
#include <string>
#include <utility>
#include <variant>
#include <vector>

/// One model of a printed sheet; text, PDF and JSON are renderers of it. Nothing here computes.
namespace patchwright::sheet {

/// How loudly a figure is printed: `arm` is read at arm's length (weights, pressures, times, marks).
enum class Emphasis : std::uint8_t { normal, strong, arm };
enum class Align : std::uint8_t { left, right };

struct Heading {
    std::string text;
    int level = 1;
    std::string jump{};  ///< on a web page: the words of the button that leads there; empty: none does
};
struct Paragraph {
    std::string text;
    Emphasis emphasis = Emphasis::normal;
};
struct Bullets {
    std::vector<std::string> items;
};
/// Label and value side by side. Without a value there is a line to write on.
struct Field {
    std::string label, value;
    Emphasis emphasis = Emphasis::normal;
    bool blank() const { return value.empty(); }
};
struct Fields {
    std::vector<Field> fields;
    int columns = 2;
};
struct Column {
    std::string title;
    Align align = Align::left;
    bool blank = false;
};
/// Nobody sets widths: a column is as wide as its longest cell or title. Where all together are too wide, on paper the
/// titles break first, then the widest columns give way, no further than their longest word while another can still
/// give. A blank column has room to write: 8 characters in text, 13 mm and up to 24 mm more on paper. In text a table
/// is no wider than 80 characters (`TextStyle::width`), on paper than the page or its share of it.
struct Table {
    std::string title;
    std::vector<Column> columns;
    std::vector<std::vector<std::string>> rows;
    std::vector<std::size_t> total_rows;  ///< rows set off by a rule
    bool strong = false;                  ///< read at arm's length
    int side_by_side = 1;                 ///< on paper a long, narrow table runs on in this many columns
};
struct Ticks {
    std::vector<std::string> items;
};  ///< boxes to tick
struct Caution {
    std::string title, text, source;
};
struct Signature {
    std::vector<std::string> labels;
};

/// A picture from the drawing description, by name; the text form prints `as_text` instead.
struct Drawing;
struct Picture {
    std::shared_ptr<const Drawing> drawing;
    std::string as_text;
};

/// A picture from a file, in its own colours. Paper and web page show it, the text form does not.
struct Image {
    std::shared_ptr<const std::string> bytes;
    bool vector = false;           ///< SVG; else PNG
    double width = 0, height = 0;  ///< mm
};

/// The tables of a patch as numbers, for a form that looks up what was measured. Degrees and minutes as printed; 0
/// minutes to inflate: do not.
struct Limits {
    struct Pipe {
        double pipe = 0;
        int inflate_by = 0, gel = 0, let_down = 0;
    };
    struct Air {
        double resin = 0, air = 0;
        int pour_by = 0, inflate_by = 0;
    };
    std::string patch, unit;
    double least = 0;         ///< the resin is not for a colder pipe
    std::vector<Pipe> pipes;  ///< colder first
    std::vector<Air> airs;
};

struct Block;
/// Blocks that stay together on one page: a patch card.
struct Card {
    std::string title, subtitle;
    std::vector<Block> blocks;
    std::shared_ptr<const Limits> limits{};  ///< of a patch card; what it says stands in the day's tables too
};
/// Blocks beside each other on paper, one after the other in text. Stays together like a card.
struct Columns {
    std::vector<std::vector<Block>> columns;
    std::vector<double> shares;  ///< of the width; empty: all alike
};
struct PageBreak {
    bool when_full = false;  ///< only where what follows does not fit on the page in type that can be read
};

struct Block {
    std::variant<Heading, Paragraph, Bullets, Fields, Table, Ticks, Caution, Signature, Picture, Image, Card, Columns,
                 PageBreak>
        content;
};

struct Sheet {
    std::string kind;                       ///< "Day sheet"
    std::string title, reference, subject;  ///< job title, job reference, day or customer
    std::string language = "en";
    std::vector<std::string> banners;  ///< "demonstration prices, not yours": on every page
    std::vector<Block> blocks;
    /// What stands between two page breaks is set smaller, within what can be read, when that puts it on one page.
    bool compact = false;
};

}  // namespace patchwright::sheet
