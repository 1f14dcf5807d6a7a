// Persons by name: lane 1, lane 2. Counted persons can always be shared out in the order of the starts.
#include "lanes.hpp"

#include <stdexcept>

namespace patchwright::schedule {
namespace {

class Sharing {
public:
    Sharing(const Model& model, const std::vector<Partial::Start>& starts)
        : model_{model}, starts_{starts}, people_(at(model.persons)) {
        crew_.lanes.resize(starts.size());
    }

    Crew run() {
        std::size_t k = 0;
        while (k < starts_.size() && model_.in_hand(model_.jobs[at(starts_[k].job)])) place_job(k++);
        watch_what_lies();
        for (; k < starts_.size(); ++k) {
            release_until(starts_[k].at);
            place_job(k);
        }
        return std::move(crew_);
    }

private:
    struct Person {
        Minute until = 0;
        int job = -1, place = -1;  ///< of the job under way: where it covers a watch
        int watch = -1;            ///< place that is watched from then on
        int last = -1;             ///< job before, for the handover
        Minute lag = 0;
        bool busy = false;
    };

    /// Who is not busy at the start watches what cures since before it.
    void watch_what_lies() {
        for (Person& person : people_)
            if (!person.busy) person.watch = unwatched_place(-1, model_.on_site);
    }

    /// Jobs end one after the other; who ends one may have to stay and watch.
    void release_until(Minute now) {
        while (true) {
            Person* next = nullptr;
            for (Person& person : people_)
                if (person.busy && person.until <= now && (next == nullptr || person.until < next->until))
                    next = &person;
            if (next == nullptr) return;
            next->busy = false;
            next->watch = unwatched_place(next->job, next->until);
        }
    }

    /// A place of the job's where something cures and nobody is.
    int unwatched_place(int job, Minute when) const {
        for (std::size_t i = 0; i < model_.patches.size(); ++i) {
            const PatchJobs& patch = model_.patches[i];
            const bool lies = model_.cures_at_start(i);
            if (patch.watch < 0 || (patch.mix < 0 && !lies)) continue;
            if (!lies && (job < 0 || (job != patch.mix && model_.jobs[at(job)].place != patch.watch))) continue;
            const Minute mixed = lies ? -1 : started(patch.mix);
            const bool set = lies || (mixed >= 0 && mixed + model_.jobs[at(patch.mix)].minutes <= when);
            const bool cures = set && (started(patch.let_down) < 0 || started(patch.let_down) > when);
            const bool covered = std::any_of(people_.begin(), people_.end(), [&](const Person& p) {
                return p.busy ? p.place == patch.watch && p.until > when : p.watch == patch.watch;
            });
            if (cures && !covered) return patch.watch;
        }
        return -1;
    }
    Minute started(int job) const {
        for (std::size_t k = 0; k < begun_; ++k)
            if (starts_[k].job == job) return starts_[k].at;
        return -1;
    }

    void place_job(std::size_t k) {
        const auto& start = starts_[k];
        const Job& job = model_.jobs[at(start.job)];
        const bool may_cover = model_.can_be_dropped(job);
        begun_ = k + 1;
        const int openers = start.opening > 0 ? job.opening_persons : 0;
        for (int i = 0; i < std::max(job.persons, openers); ++i) {
            const Minute minutes = start.opening + job.bound[at(i)];
            if (minutes == 0) continue;
            const int place = i == 0 && may_cover ? job.place : -1;
            const std::size_t who = free_person(place);
            Person& person = people_[who];
            if (person.last >= 0) crew_.handovers.push_back({person.last, start.job, person.lag});
            person = {start.at + minutes, start.job, place, -1, start.job, minutes, true};
            crew_.lanes[k].push_back(static_cast<int>(who));
        }
        if (job.piece != Piece::let_down || open_cure(job.place)) return;
        for (Person& person : people_)
            if (!person.busy && person.watch == job.place && person.watch >= 0) person.watch = -1;
    }
    bool open_cure(int place) const {
        for (std::size_t i = 0; i < model_.patches.size(); ++i) {
            const PatchJobs& patch = model_.patches[i];
            const bool cures = model_.cures_at_start(i) || (patch.mix >= 0 && started(patch.mix) >= 0);
            if (patch.watch == place && cures && started(patch.let_down) < 0) return true;
        }
        return false;
    }
    /// Who watches at the place does its jobs first.
    std::size_t free_person(int place) const {
        for (std::size_t who = 0; place >= 0 && who < people_.size(); ++who)
            if (!people_[who].busy && people_[who].watch == place) return who;
        for (std::size_t who = 0; who < people_.size(); ++who)
            if (!people_[who].busy && people_[who].watch < 0) return who;
        throw std::logic_error("schedule: more persons are bound than the crew has");
    }

    const Model& model_;
    const std::vector<Partial::Start>& starts_;
    std::vector<Person> people_;
    Crew crew_;
    std::size_t begun_ = 0;
};

}  // namespace

Crew share_out(const Model& model, const std::vector<Partial::Start>& starts) { return Sharing{model, starts}.run(); }

}  // namespace patchwright::schedule
