// The answer of `deck`: the SPICE file of one case, and which node is which place.
#pragma once

#include <string>
#include <utility>
#include <vector>

namespace voltfall {

struct DeckAnswer {
    std::vector<std::string> faults;  ///< phrases with their sizes
    std::string state;
    std::string at;                                          ///< "faulted" or "after"
    std::string file;                                        ///< where the deck was written; empty: it is in the answer
    std::vector<std::pair<std::string, std::string>> nodes;  ///< place -> node of the deck ("n12", "0")
    std::string deck;                                        ///< the file's text
};

std::string deck_json(const DeckAnswer& answer);
std::string deck_plain(const DeckAnswer& answer);

}  // namespace voltfall
