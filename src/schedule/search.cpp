#include "search.hpp"

namespace patchwright::schedule {

Search::Search(const Model& model, Minute limit, std::int64_t budget)
    : model_{model}, partial_{model}, limit_{limit}, budget_{budget}, choices_(model.jobs.size() + 1) {
    root_bound_ = partial_.bound(never);
}

void Search::run(bool any) {
    any_ = any;
    if (root_bound_ < limit_) visit();
}

/// Another order with the same jobs started is nowhere later.
bool Search::beaten() {
    partial_.profile(profile_);
    std::size_t& newest = seen_[partial_.started()];
    for (std::size_t place = newest; place != 0; place = at(kept_[place - 1])) {
        const auto entries = kept_.begin() + static_cast<std::ptrdiff_t>(place);
        if (std::equal(profile_.begin(), profile_.end(), entries,
                       [](Minute mine, Minute other) { return other <= mine; }))
            return true;
    }
    kept_.push_back(static_cast<Minute>(newest));
    newest = kept_.size();
    kept_.insert(kept_.end(), profile_.begin(), profile_.end());
    return false;
}

void Search::visit() {
    if (++visited_ > budget_) {
        complete_ = false;
        stop_ = true;
        return;
    }
    const Minute bound = partial_.bound(limit_ - 1);
    if (bound >= limit_) return;
    if (partial_.done()) {
        limit_ = bound;
        best_ = partial_.starts();
        stop_ = any_ || bound == root_bound_;
        return;
    }
    if (beaten()) return;

    auto& choices = choices_[partial_.starts().size()];
    choices.clear();
    // A job other than mixing that could be over before another one starts goes first.
    Minute over = never;
    int first = -1;
    for (std::size_t j = 0; j < model_.jobs.size(); ++j) {
        const int job = static_cast<int>(j);
        if (partial_.started().test(j)) continue;
        const Minute when = partial_.earliest(job);
        if (when >= never) continue;
        choices.push_back({when, model_.jobs[j].tail, job});
        const Piece piece = model_.jobs[j].piece;
        const Minute end = when + partial_.opening(model_.jobs[j]) + model_.jobs[j].minutes;
        if (piece != Piece::mix && piece != Piece::ready && end < over) {
            over = end;
            first = job;
        }
    }
    std::erase_if(choices, [&](const Choice& c) { return c.at >= over && c.job != first; });
    std::sort(choices.begin(), choices.end(), [](const Choice& a, const Choice& b) {
        return std::tuple{a.at, -a.tail, a.job} < std::tuple{b.at, -b.tail, b.job};
    });
    for (std::size_t k = 0; k < choices.size() && !stop_; ++k) {
        const Choice choice = choices[k];
        if (choice.at + choice.tail >= limit_) continue;
        partial_.start(choice.job, choice.at);
        visit();
        partial_.undo();
    }
}

}  // namespace patchwright::schedule
