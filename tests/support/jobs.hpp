#pragma once
#include <cstdint>
#include <nlohmann/json.hpp>
#include <string>

#include "patchwright/job/job.hpp"
#include "support/share.hpp"

/// Jobs for the tests of the whole program: invented, and the same for a seed on every machine.
namespace patchwright::test {

class Dice;

/// A job that a drain could have: one to three runs with fittings and defects of every kind. Most of them read;
/// places may still be refused (bends that overlap).
nlohmann::ordered_json random_job(std::uint32_t seed);
nlohmann::ordered_json random_job(Dice& dice, const std::string& reference);
/// An example with some of its values changed: other figures, other words, things left out or doubled. Valid JSON,
/// not always a valid job.
nlohmann::ordered_json mutated(nlohmann::ordered_json job, std::uint32_t seed);
nlohmann::ordered_json mutated(nlohmann::ordered_json job, Dice& dice, int times);
/// The same of any file, a yard too, and of its structure: parts exchanged, put elsewhere, doubled, of another kind.
/// Valid JSON, seldom a valid file after many times.
nlohmann::ordered_json bent(nlohmann::ordered_json file, Dice& dice, int times);
/// A file, compactly written: as one line of a stream.
std::string line(const nlohmann::ordered_json& job);
/// One long run with that many defects, 2 m apart.
nlohmann::ordered_json long_run(int defects);
/// Reads a job that must be valid.
job::Job must_read(const std::string& text);

}  // namespace patchwright::test
