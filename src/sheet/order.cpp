#include <algorithm>
#include <iterator>
#include <set>

#include <fmt/format.h>

#include "blocks.hpp"
#include "day_parts.hpp"
#include "patchwright/sheet/drawing.hpp"
#include "words.hpp"

/// The day in numbers and in order: what the crew looks at between the cards.
namespace patchwright::sheet {
namespace {

/// Whom to ring: as job and yard have it, else lines to write on, filled in before the day.
std::vector<Field> telephone_fields(const Context& c) {
    std::vector<Field> fields;
    const auto& job = c.job();
    const auto add = [&](const char* label, const std::string& given) { fields.push_back({label, given}); };
    add("Emergency number", job.site.emergency);
    add("Nearest hospital", job.site.hospital);
    add("Customer's telephone", job.customer.phone);
    add("Office", c.yard().firm.phone);
    return fields;
}

/// Persons of a crew on that day, helpers among them.
std::size_t crew_size(const Context& c, int day, int crew) {
    int size = std::max(1, c.yard().rates.crew_size);
    for (const auto& task : c.plan->schedule.days[static_cast<std::size_t>(day)].tasks)
        for (const int lane : task.lanes) size = std::max(size, task.crew == crew ? lane : 0);
    return static_cast<std::size_t>(size);
}

/// From when to when a line of the order needs a person; nobody: both 0.
struct Span {
    int from = 0, to = 0;
    int minutes() const { return to - from; }
};

struct Row {
    int from = 0, to = 0, crew = 0;
    std::string what;
    std::vector<Span> persons;  ///< by place in the crew
    const schedule::Task *first = nullptr, *last = nullptr;
    bool critical = false;
};

/// The task goes on with what a line ends with: the wet sleeve that is handled without a break, when there is no room
/// for each step (its card has the hard times); cleaning in two steps.
bool goes_on(const Row& row, const schedule::Task& task, bool in_one) {
    const auto& last = *row.last;
    if (last.crew != task.crew || last.finish != task.start) return false;
    if (last.what == schedule::What::clean && task.what == last.what) return last.run == task.run;
    return in_one && task.patch && last.patch == task.patch && last.what >= schedule::What::wet_out &&
           task.what > last.what && task.what <= schedule::What::crease;
}

bool has_roots(const Context& c, job::RunPlace run) {
    const auto& runs = c.plan->work.runs;
    return std::any_of(runs.begin(), runs.end(),
                       [&](const auto& work) { return work.place == run && work.roots.minutes > 0; });
}

std::string what_words(const Context& c, const schedule::Task& task, int day) {
    std::string what{task_word(task.what)};
    // What was cleaned on an earlier day is flushed and looked at.
    if (task.what == schedule::What::clean && task.run && cleaned_before(c, *task.run, day))
        what = "flush and look";
    else if (task.what == schedule::What::clean && task.run && has_roots(c, *task.run))
        what = "clean and cut roots";
    if (task.patch)
        what += " " + patch_id(c, *task.patch);
    else if (task.run)
        what += ", run " + c.job().runs[job::index(*task.run)].id;
    if (task.what == schedule::What::cure) what += task.persons > 0 ? " (one watches)" : " (by alarm gauge)";
    return what;
}

/// Each crew's tasks by their start, one crew after the other.
std::vector<const schedule::Task*> tasks_of(const Context& c, int day) {
    std::vector<const schedule::Task*> tasks;
    for (const auto& task : c.plan->schedule.days[static_cast<std::size_t>(day)].tasks) tasks.push_back(&task);
    std::stable_sort(tasks.begin(), tasks.end(), [](const auto* a, const auto* b) { return a->crew < b->crew; });
    return tasks;
}

std::vector<Row> rows_of(const Context& c, int day, bool in_one) {
    std::vector<Row> rows;
    for (const auto* task : tasks_of(c, day)) {
        // Others may have begun meanwhile: not always the line just before.
        auto row = std::find_if(rows.begin(), rows.end(), [&](const Row& r) { return goes_on(r, *task, in_one); });
        if (row == rows.end()) {
            rows.push_back({task->start, task->finish, task->crew, what_words(c, *task, day),
                            std::vector<Span>(crew_size(c, day, task->crew)), task, task, task->critical});
            row = rows.end() - 1;
        } else if (task->patch) {
            row->what = fmt::format("{} to {} {}", task_word(row->first->what), task_word(task->what),
                                    patch_id(c, *task->patch));
        }
        row->to = task->finish;
        row->last = task;
        row->critical = row->critical || task->critical;
        for (const int lane : task->lanes) {
            auto& span = row->persons[static_cast<std::size_t>(lane - 1)];
            span = {span.minutes() > 0 ? span.from : task->start, task->finish};
        }
    }
    return rows;
}

/// What stands in a person's column; `lead`: who is in it longest has the words, the others "together".
std::string cell_words(const Row& row, std::size_t person, std::size_t lead) {
    if (person >= row.persons.size()) return {};
    const auto& span = row.persons[person];
    if (person == lead) return row.what;
    if (span.minutes() == 0) return {};
    std::string words = "together";
    if (span.from > row.from) words += " from " + clock_text(span.from);
    if (span.to < row.to) words += " to " + clock_text(span.to);
    return words;
}

/// Crews that work on that day.
int crews_of(const Context& c, int day) {
    int last = 0;
    for (const auto& task : c.plan->schedule.days[static_cast<std::size_t>(day)].tasks)
        last = std::max(last, task.crew);
    return last + 1;
}

/// Lines for names: "Person 1 (lead)", "Person 2", "Person 3 (hired helper)"; of several crews "Crew 2, person 1
/// (lead)".
std::vector<std::string> person_labels(const Context& c, int day) {
    std::vector<std::string> labels;
    const int crews = crews_of(c, day), own = std::max(1, c.yard().rates.crew_size);
    for (int crew = 1; crew <= crews; ++crew) {
        const auto size = static_cast<int>(crew_size(c, day, crew - 1));
        for (int person = 1; person <= size; ++person)
            labels.push_back(fmt::format("{}{}{}", crews > 1 ? fmt::format("Crew {}, person ", crew) : "Person ",
                                         person,
                                         person == 1    ? " (lead)"
                                         : person > own ? " (hired helper)"
                                                        : ""));
    }
    return labels;
}

void add_water(const Context& c, int day, const Patches& patches, Sheet& sheet) {
    const auto runs = runs_of(c, patches);
    if (runs.empty()) return;
    int from = 1 << 30, to = 0;
    for (const auto& shut : c.plan->schedule.blocked) {
        if (shut.day != day) continue;
        from = std::min(from, shut.from);
        to = std::max(to, shut.to);
    }
    sheet.blocks.push_back(heading("Water and flow"));
    Bullets list;
    if (to > 0)  // packers that let the flow through shut nothing
        list.items.push_back(fmt::format(
            "Occupier's notice: no water, no toilet, no washing machine from {} until the crew says so, {} at "
            "the earliest.",
            clock_text(from), clock_text(to)));
    // The longest of all days: a run that today's packers let the flow through is not shut today.
    auto open = runs;
    for (const auto i : patches) {
        const auto& p = c.plan->patches[i];
        if (!p.option.packer.flow_through) open.erase(p.run);
    }
    for (const int run : open)
        list.items.push_back(fmt::format("Run {}: its packer lets the water through, nothing is shut.",
                                         c.job().runs[static_cast<std::size_t>(run)].id));
    for (const auto& flow : c.plan->flows) {
        if (!runs.count(flow.run) || open.count(flow.run)) continue;
        const auto& run = c.plan->run_of(flow);
        const auto blocked = format_up(Show::span, blocked_with(c, flow, patches), c.units);
        if (!flow.known) {
            list.items.push_back(fmt::format(
                "Run {}: no flow data. Before mixing, watch the inflow for ten minutes and write it down: ______ {}. "
                "Room upstream: ______ {}. The pipe is blocked for up to {}.",
                run.id, unit_label(Show::flow, c.units), unit_label(Show::litres, c.units), blocked));
        } else if (run.flow && run.flow->inflow <= VolumeFlow{}) {
            list.items.push_back(
                fmt::format("Run {}: blocked up to {}; by the job no water runs in.", run.id, blocked));
        } else if (!wants_pump(c, flow, patches)) {
            list.items.push_back(
                fmt::format("Run {}: blocked up to {}; the room upstream fills in {}. Holds, if the inflow stays.",
                            run.id, blocked, format_down(Show::span, flow.verdict.fills_in, c.units)));
        } else {
            list.items.push_back(fmt::format(
                "Run {}: blocked up to {}, but the room upstream fills in {}. Pump round it from the start, what comes "
                "in: {} at least, with a standby pump.",
                run.id, blocked, format_down(Show::span, flow.verdict.fills_in, c.units),
                format_up(Show::flow, run.flow->inflow, c.units)));
        }
    }
    sheet.blocks.push_back({std::move(list)});
}

void add_mixes(const Context& c, int day, Sheet& sheet) {
    Table table;
    const bool pots_differ = std::any_of(c.plan->batches.begin(), c.plan->batches.end(), [&](const auto& batch) {
        return batch.day == day && batch.batch.buckets > 1;
    });
    table.columns = {{"Mix"}, {"At"}, {"For"}, {"Resin"}, {"A", Align::right}, {"B", Align::right}, {"Pour by"}};
    if (pots_differ) table.columns.push_back({"Pots"});
    for (const auto& batch : c.plan->batches) {
        if (batch.day != day) continue;
        std::string ids;
        for (const int p : batch.batch.patches) ids += (ids.empty() ? "" : ", ") + patch_id(c, p);
        table.rows.push_back(list_of<std::string>(batch.id, format(batch.mix_at), std::move(ids),
                                                  c.plan->resin_of(batch).id, shown(c, batch, "pot-a"),
                                                  shown(c, batch, "pot-b"), shown(c, batch, "pour-by")));
        if (pots_differ)
            table.rows.back().push_back(batch.batch.buckets > 1 ? fmt::format("{}, each so", batch.batch.buckets)
                                                                : "1");
    }
    if (table.rows.empty()) return;
    sheet.blocks.push_back(heading("Mixes"));
    sheet.blocks.push_back({std::move(table)});
    sheet.blocks.push_back(paragraph("All minutes count from when A meets B. \"Pour by\" is for the pot only."));
}

}  // namespace

Duration blocked_with(const Context& c, const plan::FlowPlan& flow, const Patches& patches) {
    std::set<int> days;
    for (const auto i : patches) days.insert(c.plan->schedule.patches[i].day);
    schedule::Minute longest = 0;
    for (const auto& shut : c.plan->schedule.blocked)
        if (job::index(shut.run) == static_cast<std::size_t>(flow.run) && days.count(shut.day) > 0)
            longest = std::max(longest, shut.to - shut.from);
    return longest > 0 ? static_cast<double>(longest) * unit::minute : flow.blocked;
}

bool wants_pump(const Context& c, const plan::FlowPlan& flow, const Patches& patches) {
    return flow.known && !flow.verdict.holds && blocked_with(c, flow, patches) > flow.verdict.fills_in;
}

std::set<int> runs_of(const Context& c, const Patches& patches) {
    std::set<int> runs;
    for (const auto i : patches) runs.insert(c.plan->patches[i].run);
    return runs;
}

void add_header(const Context& c, int day, Sheet& sheet) {
    const auto& tasks = c.plan->schedule.days[static_cast<std::size_t>(day)];
    const auto& site = c.job().site;
    Fields plan;
    const auto& address =
        c.job().customer.site_address.empty() ? c.job().customer.address : c.job().customer.site_address;
    // Two rows, with or without a customer.
    plan.columns = c.job().customer.name.empty() && address.empty() ? 4 : 5;
    const auto* way = c.on_the_way;
    const bool from_yard = way == nullptr || way->first, to_yard = way == nullptr || way->last;
    plan.fields = list_of<Field>(
        Field{from_yard ? "Leave the yard" : "Leave " + way->from, format(site.start), Emphasis::arm},
        Field{to_yard ? "Back by plan" : "At " + way->to + " by plan", clock_text(tasks.finish), Emphasis::arm},
        Field{to_yard ? "Day must end by" : "At " + way->to + " by", format(site.finish), Emphasis::strong},
        Field{"Air, calculated with", show(c, Show::temperature, *site.air_temperature)});
    if (!c.job().customer.name.empty()) plan.fields.push_back({"Customer", c.job().customer.name});
    if (!address.empty()) plan.fields.push_back({"Site", address});
    auto telephones = telephone_fields(c);
    std::move(telephones.begin(), telephones.end(), std::back_inserter(plan.fields));
    sheet.blocks.push_back({std::move(plan)});
    if (const auto words = weekend_words(c, day); !words.empty())
        sheet.blocks.push_back(paragraph(words, Emphasis::strong));
    add_notes(c, sheet);
    Fields blanks;
    blanks.columns = 6;
    auto labels = person_labels(c, day);
    for (const char* label : {"Left yard, on site", "Back, weather", "Gas test", "Weights checked by"})
        labels.emplace_back(label);
    for (auto& label : labels) blanks.fields.push_back({std::move(label), ""});
    sheet.blocks.push_back({std::move(blanks)});
}

void add_numbers(const Context& c, const Patches& patches, Sheet& sheet) {
    if (patches.empty()) return;
    sheet.blocks.push_back(heading("The numbers of the day, times from mixing", 1, "Numbers"));
    Table table;
    table.columns = {{"Patch"},
                     {"Mark, from"},
                     {"A", Align::right},
                     {"B", Align::right},
                     {"Cut, long x wide"},
                     {"Set pressure"},
                     {"Never above"},
                     {"Inflated by", Align::right},
                     {"Deflate, not before", Align::right}};
    for (const auto i : patches) {
        const auto& p = c.plan->patches[i];
        const auto& mix = mix_of(c, i);
        const auto pots = mix.batch.buckets > 1 ? fmt::format("{} pots, each ", mix.batch.buckets) : std::string{};
        table.rows.push_back(list_of<std::string>(
            p.id, fmt::format("{}, {}", shown(c, p, "mark"), p.rigging.from), pots + shown(c, mix, "pot-a"),
            pots + shown(c, mix, "pot-b"),
            p.cut.pieces.size() > 1 ? fmt::format("{} layers: card", p.cut.pieces.size())
                                    : fmt::format("{} x {}", shown(c, p, "cut"), shown(c, p, "cut-width")),
            shown(c, p, "pressure"), shown(c, p, "most-pressure"), shown(c, p, "inflate-by"), shown(c, p, "let-down")));
    }
    table.strong = true;
    sheet.blocks.push_back({std::move(table)});
}

void add_order(const Context& c, int day, const Patches& patches, Sheet& sheet) {
    sheet.blocks.push_back(heading("Order of work", 1, "Order"));
    // With three or four sleeves there is no room for each handling of the wet one.
    const auto rows = rows_of(c, day, patches.size() > 2);
    // A star on every line would mark nothing.
    const bool stars = std::any_of(rows.begin(), rows.end(), [](const Row& row) { return !row.critical; });
    // A column for each person, of a large crew for those whom some task but travel needs.
    std::size_t lanes = 3, most = 1;
    for (const auto& row : rows) {
        most = std::max(most, row.persons.size());
        for (std::size_t i = 0; i < row.persons.size() && row.last->what != schedule::What::travel; ++i)
            lanes = std::max(lanes, row.persons[i].minutes() > 0 ? i + 1 : 0);
    }
    lanes = std::min(lanes, most);
    Table table;
    table.columns = {{"From"}, {"To"}};
    const bool several = crews_of(c, day) > 1;
    if (several) table.columns.push_back({"Crew"});
    for (std::size_t lane = 0; lane < lanes; ++lane) table.columns.push_back({fmt::format("Person {}", lane + 1)});
    // Lines to write on are twice as high.
    const bool written = patches.size() <= 2;
    if (written) table.columns.push_back({"Done at", Align::left, true});
    for (const auto& row : rows) {
        const auto what = row.last->what;
        const bool star = stars && row.critical && what != schedule::What::cure;
        auto cells = list_of<std::string>(clock_text(row.from), clock_text(row.to) + (star ? "*" : ""));
        if (several) cells.push_back(std::to_string(row.crew + 1));
        const auto lead = static_cast<std::size_t>(
            std::max_element(row.persons.begin(), row.persons.end(),
                             [](const Span& a, const Span& b) { return a.minutes() < b.minutes(); }) -
            row.persons.begin());
        for (std::size_t lane = 0; lane < lanes; ++lane) cells.push_back(cell_words(row, lane, lead));
        const bool on_card = what >= schedule::What::wet_out && what <= schedule::What::let_down;
        if (written) cells.emplace_back(on_card ? "card" : "");
        table.rows.push_back(std::move(cells));
    }
    table.side_by_side = table.rows.size() > 8 ? 2 : 1;
    sheet.blocks.push_back({std::move(table)});
    sheet.blocks.push_back(
        paragraph(fmt::format("{}{}", stars ? "* no slack: a minute lost here is a minute later home. " : "",
                              c.plan->schedule.proven_optimal ? "No order of this work ends earlier (proven)."
                                                              : "A better order may exist (not proven).")));
    const bool watched = std::any_of(rows.begin(), rows.end(), [](const Row& row) {
        return row.last->what == schedule::What::cure && row.last->persons > 0;
    });
    if (watched)
        sheet.blocks.push_back(paragraph(
            c.yard().limits.watcher_may_work
                ? "One watches: at that mouth there is always somebody, free or at a job that can be dropped at once."
                : "One watches: at that mouth there is always somebody who does nothing else."));
    // Nor for the bars, which say the same.
    if (patches.size() <= 2)
        sheet.blocks.push_back({Picture{drawn(c, [&] { return draw_day(c, day, false); }), day_chart(c, day)}});
}

void add_water_and_mixes(const Context& c, int day, const Patches& patches, Sheet& sheet) {
    Sheet water, mixes;
    add_water(c, day, patches, water);
    add_mixes(c, day, mixes);
    if (water.blocks.empty() || mixes.blocks.empty()) {
        for (auto* part : {&water, &mixes})
            std::move(part->blocks.begin(), part->blocks.end(), std::back_inserter(sheet.blocks));
        return;
    }
    Columns both;
    both.columns = list_of<std::vector<Block>>(std::move(water.blocks), std::move(mixes.blocks));
    both.shares = {1.0, 1.15};
    sheet.blocks.push_back({std::move(both)});
}

}  // namespace patchwright::sheet
