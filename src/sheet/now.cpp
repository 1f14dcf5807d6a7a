#include "patchwright/sheet/now.hpp"

#include <algorithm>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "day_parts.hpp"
#include "json_pieces.hpp"
#include "words.hpp"

namespace patchwright::sheet {
namespace {

using site::Sleeve;
using site::State;
using site::Verdict;

const plan::Patch& patch_of(const Context& c, const Sleeve& s) {
    return s.on_other ? *s.on_other : c.plan->patches[s.patch];
}
const std::string& id_of(const Context& c, const Sleeve& s) { return c.plan->patches[s.patch].id; }
int whole(Duration d) { return static_cast<int>(std::lround(d.in(unit::minute))); }

/// As the box "If it goes wrong" of the day sheet has it.
constexpr const char* out_with_it =
    "Deflate, pull it out, strip the felt in the open, clean the packer before it sets. Hot resin in the pot: outside, "
    "by its SDS.";

std::string strip_words(const Context& c, const Sleeve& s) {
    return fmt::format("{} STRIP IT NOW: {}. {}", id_of(c, s), s.words, out_with_it);
}

std::string lying_words(const Context& c, const site::Now& now, const Sleeve& s) {
    if (s.verdict == Verdict::strip) return strip_words(c, s);
    std::string words = id_of(c, s);
    if (!s.let_down) return fmt::format("{} wait: {}", words, s.words);
    if (s.verdict == Verdict::go) {
        words += fmt::format(" air out now (since {}), witness hard first", clock_text(*s.let_down));
    } else {
        words += fmt::format(" air out not before {}", clock_text(*s.let_down));
        if (s.planned_let_down && *s.planned_let_down != *s.let_down)
            words += fmt::format(" (sheet {})", clock_text(*s.planned_let_down));
        words += ", witness hard first";
    }
    if (s.left.crease > 0)
        words += fmt::format(", wrinkle check over by {}", clock_text(*s.mixed + whole(s.limits.crease_by)));
    if (*s.let_down > now.closes && s.verdict == Verdict::wait)
        words += fmt::format(", {} min past the day's end", *s.let_down - now.closes);
    return s.words.empty() ? words : fmt::format("{}: {}", words, s.words);
}

std::string in_hand_words(const Context& c, const site::Now& now, const Sleeve& s) {
    if (s.verdict == Verdict::strip) return strip_words(c, s);
    return fmt::format(
        "{} GO: inflate by {}, {} min left, wrinkle check over by {}, air out not before {}. Not inflated by then: do "
        "not inflate, it comes out before {}",
        id_of(c, s), clock_text(*s.inflate_by), *s.inflate_by - now.at,
        clock_text(*s.mixed + whole(s.limits.crease_by)), clock_text(*s.let_down),
        clock_text(*s.mixed + whole(s.limits.gel)));
}

/// The packer that takes another's place, with what the card says otherwise of it.
std::string other_packer(const Context& c, const Sleeve& s) {
    if (!s.on_other) return {};
    const auto& p = *s.on_other;
    return fmt::format(" on {} in place of {} (mark {} from {}, set {}, never above {}; fetch it if it is not loaded)",
                       p.option.packer.id, c.plan->patches[s.patch].option.packer.id, shown(c, p, "mark"),
                       p.rigging.from, shown(c, p, "pressure"), shown(c, p, "most-pressure"));
}

std::string next_words(const Context& c, const site::Now& now, const Sleeve& s) {
    const auto& p = c.plan->patches[s.patch];
    const bool at_once = *s.mix_at <= now.at;
    std::string words =
        fmt::format("{}{}{}{} mix {}, inflate within {} min, air out after {}", id_of(c, s), s.again ? " again" : "",
                    other_packer(c, s), s.again || s.on_other ? ":" : "", at_once ? "now" : clock_text(*s.mix_at),
                    whole(s.next.inflate_by), format(Show::span, s.next.let_down, c.units));
    if (s.again)
        words += fmt::format(" (A {}, B {})", show(c, Show::scale_mass, p.need.part_a),
                             show(c, Show::scale_mass, p.need.part_b));
    return s.material.empty() ? words : fmt::format("{}; {}", words, s.material);
}

std::vector<std::string> of_state(const std::vector<Sleeve>& sleeves, State state, const auto& words) {
    std::vector<std::string> list;
    for (const Sleeve& s : sleeves)
        if (s.state == state) list.push_back(words(s));
    return list;
}

std::string counts(const site::Now& now) {
    std::vector<std::string> parts;
    for (const State state : {State::done, State::in_pipe, State::in_hand, State::lost, State::to_do}) {
        const auto n = std::count_if(now.sleeves.begin(), now.sleeves.end(),
                                     [state](const Sleeve& s) { return s.state == state; });
        if (n > 0) parts.push_back(fmt::format("{} {}", n, word(state)));
    }
    return fmt::format("{}", fmt::join(parts, ", "));
}

std::string measured_words(const Context& c, const site::Now& now) {
    std::vector<std::string> parts;
    const auto add = [&](const char* name, std::optional<Temperature> job::PatchRecord::*member) {
        std::vector<std::string> seen;
        for (const Sleeve& s : now.sleeves) {
            if (s.noted == nullptr || !(s.noted->*member) || s.state == State::done) continue;
            auto text = show(c, Show::temperature, *(s.noted->*member));
            if (std::find(seen.begin(), seen.end(), text) == seen.end()) seen.push_back(std::move(text));
        }
        if (!seen.empty()) parts.push_back(fmt::format("{} {}", name, fmt::join(seen, " and ")));
    };
    add("pipe", &job::PatchRecord::pipe_temperature);
    add("resin", &job::PatchRecord::resin_temperature);
    add("air", &job::PatchRecord::air_temperature);
    return parts.empty() ? std::string{} : fmt::format(" As measured: {}.", fmt::join(parts, ", "));
}

std::string back_words(const Context& c, const site::Now& now) {
    const int over = now.finish - now.closes;
    std::string words = fmt::format("Back in the yard {}", clock_text(now.finish));
    if (over > now.overtime)
        words += fmt::format(", {} min past the day's end {}: {} min more than the overtime allowed", over,
                             clock_text(now.closes), over - now.overtime);
    else if (over > 0)
        words += fmt::format(", {} min of overtime", over);
    else
        words += fmt::format(", {} min to spare", -over);
    std::vector<std::string> later;
    for (const Sleeve& s : now.sleeves)
        if (!s.another_day.empty()) later.push_back(fmt::format("{} ({})", id_of(c, s), s.another_day));
    if (!later.empty()) words += fmt::format(". Another day: {}", fmt::join(later, "; "));
    return words + ".";
}

std::vector<std::string> five_lines(const Context& c, const site::Now& now) {
    std::vector<std::string> lines{fmt::format("{} {}: {}.{}", clock_text(now.at), day_with_weekday(c, now.day),
                                               counts(now), measured_words(c, now))};
    const auto add = [&](const char* name, const std::vector<std::string>& parts) {
        if (parts.empty()) return;
        auto line = fmt::format("{}: {}", name, fmt::join(parts, "; "));
        lines.push_back(line.ends_with('.') ? line : line + ".");
    };
    add("In the pipe", of_state(now.sleeves, State::in_pipe, [&](const Sleeve& s) { return lying_words(c, now, s); }));
    add("In hand", of_state(now.sleeves, State::in_hand, [&](const Sleeve& s) { return in_hand_words(c, now, s); }));
    std::vector<const Sleeve*> coming;
    for (const Sleeve& s : now.sleeves)
        if (s.mix_at) coming.push_back(&s);
    std::stable_sort(coming.begin(), coming.end(),
                     [](const auto* a, const auto* b) { return *a->mix_at < *b->mix_at; });
    std::vector<std::string> next;
    for (const Sleeve* s : coming) next.push_back(next_words(c, now, *s));
    add("Next", next);
    lines.push_back(back_words(c, now));
    return lines;
}

/// What the lines rest on.
std::vector<std::string> notes(const site::Now& now) {
    std::vector<std::string> list = now.warnings;
    if (!now.taken.empty()) list.push_back(fmt::format("Not told, taken as planned: {}.", fmt::join(now.taken, "; ")));
    return list;
}

/// The plan with the rest of the day in place of that day; what was cleaned on the days before it is known.
plan::Plan rest_of(const Context& c, const site::Now& now) {
    plan::Plan rest = *c.plan;
    rest.schedule = now.schedule;
    const auto before = c.plan->schedule.days.begin();
    std::copy(before, before + now.day, rest.schedule.days.begin());
    rest.flows.clear();
    for (const Sleeve& s : now.sleeves)
        if (s.mix_at) rest.patches[s.patch].late_probability = s.next.late_probability;
    return rest;
}

std::vector<std::size_t> open_patches(const site::Now& now) {
    std::vector<std::size_t> list;
    for (const Sleeve& s : now.sleeves)
        if (s.state != State::done) list.push_back(s.patch);
    return list;
}

Json clock_json(const std::optional<int>& minute) { return minute ? Json(clock_text(*minute)) : Json(nullptr); }

Json sleeve_json(const Context& c, const Sleeve& s) {
    Json json = Json::object();
    json["id"] = id_of(c, s);
    json["run"] = c.plan->run_of(c.plan->patches[s.patch]).id;
    json["state"] = word(s.state);
    json["mixed_at"] = clock_json(s.mixed);
    json["inflated_at"] = clock_json(s.inflated);
    json["deflated_at"] = clock_json(s.deflated);
    json["inflate_by"] = clock_json(s.inflate_by);
    json["let_down"] = s.verdict == Verdict::strip ? Json(nullptr) : clock_json(s.let_down);
    json["verdict"] = s.verdict == Verdict::none ? Json(nullptr) : Json(word(s.verdict));
    json["mix_at"] = clock_json(s.mix_at);
    json["again"] = s.again;
    json["as_planned"] = s.limits.as_planned;
    json["along_readings"] = s.limits.along_readings;
    const auto& limits = s.mixed ? s.limits : s.next;
    json["from_mixing"] = {{"pour_by_min", whole(limits.pour_by)},
                           {"inflate_by_min", whole(limits.inflate_by)},
                           {"crease_by_min", whole(limits.crease_by)},
                           {"gel_min", whole(limits.gel)},
                           {"let_down_min", whole(limits.let_down)}};
    const auto& p = patch_of(c, s);
    Part packer{c.units};
    packer.json["id"] = p.option.packer.id;
    packer.json["from"] = p.rigging.from;
    packer.figure("mark_m", Show::run_distance, p.rigging.mark);
    packer.figure("set_bar", Show::gauge_pressure, p.pressure.set);
    packer.figure("maximum_bar", Show::gauge_pressure, p.pressure.maximum);
    json["packer"] = std::move(packer).done();
    json["why"] = s.words;
    json["material"] = s.material;
    json["another_day"] = s.another_day;
    return json;
}

}  // namespace

std::string now_text(const Context& c, const site::Now& now, const TextStyle& style, bool order) {
    std::string text;
    for (const auto& line : five_lines(c, now)) text += line + "\n";
    for (const auto& note : notes(now)) text += "\n" + note + "\n";
    if (!style.utf8) text = ascii(text);
    if (!order) return text;
    const plan::Plan rest = rest_of(c, now);
    Context context = c;
    context.plan = &rest;
    Sheet sheet;
    sheet.kind = "Rest of the day";
    sheet.title = c.job().title;
    sheet.reference = c.job().reference;
    add_order(context, now.day, open_patches(now), sheet);
    return text + "\n" + sheet::text(sheet, style);
}

Sheet now_sheet(const Context& c, const site::Now& now) {
    const plan::Plan rest = rest_of(c, now);
    Context context = c;
    context.plan = &rest;
    Sheet sheet;
    sheet.kind = "Now";
    sheet.title = c.job().title;
    sheet.reference = c.job().reference;
    sheet.subject = fmt::format("{}, {}", day_with_weekday(c, now.day), clock_text(now.at));
    sheet.compact = true;
    for (const auto& line : five_lines(c, now)) sheet.blocks.push_back(paragraph(line, Emphasis::strong));
    for (const auto& note : notes(now)) sheet.blocks.push_back(paragraph(note));
    add_order(context, now.day, open_patches(now), sheet);
    return sheet;
}

std::string now_json(const Context& c, const site::Now& now) {
    const plan::Plan rest = rest_of(c, now);
    Context context = c;
    context.plan = &rest;
    Json json = Json::object();
    json["patchwright_now"] = 1;
    json["job"] = {{"reference", c.job().reference}, {"title", c.job().title}};
    json["at"] = clock_text(now.at);
    json["day"] = now.day + 1;
    json["date"] = date_text(c, now.day);
    json["persons"] = now.persons;
    json["patches"] = Json::array();
    for (const Sleeve& s : now.sleeves) json["patches"].push_back(sleeve_json(c, s));
    json["schedule"] = schedule_json(context, now.day);
    json["finish"] = clock_text(now.finish);
    json["overtime_min"] = std::max(0, now.finish - now.closes);
    json["overtime_allowed_min"] = now.overtime;
    json["taken"] = now.taken;
    json["warnings"] = now.warnings;
    json["lines"] = five_lines(c, now);
    return json.dump(2) + "\n";
}

}  // namespace patchwright::sheet
