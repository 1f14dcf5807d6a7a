#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/io/diagnostic.hpp"

/// Lines, character sets, fields and faults of survey files. Internal to the import.
namespace patchwright::intake {

enum class Charset : unsigned char { utf8, latin1, latin9, windows1252 };
/// The set that a file's header names, in any usual spelling; nothing for one that is not read here.
std::optional<Charset> charset_named(std::string_view name);
bool is_utf8(std::string_view bytes);

struct Decoded {
    std::string text;    ///< UTF-8, control characters as spaces
    int bad_column = 0;  ///< of the first byte that the set does not have, from 1; 0: none
};
Decoded decode(std::string_view bytes, Charset charset);

std::vector<std::string_view> split_lines(std::string_view bytes);

/// A piece of text with its place.
struct Placed {
    std::string text;
    int line = 0, column = 0;
};

struct Fields {
    std::vector<Placed> cells;
    int open_quote_column = 0;  ///< of a quote that is never closed; 0: none
};
/// A line into its fields. A field that begins with the quote mark ends with it, doubled marks standing for one.
Fields split_fields(std::string_view line, int number, std::string_view separator, std::string_view quote);

std::string trimmed(std::string_view text);
std::string upper(std::string_view text);
std::string lower(std::string_view text);
/// The first bytes of a text, cut between characters.
std::string head(std::string_view text, std::size_t most);
/// Fit for a name of the job file, which takes one line of at most 200 bytes: the rest is for what is added to it.
std::string as_name(std::string_view text);
/// A plain number with the decimal mark "." or ","; no exponent, no thousands mark.
std::optional<double> number(std::string_view text, std::string_view decimal_mark);

/// The text has inches or feet in it.
bool uses_us_units(std::string_view text);

/// Faults with the line they stand in. So many of either severity are told in full, the rest is counted; of so many
/// errors nobody could make a survey, and reading is given up.
class Faults {
public:
    static constexpr std::size_t told_in_full = 100, max_errors = 1000;

    explicit Faults(std::string_view file) : file_{file} {}
    /// The text of a line that may be pointed at later.
    void keep(int line, const std::string& text);
    void error(const Placed& at, std::string message) { add(io::Severity::error, at, std::move(message)); }
    void warning(const Placed& at, std::string message) { add(io::Severity::warning, at, std::move(message)); }
    /// More errors than a survey could have: the reader need not go on.
    bool given_up() const { return errors_ > max_errors; }
    bool any_errors() const { return errors_ > 0; }
    std::vector<io::Diagnostic> take();

private:
    void add(io::Severity severity, const Placed& at, std::string message);
    std::string file_;
    std::vector<std::string> lines_;
    std::size_t errors_ = 0, warnings_ = 0;
    std::vector<io::Diagnostic> found_;
};

}  // namespace patchwright::intake
