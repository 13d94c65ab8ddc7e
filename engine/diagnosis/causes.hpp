// What may stand behind a part that has failed: faults whose aftermath ends in that very failure.
#pragma once

#include "engine/diagnosis/answer.hpp"
#include "engine/diagnosis/weighing.hpp"

namespace voltfall {

/// Fills `caused_by` of the leading candidates that a protecting element's opening is (a pack's limiter): every load's
/// fault whose aftermath opens it in some position, weighed with the readings (both faults present) against the element
/// failing by itself. A probability is that of the cause, given the candidate.
void add_causes(MatchAnswer& answer, const Circuit& circuit, const Weighed& weighed,
                const std::vector<std::size_t>& list);

}  // namespace voltfall
