#pragma once
#include <cstddef>
#include <map>
#include <string>
#include <utility>
#include <vector>

namespace patchwright::job {

/// A fault with the bytes it concerns; line and column are worked out when all faults are known.
struct Fault {
    std::size_t offset = 0, length = 1;
    bool warning = false;
    std::string message;
    std::string pointer;
};

/// The faults of one file. However many there are, only the first hundred errors and the first hundred warnings by
/// place are kept; the rest are counted by kind, which is the message without what it quotes.
class FaultList {
public:
    static constexpr std::size_t kept_in_full = 100;

    void add(Fault fault);
    void add(FaultList&& more);
    bool empty() const { return errors_.empty() && warnings_.empty(); }
    bool has_errors() const { return !errors_.empty(); }
    const std::vector<Fault>& errors() const { return errors_; }  ///< in order of place
    /// Errors and warnings in order of place, and among them one for each kind that was counted, where it first stands.
    std::vector<Fault> all() const;

private:
    using Kind = std::pair<bool, std::string>;  ///< warning, message
    struct Count {
        std::size_t times = 0, first = 0;
    };
    void count(Kind kind, Count more);

    std::vector<Fault> errors_, warnings_;
    std::map<Kind, Count> counted_;
};

}  // namespace patchwright::job
