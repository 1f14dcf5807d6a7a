#pragma once
#include "job_fields.hpp"
#include "patchwright/job/record.hpp"

/// The record file's structs as descriptions. Internal to the readers.
namespace patchwright::io {

PATCHWRIGHT_DESCRIBE(NotedPressure, "a noted pressure");
PATCHWRIGHT_DESCRIBE(NotedTemperature, "a noted temperature");
PATCHWRIGHT_DESCRIBE(NotedBenchTest, "the bench test");
PATCHWRIGHT_DESCRIBE(NotedWitness, "the witness");
PATCHWRIGHT_DESCRIBE(PatchRecord, "a patch");
PATCHWRIGHT_DESCRIBE(LeakReading, "a reading");
PATCHWRIGHT_DESCRIBE(LeakRecord, "a test");
PATCHWRIGHT_DESCRIBE(StepRecord, "a step");
PATCHWRIGHT_DESCRIBE(DayRecord, "a day");
PATCHWRIGHT_DESCRIBE(SheetNotes, "a sheet");
PATCHWRIGHT_DESCRIBE(Record, "a record");

}  // namespace patchwright::io
