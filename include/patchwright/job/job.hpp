#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/job/place.hpp"
#include "patchwright/job/terms.hpp"
#include "patchwright/units/format.hpp"
#include "patchwright/units/parse.hpp"
#include "patchwright/working/working.hpp"

/// The job file as typed data. Filled by `io/read.hpp`; nothing here computes.
namespace patchwright::job {

enum class Certainty : std::uint8_t { call, photo, survey };
enum class Material : std::uint8_t { clay, concrete, cast_iron, pvc_u, asbestos_cement, pitch_fibre, other };
enum class Condition : std::uint8_t { partially_deteriorated, fully_deteriorated };
enum class Surface : std::uint8_t { grass, block, asphalt, concrete };
enum class Soil : std::uint8_t { a, b, c, rock };
enum class Traffic : std::uint8_t { none, highway, railway, aircraft };  ///< what passes over the pipe
enum class FittingKind : std::uint8_t { bend, junction, size_change };
enum class DefectKind : std::uint8_t {
    fissure,
    fracture_break,
    collapse,
    deformation,
    surface_damage,
    displaced_joint,
    defective_connection,
    intruding_connection,
    root_intrusion,
    attached_deposit,
    infiltration,
    exfiltration,
    missing_wall,
};
/// How strongly water comes through the defect, as the survey saw it.
enum class Inflow : std::uint8_t { none, sweating, dripping, running, gushing };

/// The plain word of the job file: "pitch fibre", "displaced joint".
std::string_view word(Certainty v);
std::string_view word(Material v);
std::string_view word(Condition v);
std::string_view word(Surface v);
std::string_view word(Soil v);
std::string_view word(Traffic v);
std::string_view word(FittingKind v);
std::string_view word(DefectKind v);
std::string_view word(Inflow v);

/// A default that was used because the file said nothing. Every sheet that shows a figure resting on it prints it.
struct Assumption {
    std::string where;  ///< "run A", "defect A2", "yard"
    std::string what;   ///< "ovality"
    std::string value;  ///< "2 %", as shown
    std::string why;    ///< "not in the job file; default of the specifications", one clause
};

struct Fitting {
    std::string id;  ///< "bend at 6.80 m" when the file gives none
    Length at{};     ///< middle of the fitting, from the run's `from`
    FittingKind kind = FittingKind::bend;
    Angle angle{};                    ///< bends
    std::optional<Length> radius;     ///< centre-line radius of a bend; by table when absent
    Length bore{};                    ///< junctions: bore of the branch; size changes: bore beyond
    std::optional<ClockRange> clock;  ///< junctions
    bool live = true;                 ///< junctions: carries flow, must stay open
};

struct Defect {
    std::string id;
    Length at{};
    Length to{};  ///< equals `at` when the file gives none
    DefectKind kind = DefectKind::fissure;
    std::string code;  ///< EN 13508-2, may be empty
    std::optional<ClockRange> clock;
    std::optional<Length> size;          ///< openings, steps, holes, protrusions
    std::optional<double> size_percent;  ///< deformation, roots, deposits: of the bore (deformation) or the area
    Inflow inflow = Inflow::none;
    std::optional<bool> surrounding_sound;  ///< the wall behind and beside a hole is sound and no void was seen
    std::string remark;
};

/// Flow that arrives while the pipe is blocked.
struct Flow {
    VolumeFlow inflow{};
    Volume storage{};
};

struct Run {
    std::string id, from, to;
    Length length{};
    Length bore{};                        ///< as surveyed, or the maker's nominal
    std::optional<Length> measured_bore;  ///< after cleaning; used in place of `bore`
    Length counter_offset{};              ///< added to every distance of the survey on reading
    Material material = Material::other;
    Sourced<Condition> condition{Condition::partially_deteriorated};
    Sourced<double> ovality{2.0};                  ///< percent, F1216 q
    Length depth{};                                ///< ground to invert
    Sourced<std::optional<Length>> water_table{};  ///< below ground; nullopt: below the invert
    Sourced<Temperature> ground_temperature{};     ///< of the pipe wall
    std::vector<std::string> access;               ///< node names from which the crew can work
    std::optional<Length> chamber_opening;         ///< clear width of its chambers along the pipe, the narrower counts
    std::optional<Flow> flow;
    std::optional<std::string> resin;     ///< id in the yard
    std::optional<Length> joint_spacing;  ///< length of one pipe, joints at multiples from `from`
    Sourced<Traffic> traffic{Traffic::none};
    bool reopening_allowed = false;  ///< a live connection may be covered and cut open again
    std::vector<Fitting> fittings;   ///< in order of `at`
    std::vector<Defect> defects;     ///< in the file's order

    Length working_bore() const { return measured_bore.value_or(bore); }
    bool access_at_from() const;
    bool access_at_to() const;
};

struct Site {
    ClockTime start{8 * 60}, finish{16 * 60 + 30};
    std::optional<Duration> travel;  ///< one way
    Sourced<Temperature> air_temperature{};
    std::optional<Temperature> resin_temperature;
    std::optional<Temperature> van_temperature;
    std::optional<Date> earliest, latest;    ///< of every day of work there
    std::optional<Hours> window;             ///< somebody is there: all work on site lies within
    std::optional<Coordinates> coordinates;  ///< of the place
    std::string emergency, hospital;         ///< number to ring, and the nearest
};

struct Dig {
    Sourced<Surface> surface{Surface::concrete};
    Sourced<Soil> soil{Soil::c};
    bool hand_dig_only = false;
    bool services_near = false;
    std::string customer_note;
};

struct Customer {
    std::string name, address, site_address, phone;
};

struct Job {
    std::string reference, title;
    std::optional<Date> date;
    UnitSystem units = UnitSystem::metric;
    Certainty certainty = Certainty::survey;
    Customer customer;
    Site site;
    std::vector<Run> runs;
    Dig dig;
    PriceWish price;
    std::vector<Extra> extras;
    int revision = 0;                  ///< of the offer; 0: the first
    std::optional<Date> offer_date;    ///< of the letter
    std::optional<int> validity_days;  ///< from the offer's date; none: the yard's
    std::vector<std::string> notes;
    std::vector<Assumption> assumptions;  ///< in reading order
};

}  // namespace patchwright::job
