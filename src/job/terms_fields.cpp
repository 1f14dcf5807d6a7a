// Firm, market, price list of the yard; price and extras of the job.
#include "yard_fields.hpp"

namespace patchwright::job {
namespace {

constexpr Rule days = number(1.0, "1", 3650.0, "3650");
constexpr Rule markup{0.0, 10.0, false, "", "1000 %", Form::plain};

}  // namespace

std::span<const Field<Firm>> Described<Firm>::fields() {
    static constexpr Field<Firm> list[] = {
        field<&Firm::name>("name", Need::never),
        field<&Firm::address>("address", Need::never, note()),
        field<&Firm::phone>("phone", Need::never),
        field<&Firm::mail>("mail", Need::never),
        field<&Firm::registration>("registration", Need::never),
        field<&Firm::tax_number>("tax_number", Need::never),
        field<&Firm::tax_name>("tax_name", Need::never),
        field<&Firm::bank>("bank", Need::never, note()),
        field<&Firm::logo>("logo", Need::never),
        field<&Firm::payment_terms>("payment_terms", Need::never, note()),
        field<&Firm::deposit>("deposit", Need::never, note()),
        field<&Firm::guarantee_years>("guarantee_years", Need::never, number(0.0, "", 100.0, "100")),
        field<&Firm::guarantee>("guarantee", Need::never, note()),
        field<&Firm::terms>("terms", Need::never, note()),
        field<&Firm::validity_days>("validity_days", Need::never, days),
    };
    return list;
}

std::span<const Field<DigMarket>> Described<DigMarket>::fields() {
    static constexpr Field<DigMarket> list[] = {
        field<&DigMarket::overhead>("overhead"),
        field<&DigMarket::profit>("profit", Need::defaulted, markup),
        field<&DigMarket::least_advantage>("least_advantage", Need::defaulted,
                                           Rule{0.0, 0.9, false, "", "90 %", Form::plain}),
    };
    return list;
}

std::span<const Field<PatchPrice>> Described<PatchPrice>::fields() {
    static constexpr Field<PatchPrice> list[] = {
        field<&PatchPrice::bore_to>("bore_to", Need::always, positive(3.0 * unit::m, "3 m")),
        field<&PatchPrice::length_to>("length_to", Need::always, positive(100.0 * unit::m, "100 m")),
        field<&PatchPrice::first>("first", Need::always),
        field<&PatchPrice::further>("further", Need::always),
    };
    return list;
}

std::span<const Field<ListedExtra>> Described<ListedExtra>::fields() {
    static constexpr Field<ListedExtra> list[] = {
        field<&ListedExtra::words>("words", Need::always),
        field<&ListedExtra::unit>("unit", Need::never),
        field<&ListedExtra::rate>("rate", Need::always),
        field<&ListedExtra::cost>("cost", Need::never),
    };
    return list;
}

std::span<const Field<PriceList>> Described<PriceList>::fields() {
    static constexpr Field<PriceList> list[] = {
        field<&PriceList::patches>("patches", Need::never),
        field<&PriceList::extras>("extras", Need::never),
    };
    return list;
}

std::span<const Field<Extra>> Described<Extra>::fields() {
    static constexpr Field<Extra> list[] = {
        field<&Extra::words>("words", Need::always),
        field<&Extra::quantity>("quantity", Need::never, number(0.0, "", 1e6, "1000000", true)),
        field<&Extra::unit>("unit", Need::never),
        field<&Extra::rate>("rate", Need::never),
        field<&Extra::cost>("cost", Need::never),
    };
    return list;
}

std::span<const Field<PriceWish>> Described<PriceWish>::fields() {
    static constexpr Field<PriceWish> list[] = {
        field<&PriceWish::net>("net", Need::never),
        field<&PriceWish::profit>("profit", Need::never, markup),
        field<&PriceWish::per_patch>("per_patch", Need::never),
    };
    return list;
}

}  // namespace patchwright::job
