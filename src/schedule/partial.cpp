// The state of a day under way: when the next job could start, and what the future depends on.
#include <bit>

#include "search.hpp"

namespace patchwright::schedule {
namespace {

/// Ends of what is held, few enough to stand where they are declared.
struct Ends {
    std::array<Minute, max_jobs> list;
    std::size_t size = 0;
    /// When no more than `allowed` of them are later.
    Minute when_few(int allowed, Minute from) {
        if (allowed < 0) return never;
        if (static_cast<int>(size) <= allowed) return from;
        const auto last = list.begin() + static_cast<std::ptrdiff_t>(size);
        std::nth_element(list.begin(), list.begin() + allowed, last, std::greater<>{});
        return std::max(from, list[at(allowed)]);
    }
    void add(Minute end, Minute from) {
        if (end > from) list[size++] = end;
    }
};

}  // namespace

Partial::Partial(const Model& model)
    : model_{model},
      start_(model.jobs.size(), -1),
      opened_(model.jobs.size(), 0),
      held_until_(model.patches.size(), 0),
      line_until_(model.patches.size(), 0),
      lies_until_(model.patches.size(), 0),
      heads_(model.jobs.size(), 0) {
    Moment first;
    first.now = first.end = model.on_site;
    for (const Job& job : model.jobs) first.work += job.person_minutes();
    moments_.push_back(first);
    for (std::size_t i = 0; i < model.patches.size(); ++i)
        if (model.work->patches[i].lying) held_until_[i] = line_until_[i] = lies_until_[i] = never;
    for (std::size_t j = 0; j < model.jobs.size(); ++j)
        if (model.in_hand(model.jobs[j])) start(static_cast<int>(j), model.on_site);
    for (const int job : model.begun)
        if (!has_started(job) && earliest(job) == model.on_site) start(job, model.on_site);
}

Minute Partial::released(int j) const {
    const Job& job = model_.jobs[at(j)];
    Minute when = std::max(moments_.back().now, job.release);
    for (const Link& link : job.before) {
        if (!has_started(link.job)) return never;
        when = std::max(when, start_[at(link.job)] + opened_[at(link.job)] + link.lag);
    }
    return when;
}

Minute Partial::clear_of_packers(int run, Minute from) const {
    for (std::size_t i = 0; i < model_.patches.size(); ++i)
        if (model_.patches[i].run == run) from = std::max(from, lies_until_[i]);
    return from;
}

Minute Partial::packer_free(int kind, int wanted, Minute from) const {
    Ends ends;
    for (std::size_t i = 0; i < model_.patches.size(); ++i)
        if (model_.work->patches[i].packer == kind) ends.add(held_until_[i], from);
    return ends.when_few(model_.work->packers[at(kind)].count - wanted, from);
}

Minute Partial::heater_free(int kind, int wanted, Minute from) const {
    Ends ends;
    for (std::size_t i = 0; i < model_.patches.size(); ++i)
        if (model_.work->patches[i].heater == kind) ends.add(lies_until_[i], from);
    return ends.when_few(model_.work->heaters[at(kind)].count - wanted, from);
}

Minute Partial::run_free(int run, int wanted, Minute from) const {
    Ends ends;
    for (std::size_t i = 0; i < model_.patches.size(); ++i)
        if (model_.patches[i].run == run) ends.add(lies_until_[i], from);
    return ends.when_few(model_.ways_in[at(run)] - wanted, from);
}

Minute Partial::lines_free(int wanted, Minute from) const {
    Ends ends;
    for (const Minute end : line_until_) ends.add(end, from);
    return ends.when_few(model_.work->air_lines - wanted, from);
}

Minute Partial::machine_free(const Model::MachineTurns& turns, int wanted, Minute from) const {
    Ends ends;
    for (const int job : turns.jobs)
        if (has_started(job))
            ends.add(
                start_[at(job)] + opened_[at(job)] + model_.jobs[at(job)].machine[static_cast<std::size_t>(turns.kind)],
                from);
    return ends.when_few(turns.count - wanted, from);
}

Minute Partial::machines_free(const Job& job, Minute from) const {
    for (const auto& turns : model_.turns)
        if (job.machine[static_cast<std::size_t>(turns.kind)] > 0) from = machine_free(turns, 1, from);
    return from;
}

/// Packers, heaters, air lines and pipes for all sleeves of a mix.
Minute Partial::gear_free(const Job& mix, Minute from) const {
    const auto& sleeves = model_.orders[at(mix.index)].sleeves;
    for (const auto& sleeve : sleeves) {
        const PatchJobs& patch = model_.patches[at(sleeve.patch)];
        for (const int other : patch.keeps_out) from = std::max(from, lies_until_[at(other)]);
        for (std::size_t j = 0; j < model_.jobs.size(); ++j)
            if (start_[j] >= 0 && model_.jobs[j].run == patch.run)
                from = std::max(from, start_[j] + opened_[j] + model_.jobs[j].minutes);
    }
    for (const auto& sleeve : sleeves) {
        if (from >= never) return never;
        if (const int run = model_.patches[at(sleeve.patch)].run; model_.ways_in[at(run)] > 0) {
            from = run_free(run, 1, from);
            if (from >= never) return never;
        }
        if (const int kind = model_.work->patches[at(sleeve.patch)].heater; kind >= 0) {
            const auto wanted = std::count_if(sleeves.begin(), sleeves.end(), [&](const auto& other) {
                return model_.work->patches[at(other.patch)].heater == kind;
            });
            from = heater_free(kind, static_cast<int>(wanted), from);
            if (from >= never) return never;
        }
        if (model_.patches[at(sleeve.patch)].ready >= 0) continue;  // has its packer since the bench test
        const int kind = model_.work->patches[at(sleeve.patch)].packer;
        const auto wanted = std::count_if(sleeves.begin(), sleeves.end(), [&](const auto& other) {
            return model_.work->patches[at(other.patch)].packer == kind;
        });
        from = packer_free(kind, static_cast<int>(wanted), from);
    }
    return from >= never ? never : lines_free(static_cast<int>(sleeves.size()), from);
}

/// From when something cures at a place, unless this let-down ends it.
Minute Partial::watched_from(int place, const Job* let_down) const {
    Minute from = never;
    for (std::size_t i = 0; i < model_.patches.size(); ++i) {
        const PatchJobs& patch = model_.patches[i];
        const bool lies = model_.cures_at_start(i);
        if (patch.watch != place || (patch.mix < 0 && !lies) || has_started(patch.let_down)) continue;
        if (!lies && !has_started(patch.mix)) continue;
        if (let_down != nullptr && let_down->index == static_cast<int>(i)) continue;
        from = std::min(from, lies ? model_.on_site : start_[at(patch.mix)] + model_.jobs[at(patch.mix)].minutes);
    }
    return from;
}

/// Persons that are bound at a time, when nothing more is started but, perhaps, `job` at that time.
int Partial::bound_persons(Minute when, const Job* job) const {
    const Moment& now = moments_.back();
    int persons = 0;
    std::array<int, max_patches> there{};
    for (std::size_t k = 0; k < now.busy_count; ++k) {
        if (now.busy[k].until <= when) continue;
        if (now.busy[k].place < 0)
            ++persons;
        else
            ++there[at(now.busy[k].place)];
    }
    if (job != nullptr) {
        persons += opening(*job) > 0 ? std::max(job->persons, job->opening_persons) : job->persons;
        if (model_.can_be_dropped(*job)) {
            --persons;
            ++there[at(job->place)];
        }
    }
    const Job* let_down = job != nullptr && job->piece == Piece::let_down ? job : nullptr;
    for (int place = 0; place < model_.watch_places; ++place) {
        const int watching = watched_from(place, let_down) <= when ? 1 : 0;
        persons += std::max(watching, there[at(place)]);
    }
    return persons;
}

/// Without new starts the number of persons that are bound never rises: a mix's last hand becomes the watcher.
Minute Partial::hands_free(const Job& job, Minute from) const {
    if (job.minutes == 0 && opening(job) == 0) return from;
    const Moment& now = moments_.back();
    while (from < never && bound_persons(from, &job) > model_.persons) {
        Minute next = never;
        for (std::size_t k = 0; k < now.busy_count; ++k)
            if (now.busy[k].until > from) next = std::min(next, now.busy[k].until);
        from = next;
    }
    return from;
}

Minute Partial::earliest(int j) const {
    const Job& job = model_.jobs[at(j)];
    Minute when = released(j);
    if (when >= never) return never;
    if (job.run >= 0) when = clear_of_packers(job.run, when);
    if (job.piece == Piece::mix) when = gear_free(job, when);
    if (job.piece == Piece::ready) {
        when = packer_free(model_.work->patches[at(job.index)].packer, 1, when);
        if (when < never) when = lines_free(1, when);
    }
    return when >= never ? never : hands_free(job, machines_free(job, when));
}

Minute Partial::opening(const Job& job) const {
    if (job.accesses == 0) return 0;
    const std::uint64_t open = moments_.back().open_accesses;
    return model_.opening(model_.work->runs[at(job.index)], std::popcount(job.accesses & ~open), open == 0);
}

void Partial::start(int j, Minute when) {
    const Job& job = model_.jobs[at(j)];
    const Minute opening_minutes = opening(job);
    start_[at(j)] = when;
    opened_[at(j)] = opening_minutes;
    started_.set(at(j));
    starts_.push_back({j, when, opening_minutes});

    Moment next = moments_.back();
    next.now = when;
    next.end = std::max(next.end, when + opening_minutes + job.minutes);
    next.work -= job.person_minutes();
    next.open_accesses |= job.accesses;
    std::size_t kept = 0;
    for (std::size_t k = 0; k < next.busy_count; ++k)
        if (next.busy[k].until > when) next.busy[kept++] = next.busy[k];
    next.busy_count = kept;
    const int place = model_.can_be_dropped(job) ? job.place : -1;
    const int openers = opening_minutes > 0 ? job.opening_persons : 0;
    for (int k = 0; k < std::max(job.persons, openers); ++k)
        if (const Minute until = when + opening_minutes + job.bound[at(k)]; until > when)
            next.busy[next.busy_count++] = {until, k == 0 ? place : -1};
    moments_.push_back(next);
    hold(job, when);
}

void Partial::hold(const Job& job, Minute when) {
    if (job.piece == Piece::mix)
        for (const auto& sleeve : model_.orders[at(job.index)].sleeves) set_gear(sleeve.patch, never, never, never);
    const Minute end = when + job.minutes;
    if (job.piece == Piece::let_down) set_gear(job.index, end, end, end);
    if (job.piece == Piece::ready) set_gear(job.index, never, end, 0);
}

void Partial::undo() {
    const int j = starts_.back().job;
    const Job& job = model_.jobs[at(j)];
    starts_.pop_back();
    moments_.pop_back();
    started_.reset(at(j));
    start_[at(j)] = -1;
    opened_[at(j)] = 0;
    if (job.piece == Piece::let_down) set_gear(job.index, never, never, never);
    if (job.piece == Piece::ready) set_gear(job.index, 0, 0, 0);
    if (job.piece != Piece::mix) return;
    for (const auto& sleeve : model_.orders[at(job.index)].sleeves) {
        const int ready = model_.patches[at(sleeve.patch)].ready;
        if (ready < 0)
            set_gear(sleeve.patch, 0, 0, 0);
        else
            set_gear(sleeve.patch, never, start_[at(ready)] + model_.jobs[at(ready)].minutes, 0);
    }
}

void Partial::set_gear(int patch, Minute held, Minute line, Minute lies) {
    held_until_[at(patch)] = held;
    line_until_[at(patch)] = line;
    lies_until_[at(patch)] = lies;
}

Minute Partial::free_persons_from(int wanted) const {
    const Moment& now = moments_.back();
    Minute when = now.now;
    while (when < never && bound_persons(when, nullptr) > model_.persons - wanted) {
        Minute next = never;
        for (std::size_t k = 0; k < now.busy_count; ++k)
            if (now.busy[k].until > when) next = std::min(next, now.busy[k].until);
        when = next;
    }
    return when;
}

void Partial::profile(std::vector<Minute>& entries) const {
    const Minute now = moments_.back().now;
    entries.clear();
    entries.push_back(now);
    for (int k = 1; k <= model_.persons; ++k) entries.push_back(free_persons_from(k));
    for (const auto& turns : model_.turns)
        for (int k = 1; k <= turns.count; ++k) entries.push_back(machine_free(turns, k, now));
    for (std::size_t j = 0; j < model_.jobs.size(); ++j) {
        const Job& job = model_.jobs[j];
        if (start_[j] >= 0) {
            const bool keeps_pipe = job.piece == Piece::inspect || job.piece == Piece::reopen;
            if (keeps_pipe || job.piece == Piece::let_down || job.piece == Piece::ready || model_.can_be_dropped(job))
                entries.push_back(std::max(now, start_[j] + opened_[j] + job.minutes));
            continue;
        }
        Minute release = 0;
        for (const Link& link : job.before)
            if (has_started(link.job))
                release = std::max(release, start_[at(link.job)] + opened_[at(link.job)] + link.lag);
        if (release > 0) entries.push_back(std::max({now, release, job.release}));
    }
}

}  // namespace patchwright::schedule
