#include "import_run.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace patchwright::intake {
namespace {

/// Well within what a job file takes, whatever the survey holds.
constexpr std::size_t longest_remark = 4000;

std::string decimals(double value, int least, int most) {
    std::string text = fmt::format("{:.{}f}", value, most);
    while (most > least && text.back() == '0') {
        text.pop_back();
        --most;
    }
    if (text.back() == '.') text.pop_back();
    return text == "-0" ? "0" : text;
}

std::string text_of(const Measure<Length>& length, bool along) {
    if (!length.typed.empty()) return length.typed;
    return along ? metres_text(length.value) : millimetres_text(length.value);
}

/// Seen from the other end left and right change places: 2 o'clock becomes 10 o'clock, and a range runs the other way.
ClockRange mirrored(const ClockRange& clock) {
    const auto flip = [](int hour) { return hour % 12 == 0 ? 12 : 12 - hour; };
    ClockRange out = clock;
    out.from = flip(clock.to);
    out.to = flip(clock.from);
    return out;
}

Length end_of(const Feature& f) { return f.to ? f.to->value : f.at->value; }

void turn_round(RunInWork& run) {
    const Length length = run.length->value;
    for (Feature& f : run.features) {
        if (f.clock) f.clock = mirrored(*f.clock);
        if (!f.at) continue;
        const Length first = f.at->value, last = end_of(f);
        if (last > length) {
            f.unread.at = question(fmt::format("{} from the other end, beyond the run", metres_text(first)));
            continue;
        }
        f.at = {length - last, ""};
        if (f.to) f.to = Measure<Length>{length - first, ""};
    }
    std::swap(run.from, run.to);
}

bool is_sign_of_opening(const Feature& f) {
    return !f.is_fitting && f.at && (f.code.starts_with("BAO") || f.code.starts_with("BAP"));
}

bool is_opening(const Feature& f) {
    return !f.is_fitting && f.at && !is_sign_of_opening(f) &&
           (f.defect == job::DefectKind::fracture_break || f.defect == job::DefectKind::missing_wall ||
            f.defect == job::DefectKind::collapse);
}

bool is_clear(const Feature& f) {
    const auto& u = f.unread;
    return u.kind.empty() && u.at.empty() && u.to.empty() && u.size.empty() && u.clock.empty() && u.inflow.empty();
}

/// The wall seen to be open, or the void behind it, belongs to the opening at the same place. Features in order of
/// place: the openings that reach a sign are found while going along.
void join_openings(RunInWork& run) {
    std::vector<Feature*> openings, reaching;
    for (Feature& f : run.features)
        if (is_opening(f)) openings.push_back(&f);
    std::vector<bool> joined_to(run.features.size());
    std::size_t next = 0;
    for (std::size_t i = 0; i < run.features.size(); ++i) {
        const Feature& sign = run.features[i];
        if (!is_sign_of_opening(sign)) continue;
        for (; next < openings.size() && openings[next]->at->value <= sign.at->value; ++next)
            reaching.push_back(openings[next]);
        std::erase_if(reaching, [&](const Feature* f) { return end_of(*f) < sign.at->value; });
        for (Feature* f : reaching) {
            // What goes further than the opening, or says what nobody could read, stays a place of its own.
            if (end_of(sign) > end_of(*f) || !is_clear(sign)) continue;
            if (sign.surrounding_sound) f->surrounding_sound = sign.surrounding_sound;
            // A sign that finds no more room stays what it is.
            if (f->remark.find(sign.code) == std::string::npos && f->remark.size() < longest_remark)
                f->remark = joined(joined(f->remark, sign.code), sign.remark);
            if (!f->clock && f->unread.clock.empty()) f->clock = sign.clock;
            joined_to[i] = joined_to[i] || f->remark.find(sign.code) != std::string::npos;
        }
    }
    std::vector<Feature> kept;
    for (std::size_t i = 0; i < run.features.size(); ++i)
        if (!joined_to[i]) kept.push_back(std::move(run.features[i]));
    run.features = std::move(kept);
}

std::string size_text(const RunInWork& run, const Feature& f) {
    if (f.percent && f.percent_of_bore) {
        return run.bore ? millimetres_text(*f.percent / 100.0 * run.bore->value) : std::string{};
    }
    if (f.percent) return share_text(*f.percent);
    return f.size ? text_of(*f.size, false) : std::string{};
}

/// What nobody could read, else the value.
std::string either(const std::string& unread, const std::string& value) { return unread.empty() ? value : unread; }

std::string place_text(const std::string& unread, const std::optional<Measure<Length>>& place) {
    return either(unread, place ? text_of(*place, true) : std::string{});
}

/// The job file places a fitting by its middle.
std::optional<Measure<Length>> middle_of(const Feature& f) {
    if (!f.at || !f.to || f.to->value <= f.at->value) return f.at;
    return Measure<Length>{0.5 * (f.at->value + f.to->value), ""};
}

DraftFitting fitting_of(const Feature& f) {
    DraftFitting out;
    out.at = place_text(f.unread.at, middle_of(f));
    out.kind = either(f.unread.kind, std::string{job::word(f.fitting)});
    out.angle = either(f.unread.angle, f.angle ? decimals(f.angle->in(unit::deg), 0, 2) + " deg" : "");
    out.bore = either(f.unread.size, f.size ? text_of(*f.size, false) : "");
    const bool branch = f.fitting == job::FittingKind::junction;
    out.clock = either(f.unread.clock, branch && f.clock ? format(*f.clock) : "");
    const bool stretch = f.at && f.to && f.to->value > f.at->value;
    const std::string along = stretch ? fmt::format("{} to {}", text_of(*f.at, true), text_of(*f.to, true)) : "";
    out.remark = head(joined(f.code, joined(along, f.remark)), longest_remark);
    return out;
}

DraftDefect defect_of(const RunInWork& run, const Feature& f, std::size_t number) {
    DraftDefect out;
    const bool letter_last = !run.id.empty() && std::isdigit(static_cast<unsigned char>(run.id.back())) == 0;
    out.id = fmt::format("{}{}{}", run.id, letter_last ? "" : "-", number);
    out.at = place_text(f.unread.at, f.at);
    const bool stretch = f.to && (!f.at || f.to->value > f.at->value);
    out.to = either(f.unread.to, stretch ? text_of(*f.to, true) : "");
    out.kind = either(f.unread.kind, std::string{job::word(f.defect)});
    out.size = either(f.unread.size, size_text(run, f));
    out.clock = either(f.unread.clock, f.clock ? format(*f.clock) : "");
    out.inflow = either(f.unread.inflow, f.inflow ? std::string{job::word(*f.inflow)} : "");
    out.surrounding_sound = f.surrounding_sound;
    out.code = as_name(f.code);
    out.remark = f.remark;
    if (f.percent && f.percent_of_bore && !out.size.empty())
        out.remark = joined(out.remark, share_text(*f.percent) + " of the bore in the survey");
    out.remark = head(out.remark, longest_remark);
    return out;
}

}  // namespace

std::string question(std::string_view raw) {
    const std::string text = head(trimmed(raw), 80);
    return text.empty() ? "?" : "? " + text;
}

void doubt(RunInWork& run, Faults& faults, const Placed& at, const std::string& message) {
    faults.warning(at, message);
    run.left_out.push_back(fmt::format("line {}: {}", at.line, message));
}

void doubt(Feature& feature, Faults& faults, const Placed& at, const std::string& message) {
    faults.warning(at, message);
    feature.remark = joined(feature.remark, message);
}

void ask(Feature& feature, std::string& field, Faults& faults, const Placed& at, const std::string& message) {
    faults.error(at, message);
    field = question(at.text);
    feature.remark = joined(feature.remark, fmt::format("survey line {}: {}", at.line, message));
}

void settle_length(RunInWork& run, const std::optional<Measure<Length>>& said, const Placed* where, Faults& faults) {
    const auto& far = run.far_nodes;
    const auto& length = far.empty() ? said : std::optional{far.front().at};
    if (!length) return;
    if (std::any_of(far.begin(), far.end(), [&](const FarNode& f) { return f.at.value != length->value; })) {
        std::string all;
        for (const FarNode& f : far) all += (all.empty() ? "" : " or ") + text_of(f.at, true);
        faults.error(far.back().place, fmt::format("the far node (BCE) stands at {}", head(all, 200)));
        run.unread.length = question(all);
        run.length.reset();
        return;
    }
    if (!far.empty() && said && abs(length->value - said->value) > 0.05 * unit::m)
        doubt(run, faults, where != nullptr ? *where : far.front().place,
              fmt::format("{} expected, {} counted to the far node; the latter is taken", text_of(*said, true),
                          text_of(*length, true)));
    run.length = length;
    for (Feature& f : run.features)
        if (f.at && f.at->value > length->value)
            doubt(f, faults, f.place,
                  fmt::format("counted at {}, beyond the length of {}", text_of(*f.at, true), text_of(*length, true)));
}

Feature unread_line(const Placed& line) {
    Feature f;
    f.place = line;
    f.unread.kind = f.unread.at = question("");
    f.remark = fmt::format("survey line {}, not understood: {}", line.line, line.text);
    return f;
}

std::string joined(const std::string& a, const std::string& b, const std::string& mark) {
    return a.empty() ? b : b.empty() ? a : a + mark + b;
}

std::string metres_text(Length length) { return decimals(length.in(unit::m), 2, 4) + " m"; }
std::string millimetres_text(Length length) { return decimals(length.in(unit::mm), 0, 2) + " mm"; }
std::string share_text(double percent) { return decimals(percent, 0, 2) + " %"; }

void add_notes(Draft& draft, const std::string& title, const std::vector<std::string>& items, const std::string& mark) {
    std::string note;
    for (const std::string& item : items) {
        if (!note.empty() && note.size() + item.size() > longest_remark) {
            draft.notes.push_back(std::move(note));
            note.clear();
        }
        note += (note.empty() ? title : mark) + head(item, longest_remark);
    }
    if (!note.empty()) draft.notes.push_back(std::move(note));
}

void add_run(Draft& draft, RunInWork run, bool with_flow, Faults& faults) {
    if (run.from == run.to && !run.from.empty()) {
        doubt(run, faults, run.start, fmt::format("both ends are named \"{}\"; the far end is left without", run.from));
        run.to.clear();
    }
    const bool against = run.against_flow.value_or(false);
    const bool turned = against && with_flow && run.length;
    if (against && with_flow && !run.length)
        doubt(run, faults, run.start,
              "seen against the flow, but its length is not known: distances still run from the end where the camera "
              "went in");
    if (turned) turn_round(run);
    if (turned && run.access.empty()) run.access = "end";
    std::stable_sort(run.features.begin(), run.features.end(), [](const Feature& a, const Feature& b) {
        return a.at && (!b.at || a.at->value < b.at->value);  // those without a place last
    });
    join_openings(run);
    DraftRun out;
    out.id = run.id;
    out.from = run.from;
    out.to = run.to;
    out.access = run.access;
    out.length = either(run.unread.length, run.length ? text_of(*run.length, true) : "");
    out.bore = either(run.unread.bore, run.bore ? text_of(*run.bore, false) : "");
    out.material = either(run.unread.material, run.material ? std::string{job::word(*run.material)} : "");
    out.depth = run.depth;
    out.joint_spacing = run.joint_spacing;
    std::size_t number = 0;
    std::vector<std::string> beside;
    for (const Feature& f : run.features) {
        if (f.is_fitting) {
            out.fittings.push_back(fitting_of(f));
            // The sheets print it among the notes; here it is so said that it is not said twice.
            if (const DraftFitting& last = out.fittings.back(); !f.remark.empty() && f.remark != "at a joint")
                beside.push_back(fmt::format("{} at {}: {}", last.kind, last.at, f.remark));
        } else {
            out.defects.push_back(defect_of(run, f, ++number));
        }
    }
    draft.runs.push_back(std::move(out));
    if (turned)
        draft.notes.push_back(
            fmt::format("Run {}: the camera went against the flow; distances and clock positions are turned "
                        "round and run with the flow.",
                        run.id));
    else if (against)
        draft.notes.push_back(
            fmt::format("Run {}: the camera went against the flow; distances and clock positions are as it counted "
                        "them{}.",
                        run.id, run.from.empty() ? "" : ", from " + run.from));
    add_notes(draft, fmt::format("Run {}, ", run.id), beside);
    const char* counted = turned ? ", distances as it counted them" : "";
    add_notes(draft, fmt::format("Run {}, from the survey{}: ", run.id, counted), run.left_out);
    add_notes(draft,
              fmt::format("Run {}, seen besides{}: ", run.id, turned ? ", distances as the survey counted them" : ""),
              run.seen);
}

}  // namespace patchwright::intake
