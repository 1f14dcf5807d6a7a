// One sleeve: each thing that was noted against its limit, in the order in which the crew comes to it.
#include <algorithm>

#include <fmt/format.h>

#include "checks.hpp"
#include "workings.hpp"

namespace patchwright::record {
namespace {

using OptionalLength = std::optional<Length>;
using OptionalDuration = std::optional<Duration>;
using OptionalPressure = std::optional<Pressure>;
constexpr auto none = std::nullopt;

/// All checks of one sleeve; `r` is what was noted of it, empty when nothing was.
class PatchChecks {
public:
    PatchChecks(const plan::Plan& plan, Patch& built)
        : run_{plan.run_of(plan.patches[built.patch])},
          yard_{*plan.yard},
          p_{plan.patches[built.patch]},
          t_{plan.schedule.patches[built.patch]},
          mix_{*std::find_if(plan.batches.begin(), plan.batches.end(),
                             [&](const plan::Batch& b) {
                                 const auto& list = b.batch.patches;
                                 return std::find(list.begin(), list.end(), static_cast<int>(built.patch)) !=
                                        list.end();
                             })},
          plan_{plan},
          place_{static_cast<int>(built.patch)},
          r_{built.record != nullptr ? *built.record : nothing_noted()},
          date_{built.date},
          limits_{site_limits(p_, r_.pipe_temperature, r_.resin_temperature, r_.air_temperature, &workings_)},
          checks_{built.checks} {}

    void all() {
        before();
        weights();
        times();
        pressures();
        after();
    }

private:
    static const job::PatchRecord& nothing_noted() {
        static const job::PatchRecord nothing;
        return nothing;
    }
    static std::optional<double> kelvin(const std::optional<Temperature>& t) {
        return t ? std::optional{t->in_kelvin()} : std::nullopt;
    }
    std::string as_planned(std::string_view figure) const {
        return fmt::format("as planned; its working: why JOB {}.{}", p_.id, figure);
    }
    static std::string clock(const std::optional<ClockTime>& t) { return t ? format(*t) : std::string{}; }

    void before() {
        const auto& resin = plan_.resin_of(p_);
        const auto least = resin.application_min.in_kelvin(), most = resin.application_max.in_kelvin();
        const bool heated = p_.conditions.heating.medium != cure::Heating::Medium::none;
        const auto application =
            fmt::format("application_min and application_max of resin {} in the yard file", resin.id);
        checks_
            .figure("pipe temperature", Show::temperature, p_.conditions.pipe->in_kelvin(), kelvin(r_.pipe_temperature),
                    {heated ? std::nullopt : std::optional{least}, most})
            .limit_from = application;
        checks_
            .figure("resin temperature", Show::temperature, p_.conditions.resin->in_kelvin(),
                    kelvin(r_.resin_temperature), {least, most})
            .limit_from = application;
        checks_.words("packer", p_.option.packer.id, r_.packer, r_.packer == p_.option.packer.id);
        checks_
            .figure("bench test pressure", Show::gauge_pressure, OptionalPressure{p_.bench.pressure},
                    r_.bench_test.pressure, OptionalPressure{p_.bench.pressure}, OptionalPressure{})
            .limit_from = as_planned("bench-test");
        checks_
            .figure("bench test held", Show::minutes, OptionalDuration{p_.bench.hold}, r_.bench_test.held,
                    OptionalDuration{p_.bench.hold}, OptionalDuration{})
            .limit_from = "bench_hold of the yard's limits";
        checks_
            .figure("bench test drop", Show::test_pressure, OptionalPressure{}, r_.bench_test.drop, OptionalPressure{},
                    OptionalPressure{p_.bench.allowed_drop})
            .limit_from = "bench_drop of the yard's limits";
    }

    void weights() {
        const auto& batch = mix_.batch;
        const auto& resin = plan_.resin_of(p_);
        Mass in_sleeves{}, in_voids{};
        for (const int patch : batch.patches) {
            const auto& need = plan_.patches[static_cast<std::size_t>(patch)].need;
            in_sleeves += need.in_sleeve();
            in_voids += need.void_mass;
        }
        const bool both = r_.part_a && r_.part_b;
        Check& mixed = checks_.figure("mixed", Show::scale_mass, std::optional{batch.total},
                                      both ? std::optional{*r_.part_a + *r_.part_b} : std::nullopt,
                                      std::optional{in_sleeves}, std::optional<Mass>{});
        mixed.working.add(mixed_formula, {static_cast<double>(batch.patches.size())}, in_sleeves);
        if (both && r_.left_over) {
            Check& in_felt = checks_.figure("in the felt", Show::scale_mass, std::optional{in_sleeves},
                                            std::optional{*r_.part_a + *r_.part_b - *r_.left_over},
                                            std::optional{in_voids}, std::optional<Mass>{});
            in_felt.working.add(in_felt_formula, {static_cast<double>(batch.patches.size())}, in_voids);
        }
        const double ratio = resin.parts_b / resin.parts_a;
        const double least = ratio * (1.0 - ratio_tolerance), most = ratio * (1.0 + ratio_tolerance);
        Check& by_mass = checks_.figure("B to A by mass", Show::conversion, batch.part_b / batch.part_a,
                                        both ? std::optional{*r_.part_b / *r_.part_a} : std::nullopt, {least, most});
        const Operand a{resin.parts_a, Origin::yard}, b{resin.parts_b, Origin::yard};
        by_mass.working.add(least_ratio_formula, {a, b, {ratio_tolerance, Origin::assumed}}, least);
        by_mass.working.add(most_ratio_formula, {a, b, {ratio_tolerance, Origin::assumed}}, most);
        std::string dates;
        if (r_.part_a_expiry && r_.part_b_expiry)
            dates = fmt::format("A {}, B {}", format(*r_.part_a_expiry), format(*r_.part_b_expiry));
        const bool fresh = !date_ || dates.empty() || (*r_.part_a_expiry >= *date_ && *r_.part_b_expiry >= *date_);
        checks_.words("resin in date", date_ ? "on " + format(*date_) : "on the day", std::move(dates), fresh);
    }

    /// From mixing, with the clock beside it.
    void since_mixing(std::string_view what, OptionalDuration planned, const std::optional<ClockTime>& at,
                      OptionalDuration least, OptionalDuration most, const Working& working) {
        const OptionalDuration done = what == "deflated" ? r_.deflated_after() : r_.after_mixing(at);
        Check& check = checks_.figure(what, Show::span, planned, done, least, most);
        check.done_words = at && !done ? clock(at) + ", mixing not noted" : clock(at);
        if (!limits_.as_planned) check.limit_words = "as measured";
        check.working = working;
        if (least || most) return;
        check.limit_words = what == "deflated" ? "colder than the card's table" : "warmer than the card's tables";
        if (done) check.verdict = Verdict::missed;
    }

    OptionalDuration planned_crease() const {
        if (t_.day < 0) return none;
        for (const auto& task : plan_.schedule.days[static_cast<std::size_t>(t_.day)].tasks)
            if (task.patch == place_ && task.what == schedule::What::crease)
                return (task.finish - t_.mix) * unit::minute;
        return none;
    }

    void times() {
        const auto at = [](schedule::Minute m) { return std::optional{(m % (24 * 60)) * 60.0}; };
        const auto mixed = r_.mixed_at ? std::optional{r_.mixed_at->minutes * 60.0} : std::nullopt;
        Check& mix = checks_.figure("mixed at", Show::ratio, at(t_.mix), mixed, {none, at(t_.latest_mix)});
        mix.as = As::clock;
        mix.limit_from = "the latest minute from which the planned day still closes";
        const auto span = [&](schedule::Minute m) { return OptionalDuration{(m - t_.mix) * unit::minute}; };
        since_mixing("poured", span(t_.pour), r_.poured_at, none, limits_.pour_by, workings_.pour_by);
        since_mixing("inflated", span(t_.inflate), r_.inflated_at, none, limits_.inflate_by, workings_.inflate_by);
        since_mixing("wrinkle check over", planned_crease(), r_.creased_at, none, limits_.crease_by,
                     workings_.crease_by);
        gelled();
        since_mixing("deflated", span(t_.let_down), r_.deflated_at, limits_.let_down, none, workings_.let_down);
    }

    /// Not before its wrinkle check was over, as noted, else by the card.
    void gelled() {
        const auto checked = r_.after_mixing(r_.creased_at);
        Check& check =
            checks_.figure("gelled", Show::span, OptionalDuration{p_.cure.sheet.gel}, r_.after_mixing(r_.gelled_at),
                           checked ? checked : limits_.crease_by, OptionalDuration{});
        check.done_words = clock(r_.gelled_at);
        if (checked)
            check.limit_from = "when its wrinkle check was over, as noted";
        else
            check.working = workings_.crease_by;
    }

    /// Lowest and highest from inflated to deflated.
    void pressures() {
        std::optional<double> lowest, highest;
        const auto inflated = r_.after_mixing(r_.inflated_at), deflated = r_.deflated_after();
        for (const auto& note : r_.pressures) {
            const auto after = r_.after_mixing(note.at);
            if (after && ((inflated && *after < *inflated) || (deflated && *after > *deflated))) continue;
            const double p = note.pressure.si();
            lowest = std::min(lowest.value_or(p), p);
            highest = std::max(highest.value_or(p), p);
        }
        const auto& plan = p_.pressure;
        checks_.figure("lowest pressure", Show::gauge_pressure, plan.set.si(), lowest, {plan.minimum.si(), none})
            .limit_from = as_planned("least-pressure");
        checks_.figure("highest pressure", Show::gauge_pressure, plan.set.si(), highest, {none, plan.maximum.si()})
            .limit_from = as_planned("most-pressure");
    }

    void after() {
        const Length tolerance = yard_.limits.tolerance;
        Check& mark =
            checks_.figure("mark", Show::run_distance, OptionalLength{p_.rigging.mark}, r_.mark,
                           OptionalLength{p_.rigging.mark - tolerance}, OptionalLength{p_.rigging.mark + tolerance});
        const Operand allowed{tolerance, Origin::yard};
        mark.working.add(least_mark_formula, {p_.rigging.mark, allowed}, *mark.least);
        mark.working.add(most_mark_formula, {p_.rigging.mark, allowed}, *mark.most);
        witness();
        ends();
        branches();
        checks_.words("film after", "number", r_.film, true);
    }

    void witness() {
        std::string done;
        bool kept = false;
        if (r_.witness.hard) {
            const auto looked = r_.after_mixing(r_.witness.at), deflated = r_.deflated_after();
            const bool hard = *r_.witness.hard == job::YesNo::yes;
            done = fmt::format("{}{}", hard ? "hard" : "not hard", r_.witness.at ? " at " + clock(r_.witness.at) : "");
            kept = hard && !(looked && deflated && *looked > *deflated);
        }
        checks_.words("witness", "hard before deflating", std::move(done), kept);
    }

    /// Covers its defects with the overlap, cut off at the pipe's two mouths.
    void ends() {
        Length first = run_.length, last{};
        for (const int d : p_.defects) {
            first = std::min(first, run_.defects[static_cast<std::size_t>(d)].at);
            last = std::max(last, run_.defects[static_cast<std::size_t>(d)].to);
        }
        const Length overlap = yard_.limits.overlap;
        const Operand lapped{overlap, Origin::yard};
        Check& begins = checks_.figure("sleeve begins", Show::run_distance, OptionalLength{p_.start}, r_.starts_at,
                                       OptionalLength{}, OptionalLength{std::max(first - overlap, Length{})});
        begins.working.add(begins_formula, {{first, Origin::given}, lapped}, *begins.most);
        Check& ends = checks_.figure("sleeve ends", Show::run_distance, OptionalLength{p_.end}, r_.ends_at,
                                     OptionalLength{std::min(last + overlap, run_.length)}, OptionalLength{});
        ends.working.add(ends_formula, {{last, Origin::given}, lapped, {run_.length, Origin::given}}, *ends.least);
    }

    /// Live connections beside it stay open, but for those that it was made for.
    void branches() {
        if (p_.option.packer.shape != job::PackerShape::straight) return;
        constexpr Length beside = 0.5 * unit::m;
        for (std::size_t f = 0; f < run_.fittings.size(); ++f) {
            const auto& fitting = run_.fittings[f];
            const bool cut_open =
                std::find(p_.reopened.begin(), p_.reopened.end(), static_cast<int>(f)) != p_.reopened.end();
            if (fitting.kind != job::FittingKind::junction || !fitting.live || cut_open) continue;
            const Length from = fitting.at - 0.5 * fitting.bore, to = fitting.at + 0.5 * fitting.bore;
            const Length start = r_.starts_at.value_or(p_.start), end = r_.ends_at.value_or(p_.end);
            if (to < start - beside || from > end + beside) continue;
            const bool noted = r_.starts_at && r_.ends_at, open = to <= start || from >= end;
            checks_.words("branch open", fitting.id, noted ? (open ? "open" : "covered") : "", open);
        }
    }

    const job::Run& run_;
    const job::Yard& yard_;
    const plan::Patch& p_;
    const schedule::PatchTimes& t_;
    const plan::Batch& mix_;
    const plan::Plan& plan_;
    int place_;  ///< in the plan
    const job::PatchRecord& r_;
    std::optional<Date> date_;
    SiteWorkings workings_;
    SiteLimits limits_;
    Checks checks_;
};

}  // namespace

void add_patch_checks(const plan::Plan& plan, Patch& built) { PatchChecks{plan, built}.all(); }

void add_day_checks(const plan::Plan& plan, const job::Record& record, AsBuilt& built) {
    Checks left{built.left}, returned{built.days};
    const auto seconds = [](const std::optional<ClockTime>& at) {
        return at ? std::optional{at->minutes * 60.0} : std::nullopt;
    };
    const auto& site = plan.job->site;
    for (std::size_t d = 0; d < plan.schedule.days.size(); ++d) {
        const job::DayRecord* day = d < record.days.size() ? &record.days[d] : nullptr;
        for (const auto& noted : record.days)
            if (d < plan.dates.size() && noted.date == plan.dates[d]) day = &noted;
        const auto noted = day != nullptr ? *day : job::DayRecord{};
        const int finish = plan.schedule.days[d].finish, spare = std::max(0, site.finish.minutes - finish);
        Check& start = left.figure("left the yard", Show::ratio, site.start.minutes * 60.0, seconds(noted.left),
                                   {std::nullopt, (site.start.minutes + spare) * 60.0});
        start.as = As::clock;
        start.limit_from = "the latest minute from which the planned day still closes";
        Check& back = returned.figure("back in the yard", Show::ratio, finish * 60.0, seconds(noted.back),
                                      {std::nullopt, site.finish.minutes * 60.0});
        back.as = As::clock;
        back.limit_from = "finish of the site in the job file";
        back.done_words = noted.who;
    }
}

}  // namespace patchwright::record
