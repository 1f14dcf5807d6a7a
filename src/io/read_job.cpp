#include "job_checks.hpp"
#include "patchwright/io/read.hpp"

namespace patchwright::io {

namespace {

Job read_tree(Reader& reader, const Node& root) {
    Job job;
    if (is_other_file(root, "patchwright_yard", "patchwright_job")) {
        reader.error(root, "this is a yard file, where a job file belongs");
        return job;
    }
    read_object(reader, root, job);
    if (root.kind != NodeKind::object) return job;
    complete_job(root, job);
    check_job(reader, root, job);
    return job;
}

}  // namespace

ReadResult<Job> read_job(std::string_view text, std::string_view file) {
    Document document = parse_document(text);
    Reader reader{text, std::move(document.faults)};
    Job job;
    if (document.complete) job = read_tree(reader, document.root);
    ReadResult<Job> result;
    if (!reader.has_errors()) {
        assume_defaults(document.root, job);
        result.value = std::move(job);
    }
    result.diagnostics = diagnostics_of(text, file, document.root, std::move(reader.faults()));
    return result;
}

}  // namespace patchwright::io
