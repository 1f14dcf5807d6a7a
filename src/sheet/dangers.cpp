#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "blocks.hpp"
#include "day_parts.hpp"
#include "words.hpp"

/// What can hurt on that day, in the job's own numbers; the cautions that hold for every day stand on the safety page.
namespace patchwright::sheet {
namespace {

/// The patch of the day with the largest of a figure.
template <class Value>
const plan::Patch& greatest(const Context& c, const Patches& patches, const Value& value) {
    return c.plan->patches[*std::max_element(patches.begin(), patches.end(), [&](std::size_t a, std::size_t b) {
        return value(c.plan->patches[a]) < value(c.plan->patches[b]);
    })];
}

std::string air_words(const Context& c, const Patches& patches) {
    const auto& p = greatest(c, patches, [](const plan::Patch& patch) { return patch.pressure.stored; });
    const auto& pulled = greatest(c, patches, [](const plan::Patch& patch) { return patch.pressure.on_fitting; });
    return fmt::format(
        "Air: {} in {} at {}, {} on an end fitting of {}. Barriers at both mouths, "
        "nobody in line with the pipe while a packer is up; relief valve as on the card.",
        shown(c, p, "energy"), p.id, shown(c, p, "pressure"), shown(c, pulled, "pull"), pulled.id);
}

std::string water_words(const Context& c, const Patches& patches) {
    const auto& p = greatest(c, patches, [](const plan::Patch& patch) { return patch.pressure.on_plug; });
    if (p.pressure.on_plug <= Force{}) return {};
    return fmt::format("Water: pushes a stopper in run {} with {}. Brace and tie it, nobody before the mouth.",
                       c.plan->run_of(p).id, shown(c, p, "plug-push"));
}

std::string resin_words(const Context& c, int day) {
    const plan::Batch* hottest = nullptr;
    bool isocyanate = false, styrene = false;
    for (const auto& batch : c.plan->batches) {
        if (batch.day != day) continue;
        if (hottest == nullptr || batch.bucket.hottest > hottest->bucket.hottest) hottest = &batch;
        const auto kind = c.plan->resin_of(batch).kind;
        isocyanate = isocyanate || kind == job::ResinKind::silicate_isocyanate;
        styrene = styrene || kind == job::ResinKind::polyester || kind == job::ResinKind::vinyl_ester;
    }
    if (hottest == nullptr) return {};
    auto words = fmt::format(
        "Resin: the {} of {} left in the pot are {} warmer after {}, gel after {} and go to {}: empty it by {}, spread "
        "the rest thin outside{}. Gloves and goggles on.",
        shown(c, *hottest, "pot-total"), hottest->id, show(c, Show::temperature_step, 10.0 * unit::K),
        shown(c, *hottest, "pot-alarm"), shown(c, *hottest, "pot"),
        show(c, Show::temperature, Temperature::celsius(std::ceil(hottest->bucket.hottest.in_celsius()))),
        shown(c, *hottest, "pour-by"),
        hottest->bucket.most > Mass{}
            ? fmt::format(", never more than {} in one", format_down(Show::big_mass, hottest->bucket.most, c.units))
            : "");
    if (isocyanate) words += " Isocyanate: nobody with asthma, mask on.";
    if (styrene) words += " Styrene: fill the traps, no flame, measure the air.";
    return words;
}

std::string heat_words(const Context& c, const Patches& patches) {
    const job::Heater* hottest = nullptr;
    for (const auto i : patches) {
        if (const int h = c.plan->patches[i].heater; h >= 0) {
            const auto& heater = c.yard().heaters[static_cast<std::size_t>(h)];
            if (hottest == nullptr || hottest->temperature < heater.temperature) hottest = &heater;
        }
    }
    if (hottest == nullptr) return {};
    return fmt::format(
        "Heat: hoses and fittings at {}{}. Gloves, hoses tied, heater level in the open air, its exhaust away from "
        "opening and windows, never left alone; cool before it is undone.",
        show(c, Show::temperature, hottest->temperature),
        hottest->medium == job::HeatMedium::water ? ", a burst hose scalds" : "");
}

std::string place_words(const Context& c, const Patches& patches) {
    const auto runs = runs_of(c, patches);
    Length deepest{};
    std::string at, words;
    bool traffic = false, running = false;
    for (const int r : runs) {
        const auto& run = c.job().runs[static_cast<std::size_t>(r)];
        if (run.depth > deepest) deepest = run.depth, at = run.id;
        traffic = traffic || *run.traffic != job::Traffic::none;
        running = running || std::any_of(run.defects.begin(), run.defects.end(),
                                         [](const job::Defect& d) { return d.inflow >= job::Inflow::running; });
    }
    if (deepest >= safety::entry_depth)
        words += fmt::format(" {} down in run {}: nobody goes in, gas meter at the opening.",
                             show(c, Show::run_distance, deepest), at);
    if (traffic) words += " Traffic over the pipe: signs and cones before the cover is lifted.";
    if (running) words += " Water runs through a defect: stop it first; while it runs, do not mix.";
    if (std::any_of(patches.begin(), patches.end(), [&](std::size_t i) { return cuts(c, i); }))
        words += " Cutter: start it in the pipe only, mask against dust.";
    return words.empty() ? words : "Place:" + words;
}

/// One goes in at a mouth that is barred for another: both mouths of a pipe under air are.
std::string mouth_words(const Context& c, int day, const Patches& patches) {
    const auto& tasks = c.plan->schedule.days[static_cast<std::size_t>(day)].tasks;
    std::string words;
    for (const auto i : patches) {
        const auto& p = c.plan->patches[i];
        const auto goes_in = std::find_if(tasks.begin(), tasks.end(), [&](const schedule::Task& task) {
            return task.patch == static_cast<int>(i) && task.what == schedule::What::position;
        });
        if (goes_in == tasks.end()) continue;
        std::string up;
        for (const auto other : patches) {
            const auto& run = c.plan->run_of(c.plan->patches[other]);
            const auto& times = c.plan->schedule.patches[other];
            const bool under_air = times.inflate <= goes_in->start && goes_in->start < times.let_down;
            if (other != i && under_air && (run.from == p.rigging.from || run.to == p.rigging.from))
                up += (up.empty() ? "" : ", ") + c.plan->patches[other].id;
        }
        if (!up.empty())
            words += fmt::format("{}{} goes in at {} while {} {} under air", words.empty() ? "" : "; ", p.id,
                                 p.rigging.from, up, up.find(',') == std::string::npos ? "is" : "are");
    }
    return words.empty() ? words : "Mouths: " + words + ". Stand beside a pipe under air, never in its line.";
}

}  // namespace

void add_dangers(const Context& c, int day, const Patches& patches, Sheet& sheet) {
    if (patches.empty()) return;
    sheet.blocks.push_back(heading("Dangers of this day"));
    Bullets list;
    for (auto& words : {air_words(c, patches), mouth_words(c, day, patches), water_words(c, patches),
                        resin_words(c, day), heat_words(c, patches), place_words(c, patches)}) {
        if (!words.empty()) list.items.push_back(words);
    }
    list.items.push_back(
        "Local codes, the resin's safety data sheet and licensed practice go first. The safety page "
        "of the job was read and signed by all: [  ]");
    sheet.blocks.push_back({std::move(list)});
}

namespace {

/// What to do when the supply is lost, which is not the same for all: shut-in air does not last in each.
std::string leak_words(const Context& c, const Patches& patches) {
    std::string never;
    std::size_t count = 0;
    for (const auto i : patches) {
        const auto& p = c.plan->patches[i];
        if (!never_shut_in(c, p)) continue;
        never += (never.empty() ? "" : ", ") + p.id;
        ++count;
    }
    const bool regulated = c.yard().limits.air == job::AirSupply::regulated;
    std::string words = "Leak, no compressor or power: ";
    if (count < patches.size())
        words += fmt::format("{}valve at the packer shut, gauge each five minutes",
                             regulated ? "raise to the card's \"air failing\" while there is air, " : "");
    if (count > 0)
        words += fmt::format("{}{}: do not shut in, keep the supply", count < patches.size() ? "; " : "", never);
    return words + ". Below the least pressure: before the gel it comes out, after it hold what there is.";
}

}  // namespace

void add_emergency(const Context& c, const Patches& patches, Sheet& sheet) {
    if (patches.empty()) return;
    // Sleeves with the same time together: "A-P1, A-P2 1 h 28 min after mixing".
    std::vector<std::pair<std::string, std::string>> gels;  // time, ids
    for (const auto i : patches) {
        const auto& p = c.plan->patches[i];
        const auto time = shown(c, p, "gel");
        const auto same = std::find_if(gels.begin(), gels.end(), [&](const auto& row) { return row.first == time; });
        if (same == gels.end())
            gels.emplace_back(time, p.id);
        else
            same->second += ", " + p.id;
    }
    std::string words;
    for (const auto& [time, ids] : gels)
        words += fmt::format("{}{} {} after mixing", words.empty() ? "" : "; ", ids, time);
    Card card;
    card.title = "If it goes wrong";
    card.subtitle = "until the sleeve gels: out; from then: hold";
    card.blocks.push_back(paragraph("The sleeve gels: " + words + "; by the clock on its card.", Emphasis::strong));
    card.blocks.push_back(
        paragraph("Until then a sleeve that cannot be held COMES OUT: deflate, pull out, strip the felt in the open, "
                  "clean the packer before it sets, mix afresh. From then on HOLD the pressure until the time to "
                  "deflate, never above the limit."));
    Bullets cases{{"Not inflated in time: do not inflate, it comes out.", leak_words(c, patches)}};
    for (const char* other :
         {"Water backs up: pump. It still rises: before the gel it comes out, after it pump and hold.",
          "Packer stuck: vent fully, valve open, wait until it has shrunk. "
          "Pull by hand from both ends in turn, never by vehicle, never cut a line under pressure. It does not come: "
          "ring the office.",
          "Someone unwell, or gas alarm: out, away from the opening, air on, call for help. Nobody goes in after."})
        cases.items.emplace_back(other);
    card.blocks.push_back({std::move(cases)});
    sheet.blocks.push_back({std::move(card)});
}

Sheet safety_sheet(const Context& c) {
    Sheet sheet;
    sheet.kind = "Safety page";
    sheet.title = c.job().title;
    sheet.reference = c.job().reference;
    sheet.subject = "once for the job";
    sheet.compact = true;
    sheet.blocks.push_back(
        paragraph("Read together before the first day, signed by everybody who works on this job, "
                  "kept with its papers. Each day's own dangers stand on its day sheet.",
                  Emphasis::strong));
    for (const auto* caution : c.plan->cautions) {
        sheet.blocks.push_back(
            {Caution{std::string{caution->title}, std::string{caution->text}, std::string{caution->source}}});
    }
    // One line for each of the crew with those hired for a day, and one for whoever comes besides.
    int persons = c.yard().rates.crew_size;
    for (const auto& day : c.plan->schedule.days)
        for (const auto& task : day.tasks)
            for (const int lane : task.lanes) persons = std::max(persons, lane);
    Signature names{{"Person 1 (lead)"}};
    for (int i = 2; i <= persons; ++i) names.labels.push_back(fmt::format("Person {}", i));
    names.labels.insert(names.labels.end(), {"Visitor", "Date"});
    sheet.blocks.push_back({std::move(names)});
    return sheet;
}

}  // namespace patchwright::sheet
