// The rest of a day against the facts, by rules written anew from docs/methods/now.md: nothing here calls what made it.
#include <algorithm>

#include "support/crew_day_rules.hpp"
#include "support/faults.hpp"
#include "told_day.hpp"

namespace patchwright::test {
namespace {

using schedule::Task;
using schedule::What;
using site::Minute;
using site::State;
using site::Verdict;

class Rules {
public:
    Rules(const Day& day, const Asked& asked) : day_{day}, asked_{asked}, now_{asked.now} {}

    std::vector<std::string> check() {
        for (const auto& crew : now_.crews) faults_.take(broken_crew_day_rules(crew.work, crew.day));
        const auto& tasks = now_.schedule.days.back().tasks;
        for (const Task& task : tasks)
            faults_.unless(task.start >= asked_.facts.at, "{} at {} before now", word(task.what), clock(task.start));
        for (const auto& sleeve : now_.sleeves) check_sleeve(sleeve);
        check_packers();
        return faults_.list;
    }

private:
    const std::string& id(const site::Sleeve& s) const { return day_.plan.patches[s.patch].id; }
    std::vector<const Task*> tasks(const site::Sleeve& s, What what) const {
        std::vector<const Task*> list;
        for (const Task& task : now_.schedule.days.back().tasks)
            if (task.patch == static_cast<int>(s.patch) && task.what == what) list.push_back(&task);
        return list;
    }
    static Minute minutes(Duration d) { return static_cast<Minute>(std::lround(d.in(unit::minute))); }

    void check_sleeve(const site::Sleeve& s) {
        const auto wet = tasks(s, What::wet_out), inflate = tasks(s, What::inflate), out = tasks(s, What::let_down);
        const bool overnight = day_.plan.schedule.patches[s.patch].let_down >= 24 * 60 && !s.overnight;
        if (s.state == State::in_pipe && s.verdict != Verdict::strip) {
            faults_.unless(wet.empty() && inflate.empty(), "{} lies and is wet out", id(s));
            if (s.limits.refused) return;
            faults_.unless(out.size() == 1, "{} is let down {} times", id(s), out.size());
            if (!out.empty())
                faults_.unless(out[0]->start >= *s.mixed + minutes(s.limits.let_down), "{}: let down too early", id(s));
        } else if (s.state == State::in_hand && s.verdict == Verdict::go) {
            faults_.unless(inflate.size() == 1, "{} is in hand and inflated {} times", id(s), inflate.size());
            if (!inflate.empty())
                faults_.unless(inflate[0]->finish <= *s.mixed + minutes(s.limits.inflate_by), "{}: inflated too late",
                               id(s));
            if (!out.empty() && !overnight)
                faults_.unless(out[0]->start >= *s.mixed + minutes(s.limits.let_down), "{}: let down too early", id(s));
        } else if (s.verdict == Verdict::strip) {
            faults_.unless(!out.empty() && out[0]->start <= asked_.facts.at + out[0]->finish - out[0]->start + 60,
                           "{} is to come out and does not", id(s));
        } else if (s.state == State::done) {
            faults_.unless(wet.empty() && inflate.empty(), "{} is done and wet out", id(s));
        }
        if (s.mix_at)
            check_fresh(s, overnight);
        else if (s.state == State::to_do || s.state == State::lost)
            faults_.unless(wet.empty() && !s.another_day.empty(), "{} is neither made nor left with a reason", id(s));
    }
    /// One that is still to be mixed keeps the limits of what was measured.
    void check_fresh(const site::Sleeve& s, bool overnight) {
        const auto wet = tasks(s, What::wet_out), inflate = tasks(s, What::inflate), out = tasks(s, What::let_down);
        const auto& limits = s.next;
        faults_.unless(s.another_day.empty(), "{} is made and left", id(s));
        faults_.unless(limits.late_probability <= day_.yard.limits.late_at_most + 1e-9, "{}: promised to be late in {}",
                       id(s), limits.late_probability);
        if (wet.size() != 1 || inflate.size() != 1) {
            faults_.unless(false, "{}: wet out {} times", id(s), wet.size());
            return;
        }
        faults_.unless(inflate[0]->finish - *s.mix_at <= minutes(limits.inflate_by), "{}: inflated too late", id(s));
        if (!overnight && !out.empty())
            faults_.unless(out.back()->start - *s.mix_at >= minutes(limits.let_down), "{}: let down too early", id(s));
    }
    /// No more sleeves at once on a packer than are left of it.
    void check_packers() {
        for (const auto& name : asked_.facts.lost_packers) {
            int count = 0;
            for (const auto& p : day_.yard.packers)
                if (p.id == name) count = p.count;
            for (const auto& p : day_.yard.chassis)
                if (p.id == name) count = p.count;
            count -=
                static_cast<int>(std::count(asked_.facts.lost_packers.begin(), asked_.facts.lost_packers.end(), name));
            for (const auto& s : now_.sleeves) {
                const auto& p = s.on_other ? *s.on_other : day_.plan.patches[s.patch];
                faults_.unless(!s.mix_at || count > 0 || p.option.packer.id != name, "{} is to be made on lost {}",
                               id(s), name);
            }
        }
    }

    const Day& day_;
    const Asked& asked_;
    const site::Now& now_;
    Faults faults_;
};

}  // namespace

std::vector<std::string> broken_now_rules(const Day& day, const Asked& asked) { return Rules{day, asked}.check(); }

}  // namespace patchwright::test
