#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <set>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "blocks.hpp"
#include "day_parts.hpp"
#include "words.hpp"

/// What to load, from what the work uses.
namespace patchwright::sheet {
namespace {

/// What the patches call for, gathered once.
struct Uses {
    std::vector<const plan::Batch*> mixes;
    std::set<int> shut;  ///< runs that the water is kept out of
    bool film = false, cutting = false, roots = false;
    std::string leaks;  ///< defects that water runs in through
    Length deepest{}, rods{}, straps{};
    std::map<int, std::vector<std::string>> heated;  ///< by heater: the patches
};

bool has_roots(const job::Run& run) {
    return std::any_of(run.defects.begin(), run.defects.end(),
                       [](const job::Defect& d) { return d.kind == job::DefectKind::root_intrusion; });
}

Uses uses_of(const Context& c, const std::vector<std::size_t>& patches) {
    Uses uses;
    for (const auto i : patches) {
        const auto& p = c.plan->patches[i];
        const auto& run = c.plan->run_of(p);
        const auto kind = c.plan->resin_of(p).kind;
        if (!p.option.packer.flow_through) uses.shut.insert(p.run);
        uses.film = uses.film || packer::contact(p.option.packer.material, kind) == packer::Contact::film_needed;
        uses.cutting = uses.cutting || cuts(c, i);
        if (p.heater >= 0) uses.heated[p.heater].push_back(p.id);
        uses.deepest = std::max(uses.deepest, run.depth);
        auto& line = p.rigging.method == packer::Method::pull ? uses.straps : uses.rods;
        line = std::max(line, p.rigging.line);
        // All roots of a run are cut on its first day, those under the sleeves of later days too.
        uses.roots = uses.roots || (!cleaned_before(c, i) && has_roots(run));
        for (const int d : p.defects) {
            const auto& defect = run.defects[static_cast<std::size_t>(d)];
            if (defect.inflow >= job::Inflow::running) uses.leaks += (uses.leaks.empty() ? "" : ", ") + defect.id;
        }
    }
    for (const auto& batch : c.plan->batches) {
        const auto& of = batch.batch.patches;
        if (std::any_of(of.begin(), of.end(), [&](int p) {
                return std::find(patches.begin(), patches.end(), static_cast<std::size_t>(p)) != patches.end();
            }))
            uses.mixes.push_back(&batch);
    }
    return uses;
}

/// One sleeve of each felt and number of layers, large enough for any that the day lays of it.
void add_spare_felt(const Context& c, const std::vector<std::size_t>& patches, Ticks& ticks) {
    struct Size {
        Length length{}, width{};
    };
    std::map<std::pair<int, std::size_t>, Size> spare;
    for (const auto i : patches) {
        const auto& p = c.plan->patches[i];
        auto& size = spare[{p.felt.felt, p.cut.pieces.size()}];
        for (const auto& piece : p.cut.pieces)
            size = {std::max(size.length, piece.length), std::max(size.width, piece.width)};
    }
    for (const auto& [of, size] : spare) {
        const auto& [felt, layers] = of;
        ticks.items.push_back(fmt::format(
            "Spare felt, one sleeve: {}, {} x {}{}", c.yard().felts[static_cast<std::size_t>(felt)].id,
            cut_size(c, size.length), cut_size(c, size.width), layers > 1 ? fmt::format(", {} layers", layers) : ""));
    }
}

void add_felt(const Context& c, const std::vector<std::size_t>& patches, Ticks& ticks) {
    for (const auto i : patches) {
        const auto& p = c.plan->patches[i];
        const auto& felt = c.yard().felts[static_cast<std::size_t>(p.felt.felt)];
        for (const auto& piece : p.cut.pieces) {
            ticks.items.push_back(fmt::format("Felt {} for {}: {} x {}", felt.id, p.id, cut_size(c, piece.length),
                                              cut_size(c, piece.width)));
        }
    }
    add_spare_felt(c, patches, ticks);
}

/// How many of these are going on at one time, at the most, on one day.
class AtOnce {
public:
    void add(int day, schedule::Minute from, schedule::Minute to) { spans_.push_back({day, from, to}); }
    std::size_t most() const {
        std::size_t most = 0;
        for (const auto& one : spans_)
            most = std::max(
                most, static_cast<std::size_t>(std::count_if(spans_.begin(), spans_.end(), [&](const Span& other) {
                    return other.day == one.day && other.from <= one.from && one.from < other.to;
                })));
        return most;
    }

private:
    struct Span {
        int day;
        schedule::Minute from, to;
    };
    std::vector<Span> spans_;
};

std::size_t packers_up_at_once(const Context& c, const std::vector<std::size_t>& patches) {
    AtOnce up;
    for (const auto i : patches) {
        const auto& times = c.plan->schedule.patches[i];
        up.add(times.day, times.inflate, times.let_down);
    }
    return up.most();
}

std::size_t machines_at_once(const Context& c, const std::vector<std::size_t>& patches, schedule::Machine machine) {
    AtOnce uses;
    std::set<int> days;
    for (const auto i : patches) days.insert(c.plan->schedule.patches[i].day);
    days.erase(-1);
    for (const int day : days)
        for (const auto& task : c.plan->schedule.days[static_cast<std::size_t>(day)].tasks)
            if (schedule::machine_for(task.what) == machine) uses.add(day, task.start, task.finish);
    return uses.most();
}

using Carried = std::vector<std::size_t>;  ///< patches that one packer carries

/// The packer does for that patch what its card says: same place and way in, and it bears the card's pressures.
bool can_replace(const Context& c, const job::Packer& other, const plan::Patch& p) {
    const auto& own = p.option.packer;
    if (other.shape != own.shape || other.rated_pressure < p.pressure.maximum ||
        other.fill_pressure > own.fill_pressure)
        return false;
    Working unnamed = Working::off();
    const auto ways = packer::riggings(c.plan->run_of(p), c.yard(), {other, false, -1, -1}, p.start, p.end,
                                       p.felt.installed, unnamed);
    return std::any_of(ways.begin(), ways.end(), [&](const packer::Rigging& way) {
        return way.from == p.rigging.from && way.method == p.rigging.method &&
               (p.rigging.restraint_sleeve || !way.restraint_sleeve);
    });
}

struct Spare {
    std::string words;
    bool film = false;  ///< it needs a film, which the packers in use may not
};

/// Another packer of the yard that would do for all of them, with the words that stand for it.
Spare spare_for(const Context& c, const Carried& patches, const std::map<std::string, int>& used) {
    const auto& option = c.plan->patches[patches.front()].option;
    const auto& own = option.packer;
    const int in_pipe = used.at(own.id);
    if (!option.to_build && own.count > in_pipe)
        return {fmt::format("another {} (the yard has {})", own.id, own.count), false};
    const auto contact = [&](const job::BladderMaterial material) {
        auto worst = packer::Contact::allowed;
        for (const auto i : patches) {
            const auto& resin = c.yard().resins[static_cast<std::size_t>(c.plan->patches[i].resin)];
            worst = std::max(worst, packer::contact(material, resin.kind));
        }
        return worst;
    };
    for (const auto wanted : {packer::Contact::allowed, packer::Contact::film_needed}) {
        for (const auto& other : c.yard().packers) {
            const auto busy = used.find(other.id);
            if (other.id == own.id || other.count <= (busy == used.end() ? 0 : busy->second) ||
                contact(other.material) != wanted)
                continue;
            const bool does = std::all_of(patches.begin(), patches.end(),
                                          [&](std::size_t i) { return can_replace(c, other, c.plan->patches[i]); });
            const bool film = wanted == packer::Contact::film_needed;
            if (does) return {film ? other.id + ", with separating film" : other.id, film};
        }
    }
    return {fmt::format("the yard has no {} packer for {}: a spare bladder with tape and clamps",
                        in_pipe > 1 ? "further" : "second", own.id),
            false};
}

/// Packers that are built for the day, each with its own length of bladder.
void add_builds(const Context& c, const Carried& patches, Ticks& ticks) {
    std::set<int> days;
    for (const auto i : patches) days.insert(c.plan->schedule.patches[i].day);
    for (const int day : days) {
        for (const auto& build : plan::builds_of_day(*c.plan, day)) {
            const auto& p = c.plan->patches[build.patches.front()];
            const auto bladder = show(c, Show::tape, p.build->bladder_cut);
            const auto ids = patch_ids(c, build.patches);
            ticks.items.push_back(
                build.again ? fmt::format("Bladder of {}, {} for {}, with tape, clamps and tools: built on site",
                                          p.option.packer.id, bladder, ids)
                            : fmt::format("{}Packer {} ({}), bladder {}, for {}: to build, then bench test",
                                          build.count > 1 ? fmt::format("{} x ", build.count) : std::string{},
                                          p.option.packer.id, job::word(p.option.packer.material), bladder, ids));
        }
    }
}

/// True when a spare needs a film.
bool add_packers(const Context& c, const Carried& patches, Ticks& ticks) {
    std::map<std::string, Carried> packers;
    for (const auto i : patches) packers[c.plan->patches[i].option.packer.id].push_back(i);
    std::map<std::string, int> used;
    for (const auto& [id, carried] : packers) used[id] = plan::packers_at_once(*c.plan, carried);
    for (const auto& [id, carried] : packers) {
        const auto& option = c.plan->patches[carried.front()].option;
        if (option.to_build) continue;
        ticks.items.push_back(fmt::format("{}Packer {} ({}), {}",
                                          used[id] > 1 ? fmt::format("{} x ", used[id]) : std::string{}, id,
                                          job::word(option.packer.material), "bench tested"));
    }
    add_builds(c, patches, ticks);
    std::set<std::string> spares;
    bool film = false;
    for (const auto& [id, carried] : packers) {
        const auto spare = spare_for(c, carried, used);
        spares.insert("Spare: " + spare.words);
        film = film || spare.film;
    }
    // One that stands in for its like and for another is one packer all the same.
    for (const auto& [id, carried] : packers)
        if (std::any_of(spares.begin(), spares.end(), [&id = id](const std::string& words) {
                return words.starts_with("Spare: another " + id + " ");
            }))
            spares.erase("Spare: " + id);
    ticks.items.insert(ticks.items.end(), spares.begin(), spares.end());
    return film;
}

void add_resin(const Context& c, const Uses& uses, Ticks& ticks) {
    struct Sum {
        Mass a{}, b{};
        const plan::Batch* largest = nullptr;
    };
    std::map<std::pair<int, Temperature>, Sum> resins;
    const auto as_it_comes = c.job().site.resin_temperature.value_or(c.yard().limits.resin_temperature);
    for (const auto* mix : uses.mixes) {
        const auto& first = c.plan->patches[static_cast<std::size_t>(mix->batch.patches.front())];
        auto& sum = resins[{mix->resin, *first.conditions.resin}];
        sum.a += mix->batch.part_a;
        sum.b += mix->batch.part_b;
        if (sum.largest == nullptr || mix->batch.total > sum.largest->batch.total) sum.largest = mix;
    }
    for (const auto& [kind, sum] : resins) {
        const auto [place, at] = kind;
        ticks.items.push_back(fmt::format("Resin {}: {} in all mixes (A {}, B {}), in date, at {}",
                                          c.yard().resins[static_cast<std::size_t>(place)].id,
                                          show(c, Show::scale_mass, sum.a + sum.b), show(c, Show::scale_mass, sum.a),
                                          show(c, Show::scale_mass, sum.b), show(c, Show::temperature, at)));
        ticks.items.push_back(fmt::format("Spare resin {}, one mix: A {}, B {}",
                                          c.yard().resins[static_cast<std::size_t>(place)].id,
                                          shown(c, *sum.largest, "part-a"), shown(c, *sum.largest, "part-b")));
        if (at == as_it_comes) continue;
        ticks.items.push_back(fmt::format("{} for resin {}, to bring both parts to {}; thermometer",
                                          at < as_it_comes ? "Cool box with ice packs" : "Warming box",
                                          c.yard().resins[static_cast<std::size_t>(place)].id,
                                          show(c, Show::temperature, at)));
    }
}

std::string heater_words(const job::Heater& heater, const std::vector<std::string>& of, const Context& c) {
    return fmt::format("Heater {} ({} {}) for {}: hoses, thermometer in the return, fuel or power, fire extinguisher",
                       heater.id, job::word(heater.medium), show(c, Show::temperature, heater.temperature),
                       fmt::join(of, ", "));
}

/// What brings the packers in, as long as the rule of the way in wants it, up to the next half metre or foot.
void add_lines(const Context& c, const Uses& uses, Ticks& ticks) {
    const Length step = c.units == UnitSystem::us ? unit::ft : 0.5 * unit::m;
    const auto add = [&](Length line, std::string_view what) {
        if (line <= Length{}) return;
        const Length up = std::ceil(line / step - 1e-9) * step;
        ticks.items.push_back(
            fmt::format("{}, marking tape, air line: {} at least", what, show(c, Show::run_distance, up)));
    };
    add(uses.rods, "Rods");
    add(uses.straps, "Two straps");
}

void add_water_gear(const Context& c, const Uses& uses, const Patches& patches, Ticks& ticks) {
    bool unknown = false;
    std::map<Length, std::string> stoppers;  // by bore: runs
    VolumeFlow pump{};
    int pumps = 0;
    for (const auto& flow : c.plan->flows) {
        if (!uses.shut.count(flow.run)) continue;
        const auto& run = c.plan->run_of(flow);
        if (flow.known && run.flow && run.flow->inflow <= VolumeFlow{}) continue;
        auto& runs = stoppers[run.bore];
        runs += (runs.empty() ? "run " : ", ") + run.id;
        unknown = unknown || !flow.known;
        if (wants_pump(c, flow, patches)) {
            pump = std::max(pump, run.flow->inflow);
            ++pumps;
        }
    }
    std::string sizes;
    for (const auto& [bore, runs] : stoppers)
        sizes += fmt::format("{}{} ({})", sizes.empty() ? "" : ", ", show(c, Show::tape, bore), runs);
    if (!sizes.empty())
        ticks.items.push_back("Stopper with brace and tie, for each mouth that water comes to: " + sizes);
    if (pump > VolumeFlow{})
        ticks.items.push_back(fmt::format("{} and a standby pump, each {} at least, hoses",
                                          pumps > 1 ? fmt::format("{} pumps", pumps) : "Pump",
                                          format_up(Show::flow, pump, c.units)));
    else if (unknown)
        ticks.items.push_back("Pump and hoses (nobody knows the flow), bucket and watch to measure it");
}

}  // namespace

void add_load_list(const Context& c, const std::vector<std::size_t>& patches, Sheet& sheet) {
    sheet.blocks.push_back(heading("Load before leaving"));
    const auto uses = uses_of(c, patches);
    Ticks ticks;
    add_felt(c, patches, ticks);
    const bool spare_film = add_packers(c, patches, ticks);
    add_resin(c, uses, ticks);
    const auto add = [&](bool wanted, std::string words) {
        if (wanted) ticks.items.push_back(std::move(words));
    };
    add(uses.film || spare_film, "Separating film for rubber bladders");
    ticks.items.push_back(fmt::format("Scale ({}), pots, stirrers, roller, table sheet, timer, thermometers",
                                      c.units == UnitSystem::us ? "0.1 oz" : "1 g"));
    const auto up = packers_up_at_once(c, patches);
    ticks.items.push_back(
        fmt::format("Compressor; {}air line, regulator, gauge, relief valve, shut-off, whip checks; barriers",
                    up > 1 ? fmt::format("{} each of ", up) : ""));
    for (const auto& [heater, of] : uses.heated)
        ticks.items.push_back(heater_words(c.yard().heaters[static_cast<std::size_t>(heater)], of, c));
    add_lines(c, uses, ticks);
    using schedule::Machine;
    const auto several = [&](Machine machine, const char* one, const char* more) {
        const auto count = machines_at_once(c, patches, machine);
        return count > 1 ? fmt::format("{} {}", count, more) : std::string{one};
    };
    ticks.items.push_back(fmt::format("{}{}, {}", several(Machine::jetter, "Jetter", "jetters"),
                                      uses.roots ? " with root cutter" : "",
                                      several(Machine::camera, "camera", "cameras")));
    add_water_gear(c, uses, patches, ticks);
    add(!uses.leaks.empty(), "Grout or injection gel with its pump, for the water at " + uses.leaks);
    add(uses.cutting, several(Machine::cutter, "Cutter", "cutters") + " with guard, brush edge, mask for dust");
    // Gas gathers in shallow openings too: the safety page wants the meter at each.
    ticks.items.push_back(uses.deepest >= safety::entry_depth ? "Gas meter, winch and harness at the opening"
                                                              : "Gas meter at the opening");
    ticks.items.push_back(
        "Gloves, goggles, overalls, first aid, resin data sheets, spill sand, bags for the witness, this sheet");
    sheet.blocks.push_back({std::move(ticks)});
}

}  // namespace patchwright::sheet
