#pragma once
#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <string>

namespace patchwright::cli {

/// What a broken stream has written: its whole lines, by the references of their jobs.
class DoneLines {
public:
    /// Reads the file. A last line without its end is not counted. Throws Stop once every line was told that is none of
    /// `plan --stream`, or of another yard; IoError.
    DoneLines(const std::string& path, const std::string& yard);
    /// Whether that line of the stream of jobs stands there. Each of its lines stands for one job only, so that jobs
    /// that share a reference are done one by one.
    bool take(std::size_t line, const std::optional<std::string>& reference);

    std::uint64_t whole = 0;    ///< bytes of the whole lines
    bool half = false;          ///< something stands behind them
    std::size_t errors = 0;     ///< jobs that could not be read
    std::size_t remaining = 0;  ///< lines that no job has taken
    std::string first_remaining() const;

private:
    std::map<std::string, std::size_t> plans_;
    std::set<std::size_t> error_lines_;
};

}  // namespace patchwright::cli
