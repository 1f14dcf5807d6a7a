#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/job/job.hpp"
#include "patchwright/job/yard.hpp"
#include "patchwright/price/bracket.hpp"
#include "patchwright/working/working.hpp"

/// What the offer says, line by line.
namespace patchwright::price {

enum class OfferKind : std::uint8_t { patch, dig, extra, discount };
std::string_view word(OfferKind k);

/// One line of the offer. `net` is what the customer pays for it, `floor` what it costs us without profit; of a
/// discount, below zero both: what is taken off, and the most that may be.
struct OfferLine {
    OfferKind kind = OfferKind::patch;
    std::string words;  ///< "Patch repairs (3 no.)"
    double quantity = 1.0;
    std::string unit;
    Money net{}, floor{};
};

/// The lines with their sum. Empty lines: no offer is made.
struct Offered {
    std::vector<OfferLine> lines;
    Money total{};        ///< sum of the lines: what the offer says, net
    Money work{};         ///< of it for patches and digs, the whole discount taken off
    Money discount{};     ///< taken off
    bool wished = false;  ///< the price is the estimator's own word
    std::vector<std::string> warnings;
};

/// One side of the work: the patches, or the digs that cannot be avoided.
struct Part {
    int count = 0;
    Money own{}, floor{};
};
/// Money for both parts, shared out. From the sum of both own prices upwards the digs keep their own price and the
/// patches have the rest; below it each part gives up the same share of its profit; below the sum of the floors each is
/// cut in proportion to its floor. So no line lies under its floor as long as the total does not.
struct Shares {
    Money patch{}, dig{};
};
Shares shared_out(const Part& patches, const Part& digs, Money total);

/// The lines of an offer.
///
/// The work at the estimator's word (net, or so much a patch), else at the suggested price, or with a profit of the
/// job's own at own price; without a bid and without such a word there are no lines. Then the extras, then the yard's
/// discount on all of it, cut so that the sum stays at or above both the floors and the minimum charge; a net price
/// of the job has no discount. Lines add up to the total to the cent.
/// Derived here, docs/methods/price.md. Throws InputError for an extra without a rate.
Offered offered(const Part& patches, const Part& digs, const Bracket& bracket, const job::Job& job,
                const job::Yard& yard, Working& working);

/// What the firm's price list asks for the patches of this job.
struct ListedPrice {
    bool listed = false;              ///< the yard has a list, and it holds every patch
    std::vector<std::string> beyond;  ///< what the list does not hold, a sentence each
    Money patches{}, margin{};        ///< by the list; what that leaves over the floor of the patches
};
/// A patch as a price list sees it.
struct ListedSleeve {
    std::string id;
    Length bore{}, length{};
};
/// Each patch by the first row that holds its bore and length; on each visit one patch costs `first`, chosen so that
/// the sum is greatest, the others `further`.
ListedPrice by_price_list(const std::vector<ListedSleeve>& sleeves, int visits, Money floor, const job::PriceList& list,
                          UnitSystem units);

}  // namespace patchwright::price
