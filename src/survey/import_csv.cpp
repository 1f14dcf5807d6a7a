#include "import_csv.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>

#include "import_exchange.hpp"

namespace patchwright::survey::intake {
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

struct Column {
    std::string name;  ///< empty: not used
    std::string unit;  ///< "mm" from "bore (mm)"; empty: none given
};

class Table {
public:
    Table(std::string_view bytes, Faults& faults) : bytes_{bytes}, faults_{faults} {
        if (bytes_.starts_with("\xEF\xBB\xBF")) bytes_.remove_prefix(3);
        charset_ = is_utf8(bytes_) ? Charset::utf8 : Charset::windows1252;
    }

    CsvRead read() {
        int line = 0;
        for (const std::string_view raw : split_lines(bytes_)) {
            ++line;
            const Decoded decoded = decode(raw, charset_);
            faults_.keep(line, decoded.text);
            if (trimmed(decoded.text).empty()) continue;
            if (columns_.empty()) {
                if (!name_columns(decoded.text, line)) return std::move(out_);
                continue;
            }
            row(decoded.text, line);
        }
        if (columns_.empty()) faults_.error({"", 0, 0}, "the file is empty");
        return std::move(out_);
    }

private:
    bool name_columns(const std::string& text, int line) {
        std::ptrdiff_t most = 0;
        for (const char c : {';', '\t', ',', '|'}) {
            const auto count = std::count(text.begin(), text.end(), c);
            if (count > most) {
                most = count;
                separator_ = std::string{c};
            }
        }
        for (const Placed& cell : split_fields(text, line, separator_, "\"").cells) {
            Column column;
            const std::size_t bracket = cell.text.find_first_of("([");
            column.name = column_named(cell.text.substr(0, bracket));
            if (bracket != std::string::npos) {
                const std::size_t close = cell.text.find_first_of(")]", bracket);
                column.unit =
                    trimmed(cell.text.substr(bracket + 1, close == std::string::npos ? close : close - bracket - 1));
            }
            const bool twice =
                !column.name.empty() &&
                std::any_of(columns_.begin(), columns_.end(), [&](const Column& c) { return c.name == column.name; });
            if (twice) {
                faults_.error(cell, fmt::format("the column \"{}\" stands twice; the first is taken", column.name));
                column.name.clear();
            } else if (column.name.empty() && !cell.text.empty()) {
                faults_.warning(cell, fmt::format("the column \"{}\" is not known and not read", head(cell.text, 40)));
            }
            columns_.push_back(std::move(column));
        }
        const auto has = [&](std::string_view name) {
            return std::any_of(columns_.begin(), columns_.end(), [&](const Column& c) { return c.name == name; });
        };
        if (has("at") && (has("code") || has("kind"))) return true;
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
        const Fields fields = split_fields(text, line, separator_, "\"");
        if (fields.open_quote_column > 0) {
            faults_.error({"", line, fields.open_quote_column}, "this quote is not closed on its line");
            return;
        }
        FieldMap cells;
        for (std::size_t i = 0; i < fields.cells.size(); ++i) {
            if (i < columns_.size()) {
                if (!columns_[i].name.empty()) cells.try_emplace(columns_[i].name, fields.cells[i]);
            } else if (!fields.cells[i].text.empty()) {
                faults_.error(fields.cells[i], fmt::format("more fields than the {} columns", columns_.size()));
                return;
            }
        }
        ++out_.rows;
        RunInWork& run = run_of_row(cells, line);
        run_fields(run, cells);
        if (find(cells, "code") != nullptr || find(cells, "kind") != nullptr)
            feature(run, cells, line);
        else if (const Placed* at = find(cells, "at"))
            faults_.error(*at, "a place without a code or a kind");
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
    bool fresh(const RunInWork& run, std::string_view column, const Placed* cell) {
        if (cell == nullptr) return false;
        const auto [place, is_new] = given_.try_emplace(run.id + '\n' + std::string{column}, cell->text);
        if (!is_new && place->second != cell->text)
            faults_.error(*cell, fmt::format("run {} has the {} \"{}\" in an earlier line", run.id, column,
                                             head(place->second, 40)));
        return is_new;
    }

    void run_fields(RunInWork& run, const FieldMap& cells) {
        const auto cell = [&](std::string_view name) { return find(cells, name); };
        if (const Placed* c = cell("from"); fresh(run, "from", c)) run.from = as_name(c->text);
        if (const Placed* c = cell("to"); fresh(run, "to", c)) run.to = as_name(c->text);
        if (const Placed* c = cell("length"); fresh(run, "length", c)) run.length = length(*c, "length", "m", false);
        if (const Placed* c = cell("bore"); fresh(run, "bore", c)) run.bore = length(*c, "bore", "mm", false);
        if (const Placed* c = cell("depth"); fresh(run, "depth", c))
            if (const auto depth = length(*c, "depth", "m", false))
                run.depth = depth->typed.empty() ? metres_text(depth->value) : depth->typed;
        if (const Placed* c = cell("material"); fresh(run, "material", c)) {
            const MaterialMeaning meaning = material_of(c->text);
            run.material = meaning.material;
            if (!meaning.material)
                doubt(run, faults_, *c, fmt::format("the material \"{}\" is not known; left out", head(c->text, 40)));
            else if (!meaning.doubt.empty())
                doubt(run, faults_, *c, std::string{meaning.doubt});
        }
    }

    std::string_view unit_of(std::string_view column) const {
        for (const Column& c : columns_)
            if (c.name == column) return c.unit;
        return {};
    }

    std::optional<double> bare(const std::string& text) const {
        const bool comma = separator_ != "," && text.find(',') != std::string::npos;
        return number(text, comma ? "," : ".");
    }

    /// A number without a unit takes the column's, else the exchange form's; that is told once a column.
    std::string with_unit(const Placed& cell, std::string_view column, std::string_view usual) {
        const auto value = bare(cell.text);
        if (!value) return cell.text;
        std::string plain = cell.text;
        if (separator_ != ",") std::replace(plain.begin(), plain.end(), ',', '.');
        const std::string_view unit = unit_of(column);
        if (unit.empty() && std::find(told_.begin(), told_.end(), column) == told_.end()) {
            told_.emplace_back(column);
            faults_.warning(
                cell, fmt::format("a number without a unit: read as {}; name the column \"{} ({})\" to say so", usual,
                                  column, usual));
        }
        return fmt::format("{} {}", plain, unit.empty() ? usual : unit);
    }

    std::optional<Measure<Length>> length(const Placed& cell, std::string_view column, std::string_view usual,
                                          bool zero_allowed) {
        const std::string text = with_unit(cell, column, usual);
        const auto parsed = parse_length(text);
        if (!parsed) {
            faults_.error(cell, parsed.error().message);
            return std::nullopt;
        }
        if (*parsed < Length{} || (*parsed == Length{} && !zero_allowed) || *parsed > 10.0 * unit::km) {
            faults_.error(cell, fmt::format("\"{}\" is no {} for a drain", head(cell.text, 40), column));
            return std::nullopt;
        }
        if (uses_us_units(text)) out_.us_units = true;
        return Measure<Length>{*parsed, text};
    }

    /// Kind by its word, else by the code. False when the row is no feature.
    bool kind(RunInWork& run, const FieldMap& cells, Feature& f, Measured& measured) {
        const Placed* code = find(cells, "code");
        Meaning meaning;
        if (code != nullptr) {
            const Code parts = code_of(code->text);
            meaning = meaning_of(parts);
            f.code = parts.whole();
            if (parts.main == "BAP") f.surrounding_sound = false;
        }
        if (const Placed* word = find(cells, "kind")) {
            const auto defect = defect_kind_named(word->text);
            const auto fitting = fitting_kind_named(word->text);
            if (!defect && !fitting) {
                faults_.error(
                    *word, fmt::format("the kind \"{}\" is not known; the words of the job file are, such as fissure, "
                                       "displaced joint, bend",
                                       head(word->text, 40)));
                return false;
            }
            f.is_fitting = fitting.has_value();
            if (fitting) f.fitting = *fitting;
            if (defect) f.defect = *defect;
            f.inflow = meaning.inflow;
            measured = Measured::millimetres;
            const bool narrows = defect == job::DefectKind::deformation || defect == job::DefectKind::root_intrusion ||
                                 defect == job::DefectKind::attached_deposit;
            if (narrows) measured = Measured::percent;
            if (fitting == job::FittingKind::bend) measured = Measured::degrees;
            return true;
        }
        switch (meaning.role) {
            case Role::defect:
            case Role::fitting:
            case Role::wall_open:
                f.is_fitting = meaning.role == Role::fitting;
                f.fitting = meaning.fitting;
                f.defect = meaning.role == Role::wall_open ? job::DefectKind::missing_wall : meaning.defect;
                f.inflow = meaning.inflow;
                measured = meaning.measured == Measured::not_at_all ? Measured::millimetres : meaning.measured;
                return true;
            case Role::start:
                return false;
            case Role::finish:
                if (const Placed* at = find(cells, "at"); at != nullptr && !run.length)
                    run.length = length(*at, "at", "m", false);
                return false;
            case Role::remark: {
                const Placed* at = find(cells, "at");
                const Placed* remark = find(cells, "remark");
                run.seen.push_back(fmt::format("{} at {}{}", f.code, at != nullptr ? at->text : "?",
                                               remark != nullptr ? " (" + remark->text + ")" : ""));
                return false;
            }
            case Role::unknown:
                break;
        }
        doubt(run, faults_, *code, fmt::format("the code \"{}\" is not known; left out", head(code->text, 20)));
        return false;
    }

    void feature(RunInWork& run, const FieldMap& cells, int line) {
        Feature f;
        f.place = {"", line, 1};
        Measured measured = Measured::not_at_all;
        if (!kind(run, cells, f, measured)) return;
        const Placed* at = find(cells, "at");
        if (at == nullptr) {
            faults_.error({"", line, 1}, "the place (column \"at\") is missing");
            return;
        }
        const auto place = length(*at, "at", "m", true);
        if (!place) return;
        f.at = *place;
        if (const Placed* c = find(cells, "remark")) f.remark = c->text;
        bool fine = true;
        if (const Placed* c = find(cells, "end"); c != nullptr && !f.is_fitting) {
            f.to = length(*c, "end", "m", true);
            if (f.to && f.to->value < f.at.value) {
                faults_.error(*c, "ends before it begins");
                fine = false;
            }
            fine = fine && f.to.has_value();
        }
        if (const Placed* c = find(cells, "size")) fine = size(*c, measured, f) && fine;
        if (const Placed* c = find(cells, "angle"); c != nullptr && f.is_fitting) fine = angle(*c, "angle", f) && fine;
        if (const Placed* c = find(cells, "clock")) {
            const auto clock = parse_clock_range(c->text);
            if (clock)
                f.clock = *clock;
            else
                faults_.error(*c, clock.error().message);
            fine = fine && static_cast<bool>(clock);
        }
        if (const Placed* c = find(cells, "inflow")) fine = inflow(*c, f) && fine;
        if (fine) run.features.push_back(std::move(f));
    }

    bool size(const Placed& cell, Measured measured, Feature& f) {
        if (measured == Measured::degrees && f.is_fitting) return angle(cell, "size", f);
        if (measured == Measured::degrees && bare(cell.text)) {
            f.remark += fmt::format("{}{} degrees", f.remark.empty() ? "" : "; ", cell.text);
            return true;
        }
        const bool share = measured == Measured::percent || measured == Measured::percent_of_bore;
        const bool has_sign = cell.text.find('%') != std::string::npos;
        if (has_sign || (share && bare(cell.text))) {
            const auto percent = parse_percent(has_sign ? cell.text : with_unit(cell, "size", "%"));
            if (!percent || *percent < 0.0 || *percent > 100.0 ||
                !(share || f.defect == job::DefectKind::intruding_connection)) {
                faults_.error(cell, !percent ? percent.error().message
                                    : share  ? std::string{"a share lies between 0 and 100 %"}
                                             : std::string{"the size of this kind is a length, such as \"8 mm\""});
                return false;
            }
            if (*percent > 0.0) f.percent = *percent;
            f.percent_of_bore = measured != Measured::percent;
            return true;
        }
        if (measured == Measured::percent) {
            faults_.error(cell, "the size of this kind is a share of the pipe, such as \"15 %\"");
            return false;
        }
        const auto length_read = length(cell, "size", "mm", true);
        if (!length_read) return false;
        if (length_read->value > Length{}) f.size = length_read;
        return true;
    }

    bool angle(const Placed& cell, std::string_view column, Feature& f) {
        const auto parsed = parse_angle(with_unit(cell, column, "deg"));
        if (parsed && *parsed > Angle{} && *parsed <= 180.0 * unit::deg) {
            f.angle = *parsed;
            return true;
        }
        faults_.error(cell, parsed ? std::string{"an angle lies above 0 and up to 180 deg"} : parsed.error().message);
        return false;
    }

    bool inflow(const Placed& cell, Feature& f) {
        for (int i = 0; i <= static_cast<int>(job::Inflow::gushing); ++i) {
            if (job::word(static_cast<job::Inflow>(i)) != lower(cell.text)) continue;
            f.inflow = static_cast<job::Inflow>(i);
            return true;
        }
        faults_.error(cell, fmt::format("\"{}\" is not known; none, sweating, dripping, running and gushing are",
                                        head(cell.text, 40)));
        return false;
    }

    std::string_view bytes_;
    Faults& faults_;
    Charset charset_ = Charset::utf8;
    std::string separator_ = ",";
    std::vector<Column> columns_;
    std::string last_run_;
    std::map<std::string, std::size_t> places_;  ///< of a run's id in out_.runs
    std::map<std::string, std::string> given_;
    std::vector<std::string> told_;
    CsvRead out_;
};

}  // namespace

CsvRead read_csv(std::string_view bytes, Faults& faults) { return Table{bytes, faults}.read(); }

}  // namespace patchwright::survey::intake
