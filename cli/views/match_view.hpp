// The answer of `match` and its three ways of showing.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "cli/views/text_page.hpp"
#include "engine/diagnosis/answer.hpp"

namespace voltfall {

struct MatchView {
    std::string concern;  ///< what the customer said, empty where no job
    MatchAnswer answer;
    std::map<std::string, std::string> reach;                  ///< repair -> "25 min there and back"
    std::map<std::string, std::vector<std::string>> together;  ///< repair -> what is replaced with it
    std::string next;                                          ///< what to type next
};

/// Is "none of these" more probable than the leader and all that the readings cannot tell from it?
bool none_leads(const MatchAnswer& answer);

std::string match_text(const MatchView& view, PageStyle style);
std::string match_json(const MatchView& view);
std::string match_plain(const MatchView& view);

}  // namespace voltfall
