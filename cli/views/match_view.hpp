// The answer of `match` and its three ways of showing.
#pragma once

#include <string>

#include "cli/views/text_page.hpp"
#include "engine/diagnosis/answer.hpp"
#include "netlists/circuit/circuit.hpp"

namespace voltfall {

struct MatchView {
    std::string concern;  ///< what the customer said, empty where no job
    MatchAnswer answer;
    const Circuit* circuit{};  ///< for the minutes to each repair; may be null; must outlive the view
    std::string next;          ///< what to type next
    std::size_t explained{static_cast<std::size_t>(-1)};  ///< candidates told with their reasons, at most
};

/// Is "none of these" more probable than the leader and all that the readings cannot tell from it?
bool none_leads(const MatchAnswer& answer);

std::string match_text(const MatchView& view, PageStyle style);
std::string match_json(const MatchView& view);
std::string match_plain(const MatchView& view);

}  // namespace voltfall
