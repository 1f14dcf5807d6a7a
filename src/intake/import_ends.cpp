// Where the distances of a survey begin.
#include <fmt/core.h>

#include "import_map.hpp"

namespace patchwright::intake {
namespace {

/// The node that an observation of the kind `main` names: in its first quantity, or in its remark if the header knows
/// a node of that name. BCD counts only where the counter stands at zero.
struct NamedNode {
    const Placed* place = nullptr;
    std::string name;
};

/// What BCD names away from zero.
struct Aside {
    const Placed* place = nullptr;
    std::string name, at;
};

class Ends {
public:
    Ends(const Survey& survey, RunInWork& run, Faults& faults)
        : survey_{survey},
          run_{run},
          faults_{faults},
          first_{name_of("AAB")},
          node1_{name_of("AAD")},
          node2_{name_of("AAF")} {}

    void read() {
        direction();
        order();
        tell_aside();
    }

private:
    void order() {
        const NamedNode begin = named_by("BCD"), finish = named_by("BCE");
        std::string zero = first_.empty() ? begin.name : first_;
        if (!first_.empty() && !begin.name.empty() && begin.name != first_)
            tell(*begin.place,
                 "the first observation (BCD) names \"{}\", but the survey says that it began at \"{}\" "
                 "(AAB); distances run from the latter",
                 begin.name, first_);
        const bool finish_is_node = !finish.name.empty() && (finish.name == node1_ || finish.name == node2_);
        if (zero.empty() && finish_is_node) zero = other_than(finish.name);
        if (zero.empty()) {
            by_direction();
            return;
        }
        run_.from = zero;
        run_.to = far_end(zero, finish.name);
        if (!finish.name.empty() && finish.name != run_.to)
            tell(*finish.place,
                 "the last observation (BCE) names \"{}\", but the far end is \"{}\" by the header; the "
                 "latter is taken",
                 finish.name, run_.to);
    }

    template <class... Arguments>
    void tell(const Placed& at, fmt::format_string<Arguments...> words, Arguments&&... arguments) {
        doubt(run_, faults_, at, fmt::format(words, std::forward<Arguments>(arguments)...));
    }

    std::string name_of(std::string_view code) const {
        const Placed* field = find(survey_.header, code);
        return field == nullptr ? std::string{} : as_name(field->text);
    }

    bool has_nodes() const { return !node1_.empty() || !node2_.empty(); }
    bool is_known(const std::string& name) const { return name == first_ || name == node1_ || name == node2_; }
    const std::string& other_than(const std::string& name) const { return name == node1_ ? node2_ : node1_; }

    void direction() {
        const Placed* field = find(survey_.header, "AAK");
        if (field == nullptr) return;
        const std::string way = upper(field->text);
        if (way == "A" || way == "B")
            run_.against_flow = way == "B";
        else
            tell(*field, "the direction \"{}\" (AAK) is neither A, with the flow, nor B, against it; left open",
                 head(field->text, 20));
    }

    /// A bare number in the first quantity is hardly a name beside nodes that the header names.
    bool may_name(const Placed& quantity) const {
        return (first_.empty() && !has_nodes()) || !number(quantity.text, survey_.decimal_mark);
    }

    /// BCD where the counter does not stand at zero orders nothing; what it says against the order is told.
    NamedNode named_by(std::string_view main) {
        NamedNode found;
        for (const Observation& seen : survey_.seen) {
            const Placed* code = find(seen.fields, "A");
            if (code == nullptr || upper(code->text) != main) continue;
            const Placed* at = find(seen.fields, "I");
            const auto distance = at == nullptr ? std::nullopt : number(at->text, survey_.decimal_mark);
            const bool counts = main != "BCD" || (distance && *distance == 0.0);
            for (const std::string_view field : {"D", "F"}) {
                const Placed* place = find(seen.fields, field);
                if (place == nullptr) continue;
                const std::string name = as_name(place->text);
                const bool names = is_known(name) || (field == "D" && !has_nodes() && may_name(*place));
                if (names && !counts)
                    aside_.push_back({place, name, at == nullptr ? "" : head(trimmed(at->text), 20)});
                else if (names)
                    take(found, {place, name}, main);
                else if (field == "D" && may_name(*place))
                    tell(*place, "{} names \"{}\", a node that the header does not know", main, name);
            }
        }
        return found;
    }

    /// The survey begins once, where it first says so; it may pass more than one node before the last.
    void take(NamedNode& found, NamedNode named, std::string_view main) {
        const bool first_counts = main == "BCD";
        if (found.place != nullptr && found.name != named.name)
            tell(*named.place, "{} names \"{}\", and before it \"{}\"; the {} is taken", main, named.name, found.name,
                 first_counts ? "first" : "last");
        if (found.place == nullptr || !first_counts) found = std::move(named);
    }

    void tell_aside() {
        for (const Aside& aside : aside_)
            if (aside.name != run_.from)
                tell(*aside.place,
                     "BCD names \"{}\" as the node where the survey began, but stands at {}, not at zero; distances "
                     "run from {}",
                     aside.name, aside.at.empty() ? "no distance" : '"' + aside.at + '"',
                     run_.from.empty() ? "an end without a name" : '"' + run_.from + '"');
    }

    /// Nothing says where the survey began: "node 1" and "node 2" and the direction are all there is.
    void by_direction() {
        if (!has_nodes()) return;
        const bool against = run_.against_flow.value_or(false);
        run_.from = against ? node2_ : node1_;
        run_.to = against ? node1_ : node2_;
        const Placed* place = find(survey_.header, run_.from.empty() == against ? "AAD" : "AAF");
        tell(*place,
             "the survey does not say where it began (AAB); taken as {}, by the order of its nodes and its "
             "direction: make sure before you mark anything",
             run_.from.empty() ? "the end without a name" : '"' + run_.from + '"');
    }

    std::string far_end(const std::string& zero, const std::string& finish) {
        if (zero == node1_ || zero == node2_) return other_than(zero);
        if (!has_nodes()) return finish == zero ? std::string{} : finish;
        if (node1_.empty() || node2_.empty()) return node1_.empty() ? node2_ : node1_;
        const std::string& far = run_.against_flow.value_or(false) ? node1_ : node2_;
        const std::string& end = finish == node1_ || finish == node2_ ? finish : far;
        tell(*find(survey_.header, "AAD"),
             "the survey began at \"{}\", which is neither of its nodes \"{}\" and \"{}\"; "
             "distances run from \"{}\", and \"{}\" is taken as the far end",
             zero, node1_, node2_, zero, end);
        return end;
    }

    const Survey& survey_;
    RunInWork& run_;
    Faults& faults_;
    std::string first_, node1_, node2_;
    std::vector<Aside> aside_;
};

}  // namespace

void read_ends(const Survey& survey, RunInWork& run, Faults& faults) {
    Ends{survey, run, faults}.read();
    run.access = run.from;
}

}  // namespace patchwright::intake
