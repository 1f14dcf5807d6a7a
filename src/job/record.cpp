#include "patchwright/job/record.hpp"

#include <algorithm>

#include "patchwright/job/words.hpp"

namespace patchwright::job {
namespace {

constexpr std::pair<std::string_view, SleeveOutcome> outcomes[] = {{"done", SleeveOutcome::done},
                                                                   {"stripped", SleeveOutcome::stripped},
                                                                   {"failed", SleeveOutcome::failed},
                                                                   {"not done", SleeveOutcome::not_done}};
constexpr std::pair<std::string_view, YesNo> answers[] = {{"yes", YesNo::yes}, {"no", YesNo::no}};
constexpr std::pair<std::string_view, Probe> probes[] = {
    {"pipe", Probe::pipe}, {"witness", Probe::witness}, {"sleeve", Probe::sleeve}};
constexpr std::pair<std::string_view, LeakMethod> leak_methods[] = {
    {"LA", LeakMethod::la}, {"LB", LeakMethod::lb},       {"LC", LeakMethod::lc},
    {"LD", LeakMethod::ld}, {"F1417", LeakMethod::f1417}, {"W", LeakMethod::w}};

constexpr std::pair<std::string_view, StepKind> step_kinds[] = {{"travel", StepKind::travel},
                                                                {"set up", StepKind::set_up},
                                                                {"open access", StepKind::open_access},
                                                                {"clean", StepKind::clean},
                                                                {"clean roots", StepKind::clean_roots},
                                                                {"flush", StepKind::flush},
                                                                {"survey", StepKind::survey},
                                                                {"flow control", StepKind::flow_control},
                                                                {"cut", StepKind::cut},
                                                                {"build", StepKind::build},
                                                                {"bench test", StepKind::bench_test},
                                                                {"wet-out", StepKind::wet_out},
                                                                {"load", StepKind::load},
                                                                {"position", StepKind::position},
                                                                {"inflate", StepKind::inflate},
                                                                {"crease", StepKind::crease},
                                                                {"let down", StepKind::let_down},
                                                                {"re-survey", StepKind::re_survey},
                                                                {"reopen", StepKind::reopen},
                                                                {"pack up", StepKind::pack_up},
                                                                {"dry", StepKind::dry}};

}  // namespace

WordList<SleeveOutcome> words_of(SleeveOutcome) { return outcomes; }
WordList<StepKind> words_of(StepKind) { return step_kinds; }
WordList<YesNo> words_of(YesNo) { return answers; }
WordList<Probe> words_of(Probe) { return probes; }
WordList<LeakMethod> words_of(LeakMethod) { return leak_methods; }

std::string_view word(SleeveOutcome v) { return word_in(words_of(v), v); }
std::string_view word(StepKind v) { return word_in(words_of(v), v); }
std::string_view word(YesNo v) { return word_in(words_of(v), v); }
std::string_view word(Probe v) { return word_in(words_of(v), v); }
std::string_view word(LeakMethod v) { return word_in(words_of(v), v); }

std::optional<Duration> PatchRecord::after_mixing(const std::optional<ClockTime>& then) const {
    if (!mixed_at || !then) return std::nullopt;
    constexpr int day = 24 * 60;
    return (then->minutes - mixed_at->minutes + (*then < *mixed_at ? day : 0)) * unit::minute;
}

std::optional<Duration> PatchRecord::deflated_after() const {
    if (!mixed_at || !deflated_at || !deflated_on || !date) return after_mixing(deflated_at);
    Duration after = (deflated_at->minutes - mixed_at->minutes) * unit::minute;
    for (Date day = *date; day < *deflated_on; day = next_day(day)) after += unit::day;
    return after;
}

const PatchRecord* Record::last_of(std::string_view patch) const {
    const auto found = std::find_if(patches.rbegin(), patches.rend(), [&](const auto& p) { return p.id == patch; });
    return found == patches.rend() ? nullptr : &*found;
}

}  // namespace patchwright::job
