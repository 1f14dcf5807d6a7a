// `patchwright city`: what a stream of plans comes to, on one page.
#include <iostream>
#include <memory>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "output.hpp"
#include "patchwright/city/summary.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/sheet/city.hpp"
#include "patchwright/units/threads.hpp"

namespace patchwright::cli {
namespace {

const Parts city_parts{Part::sheets, Part::json, Part::csv};

/// Lines that are told of, of those that hold no plan: a file of another kind has a million of them.
constexpr int faults_told = 20;

struct CityOptions {
    Common common;
    std::vector<std::string> files;
    std::size_t worst = 5;
};

struct PlanLine {
    std::string text;
    city::Line line;
    std::string fault;
    bool blank = false;
};

class CityReader {
public:
    explicit CityReader(city::Summary& city) : city_{city}, lines_(static_cast<std::size_t>(64 * threads_)) {}

    void read(const std::string& path) {
        LineReader in{path};
        const std::string name = path == "-" ? "standard input" : path;
        std::size_t number = 0;
        for (bool more = true; more;) {
            std::size_t count = 0;
            while (count < lines_.size() && (more = in.next(lines_[count].text))) ++count;
            in_parallel(threads_, count, [&](std::size_t i) { understand(lines_[i], name, number + 1 + i); });
            for (std::size_t i = 0; i < count; ++i) take(lines_[i]);
            number += count;
        }
    }
    /// Throws Stop when any line was no plan.
    void done() const {
        if (faults_ == 0) return;
        if (faults_ > faults_told) complain(fmt::format("and {} more", faults_ - faults_told));
        throw Stop{bad_input};
    }

private:
    static void understand(PlanLine& read, const std::string& name, std::size_t number) {
        read.fault.clear();
        read.blank = read.text.find_first_not_of(" \t\r") == std::string::npos;
        if (read.blank) return;
        try {
            read.line = city::read_line(read.text);
        } catch (const city::LineFault& fault) {
            const std::string column = fault.column > 0 ? fmt::format(":{}", fault.column) : "";
            read.fault = fmt::format("{}:{}{}: error: {}", name, number, column, fault.what());
        }
    }
    void take(const PlanLine& read) {
        if (read.blank) return;
        if (read.fault.empty())
            city_.add(read.line);
        else
            tell(read.fault);
    }
    void tell(const std::string& fault) {
        if (++faults_ <= faults_told) std::cerr << io::screen_safe(fault) << '\n';
    }

    city::Summary& city_;
    int threads_ = usual_planning().threads;
    std::vector<PlanLine> lines_;
    int faults_ = 0;
};

void run_city(const CityOptions& options) {
    const auto form = chosen_form(options.common, city_parts);
    refuse_overwriting(options.common, options.files);
    city::Summary city{options.worst};
    CityReader reader{city};
    for (const auto& file : options.files) reader.read(file);
    reader.done();
    if (city.repeated > 0 && !options.common.quiet)
        complain(fmt::format("warning: {} plans bear a reference that stood before, first {}: counted each time",
                             city.repeated, city.first_repeated));
    Result result{{}, UnitSystem::metric};
    result.sheets = [&] { return std::vector{sheet::city_sheet(city)}; };
    result.json = [&] { return sheet::city_json(city); };
    result.csv = [&] { return sheet::city_csv(city); };
    write_result(options.common, form, result);
}

}  // namespace

void add_city(CLI::App& command, Outcome&) {
    auto options = std::make_shared<CityOptions>();
    command
        .add_option("PLANS", options->files, "What plan --stream wrote, one file or its pieces; - is standard input")
        ->required()
        ->check(file_name());
    command.add_option("--worst", options->worst, "How many of the worst jobs of each kind; 5 unless given")
        ->type_name("N")
        ->check(CLI::Range(0, 1000));
    add_output(command, options->common, city_parts);
    add_paper(command, options->common);
    command.footer(
        "Examples:\n  patchwright city plans.jsonl\n  patchwright city plans/*.jsonl -o city.pdf\n"
        "  patchwright plan --stream jobs.jsonl | patchwright city - -f csv");
    command.callback([options] { run_city(*options); });
}

}  // namespace patchwright::cli
