#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "patchwright/job/job.hpp"

/// What the codes of EN 13508-2 mean for patching. Internal to the import.
namespace patchwright::intake {

/// How the first quantity of a code is measured.
enum class Measured : unsigned char { not_at_all, millimetres, percent, percent_of_bore, degrees };

enum class Role : unsigned char {
    defect,
    fitting,
    start,      ///< BCD: the survey begins
    finish,     ///< BCE: the survey ends at the far node
    wall_open,  ///< BAO, BAP: soil or a void is seen, beside the code of the opening
    unseen,     ///< BDC, BDG: the camera went or saw no further
    remark,     ///< says nothing that decides about patching
    unknown
};

struct Code {
    std::string main, first, second;  ///< "BAB", "C", "A"
    std::string whole() const;        ///< "BAB C A"
};
/// "BAB C A", "BAB-C-A", "BABCA" and "bab.c" into their parts.
Code code_of(std::string_view text);

struct Meaning {
    Role role = Role::unknown;
    job::DefectKind defect = job::DefectKind::fissure;
    job::FittingKind fitting = job::FittingKind::bend;
    Measured measured = Measured::not_at_all;
    std::optional<job::Inflow> inflow;
};
Meaning meaning_of(const Code& code);

/// "mm", "%" and so on, for messages.
std::string_view unit_word(Measured measured);

struct MaterialMeaning {
    std::optional<job::Material> material;
    std::string_view doubt;  ///< to be told; may be empty
};
/// Field ACD, or a word of the job file.
MaterialMeaning material_of(std::string_view text);

/// A word of the job file or one that the trade uses for it: "crack" is a fissure.
std::optional<job::DefectKind> defect_kind_named(std::string_view word);
std::optional<job::FittingKind> fitting_kind_named(std::string_view word);

}  // namespace patchwright::intake
