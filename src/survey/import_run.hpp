#pragma once
#include <optional>
#include <string>
#include <vector>

#include "import_codes.hpp"
#include "import_text.hpp"
#include "patchwright/survey/draft.hpp"
#include "patchwright/survey/import.hpp"

/// One run between the survey's lines and the draft. Internal to the import.
namespace patchwright::survey::intake {

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
    Measure<Length> at;
    std::optional<Measure<Length>> to;
    std::optional<Measure<Length>> size;  ///< of a junction and a size change: the bore
    std::optional<double> percent;
    bool percent_of_bore = false;  ///< a length that was given as a share of the bore
    std::optional<Angle> angle;
    std::optional<ClockRange> clock;
    std::optional<job::Inflow> inflow;
    std::optional<bool> surrounding_sound;
    std::string code, remark;
};

struct RunInWork {
    Placed start;
    std::string id;
    std::string from, to;  ///< nodes at the zero and at the far end of the distances
    std::string access;
    bool against_flow = false;  ///< distances still run against the flow and are to be turned round
    std::optional<Measure<Length>> length;
    std::optional<Measure<Length>> bore;
    std::string depth;
    std::optional<job::Material> material;
    std::vector<Feature> features;
    std::vector<std::string> left_out;  ///< for the notes
    std::vector<std::string> seen;      ///< observations that decide nothing about patching
};

/// Says it on the diagnostics and in the notes of the run.
void doubt(RunInWork& run, Faults& faults, const Placed& at, const std::string& message);

/// Quantity text for the job file: metres and millimetres, to the tenth of a millimetre, no needless zeros.
std::string metres_text(Length length);
std::string millimetres_text(Length length);
std::string share_text(double percent);

/// Turns round what was seen against the flow, brings the features in order, names them.
void add_run(Draft& draft, RunInWork run, Faults& faults);

}  // namespace patchwright::survey::intake
