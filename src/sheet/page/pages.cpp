#include <algorithm>

#include <fmt/format.h>

#include "paint.hpp"
#include "patchwright/sheet/page.hpp"
#include "setting.hpp"
#include "surface.hpp"

namespace patchwright::sheet {
namespace {

/// Room for the clip of a clipboard at the top; the rest is what office printers can reach.
constexpr double margin_top = 15.0, margin_side = 12.0, margin_bottom = 9.0;
constexpr double header_height = 8.4, footer_height = 5.0;

struct Placed {
    Piece piece;
    double y = 0;
};
using Page = std::vector<Placed>;

/// Draws marks and keeps their rectangles when asked to.
class Press {
public:
    Press(cairo_t* cairo, Fonts& fonts, std::vector<Box>* boxes) : cairo_{cairo}, fonts_{fonts}, boxes_{boxes} {}
    void set_page(int page) { page_ = page; }

    void draw(const Piece& piece, double x, double y) {
        cairo_save(cairo_);
        cairo_translate(cairo_, x, y);
        dx_ = x, dy_ = y;
        for (const auto& mark : piece.marks) std::visit([this](const auto& m) { draw(m); }, mark);
        cairo_restore(cairo_);
    }

private:
    void ink(double level) { cairo_set_source_rgb(cairo_, level, level, level); }

    void draw(const TextMark& m) {
        ink(m.grey);
        fonts_.show(cairo_, m.text, m.x, m.y, m.face, m.size);
        keep(m.x + dx_, m.y + dy_, fonts_.width(printable(m.text), m.face, m.size), m.size, m.text);
    }
    void draw(const RuleMark& m) {
        ink(m.grey);
        cairo_set_line_width(cairo_, m.width);
        const double stitch[] = {1.5, 0.9};
        cairo_set_dash(cairo_, stitch, m.stitched ? 2 : 0, 0);
        cairo_move_to(cairo_, m.x1, m.y1);
        cairo_line_to(cairo_, m.x2, m.y2);
        cairo_stroke(cairo_);
        cairo_set_dash(cairo_, stitch, 0, 0);
    }
    void draw(const BoxMark& m) {
        cairo_rectangle(cairo_, m.x, m.y, m.width, m.height);
        if (m.fill >= 0) {
            ink(m.fill);
            cairo_fill_preserve(cairo_);
        }
        ink(m.grey);
        cairo_set_line_width(cairo_, m.line);
        if (m.line > 0) {
            cairo_stroke(cairo_);
        } else {
            cairo_new_path(cairo_);
        }
    }
    void draw(const SignMark& m) {
        const double h = m.height;
        ink(0.0);
        cairo_set_line_width(cairo_, 0.11 * h);
        cairo_set_line_join(cairo_, CAIRO_LINE_JOIN_ROUND);
        cairo_move_to(cairo_, m.x + 0.62 * h, m.y + 0.06 * h);
        cairo_line_to(cairo_, m.x + 1.18 * h, m.y + 0.97 * h);
        cairo_line_to(cairo_, m.x + 0.06 * h, m.y + 0.97 * h);
        cairo_close_path(cairo_);
        cairo_stroke(cairo_);
        cairo_set_line_width(cairo_, 0.13 * h);
        cairo_move_to(cairo_, m.x + 0.62 * h, m.y + 0.36 * h);
        cairo_line_to(cairo_, m.x + 0.62 * h, m.y + 0.66 * h);
        cairo_stroke(cairo_);
        cairo_rectangle(cairo_, m.x + 0.55 * h, m.y + 0.74 * h, 0.14 * h, 0.13 * h);
        cairo_fill(cairo_);
    }
    void draw(const ImageMark& m) { paint(cairo_, m.image, m.x, m.y, m.width, m.height); }
    void draw(const PictureMark& m) {
        cairo_save(cairo_);
        cairo_translate(cairo_, m.x, m.y);
        cairo_scale(cairo_, m.scale, m.scale);
        paint(cairo_, *m.drawing, fonts_);
        cairo_restore(cairo_);
        if (boxes_ == nullptr) return;
        for (const auto& shape : m.drawing->shapes) {
            const auto* label = std::get_if<Label>(&shape);
            if (label == nullptr) continue;
            const double width =
                fonts_.width(label->text, label->bold ? Face::bold : Face::regular, label->size) * m.scale;
            const double shift = label->anchor < 0 ? 0 : label->anchor == 0 ? -width / 2 : -width;
            const double x = dx_ + m.x + label->at.x * m.scale, y = dy_ + m.y + label->at.y * m.scale;
            const double size = label->size * m.scale;
            if (label->vertical) {
                boxes_->push_back({page_, x - 0.74 * size, y - shift - width, 0.94 * size, width, label->text});
            } else {
                keep(x + shift, y, width, size, label->text);
            }
        }
    }
    /// From the top of capitals to the foot of descending letters.
    void keep(double x, double y, double width, double size, const std::string& text) {
        if (boxes_ != nullptr) boxes_->push_back({page_, x, y - 0.74 * size, width, 0.94 * size, text});
    }

    cairo_t* cairo_;
    Fonts& fonts_;
    std::vector<Box>* boxes_;
    int page_ = 0;
    double dx_ = 0, dy_ = 0;
};

/// One sheet on its pages.
class SheetPages {
public:
    SheetPages(const Sheet& sheet, PaperSize paper, Fonts& fonts, std::vector<std::string>& warnings)
        : sheet_{sheet}, paper_{paper}, width_{paper.width - 2 * margin_side}, warnings_{warnings}, setter_{fonts} {
        header_ = header();
        top_ = margin_top + header_.height + 1.5;
        bottom_ = paper.height - margin_bottom - footer_height;
        setter_.set_page_height(bottom_ - top_);
        for (const auto& part : parts()) {
            start_page();
            place(set_part(part));
        }
        if (pages_.empty()) start_page();
    }
    std::size_t count() const { return pages_.size(); }

    void draw(std::size_t page, Press& press) {
        press.draw(header_, margin_side, margin_top);
        for (const auto& placed : pages_[page]) press.draw(placed.piece, margin_side, placed.y);
        press.draw(footer(page), margin_side, paper_.height - margin_bottom - footer_height);
    }

private:
    /// The blocks between page breaks; where a break is for want of room, together if they fit.
    std::vector<std::vector<Block>> parts() {
        std::vector<std::vector<Block>> list(1);
        std::vector<bool> may_join(1, false);
        for (const auto& block : sheet_.blocks) {
            if (const auto* page_break = std::get_if<PageBreak>(&block.content)) {
                if (list.back().empty()) continue;
                list.emplace_back();
                may_join.push_back(page_break->when_full);
            } else {
                list.back().push_back(block);
            }
        }
        std::vector<std::vector<Block>> joined;
        for (std::size_t i = 0; i < list.size(); ++i) {
            if (may_join[i]) {
                auto both = joined.back();
                both.insert(both.end(), list[i].begin(), list[i].end());
                const bool fits = stacked_height(setter_.set(both, width_, Style::of(sheet_.compact ? least_ : 1.0))) <=
                                  bottom_ - top_;
                if (fits) {
                    joined.back() = std::move(both);
                    continue;
                }
            }
            if (!list[i].empty()) joined.push_back(std::move(list[i]));
        }
        return joined;
    }

    std::vector<Piece> set_part(const std::vector<Block>& blocks) {
        auto pieces = setter_.set(blocks, width_, Style::of(1.0));
        const double room = bottom_ - top_;
        if (!sheet_.compact || stacked_height(pieces) <= room) return pieces;
        // The largest type that fits, by halving; below the least that can be read it flows over at nearly full size.
        auto small = setter_.set(blocks, width_, Style::of(least_));
        if (stacked_height(small) > room) {
            auto told = blocks;
            std::erase_if(told, is_mere_picture);
            if (told.size() < blocks.size() && stacked_height(setter_.set(told, width_, Style::of(least_))) <= room)
                return set_part(told);
            return setter_.set(blocks, width_, Style::of(0.86));
        }
        double fits = least_, too_large = 1.0;
        for (int i = 0; i < 4; ++i) {
            const double middle = 0.5 * (fits + too_large);
            auto tried = setter_.set(blocks, width_, Style::of(middle));
            if (stacked_height(tried) <= room) {
                fits = middle;
                small = std::move(tried);
            } else {
                too_large = middle;
            }
        }
        return small;
    }
    /// No text stands for it: what it shows is said in words as well.
    static bool is_mere_picture(const Block& block) {
        const auto all = [](const auto& list) { return std::all_of(list.begin(), list.end(), is_mere_picture); };
        const auto* both = std::get_if<Columns>(&block.content);
        if (both != nullptr) return std::all_of(both->columns.begin(), both->columns.end(), all);
        const auto* one = std::get_if<Picture>(&block.content);
        return one != nullptr && one->as_text.empty();
    }
    static constexpr double least_ = 0.62;  ///< of the type's size

    void start_page() {
        pages_.emplace_back();
        y_ = top_;
    }

    void place(std::vector<Piece> pieces) {
        for (std::size_t i = 0; i < pieces.size();) {
            std::size_t last = i;
            while (last + 1 < pieces.size() && pieces[last].keep_next) ++last;
            double height = 0;
            for (std::size_t k = i; k <= last; ++k) height += pieces[k].height + (k > i ? pieces[k].before : 0);
            const bool fresh = pages_.back().empty();
            if (!fresh && y_ + pieces[i].before + height > bottom_ + 1e-6) {
                start_page();
                repeat_head(pieces[i]);
            }
            for (; i <= last; ++i) put(std::move(pieces[i]));
        }
    }

    double head_height(const Piece& piece) const {
        const bool repeated = piece.repeat && piece.repeat->height <= 0.4 * (bottom_ - top_);
        return repeated ? piece.repeat->height : 0.0;
    }

    void repeat_head(const Piece& piece) {
        if (head_height(piece) <= 0) return;
        pages_.back().push_back({*piece.repeat, y_});
        y_ += piece.repeat->height;
    }

    void put(Piece piece) {
        if (!pages_.back().empty()) y_ += piece.before;
        if (y_ + piece.height > bottom_ + 1e-6 && !pages_.back().empty()) {  // inside a chain that no page holds
            start_page();
            repeat_head(piece);
        }
        if (y_ + piece.height > bottom_ + 1e-6 && !piece.parts.empty()) {
            warnings_.push_back(fmt::format("{} {}: \"{}\" is too long for one page and was divided", sheet_.kind,
                                            sheet_.reference, piece.name));
            place(std::move(piece.parts));
            return;
        }
        const double height = piece.height;
        if (y_ + height > bottom_ + 1e-6) {
            place(slices(piece));
            return;
        }
        pages_.back().push_back({std::move(piece), y_});
        y_ += height;
    }

    /// One entry that is longer than a page, divided between its lines.
    std::vector<Piece> slices(const Piece& piece) const {
        const double room = bottom_ - top_ - 2.0 - head_height(piece);
        std::vector<Piece> list(static_cast<std::size_t>(piece.height / room) + 1);
        for (std::size_t k = 0; k < list.size(); ++k) {
            const double from = static_cast<double>(k) * room;
            list[k].height = std::min(room, piece.height - from);
            list[k].repeat = piece.repeat;
            for (const auto& mark : piece.marks) {
                const double y = std::visit(
                    [](const auto& m) {
                        if constexpr (std::is_same_v<std::decay_t<decltype(m)>, RuleMark>) {
                            return m.y1;
                        } else {
                            return m.y;
                        }
                    },
                    mark);
                if (y < from || (y >= from + room && k + 1 < list.size())) continue;
                Piece one;
                one.marks.push_back(mark);
                add_marks(list[k], one, 0, -from);
            }
        }
        return list;
    }

    Piece header() {
        Piece piece;
        const double size = 5.0, small = 3.4;
        const double half = width_ * 0.5;
        const auto kind = setter_.shortened(printable(sheet_.kind), Face::bold, size, half);
        const double kind_width = setter_.fonts().width(kind, Face::bold, size);
        piece.marks.push_back(TextMark{kind, 0, 5.4, size, Face::bold, 0.0});
        double right = width_;
        if (!sheet_.reference.empty()) {
            const auto reference = setter_.shortened(printable(sheet_.reference), Face::bold, small, width_ * 0.25);
            const double wide = setter_.fonts().width(reference, Face::bold, small);
            piece.marks.push_back(BoxMark{width_ - wide - 3.0 - 0.25, 0.6, wide + 3.0, 6.0, 0.5, 0.0, -1});
            piece.marks.push_back(TextMark{reference, width_ - wide - 1.75, 4.9, small, Face::bold, 0.0});
            right -= wide + 6.0;
        }
        double left = kind_width + 4.0;
        if (!sheet_.subject.empty() && right - left > 12.0) {
            const auto subject = setter_.shortened(printable(sheet_.subject), Face::bold, small, (right - left) * 0.5);
            piece.marks.push_back(TextMark{subject, left, 5.3, small, Face::bold, 0.0});
            left += setter_.fonts().width(subject, Face::bold, small) + 4.0;
        }
        if (!sheet_.title.empty() && right - left > 8.0) {
            const auto title = setter_.shortened(printable(sheet_.title), Face::regular, 3.0, right - left);
            piece.marks.push_back(TextMark{title, right - setter_.fonts().width(title, Face::regular, 3.0), 5.2, 3.0,
                                           Face::regular, 0.0});
        }
        double y = header_height - 0.9;
        piece.marks.push_back(RuleMark{0, y, width_, y, 0.7, 0.0, false});
        piece.marks.push_back(RuleMark{0, y + 0.95, width_, y + 0.95, 0.25, 0.0, true});
        y = header_height + 0.8;
        for (const auto& banner : sheet_.banners) {
            Piece words;
            const double height = setter_.add_text(words, banner, 0, 0, width_ - 9.0, Face::bold, 2.9, Style::of(1.0));
            piece.marks.push_back(BoxMark{0.2, y, width_ - 0.4, height + 1.4, 0.4, 0.0, 0.92});
            piece.marks.push_back(SignMark{1.6, y + 0.75 + 0.2, 2.9});
            add_marks(piece, words, 6.6, y + 0.7);
            y += height + 2.2;
        }
        piece.height = y;
        return piece;
    }

    Piece footer(std::size_t page) {
        Piece piece;
        const double size = 2.6, base = 4.0;
        piece.marks.push_back(RuleMark{0, 1.0, width_, 1.0, 0.25, 0.0, false});
        const auto number = fmt::format("{} of {}", page + 1, pages_.size());
        const double wide = setter_.fonts().width(number, Face::bold, size + 0.6);
        piece.marks.push_back(TextMark{number, width_ - wide, base + 0.2, size + 0.6, Face::bold, 0.0});
        std::string words = sheet_.kind;
        for (const auto* part : {&sheet_.reference, &sheet_.subject, &sheet_.title}) {
            if (!part->empty()) words += " · " + *part;
        }
        words = setter_.shortened(printable(words), Face::regular, size, width_ - wide - 6.0);
        piece.marks.push_back(TextMark{std::move(words), 0, base, size, Face::regular, 0.0});
        piece.height = footer_height;
        return piece;
    }

    const Sheet& sheet_;
    PaperSize paper_;
    double width_, top_ = 0, bottom_ = 0, y_ = 0;
    std::vector<std::string>& warnings_;
    Setter setter_;
    Piece header_;
    std::vector<Page> pages_;
};

std::string title_of(const std::vector<Sheet>& sheets) {
    if (sheets.empty()) return {};
    const auto& first = sheets.front();
    std::string title = first.kind;
    for (const auto* part : {&first.reference, &first.title}) {
        if (!part->empty()) title += " " + *part;
    }
    return title;
}

}  // namespace

bool makes_pages() { return true; }

Pages pdf(const std::vector<Sheet>& sheets, const PageOptions& options) {
    Pages result;
    const auto paper = size_of(options.paper);
    PdfFile file{options.paper, title_of(sheets), options};
    Press press{file.cairo(), fonts(), options.keep_boxes ? &result.boxes : nullptr};
    for (const auto& sheet : sheets) {
        SheetPages pages{sheet, paper, fonts(), result.warnings};
        for (std::size_t p = 0; p < pages.count(); ++p) {
            press.set_page(result.count++);
            pages.draw(p, press);
            file.next_page();
        }
    }
    result.pdf = file.take(sheets.empty() ? "en" : sheets.front().language);
    return result;
}

std::string drawing_pdf(const std::vector<Drawing>& drawings, const PageOptions& options) {
    Sheet sheet;
    sheet.kind = "Drawing";
    for (const auto& drawing : drawings) sheet.blocks.push_back({Picture{std::make_shared<Drawing>(drawing), {}}});
    if (!drawings.empty()) sheet.title = drawings.front().title;
    return pdf({sheet}, options).pdf;
}

}  // namespace patchwright::sheet
