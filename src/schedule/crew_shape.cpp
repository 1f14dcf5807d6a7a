#include <algorithm>
#include <limits>

#include "crew.hpp"

namespace patchwright::schedule::crew {
namespace {

int class_of(Shape::Classes& classes, Minute length, int key, int member) {
    for (std::size_t c = 0; c < classes.size(); ++c) {
        if (classes[c].length == length && classes[c].key == key) {
            classes[c].members |= bit(member);
            return static_cast<int>(c);
        }
    }
    classes.push_back({length, key, bit(member)});
    return static_cast<int>(classes.size()) - 1;
}

int place_of(Shape& shape, int run) {
    for (std::size_t r = 0; r < shape.places.size(); ++r)
        if (shape.places[r].run == run) return static_cast<int>(r);
    const RunWork& work = shape.model->run(run);
    Place place{};
    place.run = run;
    place.prepare = work.set_up + work.clean;
    place.look = work.survey + work.flow_control;
    place.dry = work.dry;
    shape.places.push_back(place);
    return static_cast<int>(shape.places.size()) - 1;
}

Member member_of(Shape& shape, int patch) {
    const PatchWork& p = shape.model->patch(patch);
    Member m{};
    m.mix = -1;
    m.patch = patch;
    m.run = place_of(shape, p.run);
    m.packer = p.packer;
    m.cut = p.cut;
    m.bench = p.bench_test;
    m.let_down = p.let_down;
    m.inspect = shape.model->inspect(patch);
    m.lag = p.mix_to_let_down;
    return m;
}

void add_batch(Shape& shape, int mix, bool overnight) {
    const MixModel& model = shape.model->mixes[static_cast<std::size_t>(mix)];
    Batch batch{};
    batch.twin = -1;
    batch.mix = mix;
    batch.length = model.length;
    batch.overnight = overnight;
    for (int patch : model.patches) {
        Member m = member_of(shape, patch);
        m.mix = static_cast<int>(shape.batches.size());
        m.overnight = overnight;
        m.load_at = m.position_at = m.inflate_at = std::numeric_limits<Minute>::max();
        Minute creased = m.load_at;
        for (const BlockVariant& v : model.variants) {
            const auto k = static_cast<std::size_t>(std::find(v.order.begin(), v.order.end(), patch) - v.order.begin());
            m.load_at = std::min(m.load_at, v.sleeves[k].load);
            m.position_at = std::min(m.position_at, v.sleeves[k].position);
            m.inflate_at = std::min(m.inflate_at, v.sleeves[k].inflate);
            creased = std::min(creased, v.sleeves[k].creased);
        }
        m.lag = std::max(m.lag, creased);
        const int place = static_cast<int>(shape.members.size());
        batch.members |= bit(place);
        batch.runs |= bit(m.run);
        batch.tail = std::max(batch.tail, overnight ? batch.length : m.lag + m.let_down + m.inspect);
        shape.places[static_cast<std::size_t>(m.run)].members |= bit(place);
        m.cut_class = class_of(shape.cuts, m.cut, 0, place);
        m.bench_class = class_of(shape.benches, m.bench, m.packer, place);
        m.look_class = class_of(shape.looks, m.inspect, m.run, place);
        shape.work += m.cut + m.bench + (overnight ? 0 : m.let_down + m.inspect);
        shape.members.push_back(m);
    }
    // Orders of one mix differ in waiting, in when a sleeve may come out, and in when the pipe must be dry.
    batch.variants = 1;
    if (model.patches.size() > 1) batch.variants = static_cast<int>(model.variants.size());
    shape.work += batch.length;
    shape.batches.push_back(batch);
}

void relate(Shape& shape) {
    const int n = static_cast<int>(shape.members.size());
    for (int i = 0; i < n; ++i) {
        Member& m = shape.members[static_cast<std::size_t>(i)];
        for (int j = 0; j < n; ++j) {
            const Member& o = shape.members[static_cast<std::size_t>(j)];
            if (shape.model->keep_out(m.patch, o.patch)) m.conflict |= bit(j);
            const auto& after = shape.model->patch(m.patch).after;
            if (std::find(after.begin(), after.end(), o.patch) != after.end()) m.after |= bit(j);
        }
    }
}

/// The same in every respect that an order of work can see.
bool twins(const Shape& shape, int a, int b) {
    const Batch& x = shape.batches[static_cast<std::size_t>(a)];
    const Batch& y = shape.batches[static_cast<std::size_t>(b)];
    if (x.overnight != y.overnight || x.length != y.length) return false;
    if ((x.members & (x.members - 1)) != 0 || (y.members & (y.members - 1)) != 0) return false;
    const Member *p = nullptr, *q = nullptr;
    int pi = 0, qi = 0;
    for (int i = 0; i < static_cast<int>(shape.members.size()); ++i) {
        if (x.members & bit(i)) p = &shape.members[static_cast<std::size_t>(pi = i)];
        if (y.members & bit(i)) q = &shape.members[static_cast<std::size_t>(qi = i)];
    }
    Bits waits = 0;
    for (const Member& m : shape.members) waits |= m.after;
    if (p->after != q->after || (waits & (bit(pi) | bit(qi))) != 0) return false;
    if ((p->conflict & ~bit(qi)) != (q->conflict & ~bit(pi))) return false;
    return p->run == q->run && p->packer == q->packer && p->cut == q->cut && p->bench == q->bench &&
           p->let_down == q->let_down && p->inspect == q->inspect && p->lag == q->lag && p->load_at == q->load_at &&
           p->position_at == q->position_at && p->inflate_at == q->inflate_at;
}

void add_chains(Shape& shape) {
    using Hold = Chain::Hold;
    Bits all = 0;
    for (int i = 0; i < static_cast<int>(shape.members.size()); ++i) all |= bit(i);
    for (int kind = 0; kind < static_cast<int>(shape.packers.size()); ++kind) {
        Bits users = 0;
        for (int i = 0; i < static_cast<int>(shape.members.size()); ++i)
            if (shape.members[static_cast<std::size_t>(i)].packer == kind) users |= bit(i);
        if (users != 0 && shape.packers[static_cast<std::size_t>(kind)] > 0)
            shape.chains.push_back({users, shape.packers[static_cast<std::size_t>(kind)], Hold::packer});
    }
    if (shape.air_lines > 0) shape.chains.push_back({all, shape.air_lines, Hold::line});
    for (const Place& place : shape.places)
        for (const bool far : {false, true}) {
            Bits users = 0;
            for (int i = 0; i < static_cast<int>(shape.members.size()); ++i)
                if (place.members & bit(i) &&
                    shape.model->patch(shape.members[static_cast<std::size_t>(i)].patch).from_far_end == far)
                    users |= bit(i);
            if ((users & (users - 1)) != 0) shape.chains.push_back({users, 1, Hold::pipe});
        }
}

}  // namespace

Shape make_shape(const Model& model, const CrewDay& day) {
    const Problem& problem = *model.problem;
    Shape shape;
    shape.model = &model;
    shape.packers = day.packers;
    shape.air_lines = day.air_lines;
    shape.team = problem.crew_size;
    shape.pair = std::min(2, problem.crew_size);
    shape.watch = problem.watch_cure;
    shape.home = problem.pack_up + problem.travel;
    shape.start = problem.start + problem.travel;
    for (std::size_t k = 0; k < day.carried.size(); ++k) {
        Member m = member_of(shape, day.carried[k]);
        Place& place = shape.places[static_cast<std::size_t>(m.run)];
        if (!place.carried) {
            place.carried = true;
            shape.start += model.run(place.run).set_up;
            place.prepare = model.run(place.run).clean;
        }
        const int at = static_cast<int>(shape.members.size());
        place.members |= bit(at);
        m.look_class = class_of(shape.looks, m.inspect, m.run, at);
        shape.carried |= bit(at);
        shape.carried_at[static_cast<std::size_t>(at)] = day.carried_at[k];
        shape.work += m.let_down + m.inspect;
        shape.members.push_back(m);
    }
    for (int mix : day.mixes) {
        const bool overnight = std::find(day.overnight.begin(), day.overnight.end(), mix) != day.overnight.end();
        const int first = static_cast<int>(shape.members.size());
        add_batch(shape, mix, overnight);
        if (overnight)
            for (int i = first; i < static_cast<int>(shape.members.size()); ++i) shape.overnight |= bit(i);
    }
    for (const Place& place : shape.places)
        if (place.members & ~shape.carried) shape.work += place.prepare + place.look;
    relate(shape);
    for (int b = 0; b < static_cast<int>(shape.batches.size()); ++b)
        for (int a = 0; a < b && shape.batches[static_cast<std::size_t>(b)].twin < 0; ++a)
            if (twins(shape, a, b)) shape.batches[static_cast<std::size_t>(b)].twin = a;
    add_chains(shape);
    return shape;
}

Node first_node(const Shape& shape) {
    Node node;
    node.t = shape.start;
    node.work = shape.work;
    node.active = shape.carried;
    node.release = shape.carried_at;
    for (std::size_t r = 0; r < shape.places.size(); ++r)
        if (shape.places[r].prepare == 0 && shape.places[r].dry == 0) node.prepared |= bit(static_cast<int>(r));
    return node;
}

}  // namespace patchwright::schedule::crew
