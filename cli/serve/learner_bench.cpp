#include "cli/serve/learner_bench.hpp"

#include <fmt/format.h>

#include <chrono>
#include <exception>
#include <sstream>
#include <utility>

#include "cli/views/debrief_view.hpp"
#include "engine/lessons/debrief.hpp"
#include "netlists/text/characters.hpp"

namespace voltfall {

namespace {

/// Fits a phone of 320 px in letters of one width.
constexpr PageStyle phone_style{34, Colour::off, 5, false};

std::string today() {
    const std::chrono::year_month_day date{std::chrono::floor<std::chrono::days>(std::chrono::system_clock::now())};
    return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()), static_cast<unsigned>(date.month()),
                       static_cast<unsigned>(date.day()));
}

}  // namespace

LearnerBench::LearnerBench(ServedLesson& lesson, std::string who, std::string path)
    : lesson_(lesson),
      who_(std::move(who)),
      path_(std::move(path)),
      run_(lesson.simulator(), lesson.exercise(), lesson.options()),
      talk_(run_, lesson.options(), phone_style) {
    const auto kept = read_whole_file(path_);
    if (!kept) return;
    std::istringstream lines(*kept);
    lines.exceptions(std::ios::badbit);  // else memory that runs out is the end of the text
    for (std::string line; std::getline(lines, line) && turns_.size() < most_lines;)
        if (!line.empty() && line.front() != '#') turns_.push_back({line, talk_.answer(line)});
}

std::string LearnerBench::kept_text() const {
    std::string text = fmt::format("# bench of {}: {}\n", who_, lesson_.stem());
    for (const Turn& turn : turns_) text += turn.line + "\n";
    return text;
}

std::optional<FileFailure> LearnerBench::answer(const std::string& typed) {
    std::string line;
    for (const char c : trimmed(typed)) line += static_cast<unsigned char>(c) < ' ' ? ' ' : c;
    if (line.empty() || line.front() == '#' || is_over()) return std::nullopt;
    if (turns_.size() >= most_lines)
        return FileFailure{"this bench has had its thousand lines", "hand the vehicle back"};
    turns_.push_back({line, {}});
    if (const auto written = replace_whole_file(path_, kept_text()); !written) {
        turns_.pop_back();
        return written.error();
    }
    turns_.back().reply = talk_.answer(line);
    return std::nullopt;
}

void LearnerBench::work_out() {
    try {
        weigh_and_tell();
    } catch (const std::exception& broken) {
        const std::lock_guard one_at_a_time(lock_);
        debrief_ = std::string("It could not be worked out: ") + broken.what();
    }
}

void LearnerBench::weigh_and_tell() {
    run_.weigh_rest();
    const Lesson& lesson = run_.exercise().lesson;
    const LearnerResult result{lesson.path,
                               lesson.title,
                               lesson.skill,
                               lesson.level,
                               static_cast<long long>(run_.exercise().seed),
                               debrief_of(lesson_.simulator(), run_, &lesson_.plan())};
    const std::lock_guard one_at_a_time(lock_);
    verdict_ = verdict_word(result.debrief.verdict);
    row_ = progress_line(result, who_, today());
    debrief_ = debrief_text(result, phone_style);
}

std::optional<std::string> LearnerBench::debrief() const {
    const std::lock_guard one_at_a_time(lock_);
    return debrief_;
}

std::string LearnerBench::verdict() const {
    const std::lock_guard one_at_a_time(lock_);
    return verdict_;
}

std::string LearnerBench::result_row() const {
    const std::lock_guard one_at_a_time(lock_);
    return row_;
}

}  // namespace voltfall
