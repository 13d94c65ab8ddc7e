// The answer of `next` and its three ways of showing.
#pragma once

#include <memory>
#include <string>

#include "cli/views/text_page.hpp"
#include "engine/planning/next.hpp"

namespace voltfall {

struct NextView {
    std::shared_ptr<const Circuit> circuit;
    std::string concern;
    NextAnswer answer;
    std::string next;  ///< what to type when the reading is taken
};

/// A caution as it is; the mark is the page's own, once.
std::string without_mark(const std::string& caution);
/// WARNING before what can injure a person, CAUTION before what can harm the vehicle.
std::string_view caution_word(const std::string& caution);
/// What a test is worth, in words: "splits the suspects about in half".
std::string_view worth_words(const TestProposal& test);
/// What a look in several positions asks for: "turn S1 through them: how does blower go in each?"; empty of other
/// tests.
std::string how_asked(const Circuit& circuit, const Test& test);
/// "10.31 to 11.02 V", "slow".
std::string expected_text(const Expectation& expectation);
/// What to do when testing ends.
void write_stop(TextPage& page, const StopAdvice& stop);

std::string next_text(const NextView& view, PageStyle style);
std::string next_json(const NextView& view);
std::string next_plain(const NextView& view);

}  // namespace voltfall
