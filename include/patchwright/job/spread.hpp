#pragma once

namespace patchwright::job {

/// Least, most likely and greatest value of something that is not known exactly.
template <class T>
struct Spread {
    T low{}, likely{}, high{};
};

}  // namespace patchwright::job
