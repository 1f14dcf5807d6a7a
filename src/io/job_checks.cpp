#include "job_checks.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace patchwright::io {
namespace {

std::string distance(Length at, UnitSystem units) { return format(Show::run_distance, at, units); }

/// Checks on one run, with what every message needs at hand.
class RunChecks {
public:
    RunChecks(Reader& reader, const Node& node, const Run& run, UnitSystem units)
        : reader_{reader}, node_{node}, run_{run}, units_{units} {}

    void all() {
        ends();
        doubts();
        const auto& fittings = items(node_, "fittings");
        for (std::size_t i = 0; i < std::min(fittings.size(), run_.fittings.size()); ++i)
            fitting(fittings[i], run_.fittings[i]);
        bends(fittings);
        const auto& defects = items(node_, "defects");
        for (std::size_t i = 0; i < std::min(defects.size(), run_.defects.size()); ++i)
            defect(defects[i], run_.defects[i]);
    }

private:
    bool length_known() const { return sound(node_, "length") != nullptr; }
    bool bore_known() const { return sound(node_, "bore") != nullptr; }

    void ends() {
        const Node* to = sound(node_, "to");
        if (to != nullptr && run_.from == run_.to)
            reader_.error(*to, fmt::format("both ends are named \"{}\"; the crew could not tell them apart", run_.to));
        for (const Node& access : items(node_, "access")) {
            if (access.faulty || access.text == run_.from || access.text == run_.to) continue;
            reader_.error(access, fmt::format("\"{}\" is no end of this run; its ends are \"{}\" and \"{}\"",
                                              access.text, run_.from, run_.to));
        }
    }

    /// A place along the run lies in it, counter offset included.
    void within(const Node& object, std::string_view key, Length at) {
        const Node* node = sound(object, key);
        if (node == nullptr) return;
        const bool shifted = run_.counter_offset.si() != 0.0;
        const std::string note =
            shifted ? fmt::format(" ({} with the counter's offset)", distance(at, units_)) : std::string{};
        if (at.si() < 0.0) reader_.error(*node, fmt::format("lies before the run's beginning{}", note));
        if (length_known() && at > run_.length)
            reader_.error(*node, fmt::format("lies beyond the run's end at {}{}", distance(run_.length, units_), note));
    }

    void fitting(const Node& node, const Fitting& fitting) {
        within(node, "at", fitting.at);
        if (sound(node, "kind") == nullptr) return;
        if (fitting.kind == FittingKind::bend && node.find("angle") == nullptr)
            reader_.error(node, "a bend needs its \"angle\", such as \"45 deg\"");
        if (fitting.kind == FittingKind::size_change && node.find("bore") == nullptr)
            reader_.error(node, "a size change needs \"bore\": the bore beyond it");
        const Node* radius = sound(node, "radius");
        if (radius != nullptr && bore_known() && *fitting.radius < 0.5 * run_.bore)
            reader_.error(*radius, fmt::format("a bend cannot be tighter than half the bore, {}",
                                               format(Show::tape, 0.5 * run_.bore, units_)));
        const Node* bore = sound(node, "bore");
        if (bore != nullptr && fitting.kind == FittingKind::junction && bore_known() && fitting.bore > run_.bore)
            reader_.warn(*bore, "the branch is wider than the run");
        if (bore != nullptr && fitting.kind == FittingKind::bend)
            reader_.warn(*bore, "a bend has the run's bore; not used");
    }

    /// Two bends cannot share pipe: their arcs along the centre line, taken from their middles.
    void bends(const std::vector<Node>& nodes) {
        struct Arc {
            Length from, to;
            const Node* node;
        };
        std::vector<Arc> arcs;
        for (std::size_t i = 0; i < std::min(nodes.size(), run_.fittings.size()); ++i) {
            const Fitting& f = run_.fittings[i];
            const bool known = sound(nodes[i], "at") != nullptr && sound(nodes[i], "angle") != nullptr;
            if (f.kind != FittingKind::bend || !known) continue;
            // Without a radius the tightest that can be: half the bore.
            const Length half = 0.5 * f.angle.in(unit::rad)*f.radius.value_or(0.5 * run_.bore);
            arcs.push_back({f.at - half, f.at + half, nodes[i].find("at")});
        }
        std::stable_sort(arcs.begin(), arcs.end(), [](const Arc& a, const Arc& b) { return a.from < b.from; });
        for (std::size_t i = 1; i < arcs.size(); ++i) {
            if (arcs[i].from >= arcs[i - 1].to) continue;
            const Node* later = std::max(arcs[i].node, arcs[i - 1].node,
                                         [](const Node* a, const Node* b) { return a->start < b->start; });
            reader_.error(*later, "this bend and its neighbour overlap: their arcs share pipe");
        }
    }

    void defect(const Node& node, const Defect& defect) {
        within(node, "at", defect.at);
        const Node* to = sound(node, "to");
        if (to != nullptr && sound(node, "at") != nullptr && defect.to < defect.at)
            reader_.error(*to, "ends before it begins; distances run from the run's \"from\"");
        else
            within(node, "to", defect.to);
        size(node, defect);
    }

    void size(const Node& node, const Defect& defect) {
        const Node* size = sound(node, "size");
        if (size == nullptr || sound(node, "kind") == nullptr) return;
        const bool narrows = defect.kind == DefectKind::deformation || defect.kind == DefectKind::root_intrusion ||
                             defect.kind == DefectKind::attached_deposit;
        if (narrows && defect.size)
            reader_.error(*size, fmt::format("the size of a {} is a percentage of the pipe, such as \"15 %\"",
                                             word(defect.kind)));
        if (!narrows && defect.size_percent)
            reader_.error(*size, fmt::format("the size of a {} is a length, such as \"8 mm\"", word(defect.kind)));
        const bool step = defect.kind == DefectKind::displaced_joint || defect.kind == DefectKind::intruding_connection;
        if (step && defect.size && bore_known() && *defect.size > run_.bore)
            reader_.warn(*size, "larger than the pipe's bore");
    }

    void doubts() {
        if (const Node* measured = sound(node_, "measured_bore"); measured != nullptr && bore_known()) {
            const double ratio = *run_.measured_bore / run_.bore;
            if (ratio < 0.85 || ratio > 1.15) reader_.warn(*measured, "differs from \"bore\" by more than 15 %");
        }
        if (const Node* depth = sound(node_, "depth"); depth != nullptr && bore_known() && run_.depth < run_.bore)
            reader_.warn(*depth, "less than the bore: the pipe would stand out of the ground");
    }

    Reader& reader_;
    const Node& node_;
    const Run& run_;
    UnitSystem units_;
};

/// On which days, and in which hours of them, the week may put work there.
void check_days(Reader& reader, const Node& root, const Job& job) {
    const Node* node = root.find("site");
    const Site& site = job.site;
    const Node* earliest = sound(*node, "earliest");
    const Node* latest = sound(*node, "latest");
    if (earliest != nullptr && latest != nullptr && *site.latest < *site.earliest)
        reader.error(*latest, fmt::format("lies before \"earliest\", {}", format(*site.earliest)));
    const Node* date = sound(root, "date");
    if (date != nullptr && earliest != nullptr && *job.date < *site.earliest)
        reader.error(*date, fmt::format("lies before \"earliest\" of the site, {}", format(*site.earliest)));
    if (date != nullptr && latest != nullptr && *job.date > *site.latest)
        reader.error(*date, fmt::format("lies after \"latest\" of the site, {}", format(*site.latest)));
    const Node* window = sound(*node, "window");
    if (window == nullptr || window->kind != NodeKind::object) return;
    const Node* to = sound(*window, "to");
    if (to != nullptr && sound(*window, "from") != nullptr && site.window->to <= site.window->from)
        reader.error(*to, fmt::format("the window would end at {} and begin at {}", format(site.window->to),
                                      format(site.window->from)));
}

void check_site(Reader& reader, const Node& root, const Job& job) {
    const Site& site = job.site;
    const Node* node = root.find("site");
    if (node == nullptr || node->kind != NodeKind::object) return;
    const Node* start = node->find("start");
    const Node* finish = node->find("finish");
    const Node* given = finish != nullptr ? finish : start;
    const bool readable = (start == nullptr || !start->faulty) && (finish == nullptr || !finish->faulty);
    if (given != nullptr && readable && site.finish <= site.start)
        reader.error(*given,
                     fmt::format("the day would end at {} and begin at {}", format(site.finish), format(site.start)));
    check_days(reader, root, job);
    const Node* travel = sound(*node, "travel");
    if (travel != nullptr && readable && site.travel && site.finish > site.start &&
        2.0 * *site.travel >= static_cast<double>(site.finish.minutes - site.start.minutes) * unit::minute)
        reader.warn(*travel, "there and back takes the whole working day");
}

/// Names that sheets print alone are better not shared between runs.
void check_names(Reader& reader, const Node& root, const Job& job) {
    std::map<std::string_view, std::string_view> owner;
    const auto& runs = items(root, "runs");
    for (std::size_t r = 0; r < std::min(runs.size(), job.runs.size()); ++r) {
        const auto& defects = items(runs[r], "defects");
        for (std::size_t d = 0; d < std::min(defects.size(), job.runs[r].defects.size()); ++d) {
            const Node* id = sound(defects[d], "id");
            if (id == nullptr) continue;
            const auto [place, fresh] = owner.try_emplace(job.runs[r].defects[d].id, job.runs[r].id);
            if (!fresh && place->second != job.runs[r].id)
                reader.warn(*id, fmt::format("run {} has a defect of this name too", place->second));
        }
    }
}

/// What marks a thing on sheets and in other fields: blanks round it would make two that look the same.
void check_name(Reader& reader, const Node& object, std::string_view key) {
    const Node* node = sound(object, key);
    if (node != nullptr && node->kind == NodeKind::string) refuse_blank_name(reader, *node, key);
}

void check_not_empty(Reader& reader, const Node& object, std::string_view key) {
    const Node* node = sound(object, key);
    if (node != nullptr && node->kind == NodeKind::string && node->text.find_first_not_of(' ') == std::string::npos)
        reader.error(*node, fmt::format("\"{}\" cannot be empty", key));
}

/// One word on the price, and words on every extra.
void check_price(Reader& reader, const Node& root, const PriceWish& wish) {
    if (const Node* price = sound(root, "price"); price != nullptr && price->kind == NodeKind::object) {
        const Node* first = nullptr;
        for (const Node& member : price->children) {
            if (is_remark(member.key)) continue;
            if (first != nullptr) {
                reader.error_at_key(member, fmt::format("\"{}\" stands beside \"{}\": the price is given by one of "
                                                        "\"net\", \"profit\" and \"per_patch\"",
                                                        member.key, first->key));
                break;
            }
            first = &member;
        }
        for (const auto& [key, amount] : {std::pair{"net", wish.net}, std::pair{"per_patch", wish.per_patch}})
            if (const Node* node = price->find(key); node != nullptr && amount && amount->is_zero())
                reader.error(*node, fmt::format("\"{}\" must be above zero", key));
        if (first == nullptr) reader.error(*price, "a price needs one of \"net\", \"profit\" and \"per_patch\"");
    }
    for (const Node& extra : items(root, "extras")) check_name(reader, extra, "words");
}

/// A fitting's remark as a note of the job, unless a note says it already, as those of an imported survey do.
void note_remark(const Node& fitting, const std::string& place, Job& job) {
    const Node* remark = fitting.find("remark");
    if (remark == nullptr || remark->kind != NodeKind::string || remark->text.empty()) return;
    const bool said = std::any_of(job.notes.begin(), job.notes.end(), [&](const std::string& note) {
        return note.find(remark->text) != std::string::npos;
    });
    if (!said) job.notes.push_back(fmt::format("{}: {}", place, remark->text));
}

}  // namespace

void complete_job(const Node& root, Job& job) {
    const auto& runs = items(root, "runs");
    for (std::size_t r = 0; r < std::min(runs.size(), job.runs.size()); ++r) {
        Run& run = job.runs[r];
        if (run.from.empty()) run.from = "start";
        if (run.to.empty()) run.to = "end";
        const auto& fittings = items(runs[r], "fittings");
        for (std::size_t f = 0; f < std::min(fittings.size(), run.fittings.size()); ++f) {
            Fitting& fitting = run.fittings[f];
            fitting.at += run.counter_offset;
            if (fitting.id.empty())
                fitting.id = fmt::format("{} at {}", word(fitting.kind), distance(fitting.at, job.units));
            note_remark(fittings[f], fmt::format("Run {}, {}", run.id, fitting.id), job);
        }
        const auto& defects = items(runs[r], "defects");
        for (std::size_t d = 0; d < std::min(defects.size(), run.defects.size()); ++d) {
            Defect& defect = run.defects[d];
            const bool point = defects[d].find("to") == nullptr;
            defect.at += run.counter_offset;
            defect.to = point ? defect.at : defect.to + run.counter_offset;
        }
    }
}

void check_job(Reader& reader, const Node& root, const Job& job) {
    check_not_empty(reader, root, "reference");
    check_site(reader, root, job);
    const Node* list = sound(root, "runs");
    if (list != nullptr && list->kind == NodeKind::array && list->children.empty())
        reader.error(*list, "a job has at least one run");
    if (const Node* date = sound(root, "date");
        date != nullptr && job.date && (job.date->year < 2000 || job.date->year > 2100))
        reader.warn(*date, "unusual year for a job");
    const auto& runs = items(root, "runs");
    for (std::size_t r = 0; r < std::min(runs.size(), job.runs.size()); ++r) {
        for (const std::string_view key : {"id", "from", "to"}) check_name(reader, runs[r], key);
        for (const Node& defect : items(runs[r], "defects")) check_name(reader, defect, "id");
        for (const Node& fitting : items(runs[r], "fittings")) check_name(reader, fitting, "id");
        RunChecks{reader, runs[r], job.runs[r], job.units}.all();
    }
    check_names(reader, root, job);
    check_price(reader, root, job.price);
}

}  // namespace patchwright::io
