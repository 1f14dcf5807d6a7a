#pragma once
#include <span>

#include "patchwright/cure/cure.hpp"

namespace patchwright::cure {

/// A point of a sleeve that was let down, followed afterwards through the temperatures noted at it.
struct Followed {
    double conversion = 0.0;        ///< likely, at let-down
    Duration hard{};                ///< likely time from mixing at which it met the release rule
    double soft_probability = 0.0;  ///< had not met it at let-down
};

/// Straight between notes, constant before the first and after the last, without heat of its own: the notes hold it.
/// The chance is that of a resin slower than the one that would just have been hard: P(ln f < ln f*), ln f normal about
/// 0 with the doubt of the fit and of the thermometer, f* by bisection. Method: docs/methods/record.md.
/// Throws InputError for notes as `Model::time_left` does, or a let-down that is not after mixing.
Followed follow_notes(const job::Resin& resin, std::span<const Note> notes, Duration let_down,
                      const job::Limits& limits);

}  // namespace patchwright::cure
