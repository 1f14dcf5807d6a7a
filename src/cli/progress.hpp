#pragma once

namespace patchwright::cli {

struct Common;

/// From here on, once it takes longer than a second, one line on standard error says that work goes on; it is wiped
/// when the command has something to say, or ends. Nothing is said where standard error is no terminal, or with -q, or
/// where no thread is to be had.
void work_begins(const Common& options);
/// One more job of a stream is done. From any thread.
void work_counts();
void work_ends();

}  // namespace patchwright::cli
