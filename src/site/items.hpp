#pragma once
#include <vector>

#include "parts.hpp"

namespace patchwright::site {

/// A part of a crew's rest: a sleeve, and how it enters.
struct Item {
    std::size_t sleeve = 0;  ///< place in Now::sleeves
    schedule::PatchWork work;
    int in_hand = -1;  ///< mix that is in hand, by its place in the plan's mixes
    int mix = -1;      ///< one that is still to be mixed; sleeves of one number may share it
    std::vector<schedule::What> under_way;
    std::vector<int> after;  ///< places in the plan that it waits for
};

/// What one crew finds at the moment: everything but the runs and what is chosen to be mixed yet.
class CrewItems {
public:
    CrewItems(const Site& site, Now& now, int crew);

    int crew = 0;
    schedule::DayWork frame;    ///< without patches, runs and mixes
    std::vector<Item> fixed;    ///< what lies or is in hand, and what is left to do after a let-down
    std::vector<Item> to_make;  ///< what may be mixed yet

private:
    Sleeve& sleeve(std::size_t i) { return now_.sleeves[i]; }
    std::size_t patch(std::size_t i) const { return now_.sleeves[i].patch; }
    void make_frame();
    int persons() const;
    Item item(std::size_t i) const;
    void add(std::size_t i);
    void add_lying(std::size_t i);
    void add_stripping(std::size_t i);
    void add_in_hand(std::size_t i);
    void add_done(std::size_t i);
    std::size_t last_out(std::size_t i) const;
    void add_to_make(std::size_t i);
    void hold(std::size_t i);
    void take_off(std::size_t i);
    void have_what_is_used();
    void take_packer(const Sleeve& sleeve, schedule::PatchWork& work);
    int mix_place(std::size_t i) const;

    const Site& site_;
    Now& now_;
    std::vector<std::size_t> mine_, others_;  ///< places in Now::sleeves
    std::vector<job::RunPlace> held_;         ///< runs with a sleeve that no time is known of
};

}  // namespace patchwright::site
