// A plan as a list of lettered steps: each a test, its cautions, and where every outcome leads.
#pragma once

#include <string>
#include <vector>

#include "cli/views/plan_view.hpp"

namespace voltfall {

struct PlanStep {
    std::string letter;  ///< "A", "B", … "Z", "AA"
    std::string test;
    double minutes{};
    std::vector<std::string> cautions;  ///< those that no earlier step has said
    struct Outcome {
        std::string readings;  ///< "below 9.8 V or above 12.6 V"; outcomes that lead to the same are one
        double probability{};  ///< of it in this step
        std::string leads_to;  ///< "then test D", "end: repair F7.2 and prove it"
        bool ends{false};
    };
    std::vector<Outcome> outcomes;
    bool folded{false};  ///< ways left out: enter the reading and ask again

    /// What to do with what is left out: "anything else: …", or "whatever it shows: …" where every way is.
    std::string rest() const {
        return std::string(outcomes.empty() ? "whatever it shows" : "anything else") +
               ": enter the reading and ask again";
    }
};

/// How many steps the plan has that are come to in 1 of 50 vehicles or more.
std::size_t steps_worth_telling(const PlanAnswer& answer);

/// The `most` likeliest steps, in the order in which they may be come to. Ways less likely than 1 in 50, and those to
/// steps that are left out, are folded.
std::vector<PlanStep> plan_steps(const PlanView& view, std::size_t most);

}  // namespace voltfall
