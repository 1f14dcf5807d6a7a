#pragma once
#include <map>
#include <memory>
#include <mutex>
#include <tuple>
#include <vector>

#include "numbers.hpp"
#include "patchwright/cure/cure.hpp"
#include "patchwright/job/yard.hpp"
#include "patchwright/working/working.hpp"

namespace patchwright::plan {

/// How sleeves cure in the resins of a yard: each case followed once, for all runs of a plan and for all plans that are
/// made of one yard. For the outlook that saves two fifths of the time of a small job, a fifth of the demonstration's.
/// May be asked from several threads at once; what it gives stays where it is.
class KnownCures {
public:
    /// The yard must outlive it.
    KnownCures(const job::Yard& yard, bool with_working);

    bool serves(const job::Yard& yard, bool with_working) const {
        return &yard == &yard_ && with_working == with_working_;
    }

    /// Fitted when first asked for; throws as the model's constructor does, each time.
    const cure::Model& model(int resin);
    /// Hands-on time from mixing to shaped of a sleeve of that length with a mix of its own.
    const cure::Hands& hands(Length sleeve);

    struct Cured {
        cure::Answer answer;  ///< without its pot
        Working working;
    };
    /// Whatever the mass mixed for it, on which the pot alone hangs.
    const Cured& cured(int resin, const cure::Sleeve& sleeve, const cure::Surroundings& host,
                       const cure::Conditions& conditions);
    /// The chance that a sleeve of that length is not shaped in time.
    double late_probability(Length sleeve, const Cured& cured);
    /// Latest end of pouring for a mixed mass.
    Duration pour_by(int resin, Mass mixed, Temperature at, Temperature air);

private:
    struct Fitted {
        std::mutex fitting;
        std::unique_ptr<cure::Model> model;
    };
    /// What is kept under the key; else what `find` gives, which is not waited for by others.
    template <class Map, class Find>
    const typename Map::mapped_type& kept(Map& map, const typename Map::key_type& key, const Find& find);

    const job::Yard& yard_;
    bool with_working_;
    std::vector<Fitted> models_;
    std::mutex guard_;
    std::map<double, cure::Hands> hands_;  ///< by metres
    ByNumbers<Cured> cured_;
    std::map<std::pair<const Cured*, double>, double> late_;  ///< by metres of the sleeve
    std::map<std::tuple<int, double, double, double>, Duration> pour_by_;
};

}  // namespace patchwright::plan
