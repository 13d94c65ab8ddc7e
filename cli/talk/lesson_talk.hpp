// An exercise line by line: what a learner types, and what the bench answers. Whoever carries the lines: a terminal, a
// pipe, a browser.
#pragma once

#include <set>
#include <string>

#include "cli/views/text_page.hpp"
#include "engine/lessons/learner_run.hpp"

namespace voltfall {

class LessonTalk {
public:
    /// `run` must outlive it.
    LessonTalk(LearnerRun& run, RunOptions options, PageStyle style);

    /// Goal, concern, vehicle, budget; how to go on.
    std::string intro() const;
    /// What the line does, as text. An empty line and a note (`# …`) do nothing.
    std::string answer(const std::string& line);
    /// "4 min; hi, key run": what stands before each line.
    std::string standing() const;
    bool is_over() const { return run_.end() != RunEnd::open; }

private:
    std::string tell(std::string_view text, Tone tone = Tone::plain) const;
    bool answer_word(const std::string& word, TextPage& page);
    void write_bill(TextPage& page) const;
    void give_hint(TextPage& page);
    std::string answer_same(const std::string& rest);
    std::string answer_suspect(const std::string& rest);
    std::string act(const std::string& line);

    LearnerRun& run_;
    RunOptions options_;
    PageStyle style_;
    std::set<std::string> cautioned_;
};

}  // namespace voltfall
