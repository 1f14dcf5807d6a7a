#pragma once
#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "patchwright/survey/verdict.hpp"
#include "patchwright/units/error.hpp"
#include "patchwright/units/money.hpp"

/// A city's survey: what `plan --stream` wrote, read back a line at a time.
namespace patchwright::city {

using survey::Verdict;
inline constexpr std::size_t verdicts = static_cast<std::size_t>(Verdict::look_again) + 1;

/// What the letter to the customer is, `letter.kind`.
enum class Letter : std::uint8_t { offer, estimate, advice };
inline constexpr std::size_t letters = 3;
std::string_view word(Letter letter);

/// The figures of one plan that a summary wants.
struct Planned {
    std::string reference, title, yard;
    bool demonstration = false;
    std::array<int, verdicts> places{};  ///< defects by `runs[].verdicts[].verdict`
    int patches = 0, too_long = 0;       ///< too long for any day: "patch, if"
    int days = 0;
    Letter letter = Letter::offer;
    Currency currency;
    Money floor, own, offered, ceiling;
    double late = 0.0;  ///< chance that some sleeve is not in place in time
    double soft = 0.0;  ///< chance that some sleeve is soft when it is deflated

    int at(Verdict verdict) const { return places[static_cast<std::size_t>(verdict)]; }
};

/// A line of the stream: a plan, or why there is none.
struct Line {
    std::optional<Planned> plan;
    std::string error;     ///< of a job that could not be read
    std::size_t line = 0;  ///< its line in the stream of jobs
};

/// What is wrong with a line, and where in it: from 1 in code points, 0 for the whole line.
struct LineFault : InputError {
    LineFault(int at, const std::string& message) : InputError{message}, column{at} {}
    int column;
};

/// Reads a line of `plan --stream`. Throws LineFault on anything else.
Line read_line(std::string_view text);

/// As much of a line as says whose it is. It is read no further.
struct Head {
    std::string reference, yard;
    std::size_t error_line = 0;  ///< not 0: it says that this line of the stream could not be read
};
/// Throws LineFault when it is no line of `plan --stream`, or not whole.
Head head_of(std::string_view text);

/// The reference of a job as its file has it; none where there is no such text.
std::optional<std::string> reference_in(std::string_view job);

}  // namespace patchwright::city
