// The independent checker. It reads tasks off the clock and knows nothing of how they were found: it shares no code
// with the solver. Absolute minutes: day * 1440 + minute of the day.
#include <algorithm>
#include <map>
#include <set>
#include <tuple>

#include <fmt/core.h>

#include "patchwright/schedule/schedule.hpp"

namespace patchwright::schedule {
namespace {

struct Span {
    Minute from = 0, to = 0;
    int crew = 0, day = 0;
    bool there = false;
    bool meets(const Span& o) const { return from < o.to && o.from < to; }
};

class Checker {
public:
    Checker(const Problem& problem, const Schedule& schedule) : p_{problem}, s_{schedule} {}

    std::vector<std::string> run() {
        if (s_.patches.size() != p_.patches.size()) {
            fault("times for {} patches, but there are {}", s_.patches.size(), p_.patches.size());
            return std::move(faults_);
        }
        collect();
        for (std::size_t i = 0; i < p_.patches.size(); ++i) check_patch(static_cast<int>(i));
        for (std::size_t b = 0; b < p_.batches.size(); ++b) check_mix(static_cast<int>(b));
        check_crews();
        check_counts();
        check_pipes();
        check_runs();
        check_blocked();
        return std::move(faults_);
    }

private:
    template <class... A>
    void fault(fmt::format_string<A...> text, A&&... a) {
        faults_.push_back(fmt::format(text, std::forward<A>(a)...));
    }
    const PatchWork& patch(int i) const { return p_.patches[static_cast<std::size_t>(i)]; }
    bool left_out(int i) const {
        return std::find(s_.impossible.begin(), s_.impossible.end(), i) != s_.impossible.end();
    }
    Span of(int i, What what) const {
        const auto found = done_.find({i, what});
        return found == done_.end() ? Span{} : found->second;
    }
    /// When the packer is bound, when the air line is, when something lies in the pipe.
    Span packer_span(int i) const {
        Span span = of(i, What::load);
        if (const Span bench = of(i, What::bench_test); bench.there) span.from = bench.from;
        span.to = of(i, What::let_down).to;
        return span;
    }
    Span pipe_span(int i) const {
        Span span = of(i, What::position);
        span.to = of(i, What::let_down).to;
        return span;
    }
    bool overnight(int i) const {
        return of(i, What::cure).there && of(i, What::let_down).day != of(i, What::cure).day;
    }

    void collect() {
        for (std::size_t d = 0; d < s_.days.size(); ++d) {
            const Minute base = 1440 * static_cast<Minute>(d);
            for (const Task& task : s_.days[d].tasks) {
                const Span span{base + task.start, base + task.finish, task.crew, static_cast<int>(d), true};
                if (task.start > task.finish) fault("a task ends before it starts");
                if (task.crew < 0 || task.crew >= p_.crews) fault("crew {} does not exist", task.crew);
                if (task.patch) {
                    if (!done_.emplace(std::pair{*task.patch, task.what}, span).second)
                        fault("patch {} is given '{}' twice", patch(*task.patch).id, word(task.what));
                    if (task.run != patch(*task.patch).run) fault("patch {} is not in that run", patch(*task.patch).id);
                } else if (task.run) {
                    if (!runs_.emplace(std::tuple{static_cast<int>(d), *task.run, task.what}, span).second)
                        fault("run {} is given '{}' twice in a day", *task.run, word(task.what));
                }
                hands_[{static_cast<int>(d), task.crew}].push_back({task, span});
            }
        }
    }

    void check_length(int i, What what, Minute minutes, bool always) {
        const Span span = of(i, what);
        if (!span.there) {
            if (minutes > 0 || always) fault("patch {} has no '{}'", patch(i).id, word(what));
        } else if (span.to - span.from != minutes) {
            fault("patch {}: '{}' takes {} min instead of {}", patch(i).id, word(what), span.to - span.from, minutes);
        }
    }

    void check_patch(int i) {
        const PatchWork& w = patch(i);
        if (left_out(i)) {
            for (const auto& [key, span] : done_)
                if (key.first == i) fault("patch {} is called impossible and still worked on", w.id);
            return;
        }
        check_length(i, What::cut, w.cut, false);
        check_length(i, What::bench_test, w.bench_test, false);
        check_length(i, What::wet_out, w.wet_out, true);
        check_length(i, What::load, w.load, true);
        check_length(i, What::position, w.position, true);
        check_length(i, What::inflate, w.inflate, true);
        check_length(i, What::crease, w.crease, true);
        check_length(i, What::let_down, w.let_down, true);
        check_length(i, What::re_survey, w.re_survey, false);
        check_length(i, What::reopen, w.reopen, false);
        const Span wet = of(i, What::wet_out), cure = of(i, What::cure), down = of(i, What::let_down);
        if (!wet.there || !cure.there || !down.there) {
            if (!cure.there) fault("patch {} has no 'cure'", w.id);
            return;
        }
        const What row[] = {What::wet_out, What::load, What::position, What::inflate,
                            What::crease,  What::cure, What::let_down};
        for (std::size_t k = 0; k + 1 < std::size(row); ++k)
            if (of(i, row[k]).to > of(i, row[k + 1]).from)
                fault("patch {}: '{}' is not over when '{}' starts", w.id, word(row[k]), word(row[k + 1]));
        if (cure.from != of(i, What::crease).to || cure.to != down.from)
            fault("patch {}: the cure does not reach from crease to let down", w.id);
        for (What before : {What::cut, What::bench_test})
            if (of(i, before).there && of(i, before).to > wet.from)
                fault("patch {}: '{}' comes after mixing", w.id, word(before));
        if (of(i, What::re_survey).there && of(i, What::re_survey).from < down.to)
            fault("patch {} is surveyed before it is let down", w.id);
        if (of(i, What::reopen).there && of(i, What::reopen).from < std::max(down.to, of(i, What::re_survey).to))
            fault("patch {} is reopened too early", w.id);
        for (const auto& [key, span] : done_)
            if (key.first == i && span.crew != wet.crew && !overnight(i)) fault("patch {} changes crews", w.id);
        if (overnight(i) && (!p_.overnight || down.day != wet.day + 1)) fault("patch {} cures overnight", w.id);
        for (int a : w.after)
            if (!left_out(a) && of(a, What::let_down).to > wet.from)
                fault("patch {} is wet out before patch {} is let down", w.id, patch(a).id);
        if (w.packer < 0) fault("patch {} has no packer", w.id);
    }

    void check_mix(int b) {
        const Mix& mix = p_.batches[static_cast<std::size_t>(b)];
        std::vector<int> members;
        for (int i : mix.patches)
            if (!left_out(i)) members.push_back(i);
        if (members.empty()) return;
        if (members.size() != mix.patches.size()) fault("a mix is only half worked");
        Minute mixed = of(members.front(), What::wet_out).from, creased = 0, last_wet = 0, first_load = 1 << 30;
        for (int i : members) {
            mixed = std::min(mixed, of(i, What::wet_out).from);
            last_wet = std::max(last_wet, of(i, What::wet_out).to);
            first_load = std::min(first_load, of(i, What::load).from);
            creased = std::max(creased, of(i, What::crease).to);
        }
        if (first_load < last_wet) fault("a sleeve is loaded while its mix is still poured");
        Minute hands = 0;
        for (int i : members) {
            const PatchWork& w = patch(i);
            hands += w.wet_out + w.load + w.position + w.inflate + w.crease;
            if (mix.pour_by > 0 && of(i, What::wet_out).from + w.pour > mixed + mix.pour_by)
                fault("patch {} is poured too late", w.id);
            if (of(i, What::inflate).to > mixed + w.inflate_by) fault("patch {} is inflated too late", w.id);
            if (of(i, What::crease).to > mixed + w.crease_by) fault("patch {} is creased too late", w.id);
            if (of(i, What::let_down).from < mixed + w.mix_to_let_down) fault("patch {} is let down too early", w.id);
            check_times(i, mixed);
        }
        // From mixing to the last crease the team does nothing else and does not stop.
        if (creased - mixed != hands) fault("mixed resin waits for other work");
    }

    void check_times(int i, Minute mixed) {
        const PatchTimes& t = s_.patches[static_cast<std::size_t>(i)];
        const PatchWork& w = patch(i);
        const Minute base = 1440 * t.day;
        const bool same = t.day == of(i, What::wet_out).day && base + t.mix == mixed &&
                          base + t.inflate == of(i, What::inflate).to && t.inflate_by == t.mix + w.inflate_by &&
                          t.crease_by == t.mix + w.crease_by && base + t.let_down == of(i, What::let_down).from &&
                          t.pour_by == t.mix + p_.batches[static_cast<std::size_t>(w.batch)].pour_by;
        if (!same) fault("the times of patch {} are not those of its tasks", w.id);
        if (t.latest_mix < t.mix || t.last_let_down < t.let_down) fault("patch {}: a latest time has passed", w.id);
        if (!(t.late_probability >= 0.0 && t.late_probability <= 1.0)) fault("patch {}: no chance of that size", w.id);
    }

    void check_crews() {
        for (const auto& [key, list] : hands_) {
            const auto& [d, crew] = key;
            const Minute base = 1440 * d;
            Minute first = 1 << 30, last = 0;
            const Task *opening = nullptr, *closing = nullptr;
            std::vector<Span> busy;
            int travels = 0;
            for (const auto& [task, span] : list) {
                if (task.what == What::cure) continue;
                if (span.from < first || (span.from == first && task.what == What::travel)) {
                    first = span.from;
                    opening = &task;
                }
                if (span.to >= last) {
                    last = span.to;
                    closing = &task;
                }
                travels += task.what == What::travel ? 1 : 0;
                for (const Span& other : busy)
                    if (span.meets(other)) fault("day {}, crew {}: two tasks at {}", d, crew, span.from - base);
                busy.push_back(span);
            }
            if (opening == nullptr || opening->what != What::travel || first != base + p_.start || travels != 2)
                fault("day {}, crew {}: the day does not start with travel", d, crew);
            if (closing == nullptr || closing->what != What::travel || last > base + p_.finish ||
                closing->finish - closing->start != p_.travel)
                fault("day {}, crew {}: not back by the end of the day", d, crew);
            if (last > base + s_.days[static_cast<std::size_t>(d)].finish) fault("day {} finishes later than said", d);
            check_persons(d, crew, list);
        }
        for (std::size_t d = 0; d < s_.days.size(); ++d) {
            Minute last = 0;
            for (const Task& task : s_.days[d].tasks)
                if (task.what != What::cure) last = std::max(last, task.finish);
            if (last != s_.days[d].finish) fault("day {} does not finish when it says", d);
        }
    }

    void check_persons(int d, int crew, const std::vector<std::pair<Task, Span>>& list) {
        std::set<Minute> moments;
        for (const auto& [task, span] : list) moments.insert(span.from);
        for (Minute m : moments) {
            int persons = 0;
            for (const auto& [task, span] : list) {
                if (span.from > m || span.to <= m) continue;
                if (task.what != What::cure)
                    persons += std::min(hands(task.what), p_.crew_size);
                else if (p_.watch_cure && !overnight(*task.patch))
                    ++persons;
            }
            if (persons > p_.crew_size)
                fault("day {}, crew {}: {} persons wanted at {}, there are {}", d, crew, persons, m - 1440 * d,
                      p_.crew_size);
        }
    }

    /// No more of a thing in use at any moment than there are.
    void check_count(const std::vector<Span>& uses, int count, const std::string& what) {
        for (const Span& at : uses) {
            const auto same = std::count_if(uses.begin(), uses.end(),
                                            [&](const Span& o) { return o.from <= at.from && at.from < o.to; });
            if (same > count) fault("{} {} in use at {}, there are {}", same, what, at.from, count);
        }
    }

    void check_counts() {
        std::vector<std::vector<Span>> packers(p_.packers.size());
        std::vector<Span> lines;
        for (int i = 0; i < static_cast<int>(p_.patches.size()); ++i) {
            if (left_out(i) || patch(i).packer < 0) continue;
            packers[static_cast<std::size_t>(patch(i).packer)].push_back(packer_span(i));
            Span air = of(i, What::inflate);
            air.to = of(i, What::let_down).to;
            lines.push_back(air);
            if (of(i, What::bench_test).there) lines.push_back(of(i, What::bench_test));
        }
        for (std::size_t k = 0; k < packers.size(); ++k)
            check_count(packers[k], p_.packers[k].count, "packers " + p_.packers[k].id);
        check_count(lines, p_.air_lines, "air lines");
    }

    /// Neither of two packers in one run, nor its hose, may have to pass the other.
    void check_pipes() {
        for (int i = 0; i < static_cast<int>(p_.patches.size()); ++i) {
            for (int j = 0; j < i; ++j) {
                const PatchWork &a = patch(i), &b = patch(j);
                if (left_out(i) || left_out(j) || a.run != b.run || !pipe_span(i).meets(pipe_span(j))) continue;
                const double inner_a = a.from_far_end ? a.at_start : a.at_end;
                const double inner_b = b.from_far_end ? b.at_start : b.at_end;
                const bool apart =
                    a.from_far_end != b.from_far_end && (a.from_far_end ? inner_b < inner_a : inner_a < inner_b);
                if (!apart) fault("patches {} and {} are in one run at once and one must pass the other", a.id, b.id);
            }
        }
    }

    void check_runs() {
        std::map<std::pair<int, int>, std::set<int>> crews;  // day and run: who works there
        for (int i = 0; i < static_cast<int>(p_.patches.size()); ++i) {
            if (left_out(i)) continue;
            const PatchWork& w = patch(i);
            const Span wet = of(i, What::wet_out), position = of(i, What::position);
            crews[{wet.day, w.run}].insert(wet.crew);
            check_prepared(wet.day, w, wet.from, position.from);
            if (overnight(i)) {
                const Span open = run_task(of(i, What::let_down).day, w.run, What::set_up);
                if (p_.runs[static_cast<std::size_t>(w.run)].set_up > 0 &&
                    (!open.there || open.to > of(i, What::let_down).from))
                    fault("run {} is not opened before the morning's let-down",
                          p_.runs[static_cast<std::size_t>(w.run)].id);
            }
            for (int j = 0; j < static_cast<int>(p_.patches.size()); ++j) {
                if (left_out(j) || patch(j).run != w.run) continue;
                for (What look : {What::re_survey, What::reopen})
                    if (of(j, look).there && of(j, look).meets(pipe_span(i)))
                        fault("patch {} is looked at while patch {}'s packer shuts the run", patch(j).id, w.id);
            }
            for (const auto& [key, span] : runs_)
                if (std::get<1>(key) == w.run && std::get<2>(key) != What::set_up && span.meets(pipe_span(i)))
                    fault("'{}' in run {} while a packer shuts it", word(std::get<2>(key)), w.run);
        }
        for (const auto& [key, who] : crews)
            if (who.size() > 1) fault("two crews in run {} on one day", key.second);
    }

    Span run_task(int day, int run, What what) const {
        const auto found = runs_.find({day, run, what});
        return found == runs_.end() ? Span{} : found->second;
    }

    void check_prepared(int day, const PatchWork& w, Minute mixed, Minute positioned) {
        const RunWork& run = p_.runs[static_cast<std::size_t>(w.run)];
        const std::pair<What, Minute> row[] = {{What::set_up, run.set_up},
                                               {What::clean, run.clean},
                                               {What::survey, run.survey},
                                               {What::flow_control, run.flow_control}};
        Minute before = 0;
        for (const auto& [what, minutes] : row) {
            const Span span = run_task(day, w.run, what);
            if (!span.there) {
                if (minutes > 0) fault("run {}: no '{}' on day {}", run.id, word(what), day);
                continue;
            }
            if (span.to - span.from != minutes) fault("run {}: '{}' has another length", run.id, word(what));
            if (span.from < before || span.to > mixed) fault("run {}: '{}' is out of order", run.id, word(what));
            before = span.to;
        }
        if (const Span clean = run_task(day, w.run, What::clean); clean.there && positioned < clean.to + run.dry)
            fault("patch {} comes into a run that is still wet", w.id);
    }

    void check_blocked() {
        std::map<std::pair<int, int>, Span> shut;
        for (int i = 0; i < static_cast<int>(p_.patches.size()); ++i) {
            if (left_out(i)) continue;
            const Span pipe = pipe_span(i);
            const int day = of(i, What::position).day;
            auto [found, fresh] = shut.try_emplace({day, patch(i).run}, pipe);
            found->second.from = std::min(found->second.from, pipe.from);
            found->second.to = std::max(found->second.to, pipe.to);
            const Span flow = run_task(day, patch(i).run, What::flow_control);
            if (flow.there) found->second.from = std::min(found->second.from, flow.from);
        }
        if (shut.size() != s_.blocked.size())
            fault("runs are shut {} times, {} are listed", shut.size(), s_.blocked.size());
        for (const Blocked& b : s_.blocked) {
            const auto found = shut.find({b.day, b.run});
            const Minute base = 1440 * b.day;
            if (found == shut.end() || found->second.from != base + b.from || found->second.to != base + b.to) {
                fault("run {} is not shut from {} to {}", b.run, b.from, b.to);
                continue;
            }
            const auto& most = p_.runs[static_cast<std::size_t>(b.run)].blocked_at_most;
            if (b.holds != (!most || b.to - b.from <= *most)) fault("run {}: the storage's verdict is wrong", b.run);
        }
    }

    const Problem& p_;
    const Schedule& s_;
    std::vector<std::string> faults_;
    std::map<std::pair<int, What>, Span> done_;
    std::map<std::tuple<int, int, What>, Span> runs_;
    std::map<std::pair<int, int>, std::vector<std::pair<Task, Span>>> hands_;
};

}  // namespace

std::vector<std::string> violations(const Problem& problem, const Schedule& schedule) {
    return Checker{problem, schedule}.run();
}

}  // namespace patchwright::schedule
