// The answer of `deck` and its three ways of showing.
#pragma once

#include <string>

#include "cli/views/text_page.hpp"
#include "engine/figures/case_deck.hpp"

namespace voltfall {

/// The deck itself; nothing where it stands in a file.
std::string deck_text(const DeckAnswer& answer, PageStyle style);
std::string deck_json(const DeckAnswer& answer);
std::string deck_plain(const DeckAnswer& answer);

}  // namespace voltfall
