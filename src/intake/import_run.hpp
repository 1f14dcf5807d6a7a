#pragma once
#include <optional>
#include <string>
#include <vector>

#include "import_codes.hpp"
#include "import_text.hpp"
#include "patchwright/intake/draft.hpp"
#include "patchwright/intake/import.hpp"

/// One run between the survey's lines and the draft. Internal to the import.
namespace patchwright::intake {

constexpr Length longest_run = 10.0 * unit::km;

/// A quantity and, when it was typed with its unit, the text to keep.
template <class Q>
struct Measure {
    Q value{};
    std::string typed;
};

/// A defect or a fitting of a run.
struct Feature {
    Placed place;
    bool is_fitting = false;
    job::DefectKind defect = job::DefectKind::fissure;
    job::FittingKind fitting = job::FittingKind::bend;
    std::optional<Measure<Length>> at;
    std::optional<Measure<Length>> to;
    std::optional<Measure<Length>> size;  ///< of a junction and a size change: the bore
    std::optional<double> percent;
    bool percent_of_bore = false;  ///< a length that was given as a share of the bore
    std::optional<Angle> angle;
    std::optional<ClockRange> clock;
    std::optional<job::Inflow> inflow;
    std::optional<bool> surrounding_sound;
    std::string code, remark;
    /// Texts that begin with "?", for what the survey says and nobody could read; they go before the values above.
    struct Unread {
        std::string kind, at, to, size, angle, clock, inflow;
    } unread;
};

/// What many runs of a file may say alike; told once, with the names of the runs.
struct SharedNote {
    Placed place;
    std::string words;
    bool is_doubt = true;  ///< also a warning
};

/// Where a survey reached the far node.
struct FarNode {
    Placed place;
    Measure<Length> at;
};

struct RunInWork {
    Placed start;
    std::string id;
    std::string from, to;  ///< nodes at the zero and at the far end of the distances
    std::string access;
    std::optional<bool> against_flow;  ///< the camera went against the flow
    std::optional<Measure<Length>> length;
    std::optional<Measure<Length>> bore;
    std::string depth, joint_spacing;
    std::optional<job::Material> material;
    /// Texts that begin with "?"; they go before the values above.
    struct Unread {
        std::string length, bore, material;
    } unread;
    std::string location;  ///< street and town
    std::vector<FarNode> far_nodes;
    std::vector<Feature> features;
    std::vector<std::string> left_out;  ///< for the notes
    std::vector<std::string> seen;      ///< observations that decide nothing about patching
    std::vector<SharedNote> shared;
};

/// The length is where the far node was reached, else what was `said` (at `where`). What lies beyond stretches nothing:
/// it is told, and the reader of the job file points at it.
void settle_length(RunInWork& run, const std::optional<Measure<Length>>& said, const Placed* where, Faults& faults);

/// "? 14": text that no reader of the job file takes for a value.
std::string question(std::string_view raw);

/// Says it on the diagnostics and in the notes of the run.
void doubt(RunInWork& run, Faults& faults, const Placed& at, const std::string& message);
/// Says it on the diagnostics and in the remark of the feature.
void doubt(Feature& feature, Faults& faults, const Placed& at, const std::string& message);
/// An error whose text stays in the draft: `field` is the feature's text for the job file.
void ask(Feature& feature, std::string& field, Faults& faults, const Placed& at, const std::string& message);
/// A line that could not be taken apart, as a defect of no kind and no place.
Feature unread_line(const Placed& line);

/// "a; b", without the mark when one is empty.
std::string joined(const std::string& a, const std::string& b, const std::string& mark = "; ");

/// Quantity text for the job file: metres and millimetres, to the tenth of a millimetre, no needless zeros.
std::string metres_text(Length length);
std::string millimetres_text(Length length);
std::string share_text(double percent);

/// Turns round what was seen against the flow if that is wanted, brings the features in order, names them.
void add_run(Draft& draft, RunInWork run, bool with_flow, Faults& faults);

/// A list as notes of a length that a job file takes.
void add_notes(Draft& draft, const std::string& title, const std::vector<std::string>& items,
               const std::string& mark = "; ");

}  // namespace patchwright::intake
