#include "job_fields.hpp"

namespace patchwright::job {
namespace {

constexpr Rule air = between(Temperature::celsius(-40.0), "-40 C", Temperature::celsius(60.0), "60 C");
constexpr Rule ground = between(Temperature::celsius(-30.0), "-30 C", Temperature::celsius(90.0), "90 C");
constexpr Rule resin = between(Temperature::celsius(-20.0), "-20 C", Temperature::celsius(60.0), "60 C");
constexpr Rule pipe_length = positive(10.0 * unit::km, "10 km");
constexpr Rule pipe_bore = positive(3.0 * unit::m, "3 m");
constexpr Rule along = up_to(10.0 * unit::km, "10 km");
constexpr Rule offset = between(-10.0 * unit::m, "-10 m", 10.0 * unit::m, "10 m");
constexpr Rule below_ground = up_to(50.0 * unit::m, "50 m");

/// A length for openings, steps and holes; percent for what narrows the pipe. Which of both is checked with the kind.
bool read_size(Reader& reader, const Node& node, Defect& defect, const Rule&) {
    const std::string_view* text = text_of(reader, node, "3 mm\" or \"15 %");
    if (text == nullptr) return false;
    if (text->find('%') != std::string::npos)
        return read_value(reader, node, defect.size_percent, percent(100.0, "100 %"));
    return read_value(reader, node, defect.size, positive(100.0 * unit::m, "100 m"));
}

bool read_version(Reader& reader, const Node& node, Job&, const Rule&) {
    if (node.kind == NodeKind::number && node.number == 1.0) return true;
    reader.error(node, "this program reads version 1 of the job file: \"patchwright_job\": 1");
    return false;
}

bool read_nothing(Reader&, const Node&, Fitting&, const Rule&) { return true; }

}  // namespace

std::span<const Field<Flow>> Described<Flow>::fields() {
    static constexpr Field<Flow> list[] = {
        field<&Flow::inflow>("inflow", Need::always),
        field<&Flow::storage>("storage", Need::always),
    };
    return list;
}

std::span<const Field<Fitting>> Described<Fitting>::fields() {
    static constexpr Field<Fitting> list[] = {
        field<&Fitting::at>("at", Need::always, along),
        field<&Fitting::kind>("kind", Need::always),
        field<&Fitting::id>("id", Need::never),
        field<&Fitting::angle>("angle", Need::never, positive(180.0 * unit::deg, "180 deg")),
        field<&Fitting::radius>("radius", Need::never, positive(100.0 * unit::m, "100 m")),
        field<&Fitting::bore>("bore", Need::never, pipe_bore),
        field<&Fitting::clock>("clock", Need::never),
        field<&Fitting::live>("live", Need::never),
        {"remark", Need::never, note(), read_nothing},
    };
    return list;
}

std::span<const Field<Defect>> Described<Defect>::fields() {
    static constexpr Field<Defect> list[] = {
        field<&Defect::id>("id", Need::always),
        field<&Defect::at>("at", Need::always, along),
        field<&Defect::kind>("kind", Need::always),
        field<&Defect::to>("to", Need::never, along),
        field<&Defect::code>("code", Need::never),
        field<&Defect::clock>("clock", Need::never),
        {"size", Need::never, {}, read_size},
        field<&Defect::inflow>("inflow", Need::never),
        field<&Defect::surrounding_sound>("surrounding_sound", Need::never),
        field<&Defect::remark>("remark", Need::never, note()),
    };
    return list;
}

std::span<const Field<Run>> Described<Run>::fields() {
    static constexpr Field<Run> list[] = {
        field<&Run::id>("id", Need::always),
        field<&Run::length>("length", Need::always, pipe_length),
        field<&Run::bore>("bore", Need::always, pipe_bore),
        field<&Run::material>("material", Need::always),
        field<&Run::depth>("depth", Need::always, positive(50.0 * unit::m, "50 m")),
        field<&Run::from>("from", Need::defaulted),
        field<&Run::to>("to", Need::defaulted),
        field<&Run::measured_bore>("measured_bore", Need::never, pipe_bore),
        field<&Run::counter_offset>("counter_offset", Need::never, offset),
        field<&Run::condition>("condition"),
        field<&Run::ovality>("ovality", Need::defaulted, percent(50.0, "50 %")),
        field<&Run::water_table>("water_table", Need::defaulted, below_ground),
        field<&Run::ground_temperature>("ground_temperature", Need::defaulted, ground),
        field<&Run::access>("access"),
        field<&Run::chamber_opening>("chamber_opening", Need::never, positive(10.0 * unit::m, "10 m")),
        field<&Run::flow>("flow", Need::defaulted),
        field<&Run::resin>("resin", Need::never),
        field<&Run::joint_spacing>("joint_spacing", Need::never, positive(100.0 * unit::m, "100 m")),
        field<&Run::traffic>("traffic"),
        field<&Run::reopening_allowed>("reopening_allowed", Need::never),
        field<&Run::fittings>("fittings", Need::never),
        field<&Run::defects>("defects", Need::never),
    };
    return list;
}

std::span<const Field<Site>> Described<Site>::fields() {
    static constexpr Field<Site> list[] = {
        field<&Site::start>("start"),
        field<&Site::finish>("finish"),
        field<&Site::travel>("travel", Need::defaulted, up_to(12.0 * unit::h, "12 h")),
        field<&Site::air_temperature>("air_temperature", Need::defaulted, air),
        field<&Site::resin_temperature>("resin_temperature", Need::never, resin),
        field<&Site::van_temperature>("van_temperature", Need::never, resin),
    };
    return list;
}

std::span<const Field<Dig>> Described<Dig>::fields() {
    static constexpr Field<Dig> list[] = {
        field<&Dig::surface>("surface"),
        field<&Dig::soil>("soil"),
        field<&Dig::hand_dig_only>("hand_dig_only", Need::never),
        field<&Dig::services_near>("services_near", Need::never),
        field<&Dig::customer_note>("customer_note", Need::never, note()),
    };
    return list;
}

std::span<const Field<Customer>> Described<Customer>::fields() {
    static constexpr Field<Customer> list[] = {
        field<&Customer::name>("name", Need::never),
        field<&Customer::address>("address", Need::never, note()),
        field<&Customer::site_address>("site_address", Need::never, note()),
    };
    return list;
}

std::span<const Field<Job>> Described<Job>::fields() {
    static constexpr Field<Job> list[] = {
        {"patchwright_job", Need::always, {}, read_version},
        field<&Job::reference>("reference", Need::always),
        field<&Job::runs>("runs", Need::always),
        field<&Job::title>("title", Need::never),
        field<&Job::date>("date", Need::never),
        field<&Job::units>("units", Need::never),
        field<&Job::certainty>("certainty", Need::defaulted),
        field<&Job::customer>("customer", Need::never),
        field<&Job::site>("site", Need::defaulted),
        field<&Job::dig>("dig", Need::defaulted),
        field<&Job::price>("price", Need::never),
        field<&Job::extras>("extras", Need::never),
        field<&Job::revision>("revision", Need::never, number(0.0, "", 1000.0, "1000")),
        field<&Job::offer_date>("offer_date", Need::never),
        field<&Job::validity_days>("validity_days", Need::never, number(1.0, "1", 3650.0, "3650")),
        field<&Job::notes>("notes", Need::never, note()),
    };
    return list;
}

}  // namespace patchwright::job
