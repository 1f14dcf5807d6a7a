#include "import_csv.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>

#include "import_csv_row.hpp"

namespace patchwright::intake {
namespace {

constexpr std::array<std::string_view, 16> column_names{"run",   "from",  "to",     "length", "bore", "material",
                                                        "depth", "at",    "end",    "code",   "kind", "size",
                                                        "clock", "angle", "inflow", "remark"};

std::string column_named(std::string_view text) {
    std::string plain = lower(trimmed(text));
    if (std::find(column_names.begin(), column_names.end(), plain) != column_names.end()) return plain;
    static constexpr std::pair<std::string_view, std::string_view> others[] = {
        {"distance", "at"}, {"diameter", "bore"}, {"remarks", "remark"}, {"until", "end"}, {"position", "clock"}};
    for (const auto& [other, name] : others)
        if (plain == other) return std::string{name};
    return {};
}

class Table {
public:
    Table(std::string_view bytes, Faults& faults) : bytes_{bytes}, faults_{faults} {
        if (bytes_.starts_with("\xEF\xBB\xBF")) bytes_.remove_prefix(3);
        charset_ = is_utf8(bytes_) ? Charset::utf8 : Charset::windows1252;
    }

    CsvRead read() {
        int line = 0;
        for (const std::string_view raw : split_lines(bytes_)) {
            if (faults_.given_up()) break;
            ++line;
            const Decoded decoded = decode(raw, charset_);
            faults_.keep(line, decoded.text);
            if (trimmed(decoded.text).empty()) continue;
            if (decoded.bad_column > 0) {
                unread(decoded.text, {"", line, decoded.bad_column}, "this byte is no character of Windows-1252");
            } else if (!columns_.list.empty()) {
                row(decoded.text, line);
            } else if (name_columns(decoded.text, line)) {
                heading_line_ = line;
            } else {
                return std::move(out_);
            }
        }
        if (columns_.list.empty())
            faults_.error({"", 0, 0}, "the file is empty");
        else if (out_.runs.empty() && stray_.empty())
            faults_.error({"", heading_line_, 1}, "the table names its columns, but has no row below them");
        finish();
        return std::move(out_);
    }

private:
    bool name_columns(const std::string& text, int line) {
        std::ptrdiff_t most = 0;
        for (const char c : {';', '\t', ',', '|'}) {
            const auto count = std::count(text.begin(), text.end(), c);
            if (count > most) {
                most = count;
                columns_.separator = std::string{c};
            }
        }
        for (const Placed& cell : split_fields(text, line, columns_.separator, "\"").cells) {
            Column column;
            const std::size_t bracket = cell.text.find_first_of("([");
            column.name = column_named(cell.text.substr(0, bracket));
            if (bracket != std::string::npos) {
                const std::size_t close = cell.text.find_first_of(")]", bracket);
                column.unit =
                    trimmed(cell.text.substr(bracket + 1, close == std::string::npos ? close : close - bracket - 1));
            }
            column.heading = head(cell.text, 40);
            const bool twice = !column.name.empty() && columns_.has(column.name);
            if (twice) {
                faults_.error(cell, fmt::format("the column \"{}\" stands twice; the first is taken", column.name));
                column.name.clear();
            } else if (column.name.empty() && !cell.text.empty()) {
                faults_.warning(cell, fmt::format("the column \"{}\" is not known and not read", head(cell.text, 40)));
            }
            columns_.list.push_back(std::move(column));
        }
        if (columns_.has("at") && (columns_.has("code") || columns_.has("kind"))) return true;
        std::string known;
        for (const auto name : column_names) known += (known.empty() ? "" : ", ") + std::string{name};
        faults_.error(
            {"", line, 1},
            fmt::format(
                "the first line must name the columns, \"at\" and \"code\" or \"kind\" among them (known: {}); a "
                "file in the exchange form begins with #",
                known));
        return false;
    }

    void row(const std::string& text, int line) {
        const Fields fields = split_fields(text, line, columns_.separator, "\"");
        if (fields.open_quote_column > 0) {
            unread(text, {"", line, fields.open_quote_column}, "this quote is not closed on its line");
            return;
        }
        FieldMap cells;
        std::string beside;
        for (std::size_t i = 0; i < fields.cells.size(); ++i) {
            const Placed& cell = fields.cells[i];
            if (i >= columns_.list.size()) {
                if (cell.text.empty()) continue;
                unread(text, cell, fmt::format("more fields than the {} columns", columns_.list.size()));
                return;
            }
            const Column& column = columns_.list[i];
            if (!column.name.empty())
                cells.try_emplace(column.name, cell);
            else if (!cell.text.empty())
                beside += fmt::format("{}{} \"{}\"", beside.empty() ? "" : ", ", column.heading, head(cell.text, 200));
        }
        ++out_.rows;
        RunInWork& run = run_of_row(cells, line);
        if (!beside.empty()) run.left_out.push_back(fmt::format("line {}: {}", line, beside));
        run_fields(run, cells);
        add_row(run, cells, line, columns_, faults_);
    }

    /// A row that cannot be taken apart is told, and kept for the run that it stands in.
    void unread(const std::string& text, const Placed& at, std::string message) {
        faults_.error(at, std::move(message));
        const Placed whole{head(trimmed(text), 2000), at.line, at.column};
        const auto run = places_.find(last_run_);
        if (run != places_.end())
            out_.runs[run->second].features.push_back(unread_line(whole));
        else
            stray_.push_back(unread_line(whole));
    }

    void finish() {
        out_.us_units = columns_.us_units;
        for (RunInWork& run : out_.runs) settle_length(run, run.length, nullptr, faults_);
        if (stray_.empty()) return;
        if (out_.runs.empty()) {
            out_.runs.emplace_back().id = "A";
            out_.runs.back().start = stray_.front().place;
        }
        auto& features = out_.runs.front().features;
        features.insert(features.end(), stray_.begin(), stray_.end());
    }

    RunInWork& run_of_row(const FieldMap& cells, int line) {
        const Placed* name = find(cells, "run");
        const std::string id = name != nullptr ? as_name(name->text) : last_run_.empty() ? "A" : last_run_;
        last_run_ = id;
        const auto [known, is_new] = places_.try_emplace(id, out_.runs.size());
        if (!is_new) return out_.runs[known->second];
        RunInWork run;
        run.id = id;
        run.start = {"", line, 1};
        out_.runs.push_back(std::move(run));
        return out_.runs.back();
    }

    /// True when the run's property is to be read from this cell; a second, different value is an error.
    bool fresh(RunInWork& run, std::string_view column, const Placed* cell) {
        if (cell == nullptr) return false;
        const auto [place, is_new] = given_.try_emplace(run.id + '\n' + std::string{column}, cell->text);
        if (!is_new && place->second != cell->text) {
            const std::string message =
                fmt::format("run {} has the {} \"{}\" in an earlier line", run.id, column, head(place->second, 40));
            faults_.error(*cell, message);
            run.features.push_back(
                unread_line({fmt::format("{}, here \"{}\"", message, head(cell->text, 40)), cell->line, cell->column}));
        }
        return is_new;
    }

    void run_fields(RunInWork& run, const FieldMap& cells) {
        const auto cell = [&](std::string_view name) { return find(cells, name); };
        if (const Placed* c = cell("from"); fresh(run, "from", c)) run.from = as_name(c->text);
        if (const Placed* c = cell("to"); fresh(run, "to", c)) run.to = as_name(c->text);
        if (const Placed* c = cell("length"); fresh(run, "length", c))
            run.length = length(*c, "length", "m", run.unread.length);
        if (const Placed* c = cell("bore"); fresh(run, "bore", c)) run.bore = length(*c, "bore", "mm", run.unread.bore);
        if (const Placed* c = cell("depth"); fresh(run, "depth", c))
            if (const auto depth = length(*c, "depth", "m", run.depth)) run.depth = depth->typed;
        if (const Placed* c = cell("material"); fresh(run, "material", c)) {
            const MaterialMeaning meaning = material_of(c->text);
            run.material = meaning.material;
            if (!meaning.material) {
                run.unread.material = question(c->text);
                doubt(run, faults_, *c, fmt::format("the material \"{}\" is not known", head(c->text, 40)));
            } else if (!meaning.doubt.empty()) {
                run.shared.push_back({*c, std::string{meaning.doubt}});
            }
        }
    }

    /// A length of the run, or nothing with an error and a text that begins with "?".
    std::optional<Measure<Length>> length(const Placed& cell, std::string_view column, std::string_view usual,
                                          std::string& unread_text) {
        LengthRead read = read_length(columns_, cell, column, usual, false, faults_);
        if (read.value) return read.value;
        faults_.error(cell, read.wrong);
        unread_text = question(cell.text);
        return std::nullopt;
    }

    std::string_view bytes_;
    Faults& faults_;
    Charset charset_ = Charset::utf8;
    Columns columns_;
    int heading_line_ = 0;
    std::vector<Feature> stray_;  ///< unread rows before the first run
    std::string last_run_;
    std::map<std::string, std::size_t> places_;  ///< of a run's id in out_.runs
    std::map<std::string, std::string> given_;
    CsvRead out_;
};

}  // namespace

CsvRead read_csv(std::string_view bytes, Faults& faults) { return Table{bytes, faults}.read(); }

}  // namespace patchwright::intake
