#pragma once
#include <array>
#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/job/diagnostic.hpp"

/// Lists of faults that stay readable, and small in memory, however many there are. Internal.
namespace patchwright::job {

/// Errors, and warnings, of one list that are told in full; those beyond are counted by kind.
inline constexpr std::size_t told_in_full = 100;

/// Faults beyond those told in full, counted by the key that they stand at.
class FurtherFaults {
public:
    /// One more fault of this severity: to be told in full, or, when false, counted here.
    bool in_full(Severity severity, std::string_view key);
    std::int64_t count(Severity severity) const { return of(severity).count; }
    /// A line for each severity that has more: "212 more errors: 120 at "bore", 92 at "kind"".
    void tell(std::string_view file, std::vector<Diagnostic>& list) const;

private:
    struct Counts {
        std::int64_t count = 0;  ///< all of them
        std::map<std::string, std::int64_t, std::less<>> further;
        std::int64_t elsewhere = 0;
    };
    const Counts& of(Severity severity) const { return counts_[severity == Severity::error ? 0 : 1]; }
    std::array<Counts, 2> counts_;
};

/// Diagnostics without a place in a file, as checks across files make them, no more in full than that.
class Findings {
public:
    void add(Severity severity, std::string pointer, std::string message);
    std::vector<Diagnostic> take();

private:
    FurtherFaults further_;
    std::vector<Diagnostic> found_;
};

}  // namespace patchwright::job
