// Tests of an outlook as a problem of sequencing.
#pragma once

#include <cstddef>
#include <span>

#include "engine/planning/outcomes.hpp"
#include "engine/planning/outlook.hpp"
#include "engine/planning/sequencing.hpp"

namespace voltfall {

/// The suspects as they stand and these tests (indices of the outlook's), each with its outcomes, its minutes and the
/// strip-down that several may share; a wrong repair at its price.
SequencingProblem problem_of(const Outlook& outlook, std::span<const std::size_t> tests,
                             std::span<const Outcomes> outcomes);

/// Of these tests the one to begin with, looked at two tests ahead with all their outcomes: the first of them, unless
/// another saves three minutes in the end. Nothing where ending is better, or where fewer than two tell suspects apart.
std::optional<std::size_t> first_of(const Outlook& outlook, std::span<const std::size_t> tests);

}  // namespace voltfall
