#include "record_fields.hpp"

namespace patchwright::io {
namespace {

constexpr auto always = Need::always;
constexpr auto never = Need::never;
constexpr std::string_view warmth = "-40 C to 60 C", gauge = "0 bar to 30 bar", usual_gauge = "0 bar to 6 bar";
constexpr std::string_view along = "0 m to 10 km", usual_along = "0 m to 200 m";

bool read_version(Reader& reader, const Node& node, Record&, const Rule&) {
    if (node.kind == NodeKind::number && node.number == 1.0) return true;
    reader.error(node, "this program reads version 1 of the record file: \"patchwright_record\": 1");
    return false;
}

/// {LABEL: TEXT}, labels as the sheets print them.
template <class T>
bool read_noted(Reader& reader, const Node& node, T& out, const Rule& rule) {
    if (node.kind != NodeKind::object) {
        reader.error(node, wrong_kind(node, "notes in braces: {\"A weighed\": \"801 g\"}"));
        return false;
    }
    bool good = true;
    for (const Node& member : node.children) {
        if (is_remark(member.key)) continue;
        NotedText& note = out.noted.emplace_back();
        note.label = member.key;
        good = read_value(reader, member, note.text, rule) && good;
    }
    return good;
}

template <class T>
Field<T> noted() {
    return {"noted",
            never,
            "what was written on the lines of the sheet, by their labels",
            {"notes by label"},
            {{}, {}, Form::note},
            read_noted<T>};
}

}  // namespace

std::span<const Field<NotedPressure>> Described<NotedPressure>::fields() {
    static const Field<NotedPressure> list[] = {
        field<&NotedPressure::at>("at", always, "clock"),
        field<&NotedPressure::pressure>("pressure", always, gauge, usual_gauge, "in the packer, by the gauge"),
    };
    return list;
}

std::span<const Field<NotedTemperature>> Described<NotedTemperature>::fields() {
    static const Field<NotedTemperature> list[] = {
        field<&NotedTemperature::at>("at", always, "clock"),
        field<&NotedTemperature::temperature>("temperature", always, "-30 C to 120 C", "0 C to 60 C", "as read"),
        field<&NotedTemperature::where>(
            "where", never, "in the pipe, of the witness, or between bladder and sleeve; pipe when left out"),
    };
    return list;
}

std::span<const Field<NotedBenchTest>> Described<NotedBenchTest>::fields() {
    static const Field<NotedBenchTest> list[] = {
        field<&NotedBenchTest::pressure>("pressure", never, gauge, usual_gauge, "at the start"),
        field<&NotedBenchTest::held>("held", never, "0 min to 24 h", "1 min to 2 h", "how long"),
        field<&NotedBenchTest::drop>("drop", never, gauge, "0 bar to 1 bar", "that it fell by"),
    };
    return list;
}

std::span<const Field<NotedWitness>> Described<NotedWitness>::fields() {
    static const Field<NotedWitness> list[] = {
        field<&NotedWitness::hard>("hard", never, "the coupon was hard"),
        field<&NotedWitness::at>("at", never, "when it was looked at"),
    };
    return list;
}

std::span<const Field<PatchRecord>> Described<PatchRecord>::fields() {
    static constexpr std::string_view weighed = "above 0 g to 1000 kg", usual_weighed = "20 g to 50 kg";
    static const Field<PatchRecord> list[] = {
        field<&PatchRecord::id>("id", always, "of the patch, as on the day sheet"),
        field<&PatchRecord::outcome>("outcome", never,
                                     "what became of the sleeve; done when left out. Stripped: taken out before it "
                                     "set; failed: must be cut out or done again"),
        field<&PatchRecord::date>("date", never, "day of mixing; the plan's when left out"),
        note<&PatchRecord::who>("who", never, "did it"),
        field<&PatchRecord::measured_bore>("measured_bore", never, "10 mm to 3 m", "40 mm to 300 mm",
                                           "of the cleaned pipe"),
        field<&PatchRecord::pipe_temperature>("pipe_temperature", never, warmth, "0 C to 30 C",
                                              "of the pipe's wall, before mixing"),
        field<&PatchRecord::resin_temperature>("resin_temperature", never, warmth, "5 C to 35 C", "when A meets B"),
        field<&PatchRecord::air_temperature>("air_temperature", never, warmth, "-10 C to 38 C",
                                             "where the sleeve is wet out"),
        field<&PatchRecord::part_a>("part_a", never, weighed, usual_weighed,
                                    "weighed, for the mix that the sleeve was wet out from, all pots"),
        field<&PatchRecord::part_b>("part_b", never, weighed, usual_weighed, "the same of part B"),
        field<&PatchRecord::left_over>("left_over", never, "0 g to 1000 kg", "0 g to 5 kg",
                                       "of that mix, in pot and tray, when its sleeves were wet out; weighed. For the "
                                       "yard's resin_excess"),
        field<&PatchRecord::part_a_batch>("part_a_batch", never, "batch number on the can"),
        field<&PatchRecord::part_b_batch>("part_b_batch", never, "batch number on the can"),
        field<&PatchRecord::part_a_expiry>("part_a_expiry", never, "last day of use on the can"),
        field<&PatchRecord::part_b_expiry>("part_b_expiry", never, "last day of use on the can"),
        field<&PatchRecord::packer>("packer", never, "id of the packer that was used"),
        field<&PatchRecord::bench_test>("bench_test", never, "of the packer, before the resin was mixed"),
        field<&PatchRecord::mark>("mark", never, along, usual_along, "at which the packer was stopped"),
        field<&PatchRecord::mixed_at>("mixed_at", never, "A met B"),
        field<&PatchRecord::poured_at>("poured_at", never, "the pot was empty"),
        field<&PatchRecord::inflated_at>("inflated_at", never, "the packer was at its pressure"),
        field<&PatchRecord::creased_at>("creased_at", never, "the wrinkle check was over"),
        field<&PatchRecord::gelled_at>("gelled_at", never,
                                       "the witness drew no more threads, as seen; for the rate of the resin"),
        field<&PatchRecord::deflated_at>("deflated_at", never, "deflated; earlier than mixed_at: next day"),
        field<&PatchRecord::deflated_on>("deflated_on", never, "day of it, where it is not within 24 h of mixing"),
        field<&PatchRecord::pressures>("pressures", never, "start, half way, end"),
        field<&PatchRecord::temperatures>("temperatures", never, "while it cured"),
        field<&PatchRecord::witness>("witness", never, "coupon from the same mix"),
        field<&PatchRecord::starts_at>("starts_at", never, along, usual_along,
                                       "where the sleeve begins by the survey after, from the run's \"from\""),
        field<&PatchRecord::ends_at>("ends_at", never, along, usual_along, "where it ends"),
        field<&PatchRecord::stuck>("stuck", never, "the packer did not come out by itself"),
        field<&PatchRecord::film>("film", never, "number of the film of the survey after"),
        field<&PatchRecord::photos>("photos", never, "file names"),
        note<&PatchRecord::remark>("remark", never, "text"),
        noted<PatchRecord>(),
        note<&PatchRecord::ticked>("ticked", never, "boxes that were ticked on the sheet"),
    };
    return list;
}

std::span<const Field<LeakReading>> Described<LeakReading>::fields() {
    static const Field<LeakReading> list[] = {
        field<&LeakReading::after>("after", always, "0 min to 24 h", "0 min to 2 h", "since the clock was started"),
        field<&LeakReading::pressure>("pressure", always, "0 mbar to 2 bar", "0 mbar to 600 mbar",
                                      "by the gauge; of water at the crown"),
    };
    return list;
}

std::span<const Field<LeakRecord>> Described<LeakRecord>::fields() {
    static const Field<LeakRecord> list[] = {
        field<&LeakRecord::run>("run", always, "id of the run that was tested"),
        field<&LeakRecord::method>("method", always, "EN 1610 air LA to LD, ASTM F1417 air, EN 1610 water W"),
        field<&LeakRecord::date>("date", never, "day of the test"),
        note<&LeakRecord::who>("who", never, "did it"),
        field<&LeakRecord::between>("between", never, "which two places, where it was not the whole run"),
        field<&LeakRecord::length>("length", never, "above 0 m to 10 km", "0.3 m to 200 m",
                                   "tested; the run's when left out"),
        field<&LeakRecord::dry_concrete>("dry_concrete", never, "the pipe is of concrete and its wall was dry"),
        field<&LeakRecord::outside>("outside", never, "0 mbar to 2 bar", "0 mbar to 500 mbar",
                                    "pressure of ground water on the pipe, added to the test pressure of air"),
        field<&LeakRecord::settled>("settled", never, "0 min to 7 d", "1 min to 24 h",
                                    "at test pressure, or full of water, before the clock was started"),
        field<&LeakRecord::readings>("readings", never, "first at the start of the clock, last at its end"),
        field<&LeakRecord::added>("added", never, "0 l to 100 m3", "0 l to 100 l",
                                  "water that kept the level while the clock ran"),
        note<&LeakRecord::remark>("remark", never, "text"),
    };
    return list;
}

std::span<const Field<StepRecord>> Described<StepRecord>::fields() {
    static const Field<StepRecord> list[] = {
        field<&StepRecord::what>("what", always, "the task"),
        field<&StepRecord::from>("from", always, "clock"),
        field<&StepRecord::to>("to", always, "clock; earlier than from: after midnight"),
        field<&StepRecord::length>("length", never, "above 0 m to 10 km", "0.3 m to 200 m",
                                   "cleaned, or of the sleeve that was wet out: such a task says nothing without it"),
    };
    return list;
}

std::span<const Field<DayRecord>> Described<DayRecord>::fields() {
    static const Field<DayRecord> list[] = {
        field<&DayRecord::date>("date", never, "the day; by order when left out"),
        field<&DayRecord::left>("left", never, "the yard"),
        field<&DayRecord::back>("back", never, "in the yard"),
        note<&DayRecord::who>("who", never, "worked"),
        field<&DayRecord::steps>("steps", never, "how long tasks took, for the yard's own durations"),
        note<&DayRecord::remark>("remark", never, "text"),
    };
    return list;
}

std::span<const Field<SheetNotes>> Described<SheetNotes>::fields() {
    static const Field<SheetNotes> list[] = {
        note<&SheetNotes::kind>("kind", never, "as printed: Day sheet"),
        note<&SheetNotes::subject>("subject", never, "as printed: its day"),
        noted<SheetNotes>(),
        note<&SheetNotes::ticked>("ticked", never, "boxes that were ticked"),
    };
    return list;
}

std::span<const Field<Record>> Described<Record>::fields() {
    static const Field<Record> list[] = {
        {"patchwright_record", always, "version of the file's form", {"1"}, {}, read_version},
        field<&Record::job>("job", always, "reference of the job"),
        field<&Record::days>("days", never, "of the work"),
        field<&Record::patches>("patches", never, "an entry each time that a sleeve was mixed, the last one last"),
        field<&Record::tests>("tests", never, "acceptance tests, an entry each time"),
        field<&Record::sheets>("sheets", never, "what the page of a day sheet saved beside the patches"),
        note<&Record::remarks>("remarks", never, "on the whole job"),
    };
    return list;
}

}  // namespace patchwright::io
