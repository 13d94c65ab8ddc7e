// The answer of `match` and its three ways of showing.
#pragma once

#include <optional>
#include <string>

#include "cli/views/text_page.hpp"
#include "engine/diagnosis/answer.hpp"
#include "engine/planning/next.hpp"
#include "netlists/circuit/circuit.hpp"

namespace voltfall {

struct MatchView {
    std::string concern;  ///< what the customer said, empty where no job
    MatchAnswer answer;
    const Circuit* circuit{};            ///< for the minutes to each repair; may be null; must outlive the view
    std::string next;                    ///< what to type next
    std::optional<TestProposal> test{};  ///< the test to take next
    bool why{true};                      ///< every suspect with its reasons, instead of the first screen
};

/// Is "none of these" more probable than the leader and all that the readings cannot tell from it?
bool none_leads(const MatchAnswer& answer);

std::string match_text(const MatchView& view, PageStyle style);
std::string match_json(const MatchView& view);
std::string match_plain(const MatchView& view);

}  // namespace voltfall
