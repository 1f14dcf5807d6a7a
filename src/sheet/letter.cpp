#include "letter.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "words.hpp"

namespace patchwright::sheet {
namespace {

Date after(Date date, int days) {
    for (int i = 0; i < days; ++i) date = next_day(date);
    return date;
}

int validity_days(const Context& c) {
    return c.job().validity_days.value_or(c.yard().firm.validity_days.value_or(c.yard().rates.validity_days));
}

}  // namespace

std::string_view damage_words(job::DefectKind kind) {
    using K = job::DefectKind;
    switch (kind) {
        case K::fissure:
            return "Crack";
        case K::fracture_break:
            return "Broken pipe";
        case K::collapse:
            return "Collapsed pipe";
        case K::deformation:
            return "Pipe out of round";
        case K::surface_damage:
            return "Worn pipe wall";
        case K::displaced_joint:
            return "Displaced joint";
        case K::defective_connection:
            return "Faulty branch connection";
        case K::intruding_connection:
            return "Branch pipe sticking in";
        case K::root_intrusion:
            return "Roots";
        case K::attached_deposit:
            return "Deposits on the wall";
        case K::infiltration:
            return "Ground water coming in";
        case K::exfiltration:
            return "Leak";
        case K::missing_wall:
            return "Hole in the pipe";
    }
    return "Damage";
}

namespace {

std::string place_words(const Context& c, const job::Defect& d) {
    auto words = show(c, Show::run_distance, d.at);
    if (d.to > d.at) words += " to " + show(c, Show::run_distance, d.to);
    return words;
}

/// "Patch, after root cutting"
std::string after_what(const job::Defect& d) {
    if (d.inflow >= job::Inflow::running) return "Patch, after stopping the water";
    switch (d.kind) {
        case job::DefectKind::root_intrusion:
            return "Patch, after root cutting";
        case job::DefectKind::attached_deposit:
            return "Patch, after removal of the deposits";
        case job::DefectKind::intruding_connection:
            return "Patch, after cutting back the branch pipe";
        case job::DefectKind::displaced_joint:
            return "Patch, after dressing the joint";
        case job::DefectKind::missing_wall:
            return "Patch, after filling the void behind the wall";
        default:
            return "Patch, after preparation of the wall";
    }
}

std::string drain_words(const job::Run& run) { return fmt::format("{}, {} to {}", run.id, run.from, run.to); }

/// Runs that share a condition: "A" or "A and C".
std::string runs_words(const std::vector<std::string>& runs) {
    std::string words;
    for (std::size_t i = 0; i < runs.size(); ++i)
        words += (i == 0 ? "" : i + 1 == runs.size() ? " and " : ", ") + runs[i];
    return (runs.size() == 1 ? "drain " : "drains ") + words;
}

}  // namespace

std::string one_line(const std::string& text) { return fmt::format("{}", fmt::join(filled_lines(text), ", ")); }

Fields firm_fields(const Context& c) {
    const auto& firm = c.yard().firm;
    Fields fields;
    fields.columns = 1;
    const auto given = [&](const char* label, const std::string& value) {
        if (!value.empty()) fields.fields.push_back({label, value});
    };
    fields.fields.push_back({"From", firm.name.empty() ? c.yard().name : firm.name, Emphasis::strong});
    given("Address", one_line(firm.address));
    given("Phone", firm.phone);
    given("Mail", firm.mail);
    given("Registration", firm.registration);
    given(firm.tax_name == "tax" ? "Tax no." : (firm.tax_name + " no.").c_str(), firm.tax_number);
    return fields;
}

std::string remedy_words(const Context& c, std::size_t run, std::size_t defect) {
    const auto& d = c.job().runs[run].defects[defect];
    const auto verdict = c.plan->runs[run].verdicts[defect].assessment.verdict;
    const bool digging_all = c.plan->offer.offered.lines.empty();
    if (verdict == survey::Verdict::look_again) return "Size to be confirmed by camera; not priced";
    if (verdict == survey::Verdict::dig) return "Excavate and renew the pipe; a patch cannot mend this";
    for (const auto& left : c.plan->not_planned) {
        const auto& defects = left.patch.defects;
        if (left.patch.run != static_cast<int>(run) ||
            std::find(defects.begin(), defects.end(), static_cast<int>(defect)) == defects.end())
            continue;
        return left.minutes > 0 ? "Patch on a longer working day; not priced in the total"
                                : "Patch under another condition; not priced in the total";
    }
    if (!in_a_patch(c, run, defect)) return "Excavate and renew the pipe; a patch does not fit here";
    if (digging_all) return "Excavate and renew the pipe";
    if (verdict == survey::Verdict::junction_piece) return "Patch with a branch piece; the connection stays open";
    if (verdict == survey::Verdict::prepare) return after_what(d);
    return "Patch";
}

Letter letter_of(const Context& c) {
    if (c.plan->offer.offered.lines.empty()) return Letter::advice;
    return c.plan->offer.estimate_only ? Letter::estimate : Letter::offer;
}

std::optional<Date> valid_until(const Context& c) {
    if (!c.job().offer_date) return std::nullopt;
    return after(*c.job().offer_date, validity_days(c));
}

void add_letterhead(const Context& c, Sheet& sheet) {
    const auto& job = c.job();
    const Letter letter = letter_of(c);
    Fields to;
    to.columns = 1;
    const auto field = [&](const char* label, const std::string& value) {
        to.fields.push_back({label, one_line(value)});
    };
    field("Customer", job.customer.name);
    field("Address", job.customer.address);
    if (!job.customer.site_address.empty()) field("Site", job.customer.site_address);
    if (letter == Letter::offer)
        to.fields.push_back(
            {"Offer no.",
             job.revision > 0 ? fmt::format("{}, revision {}", job.reference, job.revision) : job.reference,
             Emphasis::strong});
    to.fields.push_back({"Date", job.offer_date ? format(*job.offer_date) : ""});
    if (letter == Letter::offer)
        to.fields.push_back({"Valid until", job.offer_date
                                                ? format(*valid_until(c))
                                                : fmt::format("{} days from the date above", validity_days(c))});
    if (job.date && letter != Letter::advice) {
        const bool several = c.plan->schedule.days.size() > 1;
        to.fields.push_back({several ? "Work planned from" : "Work planned for", format(*job.date)});
    }
    std::vector<Block> from;
    if (c.logo != nullptr) from.push_back({*c.logo});
    from.push_back({firm_fields(c)});
    sheet.blocks.push_back({Columns{{{Block{std::move(to)}}, std::move(from)}, {0.55, 0.45}}});
}

void add_findings(const Context& c, Sheet& sheet) {
    Table table;
    table.columns = {{"Drain"}, {"At"}, {"Damage"}, {letter_of(c) == Letter::advice ? "Advice" : "Work"}};
    for (std::size_t r = 0; r < c.plan->runs.size(); ++r) {
        const auto& run = c.job().runs[r];
        for (std::size_t d = 0; d < run.defects.size(); ++d) {
            const auto& defect = run.defects[d];
            table.rows.push_back({drain_words(run), place_words(c, defect),
                                  fmt::format("{} ({})", damage_words(defect.kind), defect.id), remedy_words(c, r, d)});
        }
    }
    if (table.rows.empty()) return;
    using Certainty = job::Certainty;
    sheet.blocks.push_back(heading(c.job().certainty == Certainty::call    ? "What we were told"
                                   : c.job().certainty == Certainty::photo ? "What the photographs show"
                                                                           : "What the survey found"));
    sheet.blocks.push_back({table});
}

void add_excavations(const Context& c, const std::vector<excavation::Pit>& pits, Sheet& sheet) {
    if (pits.empty()) return;
    Table table;
    table.title = pits.size() == 1 ? "Excavation" : fmt::format("Excavations ({} no.)", pits.size());
    table.columns = {{"Drain"}, {"From"}, {"To"}, {"New pipe"}, {"Depth"}, {"Surface put back"}, {"For"}};
    for (const auto& pit : pits) {
        table.rows.push_back(
            {pit.run, show(c, Show::run_distance, pit.from), show(c, Show::run_distance, pit.to),
             show(c, Show::run_distance, pit.pipe_replaced), show(c, Show::run_distance, pit.trench.depth),
             fmt::format("{}, {}", job::word(pit.surface), show(c, Show::area, pit.surface_reinstated)),
             fmt::format("{}", fmt::join(pit.defects, ", "))});
    }
    sheet.blocks.push_back({table});
}

void add_scope(const Context& c, Sheet& sheet) {
    sheet.blocks.push_back(heading("Work included"));
    auto patches = c.plan->patches;
    std::sort(patches.begin(), patches.end(), [](const auto& a, const auto& b) { return a.id < b.id; });
    Table table;
    table.title = patches.size() == 1 ? "Patch repair" : fmt::format("Patch repairs ({} no.)", patches.size());
    table.columns = {{"Patch"}, {"Drain"}, {"From"}, {"To"}, {"Length"}, {"Bore"}, {"Liner thickness"}, {"Mends"}};
    for (const auto& p : patches) {
        const auto& run = c.plan->run_of(p);
        table.rows.push_back({p.id, fmt::format("{}, from {}", run.id, run.from), show(c, Show::run_distance, p.start),
                              show(c, Show::run_distance, p.end), show(c, Show::run_distance, p.length()),
                              show(c, Show::tape, p.bore), show(c, Show::thickness, p.felt.installed),
                              defect_ids(c, p)});
    }
    if (!patches.empty()) {
        sheet.blocks.push_back({table});
        sheet.blocks.push_back(
            paragraph("The drain is cleaned and surveyed by camera. A felt sleeve soaked with two-part resin is taken "
                      "in on an inflatable packer and pressed against the damaged wall until it has hardened; then the "
                      "drain is surveyed again. Included: travel, cleaning, CCTV survey before and after, material, "
                      "waste, and a record of "
                      "times and pressures for each patch."));
    }
    add_excavations(c, c.plan->offer.unavoidable_works.pits, sheet);
    if (!c.plan->offer.unavoidable_works.pits.empty())
        sheet.blocks.push_back(paragraph(
            "Included: permit, tracing of buried services, support of the sides, new pipe on a new bed, backfill, "
            "removal of surplus soil, and the surface put back."));
    std::vector<std::string> extras;
    for (const auto& extra : c.job().extras) extras.push_back(extra.words);
    if (!extras.empty()) sheet.blocks.push_back(paragraph(fmt::format("Also included: {}.", fmt::join(extras, ", "))));
}

std::vector<std::string> conditions(const Context& c) {
    std::vector<std::string> list;
    const auto assumed = [&](std::string_view what) {
        std::vector<std::string> runs;
        for (const auto& a : c.job().assumptions)
            if (a.what == what && a.where.starts_with("run ")) runs.push_back(a.where.substr(4));
        return runs;
    };
    const auto say = [&](std::string_view what, const char* sentence) {
        if (const auto runs = assumed(what); !runs.empty())
            list.push_back(fmt::format(fmt::runtime(sentence), runs_words(runs)));
    };
    const bool patched = !c.plan->patches.empty();
    const auto& pits = c.plan->offer.unavoidable_works.pits;
    if (patched) {
        say("water table", "Ground water stands below {}.");
        say("condition", "Apart from the places named, the pipe of {} still carries the ground above it.");
        say("ovality", "Apart from the places named, the pipe of {} is round.");
        say("traffic above", "No heavy vehicles pass over {}.");
        for (const auto& run : assumed("access"))
            for (const auto& r : c.job().runs)
                if (r.id == run) list.push_back(fmt::format("Drain {} can be opened and reached at {}.", run, r.from));
        for (const auto& flow : c.plan->flows) {
            const auto& id = c.plan->run_of(flow).id;
            const double hours = std::ceil(flow.blocked.in(unit::h)*2.0 - 1e-9) / 2.0;
            if (hours > 0.0)
                list.push_back(
                    fmt::format("No water is used on drain {} for about {} h on the day of the work.", id, hours));
        }
    }
    if (!pits.empty()) {
        for (const auto& a : c.job().assumptions) {
            if (a.where != "dig") continue;
            if (a.what == "surface") list.push_back(fmt::format("The surface over the excavation is {}.", a.value));
            if (a.what == "soil") list.emplace_back("The ground is ordinary backfill without rock.");
        }
    }
    return list;
}

}  // namespace patchwright::sheet
