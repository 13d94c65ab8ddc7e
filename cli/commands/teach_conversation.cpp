// `teach` as a conversation at a terminal or through a pipe.
#include <fmt/format.h>

#include <ostream>

#include "cli/commands/line_input.hpp"
#include "cli/commands/teach.hpp"
#include "cli/talk/lesson_talk.hpp"

namespace voltfall {

void hold_conversation(Console& console, LearnerRun& run, const RunOptions& options) {
    const bool silent = console.options.format != Format::text;
    const auto show = [&](const std::string& text) {
        if (!silent) console.out << text << std::flush;
    };
    LessonTalk talk(run, options, answer_style(console));
    LineInput input(console, !silent);
    show(talk.intro());
    while (!talk.is_over()) {
        const auto line = input.next(fmt::format("\n[{}] > ", talk.standing()));
        if (!line) break;
        show(talk.answer(*line));
    }
    if (talk.is_over()) return;
    show(InterruptEndsInput::happened() ? "interrupted: given up\n" : "the input has ended: given up\n");
    run.give_up();
}

}  // namespace voltfall
