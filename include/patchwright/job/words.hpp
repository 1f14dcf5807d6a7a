#pragma once
#include <span>
#include <string_view>
#include <utility>

#include "patchwright/job/felt.hpp"
#include "patchwright/job/job.hpp"
#include "patchwright/job/limits.hpp"
#include "patchwright/job/packers.hpp"
#include "patchwright/job/record.hpp"
#include "patchwright/job/resin.hpp"
#include "patchwright/job/risks.hpp"

/// The words of the files for each choice, in one place for reading, writing and hints.
namespace patchwright::job {

template <class E>
using WordList = std::span<const std::pair<std::string_view, E>>;

template <class E>
std::string_view word_in(WordList<E> list, E value) {
    for (const auto& [text, v] : list)
        if (v == value) return text;
    return "?";
}

WordList<Certainty> words_of(Certainty);
WordList<Material> words_of(Material);
WordList<Condition> words_of(Condition);
WordList<Surface> words_of(Surface);
WordList<Soil> words_of(Soil);
WordList<Traffic> words_of(Traffic);
WordList<FittingKind> words_of(FittingKind);
WordList<DefectKind> words_of(DefectKind);
WordList<Inflow> words_of(Inflow);
WordList<PackerShape> words_of(PackerShape);
WordList<BladderMaterial> words_of(BladderMaterial);
WordList<FeltForm> words_of(FeltForm);
WordList<Fibre> words_of(Fibre);
WordList<AirSupply> words_of(AirSupply);
WordList<ResinKind> words_of(ResinKind);
WordList<DataPointKind> words_of(DataPointKind);
WordList<HeatMedium> words_of(HeatMedium);
WordList<Risk::Consequence> words_of(Risk::Consequence);
WordList<Risk::Cause> words_of(Risk::Cause);
WordList<UnitSystem> words_of(UnitSystem);
WordList<SleeveOutcome> words_of(SleeveOutcome);
WordList<StepKind> words_of(StepKind);
WordList<YesNo> words_of(YesNo);
WordList<Probe> words_of(Probe);
WordList<LeakMethod> words_of(LeakMethod);

}  // namespace patchwright::job
