// A part's line in the trade's order and words, put into those of its kind before they are read.
#include <algorithm>

#include "netlists/parts/part_reader.hpp"
#include "netlists/text/misread.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

void PartReader::put_for(std::string_view said, std::string_view meant) {
    for (std::size_t at = 0; at < line_.size(); ++at) {
        if (used_[at] || line_[at].quoted || !same_word(line_[at].text, said)) continue;
        std::vector<Word> put = cut_words(meant);
        for (Word& word : put) {
            word.offset = line_[at].offset;
            word.length = line_[at].length;
            word.after_comma = false;
        }
        if (!put.empty()) {
            put.front().after_comma = line_[at].after_comma;
        } else if (at + 1 < line_.size()) {
            line_[at + 1].after_comma = line_[at + 1].after_comma || line_[at].after_comma;
        }
        const auto from = line_.begin() + static_cast<std::ptrdiff_t>(at);
        line_.insert(line_.erase(from), put.begin(), put.end());
        const auto flag = used_.begin() + static_cast<std::ptrdiff_t>(at);
        used_.insert(used_.erase(flag), put.size(), false);
        return;
    }
}

void PartReader::number_may_lead(std::string_view keyword, Unit unit) {
    for (std::size_t at = 1; at < line_.size(); ++at) {
        const Word& number = line_[at - 1];
        const bool leads = !line_[at].after_comma && number.measure && number.measure->unit == unit;
        if (!leads || !same_word(line_[at].text, keyword) || is_next_number(at)) continue;
        std::swap(line_[at - 1], line_[at]);
        std::swap(line_[at - 1].after_comma, line_[at].after_comma);
        return;
    }
}

void PartReader::at_may_mark(Unit unit) {
    for (std::size_t at = 0; at + 1 < line_.size(); ++at) {
        const auto& behind = line_[at + 1];
        const bool marks = behind.measure && behind.measure->unit == unit && !behind.after_comma;
        if (marks && same_word(line_[at].text, "at")) line_[at].text = "@";
    }
}

}  // namespace voltfall
