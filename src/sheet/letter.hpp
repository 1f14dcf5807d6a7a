#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "patchwright/plan/plan.hpp"
#include "patchwright/sheet/sheets.hpp"

/// Parts of the letter to the customer: nothing here speaks of our costs, our files or our doubts.
namespace patchwright::sheet {

/// Lines of an address on one.
std::string one_line(const std::string& text);
/// The firm as its letters show it; what is not given is left out.
Fields firm_fields(const Context& context);
/// Firm and customer; number, date and validity of the offer.
void add_letterhead(const Context& context, Sheet& sheet);
/// The kind of damage as one says it to a customer: "Crack".
std::string_view damage_words(job::DefectKind kind);
/// What was found, place by place, and what is done about it.
void add_findings(const Context& context, Sheet& sheet);
/// What is done about a defect (places in the job), in the customer's words: "Patch, after root cutting".
std::string remedy_words(const Context& context, std::size_t run, std::size_t defect);
/// Each patch by place, bore, length and thickness; each excavation by place, length, depth and surface.
void add_scope(const Context& context, Sheet& sheet);
void add_excavations(const Context& context, const std::vector<excavation::Pit>& pits, Sheet& sheet);
/// What the price rests on, in plain words: "Ground water stands below drain A."
std::vector<std::string> conditions(const Context& context);

/// What a revision changes against the job of the former offer, a line each: places, extras, dates; not prices, which
/// the two letters show.
std::vector<std::string> changes_since(const Context& context, const job::Job& former);

/// The last day on which the offer holds; none without a date.
std::optional<Date> valid_until(const Context& context);

/// What the letter is: by the certainty of the job and whether there is anything to offer.
enum class Letter : unsigned char {
    offer,     ///< binding
    estimate,  ///< by telephone or photographs: a range, nothing to sign
    advice,    ///< no offer: digging, or another look, serves the customer better
};
Letter letter_of(const Context& context);

}  // namespace patchwright::sheet
