// The week as a calendar that a phone takes: RFC 5545 (Internet Calendaring and Scheduling Core Object Specification).
#include <fmt/format.h>

#include "patchwright/units/utf8.hpp"
#include "week_words.hpp"

namespace patchwright::sheet {
namespace {

using week::CrewDay;
using week::Visit;

/// Content lines: no longer than 75 octets without the line break, folded with a blank (3.1), never inside a character.
class Lines {
public:
    void add(std::string_view line) {
        constexpr std::size_t most = 75;
        std::size_t room = most;
        while (line.size() > room) {
            std::size_t end = room;
            while (is_utf8_continuation(line[end])) --end;
            text_ += line.substr(0, end);
            text_ += "\r\n ";
            line.remove_prefix(end);
            room = most - 1;
        }
        text_ += line;
        text_ += "\r\n";
    }
    std::string take() { return std::move(text_); }

private:
    std::string text_;
};

/// Text values (3.3.11): backslash, semicolon and comma with a backslash before them, a line break as \n. Other control
/// characters may not stand there.
std::string escaped(std::string_view text) {
    std::string out;
    for (const char letter : text) {
        if (letter == '\n') {
            out += "\\n";
        } else if (letter == '\\' || letter == ';' || letter == ',') {
            out += '\\';
            out += letter;
        } else if (static_cast<unsigned char>(letter) >= 0x20 && letter != 0x7F) {
            out += letter;
        } else if (letter == '\t') {
            out += ' ';
        }
    }
    return out;
}

std::string stamp(Date d) { return fmt::format("{:04}{:02}{:02}", d.year, d.month, d.day); }
/// Form 1 of 3.3.5, local time without a zone: the clock at the place, wherever the phone is.
std::string floating(Date date, schedule::Minute minute) {
    constexpr int day = 24 * 60;
    for (; minute >= day; minute -= day) date = next_day(date);
    return fmt::format("{}T{:02}{:02}00", stamp(date), minute / 60, minute % 60);
}

/// Letters that mean nothing in an address: others as their number.
std::string plain(std::string_view name) {
    std::string out;
    for (const char letter : name) {
        const bool good = (letter >= '0' && letter <= '9') || (letter >= 'a' && letter <= 'z') ||
                          (letter >= 'A' && letter <= 'Z') || letter == '-';
        out += good ? std::string{letter} : fmt::format("_{:02x}", static_cast<unsigned char>(letter));
    }
    return out;
}

void add_event(const WeekContext& c, const CrewDay& day, const Visit& visit, const std::string& made, Lines& lines) {
    const auto& job = address_of(c, visit).job;
    lines.add("BEGIN:VEVENT");
    lines.add(fmt::format("UID:{}-{}@week.patchwright.invalid", plain(job.reference), visit.part + 1));
    lines.add("DTSTAMP:" + made);
    lines.add("DTSTART:" + floating(day.date, visit.arrive));
    lines.add("DTEND:" + floating(day.date, visit.leave));
    lines.add(fmt::format("SEQUENCE:{}", visit.revision));
    lines.add("SUMMARY:" + escaped(fmt::format("{} {}", stop_name(c, visit), job.title)));
    lines.add("LOCATION:" + escaped(site_of(job)));
    std::string words = fmt::format("Crew {}. {}", day.crew, patches_text(c, visit));
    if (!job.customer.name.empty()) words += "\nCustomer: " + job.customer.name;
    words += "\nWork by the day sheet, not by this entry.";
    lines.add("DESCRIPTION:" + escaped(words));
    if (job.site.coordinates)
        lines.add(fmt::format("GEO:{:.6f};{:.6f}", job.site.coordinates->latitude.in(unit::deg),
                              job.site.coordinates->longitude.in(unit::deg)));
    lines.add(fmt::format("CATEGORIES:Crew {}", day.crew));
    lines.add("END:VEVENT");
}

}  // namespace

std::string week_ics(const WeekContext& c) {
    Lines lines;
    lines.add("BEGIN:VCALENDAR");
    lines.add("VERSION:2.0");
    lines.add("PRODID:-//Patchwright//Week//EN");
    lines.add("CALSCALE:GREGORIAN");
    // Never the clock: the same week, the same bytes.
    const std::string made = stamp(c.week->dates.front()) + "T000000Z";
    for (const CrewDay& day : c.week->days)
        for (const Visit& visit : day.stops) add_event(c, day, visit, made, lines);
    lines.add("END:VCALENDAR");
    return lines.take();
}

}  // namespace patchwright::sheet
