#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/packer/options.hpp"
#include "patchwright/units/parse.hpp"
#include "patchwright/working/working.hpp"

/// From the access to the place. Page: docs/methods/packer.md.
namespace patchwright::packer {

enum class Method : std::uint8_t { push, pull };
std::string_view word(Method m);

/// How the packer gets to its place.
struct Rigging {
    Method method = Method::push;
    std::string from;                   ///< access node where the packer goes in
    Length mark{};                      ///< from that access's mouth to the sleeve's middle
    Length line{};                      ///< rods of a push, each strap of a pull: `lines_wanted`
    std::optional<ClockRange> turn_to;  ///< T and Y pieces: where the branch looks
    Force pull{};                       ///< greatest strap force by the capstan equation, pulls only
    int bends = 0;                      ///< that the packer travels through
    bool restraint_sleeve = false;      ///< over the bare bladder, see notes
    std::vector<std::string> notes;     ///< whole sentences without figures
};

/// Where the bladder past the sleeve would balloon and burst: out of a mouth, over an open connection, over a hole.
struct Lie {
    bool in_pipe = true;                ///< nothing of that
    bool restraint_needed = false;      ///< a restraint sleeve mends it and the yard has one
    std::vector<std::string> troubles;  ///< one sentence each, without figures
};
/// `start`, `end`: of the sleeve. The bare bladder reaches `tail` past both ends.
Lie lie(const job::Run& run, const job::Yard& yard, const Option& option, Length start, Length end);

/// How long the lines to a sleeve must be whose far end lies `far_end` from the mouth: far end + depth of the run +
/// yard's slack for air hose and push rods; length of the run + depth + slack for each strap of a pull, which lies
/// through the whole run when the packer goes in. Source: common practice, no source.
struct Lines {
    Length hose{}, rods{}, straps{};
};
Lines lines_wanted(const job::Run& run, const job::Limits& limits, Length far_end);

/// The ways in, shortest mark first, push before pull at the same mark; empty when there is none.
///
/// A push passes at most the yard's number of bends; a packer built on a chassis whose inner rod is shorter than it is
/// can only be pulled. A pull needs the other access for its line. The stiff part must turn in from the chamber.
/// Air hose, rods and straps are as long as `lines_wanted` says.
/// T and Y pieces must be turned to their branch, which only a rod does: push only.
std::vector<Rigging> riggings(const job::Run& run, const job::Yard& yard, const Option& option, Length start,
                              Length end, Length felt, Working& working);

/// The lines that are too short for a sleeve from every access, by the access where the least is wanting: the hose, and
/// the rods, or the straps where the packer cannot be pushed. No lines when some access has enough, whatever else may
/// stand in the way there; nothing when the packer can be neither pushed nor pulled in.
struct ShortLine {
    std::string_view what;  ///< "air hose", "push rods", "straps"
    Length length{}, needed{};
};
struct ShortLines {
    std::string from;  ///< access node
    std::vector<ShortLine> lines;
    Length wanting() const;  ///< of all lines together
};
std::optional<ShortLines> short_lines(const job::Run& run, const job::Yard& yard, const Option& option, Length start,
                                      Length end);

/// Through which air and resin would be pressed.
bool is_hole(const job::Defect& defect);

/// Where a run's wall is open (connections, holes) and where it is weak, sorted once for callers that ask about many
/// places. Holds what `lie` and `host_cracked` look for, nothing else.
class WallIndex {
public:
    explicit WallIndex(const job::Run& run);
    bool open_within(Length from, Length to) const;  ///< an opening reaches into the open span from..to
    bool weak_within(Length from, Length to) const;  ///< same answer as `host_cracked`

private:
    struct Stretch {
        Length from{}, to{};
    };
    static std::vector<Stretch> merged(std::vector<Stretch> stretches);
    std::vector<Stretch> open_, weak_;  // apart from each other, in order
    bool weak_all_over_ = false;
};

/// True when `riggings` would find a way, without making one: for the many candidates that are priced and dropped.
/// `walls` is of the same run.
bool has_way(const job::Run& run, const WallIndex& walls, const job::Yard& yard, const Option& option, Length start,
             Length end, Length felt);

/// The span along the run in which the whole packer can travel and lie, from each access. Starts the yard's chamber
/// keep-out from the mouth (at the mouth itself when the yard has a restraint sleeve), ends before the first fitting
/// that stops the packer and where hose or rods end for its shortest sleeve. Bends that it may travel through but not
/// lie across are not cut out here: see `passage`.
struct Reach {
    Length from{}, to{};
    std::string access;
};
std::vector<Reach> reach(const job::Run& run, const job::Yard& yard, const Option& option, Length felt);

/// Tension in a strap after bends of `total` angle: F = F0 exp(mu total). Capstan equation (Euler, Eytelwein).
Force capstan(Force before, double friction, Angle total, Working& working);

}  // namespace patchwright::packer
