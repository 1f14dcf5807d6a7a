// Days that were searched once, so that whole jobs which differ in one sleeve do not search the others' days again.
#include "memory.hpp"

#include <algorithm>

namespace patchwright::schedule {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

std::int32_t place_in(std::span<const int> list, int what) {
    return static_cast<std::int32_t>(std::find(list.begin(), list.end(), what) - list.begin());
}
template <class List>
std::int32_t note(List& list, int what) {
    const std::int32_t place = place_in(list, what);
    if (at(place) == list.size()) list.push_back(what);
    return place;
}

Row joined(RowView first, RowView second) {
    Row row;
    row.reserve(first.size() + second.size());
    row.insert(row.end(), first.begin(), first.end());
    row.insert(row.end(), second.begin(), second.end());
    return row;
}

}  // namespace

std::size_t RowHash::operator()(RowView row) const {
    std::uint64_t hash = row.size();
    for (const std::int32_t value : row) {
        hash = (hash ^ static_cast<std::uint32_t>(value)) * 0x9e3779b97f4a7c15ULL;
        hash ^= hash >> 32;
    }
    return static_cast<std::size_t>(hash);
}

Likeness::Likeness(const Model& model, const CrewDay& day, Minute latest) : mixes_{day.mixes} {
    row_.append({model.kind, latest, day.air_lines});
    for (const int mix : mixes_)
        for (const int patch : model.mixes[at(mix)].patches) patches_.push_back(patch);
    for (const int mix : mixes_) {
        row_.push_back(model.mixes[at(mix)].kind);
        for (const int patch : model.mixes[at(mix)].patches) {
            const PatchWork& p = model.patch(patch);
            std::int32_t keeps_out = 0, waits = 0;
            for (std::size_t k = 0; k < patches_.size(); ++k)
                if (model.keep_out(patch, patches_[k])) keeps_out |= std::int32_t{1} << k;
            for (const int other : p.after)
                if (const auto k = at(place_in(patches_, other)); k < patches_.size()) waits |= std::int32_t{1} << k;
            row_.append({note(runs_, p.run), model.run_kinds[at(p.run)], note(packers_, p.packer),
                         p.packer < 0 ? 0 : day.packers[at(p.packer)], static_cast<std::int32_t>(p.from_far_end),
                         keeps_out, waits});
        }
    }
}

std::span<const int> Likeness::list_of(Piece piece) const {
    switch (piece) {
        case Piece::open:
        case Piece::prepare:
        case Piece::look:
            return runs_;
        case Piece::block:
            return mixes_;
        default:
            return patches_;
    }
}

std::vector<Step> Likeness::inward(std::vector<Step> steps) const {
    for (Step& step : steps) step.index = place_in(list_of(step.piece), step.index);
    return steps;
}

std::vector<Step> Likeness::outward(std::vector<Step> steps) const {
    for (Step& step : steps) step.index = list_of(step.piece)[at(step.index)];
    return steps;
}

std::vector<int> Likeness::inward(std::vector<int> patches) const {
    for (int& patch : patches) patch = place_in(patches_, patch);
    return patches;
}

std::vector<int> Likeness::outward(std::vector<int> patches) const {
    for (int& patch : patches) patch = patches_[at(patch)];
    return patches;
}

int Memory::Store::kind_of(RowView row) {
    auto place = kinds_.find(row);
    if (place == kinds_.end())
        place = kinds_.emplace(Row{row.begin(), row.end()}, static_cast<int>(kinds_.size())).first;
    return place->second;
}

/// By the durations of its sleeves, and by which of their orders keep the limits.
int Memory::Store::kind_of_mix(const Model& model, const MixModel& mix) {
    row_.assign({1, static_cast<std::int32_t>(mix.patches.size())});
    for (const int patch : mix.patches) {
        const PatchWork& p = model.patch(patch);
        row_.insert(row_.end(), {p.cut, p.bench_test, p.wet_out, p.load, p.position, p.inflate, p.crease, p.let_down,
                                 model.inspect(patch), p.mix_to_let_down});
    }
    for (const BlockVariant& variant : mix.variants)
        for (const int patch : variant.order) row_.push_back(place_in(mix.patches, patch));
    return kind_of(row_);
}

void Memory::Store::recognise(Model& model) {
    const Problem& problem = *model.problem;
    model.memory = this;
    model.kind = kind_of(std::array{2, problem.start, problem.travel, problem.pack_up, problem.crew_size,
                                    static_cast<int>(problem.watch_cure)});
    model.run_kinds.reserve(problem.runs.size());
    for (const RunWork& run : problem.runs)
        model.run_kinds.push_back(kind_of(std::array{0, run.set_up, run.clean, run.survey, run.flow_control, run.dry}));
    for (MixModel& mix : model.mixes) mix.kind = kind_of_mix(model, mix);
}

std::optional<CrewPlan> Memory::Store::find(const Likeness& day, bool any, std::int64_t& budget) const {
    const auto place = days_.find(day.row());
    if (place == days_.end()) return std::nullopt;
    const auto fits = [&](const Search& search) {
        return search.made && (search.given == budget || (search.plan.proven && search.used <= budget));
    };
    const Search* search = &place->second[any ? 1 : 0];
    if (!fits(*search)) {
        // Where no order is in time, both went through the same nodes.
        search = &place->second[any ? 0 : 1];
        if (!fits(*search) || search->plan.found) return std::nullopt;
    }
    budget -= search->used;
    CrewPlan plan = search->plan;
    plan.steps = day.outward(std::move(plan.steps));
    return plan;
}

void Memory::Store::keep(const Likeness& day, bool any, std::int64_t given, std::int64_t left, const CrewPlan& plan) {
    const RowView row = day.row();
    Search& search = days_[Row{row.begin(), row.end()}][any ? 1 : 0];
    search = {true, given, given - left, plan};
    search.plan.steps = day.inward(plan.steps);
}

std::optional<Outline> Memory::Store::find(const Likeness& work, RowView row) const {
    const auto place = outlines_.find(joined(work.row(), row));
    if (place == outlines_.end()) return std::nullopt;
    Outline outline = place->second;
    outline.impossible = work.outward(std::move(outline.impossible));
    outline.order = work.outward(std::move(outline.order));
    return outline;
}

void Memory::Store::keep(const Likeness& work, RowView row, const Outline& outline) {
    Outline& kept = outlines_[joined(work.row(), row)];
    kept = outline;
    kept.impossible = work.inward(outline.impossible);
    kept.order = work.inward(outline.order);
}

Memory::Memory() : store_{std::make_unique<Store>()} {}
Memory::~Memory() = default;
Memory::Memory(Memory&&) noexcept = default;
Memory& Memory::operator=(Memory&&) noexcept = default;

}  // namespace patchwright::schedule
