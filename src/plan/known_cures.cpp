#include "known_cures.hpp"

#include <utility>

namespace patchwright::plan {
namespace {

/// All that an answer follows from but the yard's limits.
Numbers numbers_of(int resin, const cure::Sleeve& s, const cure::Surroundings& host, const cure::Conditions& c) {
    Numbers n{static_cast<double>(resin),
              s.thickness.si(),
              s.resin_mass_fraction,
              s.wet_density.si(),
              s.table_layers,
              host.bore.si(),
              host.wall.si(),
              c.wet_out.si(),
              c.load.si(),
              c.position.si(),
              c.inflate.si(),
              c.crease.si()};
    n.insert(n.end(), {static_cast<double>(host.host), host.wet_soil ? 1.0 : 0.0, c.pipe_measured ? 1.0 : 0.0,
                       c.others_measured ? 1.0 : 0.0, static_cast<double>(c.heating.medium)});
    for (const auto* t : {&c.pipe, &c.air, &c.resin, &c.van}) {
        n.push_back(t->value.in_kelvin());
        n.push_back(static_cast<double>(t->origin));
    }
    for (const auto& p : c.heating.points)
        n.insert(n.end(), {p.after_inflation.si(), p.temperature.in_kelvin(), p.as_pipe ? 1.0 : 0.0});
    return n;
}

}  // namespace

KnownCures::KnownCures(const job::Yard& yard, bool with_working)
    : yard_{yard}, with_working_{with_working}, models_(yard.resins.size()) {}

template <class Map, class Find>
const typename Map::mapped_type& KnownCures::kept(Map& map, const typename Map::key_type& key, const Find& find) {
    {
        const std::lock_guard lock{guard_};
        if (const auto place = map.find(key); place != map.end()) return place->second;
    }
    auto found = find();
    const std::lock_guard lock{guard_};
    return map.try_emplace(key, std::move(found)).first->second;
}

const cure::Model& KnownCures::model(int resin) {
    auto& slot = models_[static_cast<std::size_t>(resin)];
    const std::lock_guard lock{slot.fitting};
    if (!slot.model) slot.model = std::make_unique<cure::Model>(yard_.resins[static_cast<std::size_t>(resin)]);
    return *slot.model;
}

const cure::Hands& KnownCures::hands(Length sleeve) {
    return kept(hands_, sleeve.si(), [&] {
        return cure::hands_of(cure::sleeve_tasks(yard_.durations, sleeve, yard_.limits), yard_.limits);
    });
}

const KnownCures::Cured& KnownCures::cured(int resin, const cure::Sleeve& sleeve, const cure::Surroundings& host,
                                           const cure::Conditions& conditions) {
    return kept(cured_, numbers_of(resin, sleeve, host, conditions), [&] {
        Working working = with_working_ ? Working{} : Working::off();
        auto answer = model(resin).answer_without_pot(sleeve, host, conditions, yard_.limits, working);
        return Cured{std::move(answer), std::move(working)};
    });
}

double KnownCures::late_probability(Length sleeve, const Cured& cured) {
    return kept(late_, {&cured, sleeve.si()}, [&] { return cure::late_probability(hands(sleeve), cured.answer); });
}

Duration KnownCures::pour_by(int resin, Mass mixed, Temperature at, Temperature air) {
    return kept(pour_by_, {resin, mixed.si(), at.in_kelvin(), air.in_kelvin()},
                [&] { return model(resin).pour_by(mixed, at, air, yard_.limits); });
}

}  // namespace patchwright::plan
