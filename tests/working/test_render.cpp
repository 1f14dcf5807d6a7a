#include <catch2/catch.hpp>

#include <rapidcheck.h>

#include <cstdlib>
#include <sstream>
#include <string>

#include "patchwright/working/render.hpp"
#include "sample.hpp"

using namespace patchwright;

namespace {
const int fixed_seed = setenv("RC_PARAMS", "seed=20260414 max_success=200", 0);
}

TEST_CASE("a step is rendered with its values, units, origins and source", "[working]") {
    const auto steps = render(sample::both(), UnitSystem::metric);
    REQUIRE(steps.size() == 2);
    const RenderedStep& ring = steps[0];
    CHECK(ring.id == "sample.ring");
    CHECK(ring.formula == "w = pi D + s");
    CHECK(ring.source == "geometry");
    CHECK(ring.page == "liner");
    CHECK(ring.result.value == "389 mm");
    CHECK(ring.result.key == "cut_width_mm");
    CHECK(ring.result.number == 389.16);
    CHECK(ring.result.origin == "computed");
    REQUIRE(ring.inputs.size() == 2);
    CHECK(ring.inputs[0].symbol == "D");
    CHECK(ring.inputs[0].value == "100 mm");
    CHECK(ring.inputs[0].origin == "given");
    CHECK(ring.inputs[1].key == "seam_overlap_mm");
    CHECK(ring.inputs[1].origin == "from the yard file");

    const RenderedStep& cool = steps[1];
    CHECK(cool.result.key == "set_pressure_gauge_bar");
    CHECK(cool.inputs[0].value == "9 °C");
    CHECK(cool.inputs[0].key == "pipe_temperature_c");
    CHECK(cool.inputs[0].number == 9.0);
    CHECK(cool.inputs[0].origin == "assumed");
    CHECK(cool.inputs[1].value == "2 %");
    CHECK(cool.inputs[1].number == 2.0);
    CHECK(cool.inputs[1].origin == "looked up");
    CHECK(render(sample::both(), UnitSystem::us)[1].result.value == "9.4 psi");
}

TEST_CASE("the text of a working", "[working][regression]") {
    CHECK(working_text(sample::both(), UnitSystem::metric) ==
          "cut width: w = 389 mm\n"
          "  w = pi D + s\n"
          "    D  bore          100 mm  (given)\n"
          "    s  seam overlap  75 mm   (from the yard file)\n"
          "  source: geometry; docs/methods/liner.md\n"
          "\n"
          "set pressure (gauge): p = 0.65 bar\n"
          "  p = a formula that is long enough to need more than one line in a narrow\n"
          "    terminal window\n"
          "    T  pipe temperature  9 °C  (assumed)\n"
          "    q  share kept        2 %   (looked up)\n"
          "  source: common practice, no source\n");
}

TEST_CASE("no line is wider than asked and no word is lost", "[working][property]") {
    REQUIRE(fixed_seed == 0);
    const auto words = [](const std::string& text) {
        std::string joined;
        for (const char c : text)
            if (c != ' ' && c != '\n') joined += c;
        return joined;
    };
    const std::string wide = working_text(sample::both(), UnitSystem::us, 1000);
    CHECK(rc::check([&] {
        const auto width = *rc::gen::inRange<std::size_t>(20, 140);
        const std::string text = working_text(sample::both(), UnitSystem::us, width);
        std::istringstream lines{text};
        for (std::string line; std::getline(lines, line);) {
            std::size_t columns = 0;
            for (const char c : line) columns += (static_cast<unsigned char>(c) & 0xC0) != 0x80;
            RC_LOG() << line << '\n';
            RC_ASSERT(columns <= width);
        }
        // The wrapped form of an operand has one "=" more than the columns; nothing else may differ.
        std::string a = words(text), b = words(wide);
        std::erase(a, '=');
        std::erase(b, '=');
        RC_ASSERT(a == b);
    }));
    CHECK(working_text(sample::both(), UnitSystem::us, 0) == working_text(sample::both(), UnitSystem::us, 20));
}

TEST_CASE("workings append in order; one that is off forgets", "[working]") {
    Working all;
    CHECK(working_text(all, UnitSystem::metric).empty());
    all.append(sample::both());
    all.append(sample::both());
    CHECK(all.steps().size() == 4);
    Working off = Working::off();
    off.add(sample::ring, {0.1, 0.2}, 0.3);
    off.append(sample::both());
    CHECK(off.empty());
}
