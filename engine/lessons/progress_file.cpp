#include "engine/lessons/progress_file.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <charconv>
#include <cstring>
#include <fstream>

#include "netlists/text/csv.hpp"
#include "netlists/text/digits.hpp"

namespace voltfall {

namespace {

constexpr std::array<std::string_view, 18> columns{"date",           "who",   "lesson",      "title",   "skill",
                                                   "level",          "seed",  "verdict",     "minutes", "plan_minutes",
                                                   "budget_minutes", "parts", "wrong_parts", "guesses", "tests",
                                                   "blind_tests",    "hints", "proved"};

double number_of(const std::string& text) {
    double value = 0;
    std::from_chars(text.data(), text.data() + text.size(), value);
    return value;
}

class OpenFile {
public:
    explicit OpenFile(const std::string& path)
        : handle_(open(path.c_str(), O_RDWR | O_CREAT | O_APPEND | O_CLOEXEC, 0644)) {}
    ~OpenFile() {
        if (handle_ >= 0) close(handle_);
    }
    OpenFile(const OpenFile&) = delete;
    OpenFile& operator=(const OpenFile&) = delete;
    int handle() const { return handle_; }

private:
    int handle_;
};

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
                                                         result.file,
                                                         result.title,
                                                         result.skill,
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

std::optional<std::string> append_progress(const std::string& path, const std::string& line) {
    const auto failed = [&] { return fmt::format("cannot write {}: {}", path, std::strerror(errno)); };
    const OpenFile file(path);
    if (file.handle() < 0 || flock(file.handle(), LOCK_EX) != 0) return failed();
    struct stat status {};
    if (fstat(file.handle(), &status) != 0) return failed();
    std::string text = status.st_size == 0 ? progress_header() : "";
    if (status.st_size > 0) {
        char last = '\n';
        if (pread(file.handle(), &last, 1, status.st_size - 1) != 1) return failed();
        if (last != '\n') text = "\n";
    }
    text += line;
    const ssize_t written = write(file.handle(), text.data(), text.size());
    if (written != static_cast<ssize_t>(text.size()) || fsync(file.handle()) != 0) return failed();
    return std::nullopt;
}

std::optional<ProgressSoFar> read_progress(const std::string& path) {
    std::ifstream file(path);
    if (!file) return std::nullopt;
    ProgressSoFar progress;
    std::map<std::pair<std::string, std::string>, SkillRecord> found;
    for (std::string line; std::getline(file, line);) {
        if (line.empty() || line + "\n" == progress_header()) continue;
        // Line by line: a quote that a crash has left open must not swallow the lines behind it.
        const std::vector<CsvRow> rows = cut_csv(line);
        if (rows.size() != 1 || rows.front().fields.size() != columns.size()) {
            ++progress.broken;
            continue;
        }
        const std::vector<std::string>& fields = rows.front().fields;
        const auto of = [&](std::string_view name) { return fields[column(name)]; };
        SkillRecord& record = found[{of("who"), of("skill")}];
        record.who = of("who");
        record.skill = of("skill");
        ++record.runs;
        record.solved += of("verdict") == verdict_word(Verdict::solved) ? 1 : 0;
        record.unsafe += of("verdict") == verdict_word(Verdict::unsafe) ? 1 : 0;
        record.minutes += number_of(of("minutes"));
        record.plan_minutes += number_of(of("plan_minutes"));
        record.blind_tests += static_cast<int>(number_of(of("blind_tests")));
        record.tests += static_cast<int>(number_of(of("tests")));
        record.wrong_parts += static_cast<int>(number_of(of("wrong_parts")));
        record.guesses += static_cast<int>(number_of(of("guesses")));
    }
    for (const auto& [key, record] : found) progress.records.push_back(record);
    return progress;
}

}  // namespace voltfall
