#pragma once
#include "patchwright/survey/verdict.hpp"

/// A run and limits to judge against. Limits: common practice, no source; each is the yard's to change.
namespace runs {

using namespace patchwright;

inline job::Limits limits() {
    job::Limits l;
    l.step_share = 0.10;
    l.step_most = 15.0 * unit::mm;
    l.open_joint_most = 40.0 * unit::mm;
    l.hole_share = 0.3;
    l.missing_circumference_share = 0.25;
    l.ovality_most = 10.0;
    l.root_clean_most = 5.0;
    l.deposit_clean_most = 20.0;
    l.protrusion_clean = 5.0 * unit::mm;
    l.scope_bore_min = 75.0 * unit::mm;
    l.overlap = 200.0 * unit::mm;
    l.tolerance = 50.0 * unit::mm;
    l.crowd_count = 3;
    l.crowd_within = 4.0 * unit::m;
    l.crowd_lined_share = 0.4;
    return l;
}

inline job::Run run(double bore_mm = 100.0) {
    job::Run r;
    r.id = "A";
    r.length = 21.4 * unit::m;
    r.bore = bore_mm * unit::mm;
    r.material = job::Material::clay;
    return r;
}

inline job::Defect defect(job::DefectKind kind, double at_m = 9.1, double to_m = 9.1) {
    job::Defect d;
    d.id = "A1";
    d.kind = kind;
    d.at = at_m * unit::m;
    d.to = to_m * unit::m;
    return d;
}

inline job::Defect sized(job::DefectKind kind, double millimetres) {
    job::Defect d = defect(kind);
    d.size = millimetres * unit::mm;
    return d;
}

inline job::Defect percented(job::DefectKind kind, double percent) {
    job::Defect d = defect(kind);
    d.size_percent = percent;
    return d;
}

inline job::Fitting junction(double at_m, bool live) {
    job::Fitting f;
    f.at = at_m * unit::m;
    f.kind = job::FittingKind::junction;
    f.bore = 100.0 * unit::mm;
    f.live = live;
    return f;
}

}  // namespace runs
