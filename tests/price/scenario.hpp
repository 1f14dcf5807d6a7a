#pragma once
#include <string>
#include <vector>

#include <fmt/core.h>

#include "patchwright/io/read.hpp"
#include "patchwright/price/price.hpp"

/// An invented job for the tests: one run under a yard, a few defects, rates of the demonstration yard.
namespace patchwright::price::scenario {

inline Money eur(double amount) {
    return Money::cents(static_cast<std::int64_t>(amount * 100.0 + (amount < 0 ? -0.5 : 0.5)), Currency{"EUR"});
}

struct Scenario {
    job::Job job;
    job::Yard yard = io::builtin_yard();
    PatchWorks works;
    std::vector<std::size_t> patched, unavoidable;  ///< places in the run's defects

    /// Defects `half_length` to each side of the distances given, in metres.
    explicit Scenario(const std::vector<double>& at = {3.9, 9.1, 15.0}, double depth = 1.35) {
        job::Run run;
        run.id = "A";
        run.length = 21.4 * unit::m;
        run.bore = 100.0 * unit::mm;
        run.material = job::Material::clay;
        run.depth = depth * unit::m;
        for (const double d : at) {
            job::Defect defect;
            defect.id = fmt::format("A{}", run.defects.size() + 1);
            defect.at = (d - 0.2) * unit::m;
            defect.to = (d + 0.2) * unit::m;
            patched.push_back(run.defects.size());
            run.defects.push_back(defect);
        }
        job.runs.push_back(run);
        job.dig.surface = {job::Surface::concrete, Origin::given};
        job.dig.soil = {job::Soil::b, Origin::given};
        const auto n = static_cast<int>(at.size());
        works.patches = n;
        works.days = works.visits = 1;
        works.crew_time = (3.0 + 1.5 * n) * unit::h;
        works.materials = {{"Felt", 1.2, "m2", eur(14.0), eur(16.8)}, {"Kit", 2, "kits", eur(38.0), eur(76.0)}};
        works.wear = {{"Packer", static_cast<double>(n), "uses", eur(4.5), eur(4.5) * n}};
        for (int i = 0; i < n; ++i) works.redo_cost.push_back(eur(180.0));
    }
    /// The last patched defect becomes one that must be dug.
    void must_dig_last() {
        unavoidable.push_back(patched.back());
        patched.pop_back();
        works.patches -= 1;
        works.redo_cost.pop_back();
    }
    std::vector<excavation::Place> places(const std::vector<std::size_t>& which) const {
        std::vector<excavation::Place> out;
        for (const std::size_t i : which) {
            const job::Defect& d = job.runs[0].defects[i];
            out.push_back({&job.runs[0], {&d}, d.at, d.to});
        }
        return out;
    }
    Input input() const {
        Input in;
        in.job = &job;
        in.yard = &yard;
        in.works = works;
        in.dig_places = places(patched);
        in.unavoidable_places = places(unavoidable);
        return in;
    }
};

}  // namespace patchwright::price::scenario
