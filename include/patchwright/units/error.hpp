#pragma once
#include <stdexcept>
#include <string>

namespace patchwright {

/// Base of all errors thrown on purpose.
struct Error : std::runtime_error {
    using std::runtime_error::runtime_error;
};
/// The user can mend it: something in the input is wrong or missing.
struct InputError : Error {
    using Error::Error;
};
/// Readable, but outside the range for which the method holds. The message says what to do instead.
struct RangeError : Error {
    using Error::Error;
};
/// Reading or writing failed.
struct IoError : Error {
    using Error::Error;
};

}  // namespace patchwright
