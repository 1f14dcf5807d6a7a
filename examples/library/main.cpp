// Reads a job and prints each patch's design thickness with its working: formula, values, source.
//   patch_thickness JOB
#include <fstream>
#include <iostream>
#include <iterator>
#include <string>

#include "patchwright/io/read.hpp"
#include "patchwright/plan/figures.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/units/error.hpp"
#include "patchwright/units/format.hpp"
#include "patchwright/working/render.hpp"

using namespace patchwright;

int main(int argc, char** argv) {
    if (argc != 2) {
        std::cerr << "usage: patch_thickness JOB\n";
        return 2;
    }
    std::ifstream file{argv[1]};
    if (!file) {
        std::cerr << argv[1] << ": cannot be read\n";
        return 1;
    }
    const std::string text{std::istreambuf_iterator<char>{file}, {}};

    // Every fault found in the file, each with its line and column.
    const auto read = io::read_job(text, argv[1]);
    for (const auto& diagnostic : read.diagnostics) std::cerr << io::text(diagnostic) << '\n';
    if (!read) return 3;

    const plan::Plan plan = plan::make_plan(*read.value, io::builtin_yard());
    for (const plan::Patch& patch : plan.patches) {
        const Working& working = plan::patch_figure("thickness").working(patch);
        std::cout << patch.id << ": design thickness " << patch.thickness.design.in(unit::mm) << " mm\n"
                  << working_text(working, UnitSystem::metric) << '\n';
    }
    return 0;
}
