#include "import_run.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace patchwright::survey::intake {
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

void turn_round(RunInWork& run) {
    const Length length = run.length->value;
    for (Feature& f : run.features) {
        const Length first = f.at.value, last = f.to ? f.to->value : f.at.value;
        f.at = {length - last, ""};
        if (f.to) f.to = Measure<Length>{length - first, ""};
        if (f.clock) f.clock = mirrored(*f.clock);
    }
    std::swap(run.from, run.to);
}

/// The wall seen to be open, or the void behind it, belongs to the opening at the same place.
void join_openings(RunInWork& run) {
    auto& list = run.features;
    const auto is_sign = [](const Feature& f) {
        return !f.is_fitting && (f.code.starts_with("BAO") || f.code.starts_with("BAP"));
    };
    for (const Feature& sign : list) {
        if (!is_sign(sign)) continue;
        for (Feature& f : list) {
            const bool opening = f.defect == job::DefectKind::fracture_break ||
                                 f.defect == job::DefectKind::missing_wall || f.defect == job::DefectKind::collapse;
            const Length end = f.to ? f.to->value : f.at.value;
            if (f.is_fitting || !opening || is_sign(f) || sign.at.value < f.at.value || sign.at.value > end) continue;
            if (sign.surrounding_sound) f.surrounding_sound = sign.surrounding_sound;
            // A sign that finds no more room stays what it is, below.
            if (f.remark.size() < longest_remark && f.remark.find(sign.code) == std::string::npos)
                f.remark += (f.remark.empty() ? "" : "; ") + sign.code;
        }
    }
    std::vector<Feature> kept;
    for (const Feature& f : list) {
        const bool joined = is_sign(f) && std::any_of(list.begin(), list.end(), [&](const Feature& other) {
                                const Length end = other.to ? other.to->value : other.at.value;
                                return !is_sign(other) && !other.is_fitting &&
                                       other.remark.find(f.code) != std::string::npos && f.at.value >= other.at.value &&
                                       f.at.value <= end;
                            });
        if (!joined) kept.push_back(f);
    }
    list = std::move(kept);
}

std::string size_text(const RunInWork& run, const Feature& f) {
    if (f.percent && f.percent_of_bore) {
        return run.bore ? millimetres_text(*f.percent / 100.0 * run.bore->value) : std::string{};
    }
    if (f.percent) return share_text(*f.percent);
    return f.size ? text_of(*f.size, false) : std::string{};
}

std::string joined(const std::string& a, const std::string& b) { return a.empty() ? b : b.empty() ? a : a + "; " + b; }

DraftFitting fitting_of(const Feature& f) {
    DraftFitting out;
    out.at = text_of(f.at, true);
    out.kind = f.fitting;
    if (f.angle) out.angle = decimals(f.angle->in(unit::deg), 0, 2) + " deg";
    if (f.size) out.bore = text_of(*f.size, false);
    if (f.fitting == job::FittingKind::junction) out.clock = f.clock;
    out.remark = head(joined(f.code, f.remark), longest_remark);
    return out;
}

DraftDefect defect_of(const RunInWork& run, const Feature& f, std::size_t number) {
    DraftDefect out;
    const bool letter_last = !run.id.empty() && std::isdigit(static_cast<unsigned char>(run.id.back())) == 0;
    out.id = fmt::format("{}{}{}", run.id, letter_last ? "" : "-", number);
    out.at = text_of(f.at, true);
    if (f.to && f.to->value > f.at.value) out.to = text_of(*f.to, true);
    out.kind = f.defect;
    out.size = size_text(run, f);
    out.clock = f.clock;
    out.inflow = f.inflow;
    out.surrounding_sound = f.surrounding_sound;
    out.code = as_name(f.code);
    out.remark = head(f.remark, longest_remark);
    if (f.percent && f.percent_of_bore && !out.size.empty())
        out.remark = joined(out.remark, share_text(*f.percent) + " of the bore in the survey");
    return out;
}

/// A list as notes of a length that a job file takes.
void add_notes(Draft& draft, const std::string& title, const std::vector<std::string>& items) {
    std::string note;
    for (const std::string& item : items) {
        if (!note.empty() && note.size() + item.size() > longest_remark) {
            draft.notes.push_back(std::move(note));
            note.clear();
        }
        note += (note.empty() ? title : "; ") + head(item, longest_remark);
    }
    if (!note.empty()) draft.notes.push_back(std::move(note));
}

}  // namespace

void doubt(RunInWork& run, Faults& faults, const Placed& at, const std::string& message) {
    faults.warning(at, message);
    run.left_out.push_back(fmt::format("line {}: {}", at.line, message));
}

std::string metres_text(Length length) { return decimals(length.in(unit::m), 2, 4) + " m"; }
std::string millimetres_text(Length length) { return decimals(length.in(unit::mm), 0, 2) + " mm"; }
std::string share_text(double percent) { return decimals(percent, 0, 2) + " %"; }

void add_run(Draft& draft, RunInWork run, Faults& faults) {
    if (run.from == run.to && !run.from.empty()) {
        doubt(run, faults, run.start, fmt::format("both ends are named \"{}\"; the names are left out", run.from));
        run.from = run.to = run.access = "";
    }
    const bool turned = run.against_flow && run.length;
    if (run.against_flow && !run.length)
        doubt(run, faults, run.start,
              "seen against the flow, but its length is not known: distances still run from the end where the camera "
              "went in");
    if (turned) turn_round(run);
    if (run.access.empty() && turned) run.access = run.to.empty() ? "end" : run.to;
    join_openings(run);
    std::stable_sort(run.features.begin(), run.features.end(),
                     [](const Feature& a, const Feature& b) { return a.at.value < b.at.value; });
    DraftRun out;
    out.id = run.id;
    out.from = run.from;
    out.to = run.to;
    out.access = run.access;
    if (run.length) out.length = text_of(*run.length, true);
    if (run.bore) out.bore = text_of(*run.bore, false);
    out.depth = run.depth;
    out.material = run.material;
    std::size_t number = 0;
    for (const Feature& f : run.features) {
        if (f.is_fitting)
            out.fittings.push_back(fitting_of(f));
        else
            out.defects.push_back(defect_of(run, f, ++number));
    }
    draft.runs.push_back(std::move(out));
    if (turned)
        draft.notes.push_back(
            fmt::format("Run {}: the camera went against the flow; distances and clock positions are turned "
                        "round and run with the flow.",
                        run.id));
    add_notes(draft, fmt::format("Run {}, not taken over as it stood in the survey: ", run.id), run.left_out);
    add_notes(draft, fmt::format("Run {}, seen and of no use for patching: ", run.id), run.seen);
}

}  // namespace patchwright::survey::intake
