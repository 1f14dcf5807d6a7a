#pragma once
#include "context.hpp"
#include "cure_tables.hpp"
#include "patchwright/plan/plan.hpp"
#include "whole.hpp"

namespace patchwright::plan {

/// As the public one, with the cures of other plans of the same yard.
Plan make_plan(const job::Job& job, const job::Yard& yard, const Options& options,
               const std::shared_ptr<KnownCures>& known);

/// How the packer gets to a placed sleeve: the ways in, shortest first; `way` counts round when there are fewer.
void rig(const PlanContext& context, const job::Run& run, int way, Patch& patch);

/// Net price of patching, without trials: what whole jobs are compared by.
Money patch_net(const PlanContext& context, price::PatchWorks works);

/// The offer for a job that differs in what is dug alone, with the patches as planned.
price::Offer offer_again(const job::Job& job, const job::Yard& yard, const Options& options, const Plan& plan);

/// Tables, bench tests, build cards, price with trials, warnings and cautions of the job that was chosen.
void finish(PlanContext& context, Whole whole, CureTables& tables, Plan& plan);

}  // namespace patchwright::plan
