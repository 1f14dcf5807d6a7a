// What the observations of one survey mean.
#include "import_map.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>

namespace patchwright::intake {
namespace {

bool is_code(std::string_view text) {
    return text.size() == 3 && std::all_of(text.begin(), text.end(), [](char c) { return c >= 'A' && c <= 'Z'; });
}

std::optional<int> hour(std::string_view text) {
    const auto value = number(text, ".");
    const int whole = value && *value >= 1.0 && *value <= 12.0 ? static_cast<int>(*value) : 0;
    return whole != 0 && *value == whole ? std::optional{whole} : std::nullopt;
}

class Mapper {
public:
    Mapper(const Survey& survey, std::string id, Faults& faults) : survey_{survey}, faults_{faults} {
        run_.start = survey.start;
        run_.id = std::move(id);
    }

    RunInWork all() {
        read_ends(survey_, run_, faults_);
        read_header(survey_, run_, faults_);
        for (const Observation& seen : survey_.seen)
            if (!faults_.given_up()) observation(seen);
        for (const auto& [id, open] : open_) {
            Feature& f = run_.features[open.feature];
            ask(f, f.unread.to, faults_, open.mark,
                fmt::format("the continuous defect A{} has no end B{}; the survey went to {}", id, id,
                            metres_text(furthest_)));
            if (f.is_fitting) f.unread.at = f.unread.to;
        }
        for (const Placed& line : survey_.unread) run_.features.push_back(unread_line(line));
        settle_length(run_, anticipated_length(survey_, run_, faults_), find(survey_.header, "ABQ"), faults_);
        closed_connections();
        return std::move(run_);
    }

private:
    /// A continuous defect that has begun.
    struct Open {
        Placed mark;
        std::size_t feature = 0;
        std::string main;
        std::optional<Length> at;
    };

    static std::string text(const Observation& seen, std::string_view field) {
        const Placed* placed = find(seen.fields, field);
        return placed == nullptr ? std::string{} : placed->text;
    }

    std::string decimal_hint() const {
        return fmt::format("; a number with the decimal mark \"{}\" belongs here", survey_.decimal_mark);
    }

    void observation(const Observation& seen) {
        const Placed* main = find(seen.fields, "A");
        const Code code{main == nullptr ? "" : upper(head(main->text, 20)), upper(head(text(seen, "B"), 40)),
                        upper(head(text(seen, "C"), 40))};
        Feature f;
        f.place = seen.start;
        f.code = code.whole();
        const Placed* remark = find(seen.fields, "F");
        if (remark != nullptr) f.remark = remark->text;
        distance(seen, f);
        if (!is_code(code.main)) {
            no_code(seen, main, f);
            return;
        }
        const Meaning meaning = meaning_of(code);
        if (f.at) furthest_ = std::max(furthest_, f.at->value);
        switch (meaning.role) {
            case Role::defect:
            case Role::fitting:
            case Role::wall_open:
                feature(seen, code, meaning, std::move(f));
                return;
            case Role::start:
                start(seen, f);
                return;
            case Role::finish:
                if (f.at && f.at->value > Length{}) run_.far_nodes.push_back({*main, *f.at});
                break;
            case Role::unseen:
                doubt(run_, faults_, *main,
                      words(seen, f) + (code.main == "BDC"
                                            ? ": the survey was given up here; what lies beyond is not known"
                                            : ": the camera did not see"));
                break;
            case Role::remark:
                if (code.main != "BDA" || remark != nullptr) run_.seen.push_back(words(seen, f));
                break;
            case Role::unknown:
                doubt(
                    run_, faults_, *main,
                    words(seen, f) + ": no code of EN 13508-2:2003+A1:2011; of an older edition or a national annex?");
                break;
        }
        if (!f.unread.at.empty()) keep_without_place(f);
    }

    /// An observation that decides nothing still has to say where it was: its line stays for somebody to look at.
    void keep_without_place(Feature f) {
        f.unread.kind = question(f.code);
        run_.features.push_back(std::move(f));
    }

    void no_code(const Observation& seen, const Placed* main, Feature f) {
        const Placed place = main == nullptr ? seen.start : *main;
        if (main == nullptr && seen.told)
            f.unread.kind = question("");
        else
            ask(f, f.unread.kind, faults_, place,
                main == nullptr
                    ? std::string{"the main code (A) is missing"}
                    : fmt::format("\"{}\" is no main code; three letters are, such as BAB", head(main->text, 20)));
        f.remark = joined(f.remark, rest_of(seen));
        run_.features.push_back(std::move(f));
    }

    void distance(const Observation& seen, Feature& f) {
        const Placed* field = find(seen.fields, "I");
        if (field == nullptr) {
            if (seen.told)
                f.unread.at = question("");
            else
                ask(f, f.unread.at, faults_, seen.start, "the distance (I) is missing");
            return;
        }
        const auto value = number(field->text, survey_.decimal_mark);
        if (value && *value >= 0.0 && *value <= longest_run.in(unit::m)) {
            f.at = {*value * unit::m, ""};
            return;
        }
        ask(f, f.unread.at, faults_, *field,
            value ? fmt::format("{} m is no distance along a drain", head(field->text, 40))
                  : fmt::format("\"{}\" is no distance in m", head(field->text, 40)) + decimal_hint());
    }

    /// A survey whose counter does not begin at zero is told, not bent straight.
    void start(const Observation& seen, const Feature& f) {
        if (!f.unread.at.empty()) keep_without_place(f);
        if (!f.at || f.at->value == Length{}) return;
        doubt(run_, faults_, *find(seen.fields, "A"),
              fmt::format("the counter stood at {} when the survey began; if that is not so, give \"counter_offset\"",
                          metres_text(f.at->value)));
    }

    /// Everything that an observation says beside its code, place and remark.
    static std::string rest_of(const Observation& seen) {
        std::string out;
        for (const auto& [field, value] : seen.fields) {
            const bool shown = field == "A" || field == "B" || field == "C" || field == "F" || field == "I";
            const bool media = field == "M" || field == "N";
            if (shown || media || value.text.empty()) continue;
            const char* word = field == "D" || field == "E" ? "quantity" : field == "G" ? "clock" : nullptr;
            if (field == "H") {
                out += '-' + head(value.text, 60);
            } else if (field == "K" && upper(value.text) == "A") {
                out = joined(out, "at a joint", ", ");
            } else {
                out = joined(out, fmt::format("{} {}", word != nullptr ? word : head(field, 20), head(value.text, 60)),
                             ", ");
            }
        }
        return out;
    }

    static std::string words(const Observation& seen, const Feature& f) {
        std::string out = f.code + " at " + (f.at ? metres_text(f.at->value) : std::string{"?"});
        out = joined(out, rest_of(seen), ", ");
        if (const Placed* remark = find(seen.fields, "F")) out += " (" + remark->text + ")";
        return out;
    }

    void feature(const Observation& seen, const Code& code, const Meaning& meaning, Feature f) {
        f.is_fitting = meaning.role == Role::fitting;
        f.defect = meaning.role == Role::wall_open ? job::DefectKind::missing_wall : meaning.defect;
        f.fitting = meaning.fitting;
        f.inflow = meaning.inflow;
        if (code.main == "BAP") f.surrounding_sound = false;
        if (upper(text(seen, "K")) == "A") f.remark = joined(f.remark, "at a joint");
        if (const Placed* second = find(seen.fields, "E"); second != nullptr && second->text != "0")
            f.remark = joined(f.remark, "second quantity " + head(second->text, 40));
        if (const Placed* where = find(seen.fields, "L")) f.remark = joined(f.remark, where->text);
        for (const auto& [field, value] : seen.fields)
            if ((field.size() != 1 || field[0] < 'A' || field[0] > 'N') && !value.text.empty())
                f.remark = joined(f.remark, fmt::format("{} {}", head(field, 20), value.text));
        if (code.main == "BCA" && code.second == "B" && f.at) {
            closed_.push_back(f);
            f.remark = joined(f.remark, "seen closed: taken as live; say \"live\": false where that is known");
        }
        clock(seen, f);
        quantity(seen, meaning, f);
        place(seen, code, std::move(f));
    }

    void clock(const Observation& seen, Feature& f) {
        const Placed* from = find(seen.fields, "G");
        const Placed* to = find(seen.fields, "H");
        if (from == nullptr && to == nullptr) return;
        if (from == nullptr) {
            ask(f, f.unread.clock, faults_, *to, "the clock has an end (H) without a beginning (G)");
            return;
        }
        const auto first = hour(from->text), last = to == nullptr ? first : hour(to->text);
        if (first && last) {
            f.clock = ClockRange{*first, *last, to != nullptr && *first == 12 && *last == 12};
            return;
        }
        const Placed& wrong = first ? *to : *from;
        ask(f, f.unread.clock, faults_, wrong,
            fmt::format("\"{}\" is no place on the clock; whole hours from 1 to 12 are", head(wrong.text, 40)));
        if (to != nullptr) f.unread.clock = question(from->text + "-" + to->text);
    }

    void quantity(const Observation& seen, const Meaning& meaning, Feature& f) {
        const Placed* field = find(seen.fields, "D");
        if (field == nullptr) return;
        std::string& unread = f.is_fitting && f.fitting == job::FittingKind::bend ? f.unread.angle : f.unread.size;
        const auto value = number(field->text, survey_.decimal_mark);
        if (!value || *value < 0.0) {
            ask(f, unread, faults_, *field,
                fmt::format("\"{}\" is no quantity", head(field->text, 40)) + decimal_hint());
            return;
        }
        if (*value == 0.0) return;
        const double most = meaning.measured == Measured::millimetres ? 5000.0
                            : meaning.measured == Measured::degrees   ? 180.0
                                                                      : 100.0;
        if (meaning.measured != Measured::not_at_all && *value > most) {
            ask(f, unread, faults_, *field,
                fmt::format("{} {} is too much for {}", head(field->text, 40), unit_word(meaning.measured), f.code));
            return;
        }
        switch (meaning.measured) {
            case Measured::millimetres:
                f.size = Measure<Length>{*value * unit::mm, ""};
                break;
            case Measured::percent:
                f.percent = *value;
                break;
            case Measured::percent_of_bore:
                f.percent = *value;
                f.percent_of_bore = true;
                if (!run_.bore)
                    doubt(f, faults_, *field,
                          fmt::format("{} % of a bore that is not known; size left out", head(field->text, 40)));
                break;
            case Measured::degrees:
                if (f.is_fitting)
                    f.angle = *value * unit::deg;
                else
                    f.remark = joined(f.remark, field->text + " degrees");
                break;
            case Measured::not_at_all:
                doubt(f, faults_, *field,
                      fmt::format("a quantity of {} beside {}: its unit is not known; left out", head(field->text, 40),
                                  f.code));
                break;
        }
    }

    /// A feature of its own, or the begin, a change or the end of a continuous one.
    void place(const Observation& seen, const Code& code, Feature f) {
        const Placed* mark = find(seen.fields, "J");
        if (mark == nullptr) {
            run_.features.push_back(std::move(f));
            return;
        }
        const std::string text = upper(mark->text);
        const auto digits = std::string_view{text}.substr(1);
        const bool good = text[0] >= 'A' && text[0] <= 'C' && !digits.empty() && digits.size() <= 4 &&
                          digits.find_first_not_of("0123456789") == std::string_view::npos;
        if (!good) {
            keep(f, *mark,
                 fmt::format("\"{}\" marks no continuous defect; A1 begins one and B1 ends it", head(mark->text, 20)));
            return;
        }
        const int id = std::stoi(std::string{digits});
        const auto found = open_.find(id);
        if (text[0] == 'A') {
            if (found != open_.end()) {
                keep(f, *mark,
                     fmt::format("the continuous defect A{} began in line {} and has not ended", id,
                                 found->second.mark.line));
                return;
            }
            open_[id] = {*mark, run_.features.size(), code.main, f.at ? std::optional{f.at->value} : std::nullopt};
            run_.features.push_back(std::move(f));
            return;
        }
        const char* does = text[0] == 'B' ? "ends" : "changes";
        if (found == open_.end()) {
            keep(f, *mark, fmt::format("{} {} a continuous defect that never began with A{}", text, does, id));
            return;
        }
        if (found->second.main != code.main) {
            keep(f, *mark,
                 fmt::format("{} {} {}, but A{} in line {} began {}", text, does, code.main, id,
                             found->second.mark.line, found->second.main));
            return;
        }
        if (f.at && found->second.at && f.at->value < *found->second.at) {
            keep(f, *mark,
                 fmt::format("{} {} at {}, before A{} begins at {}", text, does, metres_text(f.at->value), id,
                             metres_text(*found->second.at)));
            return;
        }
        Feature& begun = run_.features[found->second.feature];
        take_worse(begun, f);
        if (text[0] == 'C') return;
        begun.to = f.at;
        begun.unread.to = f.unread.at;
        open_.erase(found);
    }

    /// What a mark of a continuous defect leaves unclear: where the feature ends.
    void keep(Feature& f, const Placed& mark, const std::string& message) {
        ask(f, f.unread.to, faults_, mark, message);
        if (f.is_fitting) f.unread.at = f.unread.to;
        run_.features.push_back(std::move(f));
    }

    /// Of one main code: a broken pipe, one of which a piece is gone, one that has fallen in.
    static int gravity(job::DefectKind kind) {
        return kind == job::DefectKind::collapse ? 2 : kind == job::DefectKind::missing_wall ? 1 : 0;
    }

    /// Of several readings of one defect the worse one counts; what it replaces stays in the remark.
    static void take_worse(Feature& begun, const Feature& later) {
        const bool graver = gravity(later.defect) > gravity(begun.defect);
        if (later.code != begun.code)
            begun.remark = joined(begun.remark, fmt::format("also {}", graver ? begun.code : later.code));
        if (graver) {
            begun.defect = later.defect;
            begun.code = later.code;
        }
        if (later.size && (!begun.size || begun.size->value < later.size->value)) begun.size = later.size;
        if (later.percent && (!begun.percent || *begun.percent < *later.percent)) begun.percent = later.percent;
        begun.percent_of_bore = begun.percent_of_bore || later.percent_of_bore;
        wider_clock(begun, later);
        if (later.inflow && (!begun.inflow || *begun.inflow < *later.inflow)) begun.inflow = later.inflow;
        if (begun.unread.size.empty()) begun.unread.size = later.unread.size;
        if (begun.unread.clock.empty()) begun.unread.clock = later.unread.clock;
        if (later.remark != begun.remark) begun.remark = joined(begun.remark, later.remark);
    }

    static void wider_clock(Feature& begun, const Feature& later) {
        if (!later.clock || begun.clock == later.clock) return;
        if (!begun.clock) {
            begun.clock = later.clock;
            return;
        }
        ClockRange narrower = *later.clock;
        if (later.clock->share() > begun.clock->share()) std::swap(narrower, *begun.clock);
        begun.remark = joined(begun.remark, fmt::format("clock also {}", format(narrower)));
    }

    /// A connection that looked closed stays live until somebody knows better. Told where the survey counted it; the
    /// fitting itself says it at its place in the job, which may be counted from the other end.
    void closed_connections() {
        if (closed_.empty()) return;
        std::string places;
        for (const Feature& f : closed_) places += (places.empty() ? "" : ", ") + metres_text(f.at->value);
        faults_.warning(closed_.front().place, fmt::format("connection{} seen closed at {}: taken as live; say "
                                                           "\"live\": false where that is known",
                                                           closed_.size() == 1 ? "" : "s", places));
    }

    const Survey& survey_;
    Faults& faults_;
    RunInWork run_;
    std::map<int, Open> open_;
    std::vector<Feature> closed_;
    Length furthest_{};
};

}  // namespace

RunInWork run_of(const Survey& survey, std::string id, Faults& faults) {
    return Mapper{survey, std::move(id), faults}.all();
}

}  // namespace patchwright::intake
