#include "patchwright/survey/import.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "import_csv.hpp"
#include "import_map.hpp"

namespace patchwright::survey {
namespace {

using namespace intake;

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

/// A pipe that was seen from both ends stands in the draft twice; only a person can say what belongs together.
void tell_twins(Draft& draft) {
    std::map<std::pair<std::string, std::string>, std::string> first;
    for (const DraftRun& run : draft.runs) {
        if (run.from.empty() || run.to.empty()) continue;
        const auto [seen, is_new] = first.try_emplace({run.from, run.to}, run.id);
        if (is_new) continue;
        draft.notes.push_back(
            fmt::format("Runs {} and {} lie between the same ends: if they are one pipe seen twice, "
                        "keep one of them.",
                        seen->second, run.id));
    }
}

void read_surveys(std::string_view bytes, Faults& faults, Imported& out) {
    const auto surveys = read_exchange(bytes, faults);
    Names names;
    for (const Survey& survey : surveys) {
        out.observations += survey.seen.size();
        const Placed* name = find(survey.header, "AAA");
        const auto id = names.unused(name != nullptr ? as_name(name->text) : letters(out.draft.runs.size()));
        add_run(out.draft, run_of(survey, id, faults), faults);
        if (const Placed* date = find(survey.header, "ABF"))
            out.draft.notes.push_back(
                fmt::format("Run {}: surveyed on {}.", out.draft.runs.back().id, head(date->text, 100)));
    }
    if (surveys.empty()) faults.error({"", 0, 0}, "no survey found: a survey begins with a line #B01=");
}

}  // namespace

Imported import_survey(std::string_view bytes, std::string_view file, const ImportOptions& options) {
    Imported out;
    Faults faults{file};
    out.draft.reference = options.reference;
    out.draft.certainty = job::Certainty::survey;
    const bool utf16 = bytes.starts_with("\xFF\xFE") || bytes.starts_with("\xFE\xFF");
    const std::size_t first = bytes.find_first_not_of("\xEF\xBB\xBF \t\r\n");
    if (utf16 || bytes.find('\0') != std::string_view::npos) {
        faults.error({"", 0, 0}, utf16 ? "this is UTF-16 text: save it as UTF-8" : "this is no text file");
    } else if (first != std::string_view::npos && bytes[first] == '#') {
        read_surveys(bytes, faults, out);
    } else {
        auto table = read_csv(bytes, faults);
        out.observations = table.rows;
        if (table.us_units) out.draft.units = UnitSystem::us;
        for (RunInWork& run : table.runs) add_run(out.draft, std::move(run), faults);
    }
    for (DraftRun& run : out.draft.runs)
        if (run.depth.empty()) run.depth = options.depth;
    tell_twins(out.draft);
    out.diagnostics = faults.take();
    return out;
}

}  // namespace patchwright::survey
