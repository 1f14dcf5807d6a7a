#pragma once
#include "job_fields.hpp"
#include "patchwright/io/read.hpp"
#include "patchwright/job/yard.hpp"

/// The yard file's structs as descriptions. Internal to the readers.
namespace patchwright::io {

inline constexpr auto dflt = Need::defaulted;
inline constexpr std::string_view any_share = "0 % to 100 %", any_factor = "above 0 to 100";

PATCHWRIGHT_DESCRIBE_NAMED(Packer, "a packer", "id", item.id);
PATCHWRIGHT_DESCRIBE_NAMED(Chassis, "a chassis", "id", item.id);
PATCHWRIGHT_DESCRIBE_NAMED(Bladder, "a bladder", "id", item.id);
PATCHWRIGHT_DESCRIBE(FeltPiece, "a piece of felt");
PATCHWRIGHT_DESCRIBE_NAMED(Felt, "a felt", "id", item.id);
PATCHWRIGHT_DESCRIBE(DataPoint, "a data-sheet time");
PATCHWRIGHT_DESCRIBE(Kit, "a kit");
PATCHWRIGHT_DESCRIBE_NAMED(Resin, "a resin", "id", item.id);
PATCHWRIGHT_DESCRIBE_NAMED(Heater, "a heater", "id", item.id);
PATCHWRIGHT_DESCRIBE(Conditioning, "the conditioning of resin");
PATCHWRIGHT_DESCRIBE(Limits, "the limits");
PATCHWRIGHT_DESCRIBE(Durations, "the durations");
PATCHWRIGHT_DESCRIBE(Rates, "the rates");
PATCHWRIGHT_DESCRIBE_NAMED(SurfaceRate, "a surface", "surface", word(item.surface));
PATCHWRIGHT_DESCRIBE_NAMED(SoilRate, "a soil", "soil", word(item.soil));
PATCHWRIGHT_DESCRIBE(DigRates::Output, "an output of the digging team");
PATCHWRIGHT_DESCRIBE(DigRates, "the dig rates");
PATCHWRIGHT_DESCRIBE_NAMED(Risk, "a risk", "id", item.id);
PATCHWRIGHT_DESCRIBE(Firm, "the firm");
PATCHWRIGHT_DESCRIBE(DigMarket, "the market's price of digging");
PATCHWRIGHT_DESCRIBE(PatchPrice, "a row of the price list");
PATCHWRIGHT_DESCRIBE(ListedExtra, "an extra of the price list");
PATCHWRIGHT_DESCRIBE(PriceList, "the price list");
PATCHWRIGHT_DESCRIBE(Drive, "the drives");
PATCHWRIGHT_DESCRIBE(Yard, "a yard");

/// Errors and doubts between values of a yard.
void check_yard(Reader& reader, const Node& root, Yard& yard);
/// What `check` finds in the resins that the file names, each fault at its place.
void check_resins(Reader& reader, const Node& root, const Yard& yard, const ResinCheck& check);
/// Puts the name of the resin before what is said of it: a list of times looks like the next resin's.
void name_resins(Reader& reader, const Node& root);

}  // namespace patchwright::io
