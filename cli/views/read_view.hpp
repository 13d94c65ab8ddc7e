// What `read` tells: what a reading has changed, and the test to take next.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/views/text_page.hpp"
#include "engine/planning/reading_effect.hpp"

namespace voltfall {

struct ReadView {
    std::string file;
    std::vector<std::string> keys;  ///< of the readings: "9", "10"
    std::string reading;            ///< as typed
    bool taken_back{false};
    ReadingAnswer answer;
    std::vector<std::string> tests{};  ///< phrases of the tests to take next, in their order
    std::string how{};                 ///< how the first of them is taken, where its phrase does not tell
};

std::string read_text(const ReadView& view, PageStyle style);
std::string read_json(const ReadView& view);
std::string read_plain(const ReadView& view);

/// What changed, without the test to take next.
void write_effect(TextPage& page, const ReadView& view);
/// One test with its cautions first, its minutes, how it is taken, and what each suspect would read.
void write_asked(TextPage& page, const TestProposal& test, const std::string& phrase, const std::string& how);

}  // namespace voltfall
