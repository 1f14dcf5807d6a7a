#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/units/parse.hpp"
#include "patchwright/units/quantity.hpp"
#include "patchwright/units/temperature.hpp"

/// The record file as typed data: what was noted while a job was done. Filled by `io/read_record.hpp`.
namespace patchwright::job {

/// What became of a sleeve.
enum class SleeveOutcome : std::uint8_t {
    done,      ///< lies in the pipe
    stripped,  ///< taken out before it set
    failed,    ///< set, and must be cut out or done again
    not_done,
};
enum class YesNo : std::uint8_t { yes, no };
/// Where a temperature was taken.
enum class Probe : std::uint8_t {
    pipe,     ///< on the pipe's wall, or in the pipe beside the sleeve
    witness,  ///< of the coupon that lies in the pipe
    sleeve,   ///< a probe between bladder and sleeve
};
/// Acceptance test of a run: EN 1610 air LA to LD, ASTM F1417 air, EN 1610 water W.
enum class LeakMethod : std::uint8_t { la, lb, lc, ld, f1417, w };
/// A task of the crew, as the durations of the yard file know it.
enum class StepKind : std::uint8_t {
    travel,
    set_up,
    open_access,
    clean,
    clean_roots,
    flush,
    survey,
    flow_control,
    cut,
    build,
    bench_test,
    wet_out,
    load,
    position,
    inflate,
    crease,
    let_down,
    re_survey,
    reopen,
    pack_up,
    dry,
};
std::string_view word(StepKind v);
std::string_view word(SleeveOutcome v);
std::string_view word(YesNo v);
std::string_view word(Probe v);
std::string_view word(LeakMethod v);

/// What was written on a line of a sheet, by the line's label.
struct NotedText {
    std::string label, text;
};
struct NotedPressure {
    ClockTime at;
    Pressure pressure{};  ///< gauge
};
struct NotedTemperature {
    ClockTime at;
    Temperature temperature;
    Probe where = Probe::pipe;
};
struct NotedBenchTest {
    std::optional<Pressure> pressure;  ///< gauge
    std::optional<Duration> held;
    std::optional<Pressure> drop;
};
struct NotedWitness {
    std::optional<YesNo> hard;
    std::optional<ClockTime> at;
};

/// What was noted of one sleeve. A sleeve that was done again has an entry each time, the last one last.
struct PatchRecord {
    std::string id;  ///< of the patch, as on the day sheet
    std::optional<SleeveOutcome> outcome;
    std::optional<Date> date;
    std::string who;
    std::optional<Length> measured_bore;
    std::optional<Temperature> pipe_temperature, resin_temperature, air_temperature;  ///< before mixing
    std::optional<Mass> part_a, part_b;  ///< of the mix that it was wet out from, all pots
    std::string part_a_batch, part_b_batch;
    std::optional<Date> part_a_expiry, part_b_expiry;
    std::string packer;
    NotedBenchTest bench_test;
    std::optional<Length> mark;
    std::optional<Mass> left_over;  ///< of that mix, in pot and tray, when its sleeves were wet out
    std::optional<ClockTime> mixed_at, poured_at, inflated_at, creased_at, gelled_at, deflated_at;
    std::optional<Date> deflated_on;  ///< when not within a day of mixing
    std::vector<NotedPressure> pressures;
    std::vector<NotedTemperature> temperatures;
    NotedWitness witness;
    std::optional<Length> starts_at, ends_at;  ///< by the survey after, from the run's `from`
    std::optional<YesNo> stuck;                ///< the packer did not come out by itself
    std::string film;
    std::vector<std::string> photos;
    std::string remark;
    std::vector<NotedText> noted;
    std::vector<std::string> ticked;

    /// From mixing to then: the clock runs on past midnight. Nothing where either is not noted.
    std::optional<Duration> after_mixing(const std::optional<ClockTime>& then) const;
    /// From mixing to deflating, over the dates where both are given.
    std::optional<Duration> deflated_after() const;
    bool lies_in_pipe() const { return outcome.value_or(SleeveOutcome::done) == SleeveOutcome::done; }
};

struct LeakReading {
    Duration after{};  ///< since the clock of the test was started
    Pressure pressure{};
};
/// Acceptance test of a run. A test that was repeated has an entry each time, the last one last.
struct LeakRecord {
    std::string run;
    LeakMethod method = LeakMethod::lc;
    std::optional<Date> date;
    std::string who, between;      ///< from where to where, when not the whole run
    std::optional<Length> length;  ///< tested; none: the run's
    std::optional<YesNo> dry_concrete;
    std::optional<Pressure> outside;  ///< of ground water on the pipe, added to the test pressure of air
    std::optional<Duration> settled;  ///< at test pressure, or full of water, before the clock was started
    std::vector<LeakReading> readings;
    std::optional<Volume> added;  ///< water
    std::string remark;
};

/// How long a task took.
struct StepRecord {
    StepKind what = StepKind::travel;
    ClockTime from, to;            ///< runs on past midnight
    std::optional<Length> length;  ///< cleaned, or of the sleeve that was wet out
    Duration took() const { return ((to.minutes - from.minutes + 24 * 60) % (24 * 60)) * unit::minute; }
};
struct DayRecord {
    std::optional<Date> date;
    std::optional<ClockTime> left, back;
    std::string who, remark;
    std::vector<StepRecord> steps;
};
/// What was noted on a sheet outside the patches, as the page in a browser saves it.
struct SheetNotes {
    std::string kind, subject;
    std::vector<NotedText> noted;
    std::vector<std::string> ticked;
};

struct Record {
    std::string job;  ///< the job's reference
    std::vector<DayRecord> days;
    std::vector<PatchRecord> patches;
    std::vector<LeakRecord> tests;
    std::vector<SheetNotes> sheets;
    std::vector<std::string> remarks;

    /// The last entry of that patch; nullptr when there is none.
    const PatchRecord* last_of(std::string_view patch) const;
};

}  // namespace patchwright::job
