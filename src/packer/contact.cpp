#include "patchwright/packer/contact.hpp"

#include <array>

#include "patchwright/units/error.hpp"

namespace patchwright::packer {
namespace {

using job::BladderMaterial;
using job::ResinKind;

// Common practice, no source. The data sheets of bladder and resin come first.
constexpr std::array<ContactRule, 12> rules{{
    {BladderMaterial::silicone, ResinKind::epoxy, Contact::allowed, "cured epoxy does not stick to silicone"},
    {BladderMaterial::silicone, ResinKind::polyester, Contact::film_needed, "styrene swells silicone"},
    {BladderMaterial::silicone, ResinKind::vinyl_ester, Contact::film_needed, "styrene swells silicone"},
    {BladderMaterial::silicone, ResinKind::silicate_isocyanate, Contact::allowed,
     "the cured resin does not stick to silicone"},
    {BladderMaterial::rubber, ResinKind::epoxy, Contact::film_needed,
     "uncured epoxy harms rubber and cured epoxy sticks to it"},
    {BladderMaterial::rubber, ResinKind::polyester, Contact::film_needed,
     "styrene swells rubber; use a film that holds styrene back"},
    {BladderMaterial::rubber, ResinKind::vinyl_ester, Contact::film_needed,
     "styrene swells rubber; use a film that holds styrene back"},
    {BladderMaterial::rubber, ResinKind::silicate_isocyanate, Contact::film_needed,
     "isocyanate resin sticks to rubber"},
    {BladderMaterial::pvc_hose, ResinKind::epoxy, Contact::allowed,
     "a doubled hose is used once; its outer layer may stay behind"},
    {BladderMaterial::pvc_hose, ResinKind::polyester, Contact::forbidden, "styrene dissolves soft PVC"},
    {BladderMaterial::pvc_hose, ResinKind::vinyl_ester, Contact::forbidden, "styrene dissolves soft PVC"},
    {BladderMaterial::pvc_hose, ResinKind::silicate_isocyanate, Contact::film_needed,
     "isocyanate resin sticks to soft PVC"},
}};

}  // namespace

std::string_view word(Contact c) {
    switch (c) {
        case Contact::allowed:
            return "allowed";
        case Contact::film_needed:
            return "film needed";
        case Contact::forbidden:
            return "forbidden";
    }
    return "";
}

const ContactRule& contact_rule(job::BladderMaterial bladder, job::ResinKind resin) {
    for (const ContactRule& rule : rules) {
        if (rule.bladder == bladder && rule.resin == resin) return rule;
    }
    throw RangeError("contact: no rule for this bladder and resin; treat them as not fit for each other");
}

Contact contact(job::BladderMaterial bladder, job::ResinKind resin) { return contact_rule(bladder, resin).contact; }

}  // namespace patchwright::packer
