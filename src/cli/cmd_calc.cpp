// `patchwright calc NAME`: one calculation from the command line, with its working.
#include <iostream>
#include <memory>
#include <optional>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "cmd_calc_table.hpp"
#include "commands.hpp"
#include "patchwright/job/yard.hpp"

namespace patchwright::cli {
namespace {

const Parts calc_parts{Part::words, Part::json};

struct CalcCommand {
    Calculation calculation;
    Common common;
    std::vector<std::string> values;  // beside calculation.options
    std::vector<CLI::Option*> typed;
};

Given given_options(const CalcCommand& command) {
    Given given;
    for (std::size_t i = 0; i < command.values.size(); ++i) {
        if (command.typed[i]->count() > 0) given.emplace(command.calculation.options[i].name, command.values[i]);
    }
    return given;
}

void run_calc(const CalcCommand& command) {
    const Common& common = command.common;
    const Form form = chosen_form(common, calc_parts);
    const UnitSystem units = common.units == "us" ? UnitSystem::us : UnitSystem::metric;

    std::optional<job::Yard> yard;
    const YardSource yard_source = [&]() -> const job::Yard& {
        if (!yard) yard = load_yard(common);
        return *yard;
    };
    sheet::CalcResult result;
    result.name = command.calculation.name;
    result.title = command.calculation.title;
    try {
        Arguments arguments{command.calculation.options, given_options(command), result};
        arguments.require_all();
        command.calculation.run(arguments, yard_source, result);
    } catch (const WrongUse& wrong) {
        for (const std::string& message : wrong.messages) complain(message);
        std::cerr << "Try: patchwright calc " << command.calculation.name << " --help\n";
        throw Stop{wrong_usage};
    }
    Result written{{}, units};
    written.words = [&] {
        const std::string text = sheet::calc_text(result, units);
        return utf8_locale() ? text : sheet::ascii(text);
    };
    written.json = [&] { return sheet::calc_json(result, units); };
    write_result(common, form, written);
}

std::string help_of(const CalcOption& option) {
    std::string help = fmt::format("{}, such as \"{}\"", option.meaning, option.example);
    if (option.need == Need::required) return help + " (required)";
    if (!option.assumed.empty()) help += fmt::format("; assumed {}", option.assumed);
    return help;
}

void add_calculation(CLI::App& calc, const Calculation& calculation) {
    auto command = std::make_shared<CalcCommand>();
    command->calculation = calculation;
    command->values.resize(calculation.options.size());
    auto* app = calc.add_subcommand(std::string{calculation.name}, std::string{calculation.title});
    for (std::size_t i = 0; i < calculation.options.size(); ++i) {
        const CalcOption& option = calculation.options[i];
        command->typed.push_back(
            app->add_option("--" + std::string{option.name}, command->values[i], help_of(option))->type_name("VALUE"));
    }
    add_output(*app, command->common, calc_parts);
    app->add_option("--units", command->common.units, "Units of the text: metric|us")
        ->type_name("UNITS")
        ->check(CLI::IsMember({"metric", "us"}));
    app->add_option("--yard", command->common.yard, "Yard file; without it the demonstration yard")
        ->type_name("FILE")
        ->check(file_name());
    app->footer(fmt::format("Example:\n  patchwright calc {} {}\nQuantities carry their unit.", calculation.name,
                            calculation.example));
    app->callback([command] { run_calc(*command); });
}

}  // namespace

void add_calc(CLI::App& calc, Outcome&) {
    calc.require_subcommand(1);
    calc.footer(
        "Examples:\n"
        "  patchwright calc bend --bore \"100 mm\" --radius \"150 mm\" --diameter \"70 mm\"\n"
        "  patchwright calc energy --bore \"4 in\" --length \"6 ft\" --pressure \"12 psi\" -f json\n"
        "Every calculation explains itself: patchwright calc NAME --help");
    for (const auto& group : {liner_calculations(), packer_calculations(), site_calculations()}) {
        for (const Calculation& calculation : group) add_calculation(calc, calculation);
    }
}

}  // namespace patchwright::cli
