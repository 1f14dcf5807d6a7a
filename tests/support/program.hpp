#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "support/says.hpp"

/// Runs the built program as a shell would, and keeps what it said.
namespace patchwright::test {

/// A signal that arrives in the middle of a write: the kernel sends it as soon as bytes have reached any file of the
/// folder, before the program goes on. No clock is in it.
struct Interruption {
    int signal;
    std::string folder;
};

struct Call {
    std::vector<std::string> arguments;
    std::string input;  ///< standard input
    std::vector<std::string> environment{
        "LC_ALL=C.UTF-8"};                       ///< nothing else is passed on, but for the leak checker's own
    std::optional<std::string> folder{};         ///< that it runs in; none: that of the tests
    std::optional<std::string> output_to{};      ///< standard output to that file (/dev/full)
    std::optional<std::size_t> file_size{};      ///< limit on the size of files it may write
    std::optional<std::size_t> processes{};      ///< limit on its user's processes and threads: no thread starts at 1
    std::optional<std::size_t> address_space{};  ///< limit on all memory that it may ask for
    std::optional<int> errors_to{};              ///< standard error to that open file: a terminal
    std::optional<Interruption> interruption{};
    bool appends = false;        ///< behind what `output_to` holds, as ">>" does
    bool reader_leaves = false;  ///< standard output is a pipe that nobody reads any more
    bool as_nobody = false;      ///< without root's right to write everywhere
};
struct Result {
    int status = -1;  ///< exit status; 128 + n when signal n ended it
    std::string out, err;
    std::size_t memory = 0;  ///< bytes that it held at its most
};
Result run(const Call& call);
Result run(std::vector<std::string> arguments);

/// A job of one patch, for what hangs on no job.
std::string simple_job();
/// An example of the project by its name.
std::string example(const std::string& name);
/// The demonstration job, and what was noted on its first day.
inline const std::string demo = example("demo.json"), noted = example("demo-record.json");

/// An empty folder of one test, removed with what it holds.
class Folder {
public:
    Folder();
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    ~Folder();
    std::string operator/(const std::string& name) const { return path_ + "/" + name; }
    const std::string& path() const { return path_; }
    void write(const std::string& name, const std::string& bytes) const;
    std::string read(const std::string& name) const;
    std::vector<std::string> names() const;  ///< sorted

private:
    std::string path_;
};

}  // namespace patchwright::test
