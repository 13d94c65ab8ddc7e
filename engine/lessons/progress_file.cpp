#include "engine/lessons/progress_file.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cstring>
#include <filesystem>

#include "netlists/platform/file_beside.hpp"
#include "netlists/platform/file_bytes.hpp"
#include "netlists/platform/paths.hpp"
#include "netlists/text/csv.hpp"
#include "netlists/text/digits.hpp"

namespace voltfall {

namespace {

constexpr std::array<std::string_view, 18> columns{"date",           "who",   "lesson",      "title",   "skill",
                                                   "level",          "seed",  "verdict",     "minutes", "plan_minutes",
                                                   "budget_minutes", "parts", "wrong_parts", "guesses", "tests",
                                                   "blind_tests",    "hints", "proved"};

/// Most of a figure in a line, of minutes and of what is counted: a bench ends after a thousand lines. The sums of all
/// lines that a file may have stay within an int.
constexpr double most_minutes = 1e5;
constexpr double most_counted = 1000;

/// A figure of a line, 0 where the field is empty; nullopt of anything else that is no number from 0 to `most`.
std::optional<double> figure_of(const std::string& text, double most) {
    if (text.empty()) return 0;
    double value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    const bool whole = error == std::errc{} && end == text.data() + text.size();
    // Written so that "nan" is refused too.
    return whole && value >= 0 && value <= most ? std::optional(value) : std::nullopt;
}

/// Far more than a school's results of years.
constexpr std::size_t largest_progress_bytes = 64u << 20;
/// How long another program's change is waited for.
constexpr double patience_seconds = 10;

bool is_progress(std::string_view text) {
    const std::string_view first = text.substr(0, text.find_first_of("\r\n"));
    return text.empty() || std::string(first) + "\n" == progress_header();
}

FileFailure no_progress(const std::string& path) {
    return {fmt::format("{} is no file of results: its first line is not theirs", path),
            "name another file; nothing was changed"};
}

std::size_t column(std::string_view name) {
    return static_cast<std::size_t>(std::find(columns.begin(), columns.end(), name) - columns.begin());
}

}  // namespace

std::string progress_header() {
    return fmt::format("{}\n", fmt::join(columns, ","));
}

bool is_initials(const std::string& who) {
    constexpr std::size_t most = 4;
    return !who.empty() && who.size() <= most &&
           std::all_of(who.begin(), who.end(), [](unsigned char c) { return std::isalpha(c) != 0; });
}

std::string progress_line(const LearnerResult& result, const std::string& who, const std::string& date) {
    const DebriefFigures& f = result.debrief.figures;
    const std::array<std::string, columns.size()> fields{date,
                                                         who,
                                                         spreadsheet_text(result.file),
                                                         spreadsheet_text(result.title),
                                                         spreadsheet_text(result.skill),
                                                         std::to_string(result.level),
                                                         std::to_string(result.seed),
                                                         std::string(verdict_word(result.debrief.verdict)),
                                                         plain_number(f.minutes),
                                                         plain_number(f.plan_minutes),
                                                         plain_number(f.budget_minutes),
                                                         std::to_string(f.parts),
                                                         std::to_string(f.wrong_parts.size()),
                                                         std::to_string(f.unwarranted.size()),
                                                         std::to_string(f.tests),
                                                         std::to_string(f.blind_tests),
                                                         std::to_string(f.hints),
                                                         result.debrief.proved ? "yes" : "no"};
    return csv_line(fields);
}

std::optional<FileFailure> append_progress(const std::string& path, const std::string& line) {
    const auto lock = FileLock::take(path, patience_seconds, FileLock::Missing::begin);
    if (!lock) return lock.error();
    auto text = read_whole_file(path, largest_progress_bytes);
    if (!text) return text.error();
    if (!is_progress(*text)) return no_progress(path);
    if (text->empty()) *text = progress_header();
    if (!text->ends_with('\n')) *text += '\n';
    const auto written = replace_whole_file(path, *text + line);
    return written ? std::nullopt : std::optional(written.error());
}

std::optional<FileFailure> cannot_append(const std::string& path) {
    const std::filesystem::path folder = path_of(path).parent_path();
    if (const int error = why_no_files_in(path_text(folder)))
        return FileFailure{fmt::format("cannot write {}: {}", path, std::strerror(error)),
                           "is the folder there, and may you write in it?"};
    if (kind_of_path(path) == PathKind::nothing) return std::nullopt;
    if (is_stream(path)) return no_progress(path);
    const auto text = read_whole_file(path, largest_progress_bytes);
    if (!text) return text.error();
    return is_progress(*text) ? std::nullopt : std::optional(no_progress(path));
}

tl::expected<ProgressSoFar, FileFailure> read_progress(const std::string& path) {
    const auto text = read_whole_file(path, largest_progress_bytes);
    if (!text) return tl::unexpected(text.error());
    if (!is_progress(*text)) return tl::unexpected(no_progress(path));
    return read_progress_text(*text);
}

tl::expected<ProgressSoFar, FileFailure> read_progress_text(const std::string& text) {
    if (!is_progress(text)) return tl::unexpected(no_progress("what was read"));
    ProgressSoFar progress;
    std::map<std::pair<std::string, std::string>, SkillRecord> found;
    for (std::size_t begin = 0; begin < text.size();) {
        const std::size_t end = std::min(text.find('\n', begin), text.size());
        const std::string line = text.substr(begin, end - begin);
        begin = end + 1;
        if (line.empty() || line + "\n" == progress_header()) continue;
        // Line by line: a quote that a crash has left open must not swallow the lines behind it.
        const std::vector<CsvRow> rows = cut_csv(line);
        if (rows.size() != 1 || rows.front().fields.size() != columns.size()) {
            ++progress.broken;
            continue;
        }
        const std::vector<std::string>& fields = rows.front().fields;
        const auto of = [&](std::string_view name) { return fields[column(name)]; };
        const auto minutes = figure_of(of("minutes"), most_minutes);
        const auto plan_minutes = figure_of(of("plan_minutes"), most_minutes);
        const auto blind_tests = figure_of(of("blind_tests"), most_counted);
        const auto tests = figure_of(of("tests"), most_counted);
        const auto wrong_parts = figure_of(of("wrong_parts"), most_counted);
        const auto guesses = figure_of(of("guesses"), most_counted);
        if (!minutes || !plan_minutes || !blind_tests || !tests || !wrong_parts || !guesses) {
            ++progress.broken;
            continue;
        }
        SkillRecord& record = found[{of("who"), of("skill")}];
        record.who = of("who");
        record.skill = of("skill");
        ++record.runs;
        record.solved += of("verdict") == verdict_word(Verdict::solved) ? 1 : 0;
        record.unsafe += of("verdict") == verdict_word(Verdict::unsafe) ? 1 : 0;
        record.minutes += *minutes;
        record.plan_minutes += *plan_minutes;
        record.blind_tests += static_cast<int>(*blind_tests);
        record.tests += static_cast<int>(*tests);
        record.wrong_parts += static_cast<int>(*wrong_parts);
        record.guesses += static_cast<int>(*guesses);
    }
    for (const auto& [key, record] : found) progress.records.push_back(record);
    return progress;
}

}  // namespace voltfall
