#pragma once
#include <array>
#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/io/diagnostic.hpp"

/// Lists of faults that stay readable, and small in memory, however many there are. Internal.
namespace patchwright::io {

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

/// A fault with the bytes it concerns; line and column are worked out when all faults are known.
struct Fault {
    std::size_t offset = 0, length = 1;
    bool warning = false;
    std::string message;
    std::string_view key{};  ///< that the value at fault stands at; empty in a list
    std::string pointer{};   ///< where it is not that of the byte: a key that is missing
};

/// Faults in the order in which they are found, no more in full than `told_in_full` of a severity.
class Faults {
public:
    void add(Fault fault);
    /// One more error would be told in full: its message is worth making.
    bool room() const { return further_.count(Severity::error) < static_cast<std::int64_t>(told_in_full); }
    bool any_errors() const { return further_.count(Severity::error) > 0; }
    const std::vector<Fault>& in_full() const { return list_; }
    void in_order_of_place();
    /// Puts `name` before each message about the bytes from `from` to before `to`.
    void name(std::size_t from, std::size_t to, std::string_view name);
    const FurtherFaults& further() const { return further_; }

private:
    std::vector<Fault> list_;
    FurtherFaults further_;
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

}  // namespace patchwright::io
