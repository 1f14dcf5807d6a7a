#pragma once
#include <optional>
#include <string>
#include <vector>

#include "patchwright/units/money.hpp"
#include "patchwright/units/quantity.hpp"

/// What an offer needs besides the work: the firm, its price list, the market, and the estimator's own word.
namespace patchwright::job {

/// The firm as its letters show it. Nothing here has a default but the name of the tax; what is empty is not printed.
struct Firm {
    std::string name, address, phone, mail;
    std::string registration, tax_number, bank;
    std::string tax_name = "tax";  ///< "VAT", "sales tax"
    std::string logo;              ///< file name, as given
    std::string payment_terms, deposit;
    std::optional<int> guarantee_years;
    std::string guarantee;  ///< in words, beside or instead of the years
    std::string terms;      ///< the firm's own, a line each; none: the program's
    std::optional<int> validity_days;
};

/// What others ask for digging: the take-off with these rates is the ceiling of our price.
struct DigMarket {
    Share overhead;         ///< of direct + risk
    Share profit;           ///< markup on cost
    Share least_advantage;  ///< of the ceiling: the customer's least advantage of a patch over digging
};

/// One row of the firm's price list: patches up to that bore and length of sleeve.
struct PatchPrice {
    Length bore_to{}, length_to{};
    Money first{}, further{};  ///< the first patch of a visit, each further one
};
/// Work by the unit that comes on top of the patches.
struct ListedExtra {
    std::string words, unit;
    Money rate{};  ///< a unit
    Money cost{};  ///< own cost of a unit
};
struct PriceList {
    std::vector<PatchPrice> patches;  ///< in the order of the file; the first row that holds a patch counts
    std::vector<ListedExtra> extras;
};

/// An extra on a job. Rate, unit and cost may come from the yard's price list, by the same words.
struct Extra {
    std::string words;
    double quantity = 1.0;
    std::string unit;
    std::optional<Money> rate, cost;
};
/// The estimator's word on the price: at most one of the three.
struct PriceWish {
    std::optional<Money> net;        ///< of the whole work, extras on top
    std::optional<Share> profit;     ///< instead of the yard's
    std::optional<Money> per_patch;  ///< the patches at so much each; digs at our own price
    bool given() const { return net || profit || per_patch; }
};

}  // namespace patchwright::job
