#pragma once
#include <array>
#include <cstdint>
#include <initializer_list>
#include <span>
#include <string_view>
#include <vector>

#include "patchwright/units/format.hpp"
#include "patchwright/units/quantity.hpp"
#include "patchwright/units/temperature.hpp"

/// The working of a figure: numbers and the formula they went through, written down while computing.
/// Nothing here is text; `working/render.hpp` makes text when somebody asks why.
namespace patchwright {

/// Where a number that goes into a formula comes from.
enum class Origin : std::uint8_t {
    given,      ///< in the job file, or an option of the command line
    yard,       ///< in the firm's yard file
    assumed,    ///< a default of ours, which every sheet that uses it names
    looked_up,  ///< a table shipped with the program, named in the formula's source
    computed,   ///< the result of an earlier step
};

/// A value together with its origin, for inputs that may be defaults.
template <class T>
struct Sourced {
    T value{};
    Origin origin = Origin::assumed;
    constexpr const T& operator*() const { return value; }
    constexpr const T* operator->() const { return &value; }
    constexpr bool given() const { return origin == Origin::given; }
};

struct Symbol {
    std::string_view symbol;   ///< "t", as it stands in the formula
    std::string_view meaning;  ///< "design thickness"
    Show show = Show::ratio;
};

/// A formula of the program, one constant each, defined beside the function that evaluates it.
struct Formula {
    std::string_view id;  ///< stable, "f1216.x1.1"
    Symbol result;
    std::string_view text;  ///< "t = D / ([2 K EL C / (P N (1-v^2))]^(1/3) + 1)"
    std::span<const Symbol> inputs;
    std::string_view source;  ///< "ASTM F1216, Appendix X1, eq. X1.1", or "common practice, no source"
    std::string_view page;    ///< page under docs/methods, "liner"; may be empty
};

/// A value put into a formula: SI (kelvin for temperature points, cents for money, 0.02 for 2 %).
struct Operand {
    double value = 0.0;
    Origin origin = Origin::computed;

    constexpr Operand() = default;
    constexpr Operand(double v, Origin o = Origin::computed) : value{v}, origin{o} {}
    template <Dim D>
    constexpr Operand(Quantity<D> q, Origin o = Origin::computed) : value{q.si()}, origin{o} {}
    constexpr Operand(Temperature t, Origin o = Origin::computed) : value{t.in_kelvin()}, origin{o} {}
    template <Dim D>
    constexpr Operand(const Sourced<Quantity<D>>& s) : value{s.value.si()}, origin{s.origin} {}
    constexpr Operand(const Sourced<double>& s) : value{s.value}, origin{s.origin} {}
    constexpr Operand(const Sourced<Temperature>& s) : value{s.value.in_kelvin()}, origin{s.origin} {}
    Operand(Money m, Origin o = Origin::computed) : value{static_cast<double>(m.in_cents())}, origin{o} {}
};

/// One evaluated formula. Trivially copyable: recording a step allocates nothing but its place in a vector.
struct Step {
    static constexpr std::size_t max_operands = 10;
    const Formula* formula = nullptr;
    std::array<Operand, max_operands> operands{};
    std::uint8_t count = 0;
    double result = 0.0;
    std::span<const Operand> inputs() const { return {operands.data(), count}; }
};

/// The steps of one figure in the order in which they were computed.
class Working {
public:
    Working() = default;
    /// A working that forgets: for the many candidates that are priced and dropped.
    static Working off() {
        Working w;
        w.on_ = false;
        return w;
    }
    bool on() const { return on_; }

    /// `operands` stand in the order of `formula.inputs`. `formula` must outlive the working (it is a constant).
    void add(const Formula& formula, std::initializer_list<Operand> operands, double result);
    template <Dim D>
    void add(const Formula& formula, std::initializer_list<Operand> operands, Quantity<D> result) {
        add(formula, operands, result.si());
    }
    void add(const Formula& formula, std::initializer_list<Operand> operands, Temperature result) {
        add(formula, operands, result.in_kelvin());
    }
    void add(const Formula& formula, std::initializer_list<Operand> operands, Money result) {
        add(formula, operands, static_cast<double>(result.in_cents()));
    }
    void append(const Working& other);
    std::span<const Step> steps() const { return steps_; }
    bool empty() const { return steps_.empty(); }

private:
    bool on_ = true;
    std::vector<Step> steps_;
};

}  // namespace patchwright
