// What one row of a table says about a defect or a fitting.
#include "import_csv_row.hpp"

#include <fmt/core.h>

namespace patchwright::intake {
namespace {

bool narrows(job::DefectKind kind) {
    return kind == job::DefectKind::deformation || kind == job::DefectKind::root_intrusion ||
           kind == job::DefectKind::attached_deposit;
}

class Row {
public:
    Row(RunInWork& run, const FieldMap& cells, int line, Columns& columns, Faults& faults)
        : run_{run}, cells_{cells}, columns_{columns}, faults_{faults} {
        f_.place = {"", line, 1};
    }

    void add() {
        const Placed* code = cell("code");
        const Placed* word = cell("kind");
        if (code == nullptr && word == nullptr) {
            if (cell("at") == nullptr) return;  // a row about the run alone
            ask(f_, f_.unread.kind, faults_, {"", cell("at")->line, cell("at")->column},
                "a place without a code or a kind");
            remaining();
            return;
        }
        Meaning meaning;
        if (code != nullptr) {
            const Code parts = code_of(code->text);
            meaning = meaning_of(parts);
            f_.code = parts.whole();
            if (parts.main == "BAP") f_.surrounding_sound = false;
        }
        f_.inflow = meaning.inflow;
        if (word != nullptr)
            kind_by_word(*word);
        else if (!kind_by_code(*code, meaning))
            return;
        remaining();
    }

private:
    const Placed* cell(std::string_view name) const { return find(cells_, name); }

    void kind_by_word(const Placed& word) {
        const auto defect = defect_kind_named(word.text);
        const auto fitting = fitting_kind_named(word.text);
        measured_ = Measured::millimetres;
        if (!defect && !fitting) {
            ask(f_, f_.unread.kind, faults_, word,
                fmt::format("the kind \"{}\" is not known; the words of the job file are, such as fissure, displaced "
                            "joint, bend",
                            head(word.text, 40)));
            return;
        }
        f_.is_fitting = fitting.has_value();
        if (fitting) f_.fitting = *fitting;
        if (defect) f_.defect = *defect;
        if (defect && narrows(*defect)) measured_ = Measured::percent;
        if (fitting == job::FittingKind::bend) measured_ = Measured::degrees;
    }

    /// False when the row is no feature.
    bool kind_by_code(const Placed& code, const Meaning& meaning) {
        switch (meaning.role) {
            case Role::defect:
            case Role::fitting:
            case Role::wall_open:
                f_.is_fitting = meaning.role == Role::fitting;
                f_.fitting = meaning.fitting;
                f_.defect = meaning.role == Role::wall_open ? job::DefectKind::missing_wall : meaning.defect;
                measured_ = meaning.measured == Measured::not_at_all ? Measured::millimetres : meaning.measured;
                return true;
            case Role::start:
            case Role::finish:
                if (cell("remark") != nullptr) run_.seen.push_back(words());
                if (const Placed* at = cell("at"); at != nullptr && meaning.role == Role::finish) far_node(*at);
                return false;
            case Role::unseen:
                doubt(run_, faults_, code, words() + ": the camera did not see, or went no further");
                return false;
            case Role::remark:
                run_.seen.push_back(words());
                return false;
            case Role::unknown:
                break;
        }
        doubt(run_, faults_, code,
              words() + ": no code of EN 13508-2:2003+A1:2011; of an older edition or a national annex?");
        return false;
    }

    void far_node(const Placed& at) {
        const LengthRead read = read_length(columns_, at, "at", "m", false, faults_);
        if (read.value) {
            run_.far_nodes.push_back({at, *read.value});
            return;
        }
        faults_.error(at, read.wrong);
        run_.unread.length = question(at.text);
    }

    std::string words() const {
        std::string out = f_.code + " at " + (cell("at") != nullptr ? head(cell("at")->text, 40) : std::string{"?"});
        for (const std::string_view name : {"end", "size", "clock", "angle", "inflow"})
            if (const Placed* c = cell(name)) out += fmt::format(", {} {}", name, head(c->text, 60));
        if (const Placed* remark = cell("remark")) out += " (" + remark->text + ")";
        return out;
    }

    void remaining() {
        if (const Placed* c = cell("remark")) f_.remark = joined(c->text, f_.remark);
        if (const Placed* at = cell("at"))
            f_.at = length(*at, f_.unread.at, "at", "m");
        else
            ask(f_, f_.unread.at, faults_, f_.place, "the place (column \"at\") is missing");
        if (const Placed* c = cell("end")) end(*c);
        if (const Placed* c = cell("size")) size(*c);
        if (const Placed* c = cell("angle")) {
            if (f_.is_fitting)
                angle(*c, "angle");
            else
                f_.remark = joined(f_.remark, "angle " + head(c->text, 60));
        }
        if (const Placed* c = cell("clock")) {
            const auto clock = parse_clock_range(c->text);
            if (clock)
                f_.clock = *clock;
            else
                ask(f_, f_.unread.clock, faults_, *c, clock.error().message);
        }
        if (const Placed* c = cell("inflow")) inflow(*c);
        run_.features.push_back(std::move(f_));
    }

    std::optional<Measure<Length>> length(const Placed& c, std::string& unread, std::string_view column,
                                          std::string_view usual) {
        LengthRead read = read_length(columns_, c, column, usual, true, faults_);
        if (!read.value) ask(f_, unread, faults_, c, read.wrong);
        return read.value;
    }

    void end(const Placed& c) {
        if (f_.is_fitting) {
            f_.remark = joined(f_.remark, "to " + head(c.text, 60));
            return;
        }
        f_.to = length(c, f_.unread.to, "end", "m");
        if (!f_.to || !f_.at || f_.to->value >= f_.at->value) return;
        ask(f_, f_.unread.to, faults_, c, "ends before it begins");
        f_.to.reset();
    }

    void size(const Placed& c) {
        if (measured_ == Measured::degrees && f_.is_fitting) {
            angle(c, "size");
            return;
        }
        if (measured_ == Measured::degrees && bare_number(columns_, c.text)) {
            f_.remark = joined(f_.remark, c.text + " degrees");
            return;
        }
        const bool share = measured_ == Measured::percent || measured_ == Measured::percent_of_bore;
        const bool has_sign = c.text.find('%') != std::string::npos;
        if (has_sign || (share && bare_number(columns_, c.text))) {
            const auto percent = parse_percent(with_unit(columns_, c, "size", "%", faults_));
            if (!percent || *percent < 0.0 || *percent > 100.0 ||
                !(share || f_.defect == job::DefectKind::intruding_connection)) {
                ask(f_, f_.unread.size, faults_, c,
                    !percent ? percent.error().message
                    : share  ? std::string{"a share lies between 0 and 100 %"}
                             : std::string{"the size of this kind is a length, such as \"8 mm\""});
                return;
            }
            if (*percent > 0.0) f_.percent = *percent;
            f_.percent_of_bore = measured_ != Measured::percent;
            return;
        }
        if (measured_ == Measured::percent) {
            ask(f_, f_.unread.size, faults_, c, "the size of this kind is a share of the pipe, such as \"15 %\"");
            return;
        }
        const auto read = length(c, f_.unread.size, "size", "mm");
        if (read && read->value > Length{}) f_.size = read;
    }

    void angle(const Placed& c, std::string_view column) {
        const auto parsed = parse_angle(with_unit(columns_, c, column, "deg", faults_));
        if (parsed && *parsed > Angle{} && *parsed <= 180.0 * unit::deg)
            f_.angle = *parsed;
        else
            ask(f_, f_.unread.angle, faults_, c,
                parsed ? std::string{"an angle lies above 0 and up to 180 deg"} : parsed.error().message);
    }

    void inflow(const Placed& c) {
        for (int i = 0; i <= static_cast<int>(job::Inflow::gushing); ++i)
            if (job::word(static_cast<job::Inflow>(i)) == lower(c.text)) f_.inflow = static_cast<job::Inflow>(i);
        if (f_.inflow && job::word(*f_.inflow) == lower(c.text)) return;
        ask(f_, f_.unread.inflow, faults_, c,
            fmt::format("\"{}\" is not known; none, sweating, dripping, running and gushing are", head(c.text, 40)));
    }

    RunInWork& run_;
    const FieldMap& cells_;
    Columns& columns_;
    Faults& faults_;
    Feature f_;
    Measured measured_ = Measured::not_at_all;
};

}  // namespace

std::optional<double> bare_number(const Columns& columns, const std::string& text) {
    const bool comma = columns.separator != "," && text.find(',') != std::string::npos;
    return number(text, comma ? "," : ".");
}

std::string with_unit(Columns& columns, const Placed& cell, std::string_view column, std::string_view usual,
                      Faults& faults) {
    std::string plain = cell.text;
    if (columns.separator != ",") std::replace(plain.begin(), plain.end(), ',', '.');
    if (!bare_number(columns, cell.text)) return plain;
    std::string_view unit;
    for (const Column& c : columns.list)
        if (c.name == column) unit = c.unit;
    if (unit.empty() && std::find(columns.told.begin(), columns.told.end(), column) == columns.told.end()) {
        columns.told.emplace_back(column);
        faults.warning(cell, fmt::format("a number without a unit: read as {}; name the column \"{} ({})\" to say so",
                                         usual, column, usual));
    }
    return fmt::format("{} {}", plain, unit.empty() ? usual : unit);
}

LengthRead read_length(Columns& columns, const Placed& cell, std::string_view column, std::string_view usual,
                       bool zero_allowed, Faults& faults) {
    const std::string text = with_unit(columns, cell, column, usual, faults);
    const auto parsed = parse_length(text);
    if (!parsed) return {std::nullopt, parsed.error().message};
    if (*parsed < Length{} || (*parsed == Length{} && !zero_allowed) || *parsed > longest_run)
        return {std::nullopt, fmt::format("\"{}\" is no {} for a drain", head(cell.text, 40), column)};
    if (uses_us_units(text)) columns.us_units = true;
    return {Measure<Length>{*parsed, text}, {}};
}

void add_row(RunInWork& run, const FieldMap& cells, int line, Columns& columns, Faults& faults) {
    Row{run, cells, line, columns, faults}.add();
}

}  // namespace patchwright::intake
