#pragma once
#include "patchwright/learn/learn.hpp"

namespace patchwright::learn {

/// What records say of resins: how fast they are, and how much of them is used.
void add_materials(const std::vector<job::Record>& records, const job::Yard& yard, const std::vector<plan::Plan>& plans,
                   Learned& learned);

}  // namespace patchwright::learn
