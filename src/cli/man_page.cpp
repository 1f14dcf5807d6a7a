// patchwright(1): what every command takes from the tree, the rest in words.
#include <algorithm>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "completion.hpp"

namespace patchwright::cli {
namespace {

constexpr std::string_view description = R"(From the survey of a drain and the list of what stands in the yard,
.B patchwright
works out which defects a patch can mend, where each patch starts and ends, how thick and how long its felt is cut, how
much resin is mixed, which packer carries it, the pressure window, the order and times of the day, and the price beside the
price of digging.
Every figure can be asked why.
.PP
A job file and a yard file are JSON in which every quantity is a text with its unit, such as "100 mm" or "12 psi".
Results go to standard output, everything else to standard error.
A file is written whole or not at all.
.B \-
stands for standard input or output.
)";

constexpr std::string_view closing = R"(.SH "EXIT STATUS"
.TP
.B 0
Done, also when the honest answer is to dig.
.TP
.B 1
Reading or writing failed, or a fault of the program's own.
.TP
.B 2
Wrong usage.
.TP
.B 3
The job, yard or survey file has errors, all of them listed; nothing was written.
.TP
.B 4
.B \-\-strict
was given, and some defect cannot be patched or some check failed.
.SH ENVIRONMENT
.TP
.B NO_COLOR
When set to anything, text is plain unless
.B \-\-color always
asks for bold.
.TP
.B TERM
On a
.B dumb
terminal text is plain.
.TP
.B SOURCE_DATE_EPOCH
Seconds since 1970, put into a PDF as its time of making.
Without it the job's date or a fixed day stands there, never the clock: the same job gives the same bytes.
.TP
.BR LC_ALL ", " LC_CTYPE ", " LANG
Say whether text may hold more than ASCII.
Numbers are written the same way everywhere.
.SH FILES
.TP
.I JOB
One job, as docs/job\-file.md and data/schema/job.schema.json describe it.
.TP
.I YARD
The firm's stock, limits and rates, as docs/yard\-file.md and data/schema/yard.schema.json describe it.
Without one, a built-in yard with invented prices is used, and every sheet that shows money says so.
.TP
.I share/doc/patchwright
The documents, schemas and examples named here.
)";

/// Text for troff: no character of it is a command, and hyphens can be copied into a shell.
std::string plain(std::string_view text) {
    std::string out;
    bool line_start = true;
    for (const char c : text) {
        if (line_start && (c == '.' || c == '\'')) out += "\\&";
        line_start = c == '\n';
        if (c == '\\') {
            out += "\\e";
        } else if (c == '-') {
            out += "\\-";
        } else {
            out += c;
        }
    }
    return out;
}

bool same(const OptionNode& a, const OptionNode& b) {
    return a.spellings == b.spellings && a.help == b.help && a.value == b.value && a.choices == b.choices;
}

using Options = std::vector<OptionNode>;

bool holds(const Options& list, const OptionNode& option) {
    return std::any_of(list.begin(), list.end(), [&](const OptionNode& other) { return same(option, other); });
}

/// Options that half of a command's subcommands or more have in the same words: described once.
Options shared_options(const CommandNode& parent, const Options& known) {
    Options shared;
    for (const auto& command : parent.commands) {
        for (const auto& option : command.options) {
            const auto users = std::count_if(parent.commands.begin(), parent.commands.end(),
                                             [&](const CommandNode& c) { return holds(c.options, option); });
            const bool often = 2 * users >= static_cast<std::ptrdiff_t>(parent.commands.size());
            if (often && !option.operand && !holds(known, option) && !holds(shared, option)) shared.push_back(option);
        }
    }
    return shared;
}

std::string option_text(const OptionNode& option) {
    std::string text = ".TP\n";
    if (option.operand) {
        text += fmt::format(".I {}\n", plain(option.spellings.front()));
    } else {
        std::vector<std::string> bold;
        for (const auto& spelling : option.spellings) bold.push_back("\\fB" + plain(spelling) + "\\fP");
        text += fmt::format("{}", fmt::join(bold, ", "));
        if (!option.value.empty()) text += " \\fI" + plain(option.value) + "\\fP";
        text += '\n';
    }
    return text + plain(option.help) + ".\n";
}

std::string command_text(const CommandNode& command, const Options& shared) {
    std::string text = fmt::format(".SS \"patchwright {}\"\n{}.\n", command.path, plain(command.help));
    std::string common;
    for (const auto& option : command.options) {
        if (!holds(shared, option)) {
            text += option_text(option);
        } else {
            common += (common.empty() ? "" : ", ") + ("\\fB" + plain(option.spellings.back()) + "\\fP");
        }
    }
    if (!common.empty()) text += ".PP\nAlso, as described before: " + common + ".\n";
    if (!command.examples.empty()) text += ".PP\n.nf\n" + plain(command.examples) + "\n.fi\n";
    return text;
}

/// The commands under `parent`; `shared` are described already.
std::string commands_text(const CommandNode& parent, const Options& shared) {
    std::string text;
    for (const auto& command : parent.commands) {
        text += command_text(command, shared);
        Options also = shared_options(command, shared);
        if (!also.empty()) text += ".PP\nMost of these take:\n";
        for (const auto& option : also) text += option_text(option);
        also.insert(also.begin(), shared.begin(), shared.end());
        text += commands_text(command, also);
    }
    return text;
}

}  // namespace

std::string man_page(const CommandNode& program, std::string_view version) {
    const Options shared = shared_options(program, {});
    // No date: the page is the same whenever it is made.
    std::string text = fmt::format(".TH PATCHWRIGHT 1 \"\" \"patchwright {}\" \"User Commands\"\n", plain(version));
    text += ".SH NAME\npatchwright \\- plan patch repairs of small drains\n.SH SYNOPSIS\n";
    for (const auto& command : program.commands) {
        text += fmt::format(".B patchwright {}\n[\\fIOPTIONS\\fP]", plain(command.name));
        for (const auto& option : command.options) {
            if (!option.operand) continue;
            const std::string name = "\\fI" + plain(option.spellings.front()) + "\\fP";
            text += option.required ? " " + name : " [" + name + "]";
        }
        text += command.commands.empty() ? "\n.br\n" : " \\fINAME\\fP ...\n.br\n";
    }
    text += ".SH DESCRIPTION\n" + std::string{description};
    text += ".SH OPTIONS\n";
    for (const auto& option : program.options) text += option_text(option);
    text += ".SH \"COMMON OPTIONS\"\n";
    for (const auto& option : shared) text += option_text(option);
    text += ".SH COMMANDS\n";
    text += commands_text(program, shared);
    text += closing;
    text += ".SH EXAMPLES\n.nf\n" + plain(program.examples) + "\n.fi\n";
    return text;
}

}  // namespace patchwright::cli
