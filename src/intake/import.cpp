#include "patchwright/intake/import.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "import_csv.hpp"
#include "import_map.hpp"
#include "import_xml.hpp"

namespace patchwright::intake {
namespace {

using namespace intake;

/// Some 3,000 runs in text; a bound on memory, not on work.
constexpr std::size_t max_bytes = 4'000'000;

/// A, B, ... Z, AA, AB, ...
std::string letters(std::size_t number) {
    std::string out;
    for (++number; number > 0; number = (number - 1) / 26)
        out.insert(out.begin(), static_cast<char>('A' + (number - 1) % 26));
    return out;
}

/// Names of runs, none twice. Quick however often one name is asked for.
class Names {
public:
    std::string unused(const std::string& wanted) {
        std::string name = wanted;
        for (int& again = times_[wanted]; !given_.insert(name).second;)
            name = fmt::format("{} ({})", wanted, again = std::max(2, again + 1));
        return name;
    }

private:
    std::set<std::string> given_;
    std::map<std::string, int> times_;  ///< the last number behind a name
};

/// A pipe that was seen from both ends stands in the draft twice; only a person can say what belongs together. Two
/// surveys of one pipe that do not agree on its flow are told too.
class Twins {
public:
    void add(Draft& draft, const RunInWork& run, Faults& faults) {
        if (run.from.empty() || run.to.empty() || run.from == run.to) return;
        std::string upstream;
        if (run.against_flow) upstream = *run.against_flow ? run.to : run.from;
        const auto [seen, is_new] = first_.try_emplace(std::minmax(run.from, run.to), Seen{run.id, upstream});
        if (is_new) return;
        draft.notes.push_back(
            fmt::format("Runs {} and {} lie between the same ends: if they are one pipe seen twice, "
                        "keep one of them.",
                        seen->second.id, run.id));
        if (upstream.empty() || seen->second.upstream.empty() || upstream == seen->second.upstream) return;
        const std::string words = fmt::format(
            "runs {} and {} lie between the same ends, but water would run in at \"{}\" "
            "in the one and at \"{}\" in the other",
            seen->second.id, run.id, seen->second.upstream, upstream);
        faults.warning(run.start, words);
        draft.notes.push_back(words + '.');
    }

private:
    struct Seen {
        std::string id, upstream;
    };
    std::map<std::pair<std::string, std::string>, Seen> first_;
};

/// What several runs say alike, once, in the order in which it was first said.
class SharedNotes {
public:
    void add(const RunInWork& run, Faults& faults) {
        for (const SharedNote& note : run.shared) {
            const auto [place, is_new] = places_.try_emplace(note.words, said_.size());
            if (is_new) said_.push_back({note.words, {}});
            if (is_new && note.is_doubt) faults.warning(note.place, note.words);
            said_[place->second].runs.push_back(run.id);
        }
    }

    void put(Draft& draft) const {
        for (const Said& said : said_) {
            const bool all = said.runs.size() == draft.runs.size();
            if (all && said.runs.size() > 1) {
                draft.notes.push_back("All runs: " + said.words + '.');
                continue;
            }
            std::vector<std::string> items{said.runs};
            items.back() += ": " + said.words;
            add_notes(draft, said.runs.size() == 1 ? "Run " : "Runs ", items, ", ");
        }
    }

private:
    struct Said {
        std::string words;
        std::vector<std::string> runs;
    };
    std::vector<Said> said_;
    std::map<std::string, std::size_t> places_;
};

/// Runs into the draft, with what they have in common.
class Collector {
public:
    Collector(const ImportOptions& options, Faults& faults, Imported& out)
        : options_{options}, faults_{faults}, out_{out} {}

    void add(RunInWork run) {
        shared_.add(run, faults_);
        twins_.add(out_.draft, run, faults_);
        if (!run.location.empty()) locations_[run.location].push_back(run.id);
        add_run(out_.draft, std::move(run), options_.with_flow, faults_);
    }

    void finish() {
        Draft& draft = out_.draft;
        shared_.put(draft);
        const bool one_place = locations_.size() == 1;
        if (one_place) draft.site_address = locations_.begin()->first;
        // An address that not all runs give may be that of a part of the job only.
        if (!one_place || locations_.begin()->second.size() < draft.runs.size())
            for (const auto& [location, runs] : locations_)
                draft.notes.push_back(fmt::format("Run {}{}: {}.", runs.front(),
                                                  runs.size() > 1 ? fmt::format(" and {} more", runs.size() - 1) : "",
                                                  location));
        for (DraftRun& run : draft.runs)
            if (run.depth.empty()) run.depth = options_.depth;
    }

private:
    const ImportOptions& options_;
    Faults& faults_;
    Imported& out_;
    Twins twins_;
    SharedNotes shared_;
    std::map<std::string, std::vector<std::string>> locations_;
};

void add_surveys(const std::vector<Survey>& surveys, Collector& collector, Faults& faults, Imported& out) {
    Names names;
    for (const Survey& survey : surveys) {
        out.observations += survey.seen.size();
        if (is_manhole(survey)) {
            const std::string words =
                fmt::format("the inspection of a manhole or chamber with {} observation{} is not read",
                            survey.seen.size(), survey.seen.size() == 1 ? "" : "s");
            faults.warning(survey.start, words);
            out.draft.notes.push_back(fmt::format("Survey line {}: {}.", survey.start.line, words));
            continue;
        }
        const Placed* name = find(survey.header, "AAA");
        const auto id = names.unused(name != nullptr ? as_name(name->text) : letters(out.draft.runs.size()));
        collector.add(run_of(survey, id, faults));
    }
}

}  // namespace

Imported import_survey(std::string_view bytes, std::string_view file, const ImportOptions& options) {
    Imported out;
    Faults faults{file};
    out.draft.reference = options.reference;
    out.draft.certainty = job::Certainty::survey;
    Collector collector{options, faults, out};
    const bool utf16 = bytes.starts_with("\xFF\xFE") || bytes.starts_with("\xFE\xFF");
    const std::size_t first = bytes.find_first_not_of("\xEF\xBB\xBF \t\r\n");
    if (bytes.size() > max_bytes && (first == std::string_view::npos || bytes[first] != '<')) {
        faults.error({"", 0, 0}, fmt::format("the file has {:.1f} MB; up to {} MB are read: split it into several",
                                             static_cast<double>(bytes.size()) / 1e6, max_bytes / 1'000'000));
    } else if (utf16 || bytes.find('\0') != std::string_view::npos) {
        faults.error({"", 0, 0}, utf16 ? "this is UTF-16 text: save it as UTF-8" : "this is no text file");
    } else if (first != std::string_view::npos && bytes[first] == '#') {
        const auto surveys = read_exchange(bytes, faults);
        add_surveys(surveys, collector, faults, out);
        if (surveys.empty()) faults.error({"", 0, 0}, "no survey found: a survey begins with a line #B01=");
    } else if (first != std::string_view::npos && bytes[first] == '<') {
        add_surveys(read_xml(bytes, faults), collector, faults, out);
    } else {
        auto table = read_csv(bytes, faults);
        out.observations = table.rows;
        if (table.us_units) out.draft.units = UnitSystem::us;
        for (RunInWork& run : table.runs) collector.add(std::move(run));
    }
    if (out.draft.runs.empty() && !faults.any_errors()) faults.error({"", 0, 0}, "the file holds no survey of a pipe");
    collector.finish();
    if (faults.given_up()) out.draft.runs.clear();  // a part of a survey is none
    out.diagnostics = faults.take();
    return out;
}

}  // namespace patchwright::intake
