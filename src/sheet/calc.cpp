#include "patchwright/sheet/calc.hpp"

#include <fmt/core.h>
#include <algorithm>
#include <nlohmann/json.hpp>
#include "json_part.hpp"

#include "patchwright/working/render.hpp"

namespace patchwright::sheet {
namespace {

std::string shown(const CalcValue& value, UnitSystem units) {
    if (!value.shown.empty()) return value.shown;
    return value.text.empty() ? format(value.show, value.value, units) : value.text;
}

Json number_or_text(const CalcValue& value) {
    return value.text.empty() ? Json(json_value(value.show, value.value)) : Json(value.text);
}

Json operand_json(const RenderedOperand& operand) {
    return {{"symbol", operand.symbol}, {"meaning", operand.meaning}, {"key", operand.key},
            {"value", operand.number},  {"shown", operand.value},     {"origin", operand.origin}};
}

Json step_json(const RenderedStep& step) {
    Json json = Json::object();
    json["id"] = step.id;
    json["symbol"] = step.result.symbol;
    json["meaning"] = step.result.meaning;
    json["formula"] = step.formula;
    json["inputs"] = Json::array();
    for (const RenderedOperand& input : step.inputs) json["inputs"].push_back(operand_json(input));
    json["result"] = {{"key", step.result.key}, {"value", step.result.number}, {"shown", step.result.value}};
    json["source"] = step.source;
    json["page"] = step.page;
    return json;
}

std::size_t widest_label(const CalcResult& result) {
    std::size_t width = 0;
    for (const CalcValue& value : result.inputs) width = std::max(width, value.label.size());
    for (const CalcValue& value : result.results) width = std::max(width, value.label.size());
    return width;
}

/// Appends `text` in lines of at most `width`, broken at spaces.
void add_wrapped(std::string& out, const std::string& text, std::size_t width) {
    std::size_t start = 0;
    while (text.size() - start > width) {
        std::size_t cut = text.rfind(' ', start + width);
        if (cut == std::string::npos || cut <= start) cut = start + width;
        out.append(text, start, cut - start).append("\n");
        start = cut + (text[cut] == ' ' ? 1 : 0);
    }
    out.append(text, start).append("\n");
}

}  // namespace

std::string calc_json(const CalcResult& result, UnitSystem units) {
    Json json = Json::object();
    json["calc"] = result.name;
    json["inputs"] = Json::object();
    json["assumed"] = Json::array();
    for (const CalcValue& input : result.inputs) {
        json["inputs"][input.key] = number_or_text(input);
        if (input.origin != Origin::given) json["assumed"].push_back(input.key);
    }
    json["results"] = Json::object();
    Json texts = Json::object();
    for (const CalcValue& value : result.results) {
        json["results"][value.key] = number_or_text(value);
        texts[value.key] = shown(value, units);
    }
    json["results"]["shown"] = std::move(texts);
    json["steps"] = Json::array();
    for (const RenderedStep& step : render(result.working, units)) json["steps"].push_back(step_json(step));
    json["remarks"] = result.remarks;
    return json.dump(2) + "\n";
}

std::string calc_text(const CalcResult& result, UnitSystem units, std::size_t width) {
    const std::size_t label_width = widest_label(result);
    std::string out = fmt::format("{}: {}\n\n", result.name, result.title);
    for (const CalcValue& input : result.inputs) {
        const std::string_view origin = origin_text(input.origin);
        out += fmt::format("  {:<{}}  {}{}\n", input.label, label_width, shown(input, units),
                           input.origin == Origin::given ? std::string{} : fmt::format("  ({})", origin));
    }
    out += '\n';
    for (const CalcValue& value : result.results) {
        out += fmt::format("  {:<{}}  {}\n", value.label, label_width, shown(value, units));
    }
    for (const std::string& remark : result.remarks) {
        out += '\n';
        add_wrapped(out, remark, width);
    }
    if (!result.working.empty()) {
        out += "\nWorking\n\n";
        out += working_text(result.working, units, width);
    }
    return out;
}

}  // namespace patchwright::sheet
