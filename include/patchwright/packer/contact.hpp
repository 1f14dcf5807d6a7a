#pragma once
#include <cstdint>
#include <string_view>

#include "patchwright/job/packers.hpp"
#include "patchwright/job/resin.hpp"

namespace patchwright::packer {

/// What may touch what: rubber under uncured epoxy needs an intact film, and so on.
enum class Contact : std::uint8_t { allowed, film_needed, forbidden };
std::string_view word(Contact c);  ///< "allowed", "film needed", "forbidden"

/// One row of the contact table with its reason in words. Source: common practice, no source; the makers' data
/// sheets of bladder and resin come first.
struct ContactRule {
    job::BladderMaterial bladder = job::BladderMaterial::silicone;
    job::ResinKind resin = job::ResinKind::epoxy;
    Contact contact = Contact::forbidden;
    std::string_view reason;  ///< a clause without full stop
};
const ContactRule& contact_rule(job::BladderMaterial bladder, job::ResinKind resin);
Contact contact(job::BladderMaterial bladder, job::ResinKind resin);

}  // namespace patchwright::packer
