#pragma once
#include "fields.hpp"
#include "patchwright/job/job.hpp"

/// The job file's structs as descriptions. Internal to the readers.
namespace patchwright::io {

// NOLINTBEGIN(bugprone-macro-parentheses): a type stands in no brackets
#define PATCHWRIGHT_DESCRIBE(TYPE, WHAT)                                                                     \
    template <>                                                                                              \
    struct Described<TYPE> {                                                                                 \
        static constexpr std::string_view what = WHAT;                                                       \
        static constexpr std::string_view merge_key{};                                                       \
        static constexpr bool plural = what.ends_with("ts") || what.ends_with("ns") || what.ends_with("es"); \
        static std::span<const Field<TYPE>> fields();                                                        \
    }
#define PATCHWRIGHT_DESCRIBE_NAMED(TYPE, WHAT, KEY, NAME)                  \
    template <>                                                            \
    struct Described<TYPE> {                                               \
        static constexpr std::string_view what = WHAT;                     \
        static constexpr std::string_view merge_key = KEY;                 \
        static constexpr bool plural = false;                              \
        static std::string_view name_of(const TYPE& item) { return NAME; } \
        static std::span<const Field<TYPE>> fields();                      \
    }
// NOLINTEND(bugprone-macro-parentheses)

PATCHWRIGHT_DESCRIBE(Flow, "a flow");
PATCHWRIGHT_DESCRIBE(Coordinates, "coordinates");
PATCHWRIGHT_DESCRIBE(Hours, "hours of a day");
PATCHWRIGHT_DESCRIBE(Site, "the site");
PATCHWRIGHT_DESCRIBE(Dig, "the dig");
PATCHWRIGHT_DESCRIBE(Customer, "the customer");
PATCHWRIGHT_DESCRIBE(Extra, "an extra");
PATCHWRIGHT_DESCRIBE(PriceWish, "the price");
PATCHWRIGHT_DESCRIBE(Job, "a job");
PATCHWRIGHT_DESCRIBE_NAMED(Fitting, "a fitting", "id", item.id);
PATCHWRIGHT_DESCRIBE_NAMED(Defect, "a defect", "id", item.id);
PATCHWRIGHT_DESCRIBE_NAMED(Run, "a run", "id", item.id);

}  // namespace patchwright::io
