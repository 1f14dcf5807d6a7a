#include "patchwright/sheet/drawing.hpp"

namespace patchwright::sheet {

Drawing stacked(const std::vector<Drawing>& drawings) { return drawings.front(); }
Drawing draw_run(const Context&, int) { return {}; }
Drawing draw_section(const Context&, int) { return {}; }
Drawing draw_day(const Context&, int) { return {}; }
Drawing draw_cure(const Context&, int) { return {}; }
Drawing draw_bracket(const Context&) { return {}; }
Drawing draw_cutting(const Context&) { return {}; }

}  // namespace patchwright::sheet
