#pragma once
#include <string>
#include <vector>

#include "patchwright/sheet/drawing.hpp"
#include "patchwright/sheet/model.hpp"

/// Sheets of invented content in the shape of a day sheet, so that paper can be tested without a plan.
namespace sample {

struct Wanted {
    int patches = 4;
    std::string name = "Rear yard drain";
    int remark_words = 12;
    int number = 0;  ///< makes two sheets differ
};
patchwright::sheet::Sheet day_sheet(const Wanted& wanted);
/// A picture with every shape of the description.
patchwright::sheet::Drawing picture();
std::string words(int count);

}  // namespace sample
