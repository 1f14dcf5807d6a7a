// A table of drives as it comes out of a spreadsheet.
#include <fmt/format.h>

#include "patchwright/week/drive.hpp"

namespace patchwright::week {
namespace {

constexpr schedule::Minute longest_drive = 12 * 60;

struct Cell {
    std::string text;
    int column = 1;  ///< in bytes, from 1
};

std::string_view trimmed(std::string_view text) {
    constexpr std::string_view blanks = " \t\r";
    const auto first = text.find_first_not_of(blanks);
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

class Reader {
public:
    Reader(std::string_view file, DriveFile& result) : file_{file}, result_{result} {}

    void line(std::string_view text, int number) {
        text_ = text;
        number_ = number;
        const auto content = trimmed(text);
        if (content.empty() || content.front() == '#') return;
        if (number == 1 && content == "from,to,minutes") return;
        const auto cells = split();
        if (!cells) return;
        if (cells->size() != 3)
            return fault(1, fmt::format("a drive is place,place,minutes: three cells, not {}", cells->size()));
        const auto &from = (*cells)[0], &to = (*cells)[1], &minutes = (*cells)[2];
        bool good = true;
        for (const auto* place : {&from, &to}) {
            if (!place->text.empty()) continue;
            fault(place->column, "a place needs a name: a job's reference, or \"yard\"");
            good = false;
        }
        const auto value = minutes_of(minutes);
        if (!good || !value) return;
        if (from.text == to.text) return fault(to.column, fmt::format("from \"{}\" to itself", from.text));
        const auto [known, fresh] = lines_.try_emplace({from.text, to.text}, number);
        if (!fresh) return fault(1, fmt::format("this drive stands in line {} already", known->second));
        result_.table.set(from.text, to.text, *value);
    }

private:
    void fault(int column, std::string message) {
        io::Diagnostic d;
        d.file = file_;
        d.line = number_;
        d.column = column;
        d.message = std::move(message);
        d.excerpt = std::string{trimmed(text_)};
        result_.diagnostics.push_back(std::move(d));
    }

    std::optional<schedule::Minute> minutes_of(const Cell& cell) {
        int value = 0;
        bool good = !cell.text.empty() && cell.text.size() <= 4;
        for (const char digit : cell.text) {
            good = good && digit >= '0' && digit <= '9';
            if (good) value = 10 * value + (digit - '0');
        }
        if (good && value <= longest_drive) return value;
        fault(cell.column,
              fmt::format("\"{}\" is no drive: give whole minutes from 0 to {}", cell.text, longest_drive));
        return std::nullopt;
    }

    std::optional<std::vector<Cell>> split() {
        std::vector<Cell> cells;
        std::size_t at = 0;
        for (;;) {
            Cell cell;
            while (at < text_.size() && (text_[at] == ' ' || text_[at] == '\t')) ++at;
            cell.column = static_cast<int>(at) + 1;
            if (at < text_.size() && text_[at] == '"') {
                const auto end = text_.find('"', at + 1);
                if (end == std::string_view::npos) {
                    fault(cell.column, "the quotation mark is not closed");
                    return std::nullopt;
                }
                cell.text = text_.substr(at + 1, end - at - 1);
                at = text_.find(',', end);
            } else {
                const auto end = text_.find(',', at);
                cell.text = trimmed(text_.substr(at, end == std::string_view::npos ? end : end - at));
                at = end;
            }
            cells.push_back(std::move(cell));
            if (at == std::string_view::npos) return cells;
            ++at;
        }
    }

    std::string_view file_;
    DriveFile& result_;
    std::string_view text_;
    int number_ = 0;
    std::map<std::pair<std::string, std::string>, int> lines_;
};

}  // namespace

DriveFile read_drives(std::string_view text, std::string_view file) {
    DriveFile result;
    if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
    Reader reader{file, result};
    int number = 0;
    while (!text.empty()) {
        const auto end = text.find('\n');
        reader.line(text.substr(0, end), ++number);
        text = end == std::string_view::npos ? std::string_view{} : text.substr(end + 1);
    }
    return result;
}

}  // namespace patchwright::week
