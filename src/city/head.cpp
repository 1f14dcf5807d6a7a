// Whose a line is, read from its beginning: a plan is forty thousand characters, its reference stands in the first
// hundred.
#include <nlohmann/json.hpp>

#include "patchwright/city/line.hpp"

namespace patchwright::city {
namespace {

using Json = nlohmann::json;

/// Walks the two outermost levels of an object; `text` is told each text in them by its keys and says whether to go on.
class Walk : public nlohmann::json_sax<Json> {
public:
    bool null() override { return true; }
    bool boolean(bool) override { return true; }
    bool number_integer(number_integer_t) override { return true; }
    bool number_unsigned(number_unsigned_t value) override { return found_number(value); }
    bool number_float(number_float_t, const string_t&) override { return true; }
    bool string(string_t& value) override { return found_text(value); }
    bool binary(binary_t&) override { return true; }
    bool start_object(std::size_t) override {
        if (depth_++ == 1) outer_ = key_;
        return true;
    }
    bool key(string_t& name) override {
        if (depth_ <= 2) key_ = name;
        return true;
    }
    bool end_object() override { return leave(); }
    bool start_array(std::size_t) override {
        depth_ += 2;  // what stands in a list has no name of its own
        return true;
    }
    bool end_array() override {
        depth_ -= 2;
        return true;
    }
    bool parse_error(std::size_t, const std::string&, const Json::exception&) override { return false; }

protected:
    virtual bool found_text(const std::string& value) = 0;
    virtual bool found_number(std::uint64_t) { return true; }
    bool is(std::string_view outermost) const { return depth_ == 1 && key_ == outermost; }
    bool is(std::string_view outer, std::string_view inner) const {
        return depth_ == 2 && outer_ == outer && key_ == inner;
    }

private:
    bool leave() {
        --depth_;
        return true;
    }
    int depth_ = 0;
    std::string outer_, key_;
};

class HeadWalk : public Walk {
public:
    Head head;
    bool error = false, has_reference = false, has_yard = false;

private:
    bool found_text(const std::string& value) override {
        if (is("error")) error = true;
        if (is("job", "reference")) {
            head.reference = value;
            has_reference = true;
        }
        if (is("yard", "name")) {
            head.yard = value;
            has_yard = true;
        }
        return !(has_reference && has_yard);
    }
    bool found_number(std::uint64_t value) override {
        if (is("line") && error) head.error_line = value;
        return true;
    }
};

class ReferenceWalk : public Walk {
public:
    std::optional<std::string> reference;

private:
    bool found_text(const std::string& value) override {
        if (!is("reference")) return true;
        reference = value;
        return false;
    }
};

}  // namespace

Head head_of(std::string_view text) {
    HeadWalk walk;
    Json::sax_parse(text, &walk);
    const bool whole = text.starts_with('{') && text.ends_with('}');
    if (!whole || !(walk.head.error_line > 0 || (walk.has_reference && walk.has_yard)))
        throw LineFault{0, "no line as \"patchwright plan --stream\" writes it"};
    return walk.head;
}

std::optional<std::string> reference_in(std::string_view job) {
    ReferenceWalk walk;
    Json::sax_parse(job, &walk);
    return walk.reference;
}

}  // namespace patchwright::city
