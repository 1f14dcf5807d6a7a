#include <fmt/format.h>

#include "blocks.hpp"
#include "day_parts.hpp"
#include "words.hpp"

/// What the crew finds in the pipe: sleeves that cured overnight.
namespace patchwright::sheet {

void add_since_yesterday(const Context& c, int day, Sheet& sheet) {
    Bullets list;
    for (const auto& task : c.plan->schedule.days[static_cast<std::size_t>(day)].tasks) {
        if (task.what != schedule::What::let_down || !task.patch) continue;
        const auto i = static_cast<std::size_t>(*task.patch);
        const auto& t = c.plan->schedule.patches[i];
        if (t.day == day) continue;
        const auto& p = c.plan->patches[i];
        list.items.push_back(fmt::format(
            "{} in run {}, mark at {} from {}, packer {}: set at {}, never above {}. Mixed {} on the day before by "
            "plan; "
            "DEFLATE from {} on, not before {} after mixing, and only when the witness is hard; not hard: hold it and "
            "ring the office.",
            p.id, c.plan->run_of(p).id, shown(c, p, "mark"), p.rigging.from, p.option.packer.id,
            shown(c, p, "pressure"), shown(c, p, "most-pressure"), clock_text(t.mix), clock_text(task.start),
            shown(c, p, "let-down")));
    }
    if (list.items.empty()) return;
    Card card;
    card.title = "In the pipe since the day before";
    card.subtitle = "packers under air, energy in each as on its card";
    list.items.push_back(
        "Before anything else: gauge and time written down, barriers at both mouths, nobody in line with the pipe "
        "until "
        "it is vented. Less on the gauge than the least on the card: keep the time, look at it with the camera.");
    card.blocks.push_back({std::move(list)});
    Fields blanks;
    blanks.columns = 3;
    for (const char* label : {"Gauge found at, time", "Witness hard y/n, at", "Deflated at"})
        blanks.fields.push_back({label, ""});
    card.blocks.push_back({std::move(blanks)});
    sheet.blocks.push_back({std::move(card)});
}

}  // namespace patchwright::sheet
