// Conditions that somebody makes so that a fault that comes and goes is there to be measured.
#pragma once

#include <optional>
#include <vector>

#include "engine/diagnosis/weighing.hpp"
#include "engine/planning/outlook.hpp"

namespace voltfall {

/// The condition in which the job's last look has shown the fault, so that what follows is measured while it lasts.
/// Nothing where none was made, or where all was well in it.
std::optional<Trigger> condition_now(const Job& job, const Weighed& weighed);

struct MadeCondition {
    Trigger trigger{};
    StatePhrase phrase;  ///< the position that the customer complains of, with the condition
    double minutes{};    ///< until it is made
};

/// Conditions that are likely to bring about what comes and goes, and that nobody has looked in yet. `busiest` is the
/// position for a complaint that names none.
std::vector<MadeCondition> conditions_to_make(const Job& job, const Weighed& weighed, const StatePhrase& busiest);

/// Minutes that each test takes longer while the condition must be kept or made again.
double minutes_to_keep(Trigger condition);
/// Seconds that the load runs until the condition is made; 0 where it need not run.
double seconds_run(Trigger condition);

/// Is this a look whether what comes and goes is there: in the position complained of, or while a condition is made?
bool looks_for_complaint(const Job& job, const Weighed& weighed, const TestCandidate& test);

/// Bits that the next tests tell more where such a look shows the fault: they are taken while it is there, and not in
/// moments in which it happens to be. `best_bits` is of the best test that could be taken without.
double bits_seen_with_it(const Outlook& outlook, const TestCandidate& test, double best_bits);

}  // namespace voltfall
