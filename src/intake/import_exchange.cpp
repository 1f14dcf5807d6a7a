#include "import_exchange.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <optional>

namespace patchwright::intake {
namespace {

constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

/// What the lines beginning with #A say.
struct Form {
    Charset charset = Charset::utf8;
    std::string separator = ",", decimal_mark = ".", quote = "\"", edition;
};

class Exchange {
public:
    Exchange(std::string_view bytes, Faults& faults) : bytes_{bytes}, faults_{faults} {
        marked_utf8_ = bytes_.starts_with(byte_order_mark);
        if (marked_utf8_) bytes_.remove_prefix(byte_order_mark.size());
        form_.charset = is_utf8(bytes_) ? Charset::utf8 : Charset::latin1;
    }

    std::vector<Survey> read() {
        for (const std::string_view raw : split_lines(bytes_)) {
            if (faults_.given_up()) break;
            ++number_;
            const Decoded decoded = decode(raw, form_.charset);
            faults_.keep(number_, decoded.text);
            if (trimmed(decoded.text).empty()) continue;
            if (decoded.bad_column > 0) {
                unread(decoded.text, here(decoded.bad_column),
                       "this byte is no character of the set that the file names in #A1");
                continue;
            }
            line(decoded.text);
        }
        close();
        if (!surveys_.empty()) move_unread(stray_, surveys_.back());
        return std::move(surveys_);
    }

private:
    enum class State : unsigned char { outside, header_list, header_done, observations };

    Placed here(int column = 1) const { return {"", number_, column}; }

    void line(const std::string& text) {
        if (text.starts_with('#'))
            directive(text);
        else if (state_ == State::header_list)
            header_values(text);
        else if (state_ == State::observations)
            observation(text);
        else
            unread(text, here(), "a line of values without a list of fields (#B01= or #C=) before it");
    }

    void directive(const std::string& text) {
        if (state_ == State::header_list)
            faults_.error(here(), "the values of the header group are missing: one line follows each #B line");
        const std::size_t equals = std::min(text.find('='), text.size());
        const std::string key = upper(trimmed(std::string_view{text}.substr(1, equals - 1)));
        const bool has_value = equals < text.size();
        const std::string value = has_value ? text.substr(equals + 1) : "";
        if (key == "Z" && !has_value) {
            close();
        } else if (key.starts_with('A') && key.size() > 1 && has_value) {
            if (state_ == State::header_list || state_ == State::header_done) state_ = State::header_done;
            format(key, value, static_cast<int>(equals) + 2);
        } else if (key.starts_with('B') && key.size() > 1 && has_value) {
            begin_header(key, value, static_cast<int>(equals) + 2);
        } else if (key == "C" && has_value) {
            begin_observations(value, static_cast<int>(equals) + 2);
        } else {
            if (state_ == State::header_list) state_ = State::header_done;
            unread(text, here(),
                   fmt::format("\"#{}\" is not known; a line begins with #A1= to #A6=, #B01=, #C= or is #Z",
                               head(key, 20)));
        }
    }

    /// Values of the lines #A1 to #A6 may be quoted: "ISO-8859-1:1998".
    static std::string unquoted(const std::string& value) {
        std::string mark = value.size() > 1 ? trimmed(value) : value;
        if (mark.size() > 2 && mark.front() == mark.back() && (mark.front() == '"' || mark.front() == '\''))
            mark = mark.substr(1, mark.size() - 2);
        return mark;
    }

    void format(const std::string& key, const std::string& value, int column) {
        const std::string mark = unquoted(value);
        const Placed place = here(column);
        if (key == "A1") {
            const auto charset = charset_named(mark);
            if (marked_utf8_) return;
            if (charset)
                form_.charset = *charset;
            else
                faults_.error(place, fmt::format("the character set \"{}\" is not read here; ISO-8859-1, ISO-8859-15, "
                                                 "Windows-1252 and UTF-8 are",
                                                 head(mark, 40)));
        } else if (key == "A3") {
            if (mark.size() == 1 && std::isalnum(static_cast<unsigned char>(mark[0])) == 0)
                form_.separator = mark;
            else
                faults_.error(place, "the field separator is one character, such as \";\"");
        } else if (key == "A4") {
            if (mark == "." || mark == ",")
                form_.decimal_mark = mark;
            else
                faults_.error(place, "the decimal mark is \".\" or \",\"");
        } else if (key == "A5") {
            if (mark.size() <= 1 && mark != form_.separator)
                form_.quote = trimmed(mark);
            else
                faults_.error(place, "the quote mark is one character that differs from the separator, or nothing");
        } else if (key == "A6") {
            form_.edition = mark;
        } else if (key != "A2") {
            unread("#" + key + "=" + value, here(),
                   fmt::format("\"#{}\" is not known; #A1= to #A6= are", head(key, 20)));
        }
    }

    std::vector<Placed> field_list(const std::string& value, int column) {
        auto list = split_fields(value, number_, form_.separator, form_.quote).cells;
        for (Placed& cell : list) {
            cell.column += column - 1;
            cell.text = upper(cell.text);
        }
        while (list.size() > 1 && list.back().text.empty()) list.pop_back();
        return list;
    }

    void begin_header(const std::string& key, const std::string& value, int column) {
        const bool again = std::find(groups_.begin(), groups_.end(), key) != groups_.end();
        if (open_ && (observing_ || again)) close();
        open();
        groups_.push_back(key);
        list_ = field_list(value, column);
        state_ = State::header_list;
    }

    void begin_observations(const std::string& value, int column) {
        open();
        observing_ = true;
        list_ = field_list(value, column);
        state_ = State::observations;
        lacking_ = false;
        for (const auto& [code, meaning] : {std::pair{"I", "distance"}, std::pair{"A", "main code"}}) {
            if (std::any_of(list_.begin(), list_.end(), [&, c = code](const Placed& p) { return p.text == c; }))
                continue;
            faults_.error(here(column), fmt::format("the list has no field {} ({})", code, meaning));
            lacking_ = true;
        }
    }

    /// A line that cannot be taken apart is told, and kept for the run that it stands in or behind.
    void unread(const std::string& text, const Placed& at, std::string message) {
        faults_.error(at, std::move(message));
        (open_ ? current_.unread : stray_).push_back({head(trimmed(text), 2000), at.line, at.column});
    }

    static void move_unread(std::vector<Placed>& from, Survey& to) {
        to.unread.insert(to.unread.end(), from.begin(), from.end());
        from.clear();
    }

    /// The line's values with their fields, in the list's order; nothing, with an error, when they do not fit the list.
    std::optional<std::vector<std::pair<std::string, Placed>>> values(const std::string& text) {
        Fields fields = split_fields(text, number_, form_.separator, form_.quote);
        auto& cells = fields.cells;
        if (fields.open_quote_column > 0) {
            unread(text, here(fields.open_quote_column), "this quote is not closed on its line");
            return std::nullopt;
        }
        if (cells.size() < list_.size()) {
            unread(text, cells.back(),
                   fmt::format("{} field{} where the list names {}", cells.size(), cells.size() == 1 ? "" : "s",
                               list_.size()));
            return std::nullopt;
        }
        for (std::size_t i = list_.size(); i < cells.size(); ++i) {
            if (cells[i].text.empty()) continue;
            unread(text, cells[i],
                   fmt::format("more fields than the {} that the list names; is a \"{}\" in the text not quoted?",
                               list_.size(), form_.separator));
            return std::nullopt;
        }
        std::vector<std::pair<std::string, Placed>> out;
        for (std::size_t i = 0; i < list_.size(); ++i) out.emplace_back(list_[i].text, std::move(cells[i]));
        return out;
    }

    void header_values(const std::string& text) {
        state_ = State::header_done;
        if (const auto fields = values(text)) add_header(current_, *fields);
    }

    void observation(const std::string& text) {
        auto fields = values(text);
        if (!fields) return;
        Observation seen{here(), {}, lacking_};
        for (const auto& [field, value] : *fields) add_field(current_, seen, field, value);
        current_.seen.push_back(std::move(seen));
    }

    void open() {
        if (!open_) {
            Survey survey;
            survey.start = here();
            current_ = std::move(survey);
            if (surveys_.empty()) move_unread(stray_, current_);
        }
        open_ = true;
        current_.edition = form_.edition;
        current_.decimal_mark = form_.decimal_mark;
    }

    void close() {
        if (open_ && !surveys_.empty()) move_unread(stray_, surveys_.back());
        if (open_) surveys_.push_back(std::move(current_));
        open_ = observing_ = false;
        groups_.clear();
        state_ = State::outside;
    }

    std::string_view bytes_;
    Faults& faults_;
    bool marked_utf8_ = false;
    Form form_;
    int number_ = 0;
    State state_ = State::outside;
    bool open_ = false, observing_ = false;
    std::vector<std::string> groups_;
    std::vector<Placed> list_;
    Survey current_;
    bool lacking_ = false;  ///< the list of observations has no distance or no main code
    std::vector<Survey> surveys_;
    std::vector<Placed> stray_;  ///< unread lines outside any survey
};

}  // namespace

const Placed* find(const FieldMap& fields, std::string_view code) {
    const auto found = fields.find(code);
    return found == fields.end() || found->second.text.empty() ? nullptr : &found->second;
}

void add_header(Survey& survey, const std::vector<std::pair<std::string, Placed>>& values) {
    for (const auto& [field, value] : values) {
        if (value.text.empty() || field.empty()) continue;
        if (field == "ADE") {
            survey.remarks.push_back(value);
            continue;
        }
        const auto [place, fresh] = survey.header.try_emplace(field, value);
        if (!fresh && place->second.text != value.text)
            survey.doubts.emplace_back(
                value, fmt::format("the header field {} stands twice, as \"{}\" and as \"{}\"; "
                                   "the first is taken",
                                   head(field, 40), head(place->second.text, 40), head(value.text, 40)));
    }
}

void add_field(Survey& survey, Observation& seen, const std::string& field, const Placed& value) {
    const auto [place, fresh] = seen.fields.try_emplace(field, value);
    if (fresh || value.text.empty() || place->second.text == value.text) return;
    if (place->second.text.empty())
        place->second = value;
    else
        survey.doubts.emplace_back(value,
                                   fmt::format("the field {} stands twice, as \"{}\" and as \"{}\"; the first is taken",
                                               head(field, 40), head(place->second.text, 40), head(value.text, 40)));
}

std::vector<Survey> read_exchange(std::string_view bytes, Faults& faults) { return Exchange{bytes, faults}.read(); }

}  // namespace patchwright::intake
