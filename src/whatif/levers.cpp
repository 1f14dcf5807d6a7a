// Which other conditions a job leaves room for, each as changes of its files.
#include "levers.hpp"

#include <algorithm>
#include <map>
#include <numeric>

#include <fmt/format.h>

#include "patchwright/units/format.hpp"

namespace patchwright::whatif {
namespace {

using job::Change;
using job::FileKind;

/// Of accesses, runs and defects: so many of each are worked out.
constexpr std::size_t max_of_a_kind = 6;
constexpr int midnight = 24 * 60, max_persons = 4, max_helpers = 3;

class Levers {
public:
    Levers(const plan::Plan& made, std::vector<NotListed>& not_listed)
        : job_{*made.job}, yard_{*made.yard}, made_{made}, not_listed_{not_listed} {}

    std::vector<Alternative> collect() {
        add_hours();
        add_overtime();
        add_helper();
        add_alarm_gauge();
        add_overnight();
        add_packers();
        add_resins();
        add_resin_temperatures();
        leave_out("a heater", yard_.heaters.empty() ? "the yard has none" : "a plan uses the yard's where it pays");
        add_accesses();
        add_runs_less();
        add_sizes_unknown();
        return std::move(list_);
    }

private:
    void add(Lever lever, std::string words, std::vector<Change> changes) {
        list_.push_back({lever, std::move(words), std::move(changes)});
    }
    void leave_out(std::string words, std::string why) { not_listed_.push_back({std::move(words), std::move(why)}); }

    static Change limit(std::string key, std::string json) {
        return {FileKind::yard, {"limits", std::move(key)}, std::move(json)};
    }
    static Change site(std::string key, const std::string& value) {
        return job::set_text(FileKind::job, {"site", std::move(key)}, value);
    }
    const job::Run& run(std::size_t r) const { return job_.runs[r]; }

    void add_hours() {
        const ClockTime later{job_.site.finish.minutes + 60}, earlier{job_.site.start.minutes - 30};
        if (later.minutes < midnight)
            add(Lever::longer_day, "an hour more: back at " + format(later), {site("finish", format(later))});
        else
            leave_out("an hour more", "the day would end past midnight");
        if (earlier.minutes >= 0)
            add(Lever::earlier_start, "half an hour earlier: off at " + format(earlier),
                {site("start", format(earlier))});
        else
            leave_out("half an hour earlier", "the day would begin before midnight");
    }
    void add_overtime() {
        const Duration now = yard_.limits.overtime, more = now + 1.0 * unit::h;
        if (more > 12.0 * unit::h) return leave_out("overtime", "more than 12 h of it is not read");
        const auto words = format(Show::span, more, job_.units);
        const auto value = fmt::format("{:.0f} min", more.in(unit::minute));
        add(Lever::overtime,
            fmt::format("overtime up to {}{}", words, now > Duration{} ? ", an hour more than now" : ""),
            {job::set_text(FileKind::yard, {"limits", "overtime"}, value)});
    }
    void add_helper() {
        const int helpers = yard_.limits.helpers + 1;
        if (yard_.rates.helper_per_day.is_zero())
            return leave_out("a helper", "the yard's rates name no price of one (rates.helper_per_day)");
        if (helpers > max_helpers || yard_.rates.crew_size + helpers > max_persons)
            return leave_out("a helper", fmt::format("a day is planned for {} persons at most", max_persons));
        add(Lever::helper,
            fmt::format("{} for a day, at {}", helpers == 1 ? "a helper" : "one helper more",
                        format(yard_.rates.helper_per_day)),
            {limit("helpers", fmt::format("{}", helpers))});
    }
    void add_alarm_gauge() {
        if (yard_.limits.alarm_gauge) return leave_out("a gauge with alarm", "the yard has one");
        add(Lever::alarm_gauge, "a gauge with alarm: nobody watches a cure", {limit("alarm_gauge", "true")});
    }
    void add_overnight() {
        if (yard_.limits.overnight_cure) return leave_out("a cure overnight", "the yard allows it");
        add(Lever::overnight, "packers may stay overnight", {limit("overnight_cure", "true")});
    }

    /// Packers and chassis of which on some day all are in use: that a day waits for one is possible only there.
    void add_packers() {
        struct Used {
            bool chassis = false;
            int count = 1;
            Money price{};
            std::map<int, int> by_day{};
        };
        std::map<std::pair<bool, std::string>, Used> kinds;
        for (std::size_t p = 0; p < made_.patches.size(); ++p) {
            const auto& option = made_.patches[p].option;
            const auto* chassis = option.to_build ? &yard_.chassis[static_cast<std::size_t>(option.chassis)] : nullptr;
            auto& kind = kinds[{chassis != nullptr, chassis != nullptr ? chassis->id : option.packer.id}];
            kind.count = chassis != nullptr ? chassis->count : option.packer.count;
            kind.price = chassis != nullptr ? chassis->price : option.packer.price;
            ++kind.by_day[made_.schedule.patches[p].day];
        }
        for (const auto& [name, kind] : kinds) {
            const auto& [chassis, id] = name;
            const auto words = fmt::format("one more {} {}", chassis ? "chassis" : "packer", id);
            const int count = kind.count;
            const bool binds = std::any_of(kind.by_day.begin(), kind.by_day.end(),
                                           [count](const auto& day) { return day.second >= count; });
            if (!binds)
                leave_out(words, "one of them is free all day");
            else
                add(Lever::packer, fmt::format("{}, {} new", words, format(kind.price)),
                    {{FileKind::yard,
                      {chassis ? "chassis" : "packers", id, "count"},
                      fmt::format("{}", kind.count + 1)}});
        }
        if (kinds.empty()) leave_out("one more packer", "the plan has no patch");
    }

    void add_resins() {
        const auto all_in = [&](const job::Resin& resin) {
            return !made_.patches.empty() &&
                   std::all_of(made_.patches.begin(), made_.patches.end(), [&](const auto& p) {
                       return yard_.resins[static_cast<std::size_t>(p.resin)].id == resin.id;
                   });
        };
        for (const auto& resin : yard_.resins) {
            if (all_in(resin)) {
                leave_out("all in " + resin.id, "they are");
                continue;
            }
            std::vector<Change> changes;
            for (const auto& r : job_.runs)
                changes.push_back(job::set_text(FileKind::job, {"runs", r.id, "resin"}, resin.id));
            add(Lever::resin, "every sleeve in " + resin.id, std::move(changes));
        }
        std::vector<Change> free;
        for (const auto& r : job_.runs)
            if (r.resin) free.push_back({FileKind::job, {"runs", r.id, "resin"}, "null"});
        if (!free.empty()) add(Lever::free_resin, "any resin of the yard, where the job names one", std::move(free));
    }
    void add_resin_temperatures() {
        if (!yard_.conditioning.possible())
            return leave_out("cooled or warmed resin", "the yard has nothing for it (conditioning)");
        const auto now = job_.site.resin_temperature.value_or(yard_.limits.resin_temperature);
        const auto step = TemperatureDifference::from_si(5.0);
        const auto at = [&](const char* what, Temperature to) {
            add(Lever::resin_temperature,
                fmt::format("resin {} to {}", what, format(Show::temperature, to, job_.units)),
                {site("resin_temperature", fmt::format("{:.1f} C", to.in_celsius()))});
        };
        if (yard_.conditioning.from < now)
            at("cooled", std::max(now - step, yard_.conditioning.from));
        else
            leave_out("cooled resin", "it is as cold as the yard can make it");
        if (yard_.conditioning.to > now)
            at("warmed", std::min(now + step, yard_.conditioning.to));
        else
            leave_out("warmed resin", "it is as warm as the yard can make it");
    }

    /// What the sleeves of each run cost: the dearest come first.
    std::vector<std::size_t> runs_by_cost() const {
        std::vector<Money> cost(job_.runs.size());
        for (const auto& p : made_.patches) cost[static_cast<std::size_t>(p.run)] += p.cost;
        std::vector<std::size_t> order(job_.runs.size());
        std::iota(order.begin(), order.end(), 0);
        std::stable_sort(order.begin(), order.end(), [&](auto a, auto b) { return cost[a] > cost[b]; });
        return order;
    }
    /// Says how many of a kind were left out, where it has too many.
    template <class T>
    void keep_most(std::vector<T>& list, const char* words) {
        if (list.size() <= max_of_a_kind) return;
        const auto others = list.size() - max_of_a_kind;
        leave_out(fmt::format("{}, {} other{}", words, others, others == 1 ? "" : "s"),
                  fmt::format("the dearest {} are worked out; --try works out any", max_of_a_kind));
        list.resize(max_of_a_kind);
    }

    void add_accesses() {
        auto order = runs_by_cost();
        std::erase_if(order, [&](auto r) {
            return run(r).defects.empty() || (run(r).access_at_from() && run(r).access_at_to());
        });
        if (order.empty()) return leave_out("the other access opened", "every run with a defect is open at both ends");
        keep_most(order, "the other access");
        for (const auto r : order) {
            const auto& closed = run(r).access_at_from() ? run(r).to : run(r).from;
            auto ends = run(r).access;
            ends.push_back(closed);
            std::string json;
            for (const auto& end : ends)
                json += (json.empty() ? "[" : ",") + job::set_text(FileKind::job, {}, end).value;
            add(Lever::access, fmt::format("run {} opened at {} too", run(r).id, closed),
                {{FileKind::job, {"runs", run(r).id, "access"}, json + "]"}});
        }
    }
    void add_runs_less() {
        auto order = runs_by_cost();
        std::erase_if(order, [&](auto r) { return run(r).defects.empty(); });
        if (job_.runs.size() < 2 || order.size() < 2) return leave_out("a run less", "the job has one run");
        keep_most(order, "a run less");
        for (const auto r : order)
            add(Lever::run_less, fmt::format("without run {}", run(r).id),
                {{FileKind::job, {"runs", run(r).id}, "null"}});
    }
    /// A place whose size cannot be read is one to look at again.
    void add_sizes_unknown() {
        std::vector<std::size_t> order(made_.patches.size());
        std::iota(order.begin(), order.end(), 0);
        std::stable_sort(order.begin(), order.end(),
                         [&](auto a, auto b) { return made_.patches[a].cost > made_.patches[b].cost; });
        std::vector<std::pair<std::size_t, std::size_t>> places;
        for (const auto p : order) {
            for (const int d : made_.patches[p].defects) {
                const auto r = static_cast<std::size_t>(made_.patches[p].run);
                const auto& defect = run(r).defects[static_cast<std::size_t>(d)];
                if (defect.size || defect.size_percent) places.emplace_back(r, static_cast<std::size_t>(d));
            }
        }
        if (places.empty()) return leave_out("a size not known", "no place that is mended has a size");
        keep_most(places, "a size not known");
        for (const auto& [r, d] : places) {
            const auto& id = run(r).defects[d].id;
            add(Lever::size_unknown, fmt::format("{} of run {} without its size", id, run(r).id),
                {{FileKind::job, {"runs", run(r).id, "defects", id, "size"}, "null"}});
        }
    }

    const job::Job& job_;
    const job::Yard& yard_;
    const plan::Plan& made_;
    std::vector<NotListed>& not_listed_;
    std::vector<Alternative> list_;
};

}  // namespace

std::vector<Alternative> levers(const plan::Plan& made, std::vector<NotListed>& not_listed) {
    return Levers{made, not_listed}.collect();
}

}  // namespace patchwright::whatif
