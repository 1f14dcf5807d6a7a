#include "job_checks.hpp"
#include "patchwright/job/read.hpp"

namespace patchwright::job {

bool Run::access_at_from() const { return std::find(access.begin(), access.end(), from) != access.end(); }
bool Run::access_at_to() const { return std::find(access.begin(), access.end(), to) != access.end(); }

ReadResult<Job> read_job(std::string_view text, std::string_view file) {
    Document document = parse_document(text);
    ReadResult<Job> result;
    Reader reader{text};
    Job job;
    if (document.complete) {
        read_object(reader, document.root, job);
        if (document.root.kind == NodeKind::object) {
            complete_job(document.root, job);
            check_job(reader, document.root, job);
        }
    }
    for (Fault& fault : document.faults) reader.add(std::move(fault));
    if (!reader.has_errors()) {
        assume_defaults(document.root, job);
        result.value = std::move(job);
    }
    result.diagnostics = diagnostics_of(text, file, document.root, std::move(reader.faults()));
    return result;
}

}  // namespace patchwright::job
