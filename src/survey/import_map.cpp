// What the fields of one survey mean.
#include "import_map.hpp"

#include <fmt/core.h>

#include <algorithm>

namespace patchwright::survey::intake {
namespace {

constexpr Length longest_run = 10.0 * unit::km;

class Mapper {
public:
    Mapper(const Survey& survey, std::string id, Faults& faults) : survey_{survey}, faults_{faults} {
        run_.start = survey.start;
        run_.id = std::move(id);
    }

    RunInWork all() {
        ends();
        bore();
        material();
        for (const Observation& seen : survey_.seen) observation(seen);
        for (const auto& [id, open] : open_) {
            faults_.error(open.place,
                          fmt::format("the continuous defect A{} has no end B{}; taken to reach as far as the "
                                      "survey went",
                                      id, id));
            run_.features[open.feature].to = Measure<Length>{furthest_, ""};
        }
        length();
        return std::move(run_);
    }

private:
    struct Open {
        Placed place;
        std::size_t feature = 0;
        std::string main;
        Length at{};
    };

    const Placed* header(std::string_view code) const { return find(survey_.header, code); }

    /// A number of the header within sensible bounds, or nothing with an error.
    std::optional<double> header_number(std::string_view code, std::string_view what, double most) {
        const Placed* field = header(code);
        if (field == nullptr) return std::nullopt;
        const auto value = number(field->text, survey_.decimal_mark);
        if (value && *value > 0.0 && *value <= most) return value;
        if (value && *value == 0.0) return std::nullopt;
        faults_.error(*field, fmt::format("\"{}\" is no {} ({}); a number with the decimal mark \"{}\" belongs here",
                                          head(field->text, 40), what, code, survey_.decimal_mark));
        return std::nullopt;
    }

    void ends() {
        const Placed* begin = header("AAB");
        const Placed* upstream = header("AAD");
        const Placed* downstream = header("AAF");
        const Placed* direction = header("AAK");
        const auto name = [](const Placed* p) { return p == nullptr ? std::string{} : as_name(p->text); };
        const std::string up = name(upstream), down = name(downstream), first = name(begin);
        const std::string way = direction == nullptr ? "" : upper(direction->text);
        run_.against_flow = way == "B" || (way.empty() && !first.empty() && first == down && up != down);
        if (!way.empty() && way != "A" && way != "B")
            doubt(
                run_, faults_, *direction,
                fmt::format(
                    "the direction \"{}\" (AAK) is neither A, with the flow, nor B, against it; taken as with the flow",
                    head(direction->text, 20)));
        run_.from = run_.against_flow ? down : up;
        run_.to = run_.against_flow ? up : down;
        if (!first.empty() && run_.from.empty() && first != run_.to) run_.from = first;
        if (!first.empty() && first != run_.from)
            doubt(run_, faults_, *begin,
                  fmt::format("the survey says that it began at \"{}\", but its nodes and direction say \"{}\"; the "
                              "latter is taken",
                              first, run_.from));
        run_.access = run_.from;
    }

    void bore() {
        const auto height = header_number("ACB", "height in mm", 3000.0);
        const auto width = header_number("ACC", "width in mm", 3000.0);
        if (height && width && *height != *width) {
            doubt(
                run_, faults_, *header("ACC"),
                fmt::format("{} mm wide and {} mm high: the pipe is not round; its bore is left out", *width, *height));
            return;
        }
        if (height || width) run_.bore = Measure<Length>{height.value_or(width.value_or(0.0)) * unit::mm, ""};
    }

    void material() {
        const Placed* field = header("ACD");
        if (field == nullptr) return;
        const MaterialMeaning meaning = material_of(field->text);
        run_.material = meaning.material;
        if (!meaning.material)
            doubt(run_, faults_, *field,
                  fmt::format("the material \"{}\" (ACD) is not known; left out", head(field->text, 40)));
        else if (!meaning.doubt.empty())
            doubt(run_, faults_, *field, std::string{meaning.doubt});
    }

    void length() {
        const auto expected = header_number("ABQ", "length in m", longest_run.in(unit::m));
        if (finish_ && *finish_ <= Length{}) finish_.reset();
        std::optional<Length> length = finish_;
        if (!length && expected) length = *expected * unit::m;
        if (finish_ && expected && abs(*finish_ - *expected * unit::m) > 0.05 * unit::m)
            doubt(run_, faults_, *header("ABQ"),
                  fmt::format("{} expected, {} counted to the far node; the latter is taken",
                              metres_text(*expected * unit::m), metres_text(*finish_)));
        if (length && furthest_ > *length) {
            doubt(run_, faults_, survey_.start,
                  fmt::format("the survey counts to {}, beyond the length of {}; the longer is taken",
                              metres_text(furthest_), metres_text(*length)));
            length = furthest_;
        }
        if (length) run_.length = Measure<Length>{*length, ""};
    }

    std::optional<Length> distance(const Observation& seen) {
        const Placed* field = find(seen.fields, "I");
        if (field == nullptr) {
            faults_.error(seen.start, "the distance (I) is missing");
            return std::nullopt;
        }
        const auto value = number(field->text, survey_.decimal_mark);
        if (!value) {
            faults_.error(*field,
                          fmt::format("\"{}\" is no distance in m; a number with the decimal mark \"{}\" belongs here",
                                      head(field->text, 40), survey_.decimal_mark));
            return std::nullopt;
        }
        if (*value < 0.0 || *value > longest_run.in(unit::m)) {
            faults_.error(*field, fmt::format("{} m is no distance along a drain", head(field->text, 40)));
            return std::nullopt;
        }
        return *value * unit::m;
    }

    void observation(const Observation& seen) {
        const auto at = distance(seen);
        const Placed* main = find(seen.fields, "A");
        if (main == nullptr) {
            faults_.error(seen.start, "the main code (A) is missing");
            return;
        }
        if (!at) return;
        const auto text = [&](std::string_view field) {
            const Placed* placed = find(seen.fields, field);
            return placed == nullptr ? std::string{} : upper(head(placed->text, 40));
        };
        const Code code{upper(main->text), text("B"), text("C")};
        const Meaning meaning = meaning_of(code);
        furthest_ = std::max(furthest_, *at);
        switch (meaning.role) {
            case Role::defect:
            case Role::fitting:
            case Role::wall_open:
                feature(seen, code, meaning, *at);
                break;
            case Role::start:
                start(*main, *at);
                break;
            case Role::finish:
                finish_ = finish_ ? std::max(*finish_, *at) : *at;
                break;
            case Role::remark:
                note(seen, code, *at);
                break;
            case Role::unknown:
                doubt(run_, faults_, *main,
                      fmt::format("the code \"{}\" at {} is not known; left out", head(main->text, 20),
                                  metres_text(*at)));
                break;
        }
    }

    /// A survey whose counter does not begin at zero is told, not bent straight.
    void start(const Placed& place, Length at) {
        if (at > Length{})
            doubt(
                run_, faults_, place,
                fmt::format("the counter stood at {} when the survey began; if that is not so, give \"counter_offset\"",
                            metres_text(at)));
    }

    void note(const Observation& seen, const Code& code, Length at) {
        std::string words = fmt::format("{} at {}", code.whole(), metres_text(at));
        if (const Placed* d = find(seen.fields, "D")) words += ' ' + head(d->text, 40);
        if (const Placed* remark = find(seen.fields, "F")) words += " (" + remark->text + ")";
        run_.seen.push_back(words);
    }

    void feature(const Observation& seen, const Code& code, const Meaning& meaning, Length at) {
        bool fine = true;
        const auto clock = clock_of(find(seen.fields, "G"), find(seen.fields, "H"), faults_, fine);
        Feature f;
        f.place = seen.start;
        f.is_fitting = meaning.role == Role::fitting;
        f.defect = meaning.role == Role::wall_open ? job::DefectKind::missing_wall : meaning.defect;
        f.fitting = meaning.fitting;
        f.inflow = meaning.inflow;
        f.at = {at, ""};
        f.clock = clock;
        f.code = code.whole();
        if (code.main == "BAP") f.surrounding_sound = false;
        if (const Placed* remark = find(seen.fields, "F")) f.remark = remark->text;
        if (const Placed* joint = find(seen.fields, "K"); joint != nullptr && upper(joint->text) == "A")
            f.remark += f.remark.empty() ? "at a joint" : "; at a joint";
        if (!quantity(seen, meaning, f)) fine = false;
        if (fine) place(seen, code, std::move(f));
    }

    bool quantity(const Observation& seen, const Meaning& meaning, Feature& f) {
        const Placed* field = find(seen.fields, "D");
        if (field == nullptr) return true;
        const auto value = number(field->text, survey_.decimal_mark);
        if (!value || *value < 0.0) {
            faults_.error(*field,
                          fmt::format("\"{}\" is no quantity; a number with the decimal mark \"{}\" belongs here",
                                      head(field->text, 40), survey_.decimal_mark));
            return false;
        }
        if (*value == 0.0) return true;
        const double most = meaning.measured == Measured::millimetres ? 5000.0
                            : meaning.measured == Measured::degrees   ? 180.0
                                                                      : 100.0;
        if (meaning.measured != Measured::not_at_all && *value > most) {
            faults_.error(*field, fmt::format("{} {} is too much for {}", head(field->text, 40),
                                              unit_word(meaning.measured), f.code));
            return false;
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
                    doubt(run_, faults_, *field,
                          fmt::format("{} % of a bore that is not known; size left out", head(field->text, 40)));
                break;
            case Measured::degrees:
                if (f.is_fitting)
                    f.angle = *value * unit::deg;
                else
                    f.remark += fmt::format("{}{} degrees", f.remark.empty() ? "" : "; ", field->text);
                break;
            case Measured::not_at_all:
                doubt(run_, faults_, *field,
                      fmt::format("a quantity of {} beside {}: its unit is not known; left out", head(field->text, 40),
                                  f.code));
                break;
        }
        return true;
    }

    /// A feature of its own, or the begin or end of a continuous one.
    void place(const Observation& seen, const Code& code, Feature f) {
        const Placed* mark = find(seen.fields, "J");
        if (mark == nullptr) {
            run_.features.push_back(std::move(f));
            return;
        }
        const std::string text = upper(mark->text);
        const auto digits = std::string_view{text}.substr(1);
        const bool good = (text[0] == 'A' || text[0] == 'B') && !digits.empty() && digits.size() <= 4 &&
                          digits.find_first_not_of("0123456789") == std::string_view::npos;
        if (!good) {
            faults_.error(*mark, fmt::format("\"{}\" marks no continuous defect; A1 begins one and B1 ends it",
                                             head(mark->text, 20)));
            return;
        }
        const int id = std::stoi(std::string{digits});
        const auto found = open_.find(id);
        if (text[0] == 'A') {
            if (found != open_.end()) {
                faults_.error(*mark, fmt::format("the continuous defect A{} began in line {} and has not ended", id,
                                                 found->second.place.line));
                return;
            }
            open_[id] = {*mark, run_.features.size(), code.main, f.at.value};
            run_.features.push_back(std::move(f));
            return;
        }
        if (found == open_.end()) {
            faults_.error(*mark, fmt::format("B{} ends a continuous defect that never began with A{}", id, id));
            return;
        }
        if (found->second.main != code.main) {
            faults_.error(*mark, fmt::format("B{} ends {}, but A{} in line {} began {}", id, code.main, id,
                                             found->second.place.line, found->second.main));
            return;
        }
        if (f.at.value < found->second.at) {
            faults_.error(*mark, fmt::format("B{} ends at {}, before A{} begins at {}", id, metres_text(f.at.value), id,
                                             metres_text(found->second.at)));
            return;
        }
        end(run_.features[found->second.feature], f);
        open_.erase(found);
    }

    /// Of two readings of one defect the worse one counts.
    static void end(Feature& begun, const Feature& ended) {
        begun.to = ended.at;
        if (ended.size && (!begun.size || begun.size->value < ended.size->value)) begun.size = ended.size;
        if (ended.percent && (!begun.percent || *begun.percent < *ended.percent)) begun.percent = ended.percent;
        if (!begun.clock) begun.clock = ended.clock;
        if (ended.inflow && (!begun.inflow || *begun.inflow < *ended.inflow)) begun.inflow = ended.inflow;
        if (!ended.remark.empty() && ended.remark != begun.remark)
            begun.remark += (begun.remark.empty() ? "" : "; ") + ended.remark;
    }

    const Survey& survey_;
    Faults& faults_;
    RunInWork run_;
    std::map<int, Open> open_;
    std::optional<Length> finish_;
    Length furthest_{};
};

std::optional<int> hour(const Placed& field, Faults& faults) {
    const auto value = number(field.text, ".");
    const int whole = value && *value >= 1.0 && *value <= 12.0 ? static_cast<int>(*value) : 0;
    if (whole != 0 && *value == whole) return whole;
    faults.error(field,
                 fmt::format("\"{}\" is no place on the clock; whole hours from 1 to 12 are", head(field.text, 40)));
    return std::nullopt;
}

}  // namespace

RunInWork run_of(const Survey& survey, std::string id, Faults& faults) {
    return Mapper{survey, std::move(id), faults}.all();
}

std::optional<ClockRange> clock_of(const Placed* from, const Placed* to, Faults& faults, bool& fine) {
    if (from == nullptr && to == nullptr) return std::nullopt;
    if (from == nullptr) {
        faults.error(*to, "the clock has an end (H) without a beginning (G)");
        fine = false;
        return std::nullopt;
    }
    const auto first = hour(*from, faults);
    const auto last = to == nullptr ? first : hour(*to, faults);
    if (!first || !last) {
        fine = false;
        return std::nullopt;
    }
    ClockRange clock{*first, *last, false};
    clock.full_ring = to != nullptr && *first == 12 && *last == 12;
    return clock;
}

}  // namespace patchwright::survey::intake
