#include "patchwright/io/read_record.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "record_fields.hpp"

namespace patchwright::io {
namespace {

bool says_something(const Node& object) {
    return std::any_of(object.children.begin(), object.children.end(), [](const Node& m) { return !is_remark(m.key); });
}

/// A form that was not filled in: blank texts go, and objects and lists that held nothing else. True when the node
/// itself does.
bool drop_blanks(Node& node) {
    if (node.kind == NodeKind::string) return node.text.empty();
    const bool form = says_something(node);
    std::vector<Node> kept;
    for (Node& child : node.children)
        if (is_remark(child.key) || !drop_blanks(child)) kept.push_back(std::move(child));
    node.children = std::move(kept);
    return form && !says_something(node);
}

/// Checks on one patch, with what every message needs at hand.
class PatchChecks {
public:
    PatchChecks(Reader& reader, const Node& node, const PatchRecord& patch)
        : reader_{reader}, node_{node}, patch_{patch} {}

    void all() {
        if (sound(node_, "mixed_at") != nullptr) in_order();
        const Node* on = sound(node_, "deflated_on");
        if (on != nullptr && !patch_.date)
            reader_.error(*on, "give the day of mixing too, as \"date\"");
        else if (on != nullptr && *patch_.deflated_on < *patch_.date)
            reader_.error(*on, fmt::format("lies before the day of mixing, {}", format(*patch_.date)));
        else if (on != nullptr && days_after(*patch_.date, *patch_.deflated_on) > longest_days)
            reader_.error(*on, fmt::format("lies more than {} days after mixing", longest_days));
        else if (on != nullptr && !sound(node_, "deflated_at"))
            reader_.error(*on, "give the clock of it too, as \"deflated_at\"");
        const Node* ends = sound(node_, "ends_at");
        if (ends != nullptr && sound(node_, "starts_at") != nullptr && *patch_.ends_at <= *patch_.starts_at)
            reader_.error(*ends, "ends before it begins; distances run from the run's \"from\"");
    }

private:
    static constexpr int longest_days = 60;
    /// Counted no further than it matters.
    static int days_after(Date first, Date last) {
        int days = 0;
        for (; first < last && days <= longest_days; first = next_day(first)) ++days;
        return days;
    }

    /// Each step follows the one before it. The hands are through within half a day: what seems to come later lies
    /// before the mixing.
    void in_order() {
        struct Step {
            std::string_view key, words;
            std::optional<Duration> after;
        };
        const Step steps[] = {{"poured_at", "poured", patch_.after_mixing(patch_.poured_at)},
                              {"inflated_at", "inflated", patch_.after_mixing(patch_.inflated_at)},
                              {"creased_at", "checked for wrinkles", patch_.after_mixing(patch_.creased_at)},
                              {"deflated_at", "deflated", patch_.deflated_after()}};
        const Step* last = nullptr;
        for (const Step& step : steps) {
            const Node* node = sound(node_, step.key);
            if (node == nullptr || !step.after) continue;
            const bool hands = step.key != "deflated_at";
            if (*step.after < Duration{} || (hands && *step.after > 12.0 * unit::h))
                reader_.error(*node, fmt::format("lies before it was mixed at {}", format(*patch_.mixed_at)));
            else if (last != nullptr && *step.after < *last->after)
                reader_.error(*node, fmt::format("lies before it was {}", last->words));
            else
                last = &step;
        }
    }

    Reader& reader_;
    const Node& node_;
    const PatchRecord& patch_;
};

void check_readings(Reader& reader, const Node& node, const LeakRecord& test) {
    const auto& rows = items(node, "readings");
    for (std::size_t i = 1; i < std::min(rows.size(), test.readings.size()); ++i) {
        const Node* after = sound(rows[i], "after");
        if (after != nullptr && sound(rows[i - 1], "after") != nullptr &&
            test.readings[i].after <= test.readings[i - 1].after)
            reader.error(*after, "readings stand in the order in which they were taken");
    }
}

void check_steps(Reader& reader, const Node& node, const DayRecord& day) {
    const auto& steps = items(node, "steps");
    for (std::size_t i = 0; i < std::min(steps.size(), day.steps.size()); ++i) {
        const Node* to = sound(steps[i], "to");
        if (to != nullptr && sound(steps[i], "from") != nullptr && day.steps[i].to == day.steps[i].from)
            reader.error(*to, "ends in the minute in which it begins; leave out what took no time");
    }
}

/// Of several entries of a patch only the last may lie in the pipe.
void check_repeats(Reader& reader, const std::vector<Node>& nodes, const Record& record) {
    for (std::size_t i = 0; i < std::min(nodes.size(), record.patches.size()); ++i) {
        const PatchRecord& patch = record.patches[i];
        const Node* id = sound(nodes[i], "id");
        if (id == nullptr || !patch.lies_in_pipe()) continue;
        const auto again = std::find_if(record.patches.begin() + static_cast<std::ptrdiff_t>(i) + 1,
                                        record.patches.end(), [&](const PatchRecord& p) { return p.id == patch.id; });
        if (again != record.patches.end())
            reader.error(*id, fmt::format("\"{}\" was done again below: say here what became of this sleeve, as "
                                          "\"outcome\": \"stripped\", \"failed\" or \"not done\"",
                                          patch.id));
    }
}

void check_name(Reader& reader, const Node& object, std::string_view key, std::string_view what,
                const std::vector<std::string>& known) {
    const Node* node = sound(object, key);
    if (node == nullptr || std::find(known.begin(), known.end(), node->text) != known.end()) return;
    reader.error(*node, unknown_word(node->text, what, {known.begin(), known.end()}));
}

void check_names(Reader& reader, const Node& root, const RecordNames& names) {
    const Node* job = sound(root, "job");
    if (job != nullptr && job->text != names.job)
        reader.error(*job, fmt::format("this record is of another job; the job is \"{}\"", names.job));
    for (const Node& patch : items(root, "patches"))
        check_name(reader, patch, "id", "patch of the plan", names.patches);
    for (const Node& test : items(root, "tests")) check_name(reader, test, "run", "run of the job", names.runs);
}

Record read_tree(Reader& reader, const Node& root, const RecordNames* names) {
    Record record;
    for (const std::string_view other : {"patchwright_job", "patchwright_yard"}) {
        if (!is_other_file(root, other, "patchwright_record")) continue;
        reader.error(root, fmt::format("this is a {} file, where a record file belongs", other.substr(12)));
        return record;
    }
    read_object(reader, root, record);
    if (root.kind != NodeKind::object) return record;
    const auto& patches = items(root, "patches");
    for (std::size_t i = 0; i < std::min(patches.size(), record.patches.size()); ++i)
        PatchChecks{reader, patches[i], record.patches[i]}.all();
    check_repeats(reader, patches, record);
    const auto& days = items(root, "days");
    for (std::size_t i = 0; i < std::min(days.size(), record.days.size()); ++i)
        check_steps(reader, days[i], record.days[i]);
    const auto& tests = items(root, "tests");
    for (std::size_t i = 0; i < std::min(tests.size(), record.tests.size()); ++i)
        check_readings(reader, tests[i], record.tests[i]);
    if (names != nullptr) check_names(reader, root, *names);
    return record;
}

}  // namespace

ReadResult<Record> read_record(std::string_view text, std::string_view file, const RecordNames* names) {
    Document document = parse_document(text);
    Reader reader{text, std::move(document.faults)};
    Record record;
    if (document.complete) {
        Node form = document.root;  // the file's own tree stays as it is: places are told by it
        drop_blanks(form);
        record = read_tree(reader, form, names);
    }
    ReadResult<Record> result;
    if (!reader.has_errors()) result.value = std::move(record);
    result.diagnostics = diagnostics_of(text, file, document.root, std::move(reader.faults()));
    return result;
}

}  // namespace patchwright::io
