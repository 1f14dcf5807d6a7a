// From the moves of a search to steps that name their patches.
#include "crew_search.hpp"
#include "memory.hpp"

namespace patchwright::schedule {
namespace {

using namespace crew;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// Jobs done ahead belong to no sleeve until a block uses them: the earliest goes to the block that comes first.
class Writer {
public:
    explicit Writer(const Shape& shape) : shape_{shape} {
        for (std::size_t r = 0; r < shape.places.size(); ++r)
            if (shape.places[r].carried) steps_.push_back({Piece::open, shape.places[r].run, 0, 0});
    }

    void write(const Move& move) {
        if (move.main == Piece::block) needs_of(move.index);
        fill(move);
        switch (move.main) {
            case Piece::prepare:
                prepare(move.index);
                break;
            case Piece::let_down:
                add(Piece::let_down, shape_.members[at(move.index)].patch);
                out_[at(shape_.members[at(move.index)].look_class)].push_back(move.index);
                break;
            default:
                steps_.push_back({Piece::block, shape_.batches[at(move.index)].mix, move.variant, 0});
        }
    }

    std::vector<Step> finish() {
        for (std::size_t k = 0; k < let_down_order_.size(); ++k) {
            const int c = shape_.members[at(let_down_order_[k])].look_class;
            if (!out_[at(c)].empty()) inspect(c);
        }
        return std::move(steps_);
    }

private:
    void add(Piece piece, int index) {
        if (piece == Piece::let_down)
            for (std::size_t i = 0; i < shape_.members.size(); ++i)
                if (shape_.members[i].patch == index) let_down_order_.push_back(static_cast<int>(i));
        steps_.push_back({piece, index, 0, 0});
    }
    void prepare(int place) {
        const Place& p = shape_.places[at(place)];
        prepared_ |= bit(place);
        if (p.prepare > 0 || p.dry > 0) steps_.push_back({Piece::prepare, p.run, p.carried ? 1 : 0, 0});
    }
    void look(int place) {
        looked_ |= bit(place);
        if (shape_.places[at(place)].look > 0) add(Piece::look, shape_.places[at(place)].run);
    }
    void inspect(int c) {
        const int member = out_[at(c)].front();
        out_[at(c)].erase(out_[at(c)].begin());
        if (shape_.members[at(member)].inspect > 0) add(Piece::inspect, shape_.members[at(member)].patch);
    }

    void needs_of(int b) {
        const Batch& batch = shape_.batches[at(b)];
        for (Bits rest = batch.runs; rest != 0; rest &= rest - 1) {
            const int r = std::countr_zero(rest);
            if (!(prepared_ & bit(r))) prepare(r);
            if (!(looked_ & bit(r))) look(r);
            if (!batch.overnight) continue;
            for (std::size_t c = 0; c < shape_.looks.size(); ++c)
                while (shape_.looks[c].key == r && !out_[c].empty()) inspect(static_cast<int>(c));
        }
        for (Bits rest = batch.members; rest != 0; rest &= rest - 1) {
            const Member& m = shape_.members[at(std::countr_zero(rest))];
            take(cut_[at(m.cut_class)], Piece::cut, m.patch, m.cut);
            take(bench_[at(m.bench_class)], Piece::bench, m.patch, m.bench);
        }
    }
    /// Uses a job done ahead, or does it now.
    void take(std::vector<std::size_t>& ahead, Piece piece, int patch, Minute length) {
        if (length == 0) return;
        if (ahead.empty()) {
            add(piece, patch);
            return;
        }
        steps_[ahead.front()].index = patch;
        ahead.erase(ahead.begin());
    }

    void fill(const Move& move) {
        for (Bits rest = move.prepare; rest != 0; rest &= rest - 1) prepare(std::countr_zero(rest));
        for (Bits rest = move.look; rest != 0; rest &= rest - 1) look(std::countr_zero(rest));
        for (std::size_t c = 0; c < static_cast<std::size_t>(most); ++c) {
            for (int k = 0; k < move.cut[c]; ++k) ahead(cut_[c], Piece::cut);
            for (int k = 0; k < move.bench[c]; ++k) ahead(bench_[c], Piece::bench);
            for (int k = 0; k < move.inspect[c]; ++k) inspect(static_cast<int>(c));
        }
    }
    void ahead(std::vector<std::size_t>& queue, Piece piece) {
        queue.push_back(steps_.size());
        steps_.push_back({piece, -1, 0, 0});
    }

    const Shape& shape_;
    std::vector<Step> steps_;
    std::array<std::vector<std::size_t>, most> cut_, bench_;
    std::array<std::vector<int>, most> out_;
    std::vector<int> let_down_order_;
    Bits prepared_ = 0, looked_ = 0;
};

CrewPlan search_crew(const Model& model, const CrewDay& day, Minute latest, bool any, std::int64_t& budget) {
    CrewPlan plan;
    const Shape shape = make_shape(model, day);
    Search search{shape, latest, any, budget};
    search.run();
    plan.proven = search.complete();
    plan.bound = search.root_bound() + shape.home;
    plan.found = search.found();
    if (!plan.found) return plan;
    Writer writer{shape};
    for (const Move& move : search.moves()) writer.write(move);
    plan.steps = writer.finish();
    plan.finish = clock_steps(model, day, plan.steps);
    plan.waiting = search.waiting();
    if (plan.proven && !any) plan.bound = plan.finish;
    return plan;
}

}  // namespace

CrewPlan plan_crew(const Model& model, const CrewDay& day, Minute latest, bool any, std::int64_t& budget) {
    std::size_t patches = day.carried.size();
    for (int mix : day.mixes) patches += model.mixes[at(mix)].patches.size();
    if (patches > static_cast<std::size_t>(crew::most)) return {};  // more than any day holds; not proven
    // What cures overnight is rare, and its clock differs every time.
    if (model.memory == nullptr || !day.overnight.empty() || !day.carried.empty())
        return search_crew(model, day, latest, any, budget);
    const Likeness likeness{model, day, latest};
    if (auto known = model.memory->find(likeness, any, budget)) return std::move(*known);
    const std::int64_t given = budget;
    CrewPlan plan = search_crew(model, day, latest, any, budget);
    model.memory->keep(likeness, any, given, budget, plan);
    return plan;
}

}  // namespace patchwright::schedule
