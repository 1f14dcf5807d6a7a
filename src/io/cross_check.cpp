#include <fmt/core.h>

#include <algorithm>

#include "further.hpp"
#include "patchwright/io/read.hpp"

namespace patchwright::io {

using namespace job;  // what is read
namespace {

class CrossCheck {
public:
    CrossCheck(const Job& job, const Yard& yard) : job_{job}, yard_{yard} {}

    std::vector<Diagnostic> all() {
        for (std::size_t i = 0; i < job_.runs.size(); ++i) run(job_.runs[i], fmt::format("/runs/{}", i));
        if (std::none_of(yard_.dig_rates.surfaces.begin(), yard_.dig_rates.surfaces.end(),
                         [&](const SurfaceRate& s) { return s.surface == *job_.dig.surface; }))
            add(Severity::error, "/dig/surface",
                fmt::format("the yard has no dig rate for the surface \"{}\"", word(*job_.dig.surface)));
        if (std::none_of(yard_.dig_rates.soils.begin(), yard_.dig_rates.soils.end(),
                         [&](const SoilRate& s) { return s.soil == *job_.dig.soil; }))
            add(Severity::error, "/dig/soil",
                fmt::format("the yard has no dig rate for the soil \"{}\"", word(*job_.dig.soil)));
        money();
        return found_.take();
    }

private:
    void add(Severity severity, std::string pointer, std::string message) {
        found_.add(severity, std::move(pointer), std::move(message));
    }
    std::string tape(Length l) const { return format(Show::tape, l, job_.units); }
    std::string degrees(Temperature t) const { return format(Show::temperature, t, job_.units); }

    void in_currency(const std::optional<Money>& amount, const std::string& at) {
        if (!amount || amount->is_zero() || amount->currency() == yard_.rates.currency) return;
        add(Severity::error, at,
            fmt::format("the yard's prices are in {}, this one is in {}", yard_.rates.currency.code(),
                        amount->currency().code()));
    }
    void money() {
        in_currency(job_.price.net, "/price/net");
        in_currency(job_.price.per_patch, "/price/per_patch");
        if (job_.price.profit && yard_.rates.profit_is_margin && *job_.price.profit >= Share::percent(100.0))
            add(Severity::error, "/price/profit", "the yard's profit is a margin of the price and stays below 100 %");
        for (std::size_t i = 0; i < job_.extras.size(); ++i) {
            const Extra& extra = job_.extras[i];
            const std::string at = fmt::format("/extras/{}", i);
            in_currency(extra.rate, at + "/rate");
            in_currency(extra.cost, at + "/cost");
            const auto& listed = yard_.price_list.extras;
            if (!extra.rate && std::none_of(listed.begin(), listed.end(),
                                            [&](const ListedExtra& l) { return l.words == extra.words; }))
                add(Severity::error, at + "/words",
                    fmt::format("\"{}\" has no \"rate\", and the yard's price list has no extra of that name",
                                extra.words));
        }
    }

    void run(const Run& run, const std::string& at) {
        resin(run, at);
        packers(run, at);
        felts(run, at);
        temperature(run, at);
    }

    void resin(const Run& run, const std::string& at) {
        if (!run.resin) return;
        const Resin* resin = yard_.find_resin(*run.resin);
        if (resin == nullptr) {
            std::string known;
            for (const Resin& r : yard_.resins) known += (known.empty() ? "\"" : ", \"") + r.id + "\"";
            add(Severity::error, at + "/resin",
                fmt::format("run {}: the yard has no resin \"{}\"; it has {}", run.id, *run.resin, known));
            return;
        }
        const Temperature ground = *run.ground_temperature;
        if (ground < resin->application_min || ground > resin->application_max)
            add(Severity::warning, at + "/resin",
                fmt::format("run {}: resin \"{}\" is for {} to {}, the pipe has {}", run.id, resin->id,
                            degrees(resin->application_min), degrees(resin->application_max), degrees(ground)));
    }

    /// Built packers, or a chassis with a bladder that widens to the bore.
    bool carried(Length bore) const {
        for (const Packer& p : yard_.packers)
            if (p.count > 0 && bore >= p.bore_min && bore <= p.bore_max) return true;
        for (const Chassis& c : yard_.chassis)
            for (const Bladder& b : yard_.bladders)
                if (c.count > 0 && bore >= c.bore_min && bore <= c.bore_max && b.diameter < bore &&
                    b.stretch * b.diameter >= bore)
                    return true;
        return false;
    }

    void packers(const Run& run, const std::string& at) {
        const Length bore = run.working_bore();
        if (!run.defects.empty() && !carried(bore))
            add(Severity::warning, at + "/bore",
                fmt::format("run {}: no packer of the yard, built or to build, serves a bore of {}", run.id,
                            tape(bore)));
        if (bore < yard_.limits.scope_bore_min)
            add(Severity::warning, at + "/bore",
                fmt::format("run {}: a bore of {} is below {}, outside the scope of the published standards", run.id,
                            tape(bore), tape(yard_.limits.scope_bore_min)));
    }

    void felts(const Run& run, const std::string& at) {
        const Length most = yard_.limits.most_wall_share * run.working_bore();
        const bool some =
            std::any_of(yard_.felts.begin(), yard_.felts.end(), [&](const Felt& f) { return f.thickness <= most; });
        if (!some && !run.defects.empty())
            add(Severity::warning, at + "/bore",
                fmt::format("run {}: every felt of the yard is thicker than {} allows", run.id,
                            tape(run.working_bore())));
    }

    void temperature(const Run& run, const std::string& at) {
        const Temperature ground = *run.ground_temperature;
        const bool some = std::any_of(yard_.resins.begin(), yard_.resins.end(), [&](const Resin& r) {
            return ground >= r.application_min && ground <= r.application_max;
        });
        if (!some && !run.defects.empty())
            add(Severity::warning, at + "/ground_temperature",
                fmt::format("run {}: no resin of the yard may be used at {}", run.id, degrees(ground)));
    }

    const Job& job_;
    const Yard& yard_;
    Findings found_;
};

}  // namespace

std::vector<Diagnostic> cross_check(const Job& job, const Yard& yard) { return CrossCheck{job, yard}.all(); }

}  // namespace patchwright::io
