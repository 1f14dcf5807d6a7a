// Firm, market, price list of the yard; price and extras of the job.
#include "yard_fields.hpp"

namespace patchwright::io {
namespace {

constexpr std::string_view a_patch = "0 EUR to 5000 EUR";

}  // namespace

std::span<const Field<Firm>> Described<Firm>::fields() {
    static const Field<Firm> list[] = {
        field<&Firm::name>("name", Need::never, "as on the letter"),
        note<&Firm::address>("address", Need::never, "as on the letter"),
        field<&Firm::phone>("phone", Need::never, "telephone number"),
        field<&Firm::mail>("mail", Need::never, "e-mail address"),
        field<&Firm::registration>("registration", Need::never, "number in the trade or company register"),
        field<&Firm::tax_number>("tax_number", Need::never, "for tax"),
        field<&Firm::tax_name>("tax_name", Need::never, "what the tax is called: VAT, sales tax; else \"tax\""),
        note<&Firm::bank>("bank", Need::never, "where to pay"),
        field<&Firm::logo>("logo", Need::never, "file name"),
        note<&Firm::payment_terms>("payment_terms", Need::never, "when to pay"),
        note<&Firm::deposit>("deposit", Need::never, "paid before the work"),
        field<&Firm::guarantee_years>("guarantee_years", Need::never, "0 to 100", "0 to 50", "on the patches"),
        note<&Firm::guarantee>("guarantee", Need::never, "in words, beside or instead of the years"),
        note<&Firm::terms>("terms", Need::never, "the firm's own, a line each, in place of the program's"),
        field<&Firm::validity_days>("validity_days", Need::never, "1 to 3650", "7 to 180",
                                    "of an offer, in place of the rates'"),
    };
    return list;
}

std::span<const Field<DigMarket>> Described<DigMarket>::fields() {
    static const Field<DigMarket> list[] = {
        field<&DigMarket::overhead>("overhead", dflt, "0 % to 1000 %", "0 % to 80 %", "of others, on cost and risk"),
        field<&DigMarket::profit>("profit", dflt, "0 % to 1000 %", "0 % to 60 %", "of others, a markup"),
        field<&DigMarket::least_advantage>("least_advantage", dflt, "0 % to 90 %", "0 % to 40 %",
                                           "that a patch has over digging for the customer, of the ceiling"),
    };
    return list;
}

std::span<const Field<PatchPrice>> Described<PatchPrice>::fields() {
    static const Field<PatchPrice> list[] = {
        field<&PatchPrice::bore_to>("bore_to", Need::always, "above 0 mm to 3 m", "40 mm to 300 mm", "largest bore"),
        field<&PatchPrice::length_to>("length_to", Need::always, "above 0 m to 100 m", "0.3 m to 10 m",
                                      "longest sleeve"),
        money<&PatchPrice::first>("first", Need::always, a_patch, "first patch of a visit"),
        money<&PatchPrice::further>("further", Need::always, a_patch, "each further one"),
    };
    return list;
}

std::span<const Field<ListedExtra>> Described<ListedExtra>::fields() {
    static const Field<ListedExtra> list[] = {
        field<&ListedExtra::words>("words", Need::always, "as on the letter"),
        field<&ListedExtra::unit>("unit", Need::never, "h, m, no."),
        money<&ListedExtra::rate>("rate", Need::always, a_patch, "price a unit"),
        money<&ListedExtra::cost>("cost", Need::never, a_patch, "own cost of a unit"),
    };
    return list;
}

std::span<const Field<PriceList>> Described<PriceList>::fields() {
    static const Field<PriceList> list[] = {
        field<&PriceList::patches>("patches", Need::never, "the first row that holds a patch counts"),
        field<&PriceList::extras>("extras", Need::never, "work by the unit"),
    };
    return list;
}

std::span<const Field<Extra>> Described<Extra>::fields() {
    static const Field<Extra> list[] = {
        field<&Extra::words>("words", Need::always, "as on the letter; the price list's words take its rate"),
        field<&Extra::quantity>("quantity", Need::never, "above 0 to 1000000", "0.1 to 1000", "1 when left out"),
        field<&Extra::unit>("unit", Need::never, "h, m, no."),
        money<&Extra::rate>("rate", Need::never, a_patch, "price a unit"),
        money<&Extra::cost>("cost", Need::never, a_patch, "own cost of a unit"),
    };
    return list;
}

std::span<const Field<PriceWish>> Described<PriceWish>::fields() {
    static const Field<PriceWish> list[] = {
        money<&PriceWish::net>("net", Need::never, "50 EUR to 100000 EUR", "of patches and digs; extras on top"),
        field<&PriceWish::profit>("profit", Need::never, "0 % to 1000 %", "0 % to 60 %", "in place of the yard's"),
        money<&PriceWish::per_patch>("per_patch", Need::never, a_patch, "a patch; digs at own price"),
    };
    return list;
}

}  // namespace patchwright::io
