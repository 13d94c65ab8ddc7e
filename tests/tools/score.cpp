// Scores matching on folders of jobs whose cause is known: the rank of the true place, and shares per class of
// evidence.
#include <algorithm>
#include <exception>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <map>
#include <optional>
#include <set>
#include <span>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/format.h>
#include <nlohmann/json.hpp>
#include <tl/expected.hpp>

#include "engine/diagnosis/match.hpp"
#include "netlists/files/job_file.hpp"
#include "netlists/phrases/fault_phrase.hpp"
#include "netlists/phrases/place_pattern.hpp"
#include "netlists/text/suggest.hpp"
#include "tests/tools/csv_table.hpp"

namespace voltfall {
namespace {

namespace fs = std::filesystem;

/// One row of expect.csv.
struct Expectation {
    fs::path folder;
    std::string id;
    std::string places;  ///< fault phrases, `|` between equals
    std::string evidence;
};

/// One job that was matched.
struct Scored {
    Expectation expected;
    std::optional<std::size_t>
        rank;  ///< position of the first candidate at the true place, from 1; nothing when absent
    std::string top;
    double probability{};  ///< of the top candidate
};

struct Skipped {
    std::string what;
    std::string why;
};

struct Results {
    std::vector<Scored> scored;
    std::vector<Skipped> skipped;
};

/// Shares of one class of evidence.
struct Score {
    std::string evidence;
    std::size_t cases{};
    double top_1{};
    double top_3{};
    double mean_reciprocal_rank{};
};

std::optional<std::string> file_text(const fs::path& path) {
    std::ifstream in(path, std::ios::binary);
    if (!in) {
        return std::nullopt;
    }
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

/// Where the columns that are used stand; nothing where one is missing.
std::optional<std::map<std::string, std::size_t>> columns_of(const CsvRow& header) {
    std::map<std::string, std::size_t> columns;
    for (std::size_t at = 0; at < header.fields.size(); ++at) {
        columns[header.fields[at]] = at;
    }
    for (const char* needed : {"id", "expected_places", "evidence"}) {
        if (!columns.contains(needed)) {
            return std::nullopt;
        }
    }
    return columns;
}

std::vector<Expectation> read_expectations(const fs::path& folder, std::vector<Skipped>& skipped) {
    const fs::path path = folder / "expect.csv";
    const auto text = file_text(path);
    if (!text) {
        skipped.push_back({path.string(), "cannot be read; a folder to score holds expect.csv"});
        return {};
    }
    const auto rows = cut_csv(*text);
    const auto columns = rows.empty() ? std::nullopt : columns_of(rows.front());
    if (!columns) {
        skipped.push_back({path.string(), "its first line lacks one of the columns id, expected_places, evidence"});
        return {};
    }
    std::vector<Expectation> expectations;
    for (const CsvRow& row : std::span(rows).subspan(1)) {
        const auto field = [&](const char* name) {
            const std::size_t at = columns->at(name);
            return at < row.fields.size() ? row.fields[at] : std::string();
        };
        Expectation expected{folder, field("id"), field("expected_places"), field("evidence")};
        if (expected.id.empty() || expected.places.empty()) {
            skipped.push_back({fmt::format("{}:{}", path.string(), row.line), "row without id or expected_places"});
            continue;
        }
        if (expected.evidence.empty()) {
            expected.evidence = "not said";
        }
        expectations.push_back(std::move(expected));
    }
    return expectations;
}

std::string first_error(const Problems& problems) {
    for (const Problem& problem : problems.list()) {
        if (problem.severity == Severity::error) {
            return fmt::format("{}:{}:{}: {}", problem.place.file, problem.place.line, problem.place.column,
                               problem.message);
        }
    }
    return "not readable";
}

/// The faults that one pattern means, as phrases without size in small letters.
std::set<std::string> faults_meant(const Circuit& circuit, std::string_view pattern) {
    if (same_word(pattern, "nothing")) {
        return {"nothing"};
    }
    std::set<std::string> faults;
    for (const ModePtr& mode : circuit.modes) {
        if (matches_place_pattern(circuit, pattern, *mode)) {
            faults.insert(lower(mode->phrase()));
        }
    }
    Problems ignored;
    if (const auto fault = read_fault_phrase(TypedText::argument("expected_places", pattern), circuit, ignored)) {
        faults.insert(lower(fault->mode->phrase()));
    }
    return faults;
}

/// The faults, as phrases without size in small letters, that the patterns of a row mean; or which pattern means none.
tl::expected<std::set<std::string>, std::string> faults_expected(const Circuit& circuit, std::string_view patterns) {
    std::set<std::string> faults;
    while (!patterns.empty()) {
        const auto bar = patterns.find('|');
        const std::string_view pattern = patterns.substr(0, bar);
        patterns = bar == std::string_view::npos ? std::string_view{} : patterns.substr(bar + 1);
        const std::set<std::string> meant = faults_meant(circuit, pattern);
        if (meant.empty()) {
            return tl::unexpected(fmt::format("its expected place '{}' is nothing of the circuit", pattern));
        }
        faults.insert(meant.begin(), meant.end());
    }
    return faults;
}

void score_case(const Expectation& expected, Results& results) {
    const fs::path path = expected.folder / (expected.id + ".job.toml");
    const JobReading reading = read_job_file(path.string());
    if (!reading.circuit || !reading.job) {
        results.skipped.push_back({path.string(), first_error(reading.problems)});
        return;
    }
    const auto expected_faults = faults_expected(*reading.circuit, expected.places);
    if (!expected_faults) {
        results.skipped.push_back({path.string(), expected_faults.error()});
        return;
    }
    MatchOptions options;
    options.keep = reading.circuit->modes.size() + 1;
    const MatchAnswer answer = match(*reading.circuit, *reading.job, options);
    Scored scored{expected, std::nullopt, "none of these", answer.none_of_these};
    if (!answer.candidates.empty()) {
        scored.top = answer.candidates.front().fault;
        scored.probability = answer.candidates.front().probability;
    }
    const auto found =
        std::find_if(answer.candidates.begin(), answer.candidates.end(),
                     [&](const Candidate& candidate) { return expected_faults->contains(lower(candidate.fault)); });
    if (found != answer.candidates.end()) {
        scored.rank = static_cast<std::size_t>(found - answer.candidates.begin()) + 1;
    }
    results.scored.push_back(std::move(scored));
}

/// Job files that no row speaks of.
void note_unexpected(const fs::path& folder, const std::vector<Expectation>& expectations,
                     std::vector<Skipped>& skipped) {
    constexpr std::string_view ending = ".job.toml";
    std::set<std::string> known;
    for (const Expectation& expected : expectations) {
        known.insert(expected.id);
    }
    std::error_code error;
    std::set<std::string> unknown;
    for (const auto& entry : fs::directory_iterator(folder, error)) {
        const std::string name = entry.path().filename().string();
        if (name.ends_with(ending) && !known.contains(name.substr(0, name.size() - ending.size()))) {
            unknown.insert(entry.path().string());
        }
    }
    for (const std::string& path : unknown) {
        skipped.push_back({path, "no row of expect.csv speaks of it"});
    }
}

void score_folder(const fs::path& folder, Results& results) {
    const auto expectations = read_expectations(folder, results.skipped);
    for (const Expectation& expected : expectations) {
        try {
            score_case(expected, results);
        } catch (const std::exception& failure) {
            results.skipped.push_back({(folder / expected.id).string(), failure.what()});
        }
    }
    note_unexpected(folder, expectations, results.skipped);
}

Score score_of(std::string evidence, const std::vector<const Scored*>& cases) {
    Score score{std::move(evidence), cases.size()};
    for (const Scored* scored : cases) {
        const double rank = scored->rank ? static_cast<double>(*scored->rank) : 0;
        score.top_1 += rank == 1 ? 1 : 0;
        score.top_3 += rank >= 1 && rank <= 3 ? 1 : 0;
        score.mean_reciprocal_rank += rank > 0 ? 1 / rank : 0;
    }
    const double count = std::max<double>(1, static_cast<double>(cases.size()));
    score.top_1 /= count;
    score.top_3 /= count;
    score.mean_reciprocal_rank /= count;
    return score;
}

/// All cases first, then each class of evidence, the telling ones first.
std::vector<Score> scores_of(const std::vector<Scored>& scored) {
    std::vector<std::string> classes{"pins it down", "narrows to a few", "hardly at all"};
    std::vector<const Scored*> all;
    std::map<std::string, std::vector<const Scored*>> by_class;
    for (const Scored& one : scored) {
        all.push_back(&one);
        by_class[one.expected.evidence].push_back(&one);
        if (std::find(classes.begin(), classes.end(), one.expected.evidence) == classes.end()) {
            classes.push_back(one.expected.evidence);
        }
    }
    std::vector<Score> scores{score_of("all", all)};
    for (const std::string& evidence : classes) {
        if (by_class.contains(evidence)) {
            scores.push_back(score_of(evidence, by_class[evidence]));
        }
    }
    return scores;
}

void print_text(const Results& results) {
    fmt::print("{:<12} {:<17} {:>4}  {:<28} {}\n", "id", "evidence", "rank", "top candidate", "probability");
    for (const Scored& scored : results.scored) {
        const std::string rank = scored.rank ? fmt::format("{}", *scored.rank) : "-";
        fmt::print("{:<12} {:<17} {:>4}  {:<28} {:.2f}\n", scored.expected.id, scored.expected.evidence, rank,
                   scored.top, scored.probability);
    }
    fmt::print("\n{:<17} {:>5} {:>6} {:>6} {:>16}\n", "evidence", "cases", "top-1", "top-3", "mean of 1 / rank");
    for (const Score& score : scores_of(results.scored)) {
        fmt::print("{:<17} {:>5} {:>6.2f} {:>6.2f} {:>16.2f}\n", score.evidence, score.cases, score.top_1, score.top_3,
                   score.mean_reciprocal_rank);
    }
}

void print_json(const Results& results) {
    using nlohmann::ordered_json;
    ordered_json cases = ordered_json::array();
    for (const Scored& scored : results.scored) {
        cases.push_back({{"id", scored.expected.id},
                         {"folder", scored.expected.folder.string()},
                         {"evidence", scored.expected.evidence},
                         {"expected", scored.expected.places},
                         {"rank", scored.rank ? ordered_json(*scored.rank) : ordered_json(nullptr)},
                         {"top", scored.top},
                         {"probability", scored.probability}});
    }
    ordered_json scores = ordered_json::array();
    for (const Score& score : scores_of(results.scored)) {
        scores.push_back({{"evidence", score.evidence},
                          {"cases", score.cases},
                          {"top_1", score.top_1},
                          {"top_3", score.top_3},
                          {"mean_reciprocal_rank", score.mean_reciprocal_rank}});
    }
    ordered_json skipped = ordered_json::array();
    for (const Skipped& one : results.skipped) {
        skipped.push_back({{"what", one.what}, {"why", one.why}});
    }
    const ordered_json whole{
        {"schema", 1}, {"command", "score"}, {"cases", cases}, {"scores", scores}, {"skipped", skipped}};
    std::cout << whole.dump(1, ' ', false, ordered_json::error_handler_t::replace) << '\n';
}

int run(const std::vector<std::string>& arguments) {
    bool json = false;
    std::vector<fs::path> folders;
    for (const std::string& argument : arguments) {
        if (argument == "--json") {
            json = true;
        } else if (argument.starts_with("-")) {
            std::cerr << fmt::format("score: unknown option '{}'; usage: score [--json] FOLDER...\n", argument);
            return 2;
        } else {
            folders.emplace_back(argument);
        }
    }
    if (folders.empty()) {
        std::cerr << "score: no folder named; usage: score [--json] FOLDER...\n";
        return 2;
    }
    Results results;
    for (const fs::path& folder : folders) {
        score_folder(folder, results);
    }
    if (json) {
        print_json(results);
    } else {
        print_text(results);
    }
    for (const Skipped& skipped : results.skipped) {
        std::cerr << fmt::format("score: left out {}: {}\n", skipped.what, skipped.why);
    }
    return results.scored.empty() ? 3 : 0;
}

}  // namespace
}  // namespace voltfall

int main(int argc, char** argv) {
    return voltfall::run({argv + 1, argv + argc});
}
