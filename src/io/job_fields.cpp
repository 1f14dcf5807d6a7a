#include "job_fields.hpp"

namespace patchwright::io {
namespace {

/// A length for openings, steps and holes; percent for what narrows the pipe. Which of both is checked with the kind.
bool read_size(Reader& reader, const Node& node, Defect& defect, const Rule&) {
    static const Rule length{range<Length>("above 0 mm to 100 m"), range<Length>("0.5 mm to 300 mm"), Form::plain};
    static const Rule part{range<double>("0 % to 100 %", Form::percent), range<double>("0 % to 75 %", Form::percent),
                           Form::percent};
    const std::string_view* text = text_of(reader, node, "3 mm\" or \"15 %");
    if (text == nullptr) return false;
    if (text->find('%') != std::string::npos) return read_value(reader, node, defect.size_percent, part);
    return read_value(reader, node, defect.size, length);
}

bool read_version(Reader& reader, const Node& node, Job&, const Rule&) {
    if (node.kind == NodeKind::number && node.number == 1.0) return true;
    reader.error(node, "this program reads version 1 of the job file: \"patchwright_job\": 1");
    return false;
}

/// Held to the rules of a note here; `complete_job` puts it among the job's notes.
bool read_fitting_remark(Reader& reader, const Node& node, Fitting&, const Rule& rule) {
    std::string remark;
    return read_value(reader, node, remark, rule);
}

}  // namespace

std::span<const Field<Flow>> Described<Flow>::fields() {
    static const Field<Flow> list[] = {
        field<&Flow::inflow>("inflow", Need::always, "0 l/s to 1000 l/s", "0 l/s to 5 l/s", "what arrives"),
        field<&Flow::storage>("storage", Need::always, "0 l to 100000 m3", "0 l to 5 m3", "what the pipes above hold"),
    };
    return list;
}

std::span<const Field<Fitting>> Described<Fitting>::fields() {
    static const Field<Fitting> list[] = {
        field<&Fitting::at>("at", Need::always, "0 m to 10 km", "0 m to 200 m",
                            "distance of its middle from the run's \"from\""),
        field<&Fitting::kind>("kind", Need::always, "what it is"),
        field<&Fitting::id>("id", Need::never, "name for the sheets"),
        field<&Fitting::angle>("angle", Need::never, "above 0 deg to 120 deg", "5 deg to 95 deg",
                               "of a bend, which needs it"),
        field<&Fitting::radius>("radius", Need::never, "above 0 mm to 100 m", "25 mm to 2 m",
                                "of a bend's centre line"),
        field<&Fitting::bore>("bore", Need::never, "10 mm to 3 m", "30 mm to 300 mm",
                              "of a junction's branch, or beyond a size change, which needs it"),
        field<&Fitting::clock>("clock", Need::never, "where a junction's branch comes in"),
        field<&Fitting::live>("live", Need::never, "false: a dead branch, which may be covered"),
        {"remark", Need::never, "text, printed among the notes", {"a note"}, {{}, {}, Form::note}, read_fitting_remark},
    };
    return list;
}

std::span<const Field<Defect>> Described<Defect>::fields() {
    static const Field<Defect> list[] = {
        field<&Defect::id>("id", Need::always, "name, once in the run"),
        field<&Defect::at>("at", Need::always, "0 m to 10 km", "0 m to 200 m",
                           "distance where it begins, from the run's \"from\""),
        field<&Defect::kind>("kind", Need::always, "what it is"),
        field<&Defect::to>("to", Need::never, "0 m to 10 km", "0 m to 200 m", "distance where it ends"),
        field<&Defect::code>("code", Need::never, "EN 13508-2 code, kept beside the kind"),
        field<&Defect::clock>("clock", Need::never, "from-to round the pipe, clockwise"),
        {"size",
         Need::never,
         "a length above 0 mm to 100 m for openings, steps, holes and what stands in (most often 0.5 mm to 300 mm); "
         "0 % to 100 % for deformation, roots and deposits (most often up to 75 %)",
         {"a length or a percentage"},
         {},
         read_size},
        field<&Defect::inflow>("inflow", Need::never, "water that comes in through it"),
        field<&Defect::surrounding_sound>("surrounding_sound", Need::never,
                                          "the wall behind and beside a hole is sound, no void was seen"),
        note<&Defect::remark>("remark", Need::never, "text"),
    };
    return list;
}

std::span<const Field<Run>> Described<Run>::fields() {
    static constexpr std::string_view bore = "10 mm to 3 m", usual_bore = "40 mm to 300 mm";
    static const Field<Run> list[] = {
        field<&Run::id>("id", Need::always, "name, once in the file"),
        field<&Run::length>("length", Need::always, "above 0 m to 10 km", "0.3 m to 200 m", "of the whole run"),
        field<&Run::bore>("bore", Need::always, bore, usual_bore, "inner diameter, as surveyed or the maker's nominal"),
        field<&Run::material>("material", Need::always, "of the pipe"),
        field<&Run::depth>("depth", Need::always, "above 0 m to 50 m", "0.2 m to 8 m", "ground to invert"),
        field<&Run::from>("from", Need::defaulted, "name of the end where distances begin"),
        field<&Run::to>("to", Need::defaulted, "name of the other end"),
        field<&Run::measured_bore>("measured_bore", Need::never, bore, usual_bore,
                                   "measured after cleaning; used in place of \"bore\""),
        field<&Run::counter_offset>("counter_offset", Need::never, "-10 m to 10 m", "-2 m to 2 m",
                                    "added to every distance of the run, not to its length"),
        field<&Run::condition>("condition", Need::defaulted, "whether the pipe still carries the soil"),
        percent<&Run::ovality>("ovality", Need::defaulted, "0 % to 50 %", "0 % to 10 %",
                               "as ASTM F1216 defines it; beyond 10 % its formulas for the wall do not serve"),
        field<&Run::water_table>("water_table", Need::defaulted, "0 m to 50 m", "0 m to 10 m",
                                 "depth of the ground water below ground"),
        field<&Run::ground_temperature>("ground_temperature", Need::defaulted, "-30 C to 90 C", "0 C to 30 C",
                                        "of the pipe's wall"),
        field<&Run::access>("access", Need::defaulted, "ends from which the crew can work"),
        field<&Run::chamber_opening>("chamber_opening", Need::never, "50 mm to 10 m", "300 mm to 2 m",
                                     "clear width of the chambers along the pipe, the narrower counts"),
        field<&Run::flow>("flow", Need::defaulted, "water that arrives while the pipe is blocked"),
        field<&Run::resin>("resin", Need::never, "id of a resin of the yard"),
        field<&Run::joint_spacing>("joint_spacing", Need::never, "50 mm to 100 m", "0.3 m to 12 m",
                                   "length of one pipe"),
        field<&Run::traffic>("traffic", Need::defaulted, "above the pipe"),
        field<&Run::reopening_allowed>("reopening_allowed", Need::never,
                                       "a live connection may be covered and cut open again"),
        field<&Run::fittings>("fittings", Need::never, "bends, junctions and size changes"),
        field<&Run::defects>("defects", Need::never, "what the survey found"),
    };
    return list;
}

std::span<const Field<Coordinates>> Described<Coordinates>::fields() {
    static constexpr std::string_view latitude = "-90 deg to 90 deg", longitude = "-180 deg to 180 deg";
    static const Field<Coordinates> list[] = {
        field<&Coordinates::latitude>("latitude", Need::always, latitude, latitude,
                                      "north of the equator; south: below 0"),
        field<&Coordinates::longitude>("longitude", Need::always, longitude, longitude,
                                       "east of Greenwich; west: below 0"),
    };
    return list;
}

std::span<const Field<Hours>> Described<Hours>::fields() {
    static const Field<Hours> list[] = {
        field<&Hours::from>("from", Need::always, "not before"),
        field<&Hours::to>("to", Need::always, "not after"),
    };
    return list;
}

std::span<const Field<Site>> Described<Site>::fields() {
    static const Field<Site> list[] = {
        field<&Site::start>("start", Need::defaulted, "leaving the yard"),
        field<&Site::finish>("finish", Need::defaulted, "being back"),
        field<&Site::travel>("travel", Need::defaulted, "0 min to 12 h", "0 min to 3 h", "one way"),
        field<&Site::air_temperature>("air_temperature", Need::defaulted, "-40 C to 60 C", "-10 C to 38 C",
                                      "where the sleeve is wet out"),
        field<&Site::resin_temperature>("resin_temperature", Need::never, "-20 C to 60 C", "5 C to 35 C",
                                        "when A meets B"),
        field<&Site::van_temperature>("van_temperature", Need::never, "-20 C to 60 C", "-5 C to 45 C",
                                      "where the wet sleeve waits"),
        field<&Site::earliest>("earliest", Need::never, "first day on which the week may put work there"),
        field<&Site::latest>("latest", Need::never, "last day on which the week may put work there"),
        field<&Site::window>("window", Need::never,
                             "hours in which somebody is there: the week keeps all work on site within"),
        field<&Site::coordinates>("coordinates", Need::never, "of the place, for the week's drives"),
        note<&Site::emergency>("emergency", Need::never, "number to ring, on the day sheet"),
        note<&Site::hospital>("hospital", Need::never, "the nearest, on the day sheet"),
    };
    return list;
}

std::span<const Field<Dig>> Described<Dig>::fields() {
    static const Field<Dig> list[] = {
        field<&Dig::surface>("surface", Need::defaulted, "to break and put back"),
        field<&Dig::soil>("soil", Need::defaulted,
                          "by the classes of the trench rules, 29 CFR 1926 Subpart P, Appendix A"),
        field<&Dig::hand_dig_only>("hand_dig_only", Need::never, "no machine gets in"),
        field<&Dig::services_near>("services_near", Need::never, "other services close by"),
        note<&Dig::customer_note>("customer_note", Need::never, "text beside the comparison"),
    };
    return list;
}

std::span<const Field<Customer>> Described<Customer>::fields() {
    static const Field<Customer> list[] = {
        field<&Customer::name>("name", Need::never, "as on the quote"),
        note<&Customer::address>("address", Need::never, "as on the quote"),
        note<&Customer::site_address>("site_address", Need::never, "where the drain lies"),
        note<&Customer::phone>("phone", Need::never, "for the crew, on the day sheet"),
    };
    return list;
}

std::span<const Field<Job>> Described<Job>::fields() {
    static const Field<Job> list[] = {
        {"patchwright_job", Need::always, "version of the file's form", {"1"}, {}, read_version},
        field<&Job::reference>("reference", Need::always, "your number for the job"),
        field<&Job::runs>("runs", Need::always, "at least one"),
        field<&Job::title>("title", Need::never, "text"),
        field<&Job::date>("date", Need::never, "first day of the work"),
        field<&Job::units>("units", Need::never, "of the sheets; the file itself may use any"),
        field<&Job::certainty>("certainty", Need::defaulted, "what the figures rest on"),
        field<&Job::customer>("customer", Need::never, "whose drain it is"),
        field<&Job::site>("site", Need::defaulted, "hours and temperatures"),
        field<&Job::dig>("dig", Need::defaulted, "what stands against the patches: the same places dug up"),
        field<&Job::price>("price", Need::never, "the estimator's own word on the price: one of three"),
        field<&Job::extras>("extras", Need::never, "work on top of patches and digs"),
        field<&Job::revision>("revision", Need::never, "0 to 1000", "0 to 20",
                              "of the offer, printed beside its number"),
        field<&Job::offer_date>("offer_date", Need::never, "of the letter"),
        field<&Job::validity_days>("validity_days", Need::never, "1 to 3650", "7 to 180",
                                   "of the offer, from its date"),
        note<&Job::notes>("notes", Need::never, "printed on the sheets"),
    };
    return list;
}

}  // namespace patchwright::io
