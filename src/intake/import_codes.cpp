#include "import_codes.hpp"

#include <array>
#include <utility>

#include "import_text.hpp"
#include "patchwright/intake/import.hpp"

namespace patchwright::intake {
namespace {

using job::DefectKind;
using job::FittingKind;
using job::Inflow;
using job::Material;

constexpr Meaning defect(DefectKind kind, Measured measured) { return {Role::defect, kind, {}, measured, {}}; }
constexpr Meaning fitting(FittingKind kind, Measured measured) { return {Role::fitting, {}, kind, measured, {}}; }
constexpr Meaning only(Role role) { return {role, {}, {}, Measured::not_at_all, {}}; }

struct Entry {
    std::string_view main;
    Meaning meaning;
};

/// EN 13508-2:2003+A1:2011, code tables. Units of BAA, BAJ, BBA and BBB as in the tables; of BAB, BAC, BAG, BCA, BCC
/// and AEC from memory.
constexpr Entry entries[] = {
    {"BAA", defect(DefectKind::deformation, Measured::percent)},
    {"BAB", defect(DefectKind::fissure, Measured::millimetres)},
    {"BAC", defect(DefectKind::fracture_break, Measured::millimetres)},
    {"BAF", defect(DefectKind::surface_damage, Measured::not_at_all)},
    {"BAG", defect(DefectKind::intruding_connection, Measured::percent_of_bore)},
    {"BAH", defect(DefectKind::defective_connection, Measured::not_at_all)},
    {"BAJ", defect(DefectKind::displaced_joint, Measured::millimetres)},
    {"BBA", defect(DefectKind::root_intrusion, Measured::percent)},
    {"BBB", defect(DefectKind::attached_deposit, Measured::percent)},
    {"BBF", defect(DefectKind::infiltration, Measured::not_at_all)},
    {"BBG", defect(DefectKind::exfiltration, Measured::not_at_all)},
    {"BAO", only(Role::wall_open)},
    {"BAP", only(Role::wall_open)},
    {"BCA", fitting(FittingKind::junction, Measured::millimetres)},
    {"BCC", fitting(FittingKind::bend, Measured::degrees)},
    {"AEC", fitting(FittingKind::size_change, Measured::millimetres)},
    {"BCD", only(Role::start)},
    {"BCE", only(Role::finish)},
    {"BDC", only(Role::unseen)},
    {"BDG", only(Role::unseen)},
};

constexpr std::string_view remarks[] = {"BAD", "BAE", "BAI", "BAK", "BAL", "BAM", "BAN", "BBC",
                                        "BBD", "BBE", "BBH", "BCB", "BDA", "BDB", "BDD", "BDE",
                                        "BDF", "AEA", "AEB", "AED", "AEE", "AEF", "AEG"};

template <std::size_t N, class Kind>
std::optional<Kind> named(const std::pair<std::string_view, Kind> (&list)[N], std::string_view word) {
    const std::string plain = lower(trimmed(word));
    for (const auto& [name, kind] : list)
        if (plain == lower(name)) return kind;
    return std::nullopt;
}

}  // namespace

std::string Code::whole() const {
    std::string out = main;
    for (const std::string& part : {first, second})
        if (!part.empty()) out += ' ' + part;
    return out;
}

Code code_of(std::string_view text) {
    std::array<std::string, 3> parts;
    std::size_t part = 0;
    for (const char c : upper(trimmed(text))) {
        const bool gap = c == ' ' || c == '.' || c == '-' || c == '/' || c == '\t';
        if (gap && !parts[part].empty() && part < 2) ++part;
        if (gap) continue;
        const std::size_t most = part == 0 ? 3 : part == 1 ? 1 : 40;
        if (parts[part].size() == most && part < 2) ++part;
        if (parts[part].size() < 40) parts[part] += c;
    }
    return {parts[0], parts[1], parts[2]};
}

Meaning meaning_of(const Code& code) {
    for (const Entry& entry : entries) {
        if (entry.main != code.main) continue;
        Meaning meaning = entry.meaning;
        if (code.main == "BAC" && code.first == "B") meaning.defect = DefectKind::missing_wall;
        if (code.main == "BAC" && code.first == "C") meaning.defect = DefectKind::collapse;
        if (code.main == "BAF" && code.first == "I") meaning.defect = DefectKind::missing_wall;
        if (code.main == "BAJ" && code.first == "C") meaning.measured = Measured::degrees;
        if (code.main == "BBF") {
            if (code.first == "A") meaning.inflow = Inflow::sweating;
            if (code.first == "B") meaning.inflow = Inflow::dripping;
            if (code.first == "C") meaning.inflow = Inflow::running;
            if (code.first == "D") meaning.inflow = Inflow::gushing;
        }
        return meaning;
    }
    for (const std::string_view main : remarks)
        if (main == code.main) return only(Role::remark);
    return {};
}

std::string_view unit_word(Measured measured) {
    switch (measured) {
        case Measured::millimetres:
            return "mm";
        case Measured::percent:
            return "%";
        case Measured::percent_of_bore:
            return "% of the bore";
        case Measured::degrees:
            return "degrees";
        case Measured::not_at_all:
            break;
    }
    return "";
}

MaterialMeaning material_of(std::string_view text) {
    struct Row {
        std::string_view code;
        Material material;
        std::string_view doubt;
    };
    // Table C.4, all of it.
    static constexpr Row rows[] = {
        {"AA", Material::asbestos_cement, ""},
        {"AB", Material::other, "bitumen (AB) is \"other\" in a job"},
        {"AC", Material::pitch_fibre, ""},
        {"AD", Material::other, "brickwork (AD) is \"other\" in a job"},
        {"AE", Material::clay, ""},
        {"AF", Material::other, "cement mortar (AF) is \"other\" in a job"},
        {"AG", Material::concrete, ""},
        {"AH", Material::concrete, ""},
        {"AI", Material::concrete, ""},
        {"AJ", Material::concrete, ""},
        {"AK", Material::asbestos_cement, "fibre cement (AK) is taken as asbestos cement until someone knows better"},
        {"AL", Material::other, "fibre-reinforced plastic (AL) is \"other\" in a job"},
        {"AM", Material::cast_iron, ""},
        {"AN", Material::cast_iron, ""},
        {"AO", Material::cast_iron, ""},
        {"AP", Material::other, "steel (AP) is \"other\" in a job"},
        {"AQ", Material::other, "the survey did not know which iron or steel (AQ)"},
        {"AR", Material::other, "masonry (AR) is \"other\" in a job"},
        {"AS", Material::other, "masonry (AS) is \"other\" in a job"},
        {"AT", Material::other, "epoxy (AT) is \"other\" in a job"},
        {"AU", Material::other, "polyester (AU) is \"other\" in a job"},
        {"AV", Material::other, "polyethylene (AV) is \"other\" in a job"},
        {"AW", Material::other, "polypropylene (AW) is \"other\" in a job"},
        {"AX", Material::pvc_u, ""},
        {"AY", Material::other, "the survey did not know the plastic (AY)"},
        {"AZ", Material::other, "the survey did not know the material (AZ)"},
        {"Z", Material::other, "the material is none of the survey's list (Z)"},
    };
    const std::string code = upper(trimmed(text));
    for (const Row& row : rows)
        if (row.code == code) return {row.material, row.doubt};
    static constexpr Material all[] = {Material::clay,  Material::concrete,        Material::cast_iron,
                                       Material::pvc_u, Material::asbestos_cement, Material::pitch_fibre,
                                       Material::other};
    for (const Material material : all)
        if (upper(job::word(material)) == code) return {material, ""};
    if (code == "PVC" || code == "UPVC") return {Material::pvc_u, ""};
    return {};
}

std::optional<DefectKind> defect_kind_named(std::string_view word) {
    for (int i = 0; i <= static_cast<int>(DefectKind::missing_wall); ++i)
        if (lower(trimmed(word)) == job::word(static_cast<DefectKind>(i))) return static_cast<DefectKind>(i);
    static constexpr std::pair<std::string_view, DefectKind> others[] = {
        {"crack", DefectKind::fissure},
        {"cracks", DefectKind::fissure},
        {"hole", DefectKind::missing_wall},
        {"roots", DefectKind::root_intrusion},
        {"root", DefectKind::root_intrusion},
        {"offset joint", DefectKind::displaced_joint},
        {"deposit", DefectKind::attached_deposit},
        {"broken", DefectKind::fracture_break},
    };
    return named(others, word);
}

std::optional<FittingKind> fitting_kind_named(std::string_view word) {
    static constexpr std::pair<std::string_view, FittingKind> list[] = {
        {"bend", FittingKind::bend},
        {"junction", FittingKind::junction},
        {"branch", FittingKind::junction},
        {"connection", FittingKind::junction},
        {"size change", FittingKind::size_change},
    };
    return named(list, word);
}

}  // namespace patchwright::intake
