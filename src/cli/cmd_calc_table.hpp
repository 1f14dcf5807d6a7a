#pragma once
#include <functional>
#include <string_view>
#include <vector>

#include "cmd_calc_arguments.hpp"

namespace patchwright::job {
struct Yard;
}  // namespace patchwright::job

/// The calculations that `patchwright calc` offers. Each reads its options, calls the functions that plan, and puts
/// down what they return.
namespace patchwright::cli {

/// Read only by calculations that need it.
using YardSource = std::function<const job::Yard&()>;

struct Calculation {
    std::string_view name, title;
    std::string_view example;  ///< what stands after "patchwright calc NAME"
    std::vector<CalcOption> options;
    void (*run)(Arguments& arguments, const YardSource& yard, sheet::CalcResult& result);
};

std::vector<Calculation> liner_calculations();
std::vector<Calculation> packer_calculations();
std::vector<Calculation> site_calculations();  ///< of site and office

}  // namespace patchwright::cli
