#include "tests/tools/score_cases.hpp"
#include "tests/support/solvers.hpp"
#include "tests/tools/further_tests.hpp"

#include <algorithm>
#include <cmath>
#include <exception>
#include <filesystem>
#include <fstream>
#include <map>
#include <optional>
#include <set>
#include <span>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/format.h>
#include <tl/expected.hpp>

#include "engine/diagnosis/cause_shares.hpp"
#include "engine/diagnosis/match.hpp"
#include "engine/diagnosis/repair_chances.hpp"
#include "netlists/files/job_file.hpp"
#include "netlists/phrases/fault_phrase.hpp"
#include "netlists/phrases/place_pattern.hpp"
#include "netlists/text/csv.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {
namespace {

namespace fs = std::filesystem;

/// Places that are told of a case after its further tests.
constexpr std::size_t places_told = 3;
/// Nobody goes on for longer than this.
constexpr std::size_t most_tests_to_the_end = 25;

std::string first_error(const Problems& problems) {
    for (const Problem& problem : problems.list()) {
        if (problem.severity == Severity::error) {
            return fmt::format("{}:{}:{}: {}", problem.place.file.str(), problem.place.line, problem.place.column,
                               problem.message);
        }
    }
    return "not readable";
}

/// The rank of the first of these places, from 1; nullopt where none is listed.
std::optional<std::size_t> rank_of(const MatchAnswer& answer, const std::set<std::string>& places) {
    for (std::size_t i = 0; i < answer.places.size(); ++i) {
        if (places.contains(answer.places[i].place)) return i + 1;
    }
    return std::nullopt;
}

/// A row of the folder with its files read.
struct OpenedCase {
    JobReading files;
    std::set<std::string> faults;  ///< that count as found, as phrases without size in small letters
    const Circuit& circuit() const { return *files.circuit; }
    const Job& job() const { return *files.job; }
};

/// Nothing, and the reason among what is skipped, where the row cannot be scored.
std::optional<OpenedCase> open_case(const ExpectedRow& expected, std::vector<Skipped>& skipped) {
    const fs::path path = expected.folder / (expected.id + ".job.toml");
    JobReading reading = read_job_file(path.string());
    if (!reading.circuit || !reading.job) {
        skipped.push_back({path.string(), first_error(reading.problems)});
        return std::nullopt;
    }
    auto faults = faults_expected(*reading.circuit, expected.places);
    if (!faults) {
        skipped.push_back({path.string(), faults.error()});
        return std::nullopt;
    }
    return OpenedCase{std::move(reading), std::move(*faults)};
}

/// Every suspect is listed.
MatchOptions all_of(const Circuit& circuit) {
    MatchOptions options;
    options.keep = circuit.modes.size() + 1;
    return options;
}

/// The first of these faults that matching searches; null where none is.
ModePtr first_of(const Circuit& circuit, const std::set<std::string>& faults) {
    for (const ModePtr& mode : circuit.modes) {
        if (mode->catalogued && faults.contains(lower(mode->phrase()))) return mode;
    }
    return nullptr;
}

/// The candidate that counts as found and fits the readings best; null where none is listed.
const Candidate* best_found(const MatchAnswer& answer, const std::set<std::string>& faults) {
    const auto found =
        std::find_if(answer.candidates.begin(), answer.candidates.end(),
                     [&](const Candidate& candidate) { return faults.contains(lower(candidate.fault)); });
    return found == answer.candidates.end() ? nullptr : &*found;
}

/// What stands for the vehicle: of several faults that would count as found, the one that fits the readings best, at
/// the size that fits. Nothing where matching searches none of them.
std::optional<Fault> fault_of_vehicle(const OpenedCase& opened, const MatchAnswer& answer) {
    const Candidate* found = best_found(answer, opened.faults);
    const ModePtr cause =
        first_of(opened.circuit(), found ? std::set<std::string>{lower(found->fault)} : opened.faults);
    if (!cause) return std::nullopt;
    double size = cause->size ? cause->size->usual : 0;
    if (found && found->size && found->size->best > 0) size = found->size->best;
    return Fault{cause, size, 0.5, {}, {}};
}

void score_case(const ExpectedRow& expected, std::size_t further, Results& results) {
    const auto opened = open_case(expected, results.skipped);
    if (!opened) return;
    const Circuit& circuit = opened->circuit();
    const std::set<std::string> places = places_of(circuit, opened->faults);
    MatchOptions options = all_of(circuit);
    const MatchAnswer answer = match(testing::solver(), circuit, opened->job(), options);
    Scored scored;
    scored.expected = expected;
    scored.rank = rank_of(answer, places);
    scored.top = "none of these";
    scored.probability = answer.none_of_these;
    scored.equal_places = places.size();
    if (!answer.places.empty()) {
        scored.top = answer.places.front().place;
        scored.probability = answer.places.front().probability;
    }
    for (const RepairChance& chance : answer.places) {
        if (places.contains(chance.place)) scored.true_probability += chance.probability;
    }
    scored.chances = {scored.true_probability, answer.none_of_these};
    for (const RepairChance& chance : answer.places) {
        if (!places.contains(chance.place)) scored.chances.push_back(chance.probability);
    }
    if (const Candidate* found = best_found(answer, opened->faults))
        scored.fault_rank = static_cast<std::size_t>(found - answer.candidates.data()) + 1;
    if (const auto fault = fault_of_vehicle(*opened, answer)) {
        const CauseShares others = CauseShares::usual().without(circuit, *fault->mode);
        options.causes = &others;
        scored.rank_left_out = rank_of(match(testing::solver(), circuit, opened->job(), options), places);
        options.causes = nullptr;
        const Job later = further_tests(circuit, opened->job(), {*fault}, further).job;
        for (std::size_t i = opened->job().readings.size(); i < later.readings.size(); ++i)
            scored.further.push_back(write_reading(circuit, later.readings[i]));
        const MatchAnswer after = match(testing::solver(), circuit, later, options);
        scored.rank_later = rank_of(after, places);
        for (const RepairChance& chance : after.places) {
            if (scored.places_later.size() == places_told) break;
            scored.places_later.emplace_back(chance.place, chance.probability);
        }
    }
    results.scored.push_back(std::move(scored));
}

WorkedCase work_case(const ExpectedRow& expected, const OpenedCase& opened) {
    const Circuit& circuit = opened.circuit();
    const MatchAnswer answer = match(testing::solver(), circuit, opened.job(), all_of(circuit));
    std::vector<Fault> faults;
    if (const auto fault = fault_of_vehicle(opened, answer)) faults.push_back(*fault);
    const FurtherTests worked = further_tests(circuit, opened.job(), std::move(faults), most_tests_to_the_end);
    WorkedCase result{expected, Verdict::unknown, worked.minutes, worked.tests, {}, 0, {}};
    for (std::size_t i = opened.job().readings.size(); i < worked.job.readings.size(); ++i)
        result.taken.push_back(write_reading(circuit, worked.job.readings[i]));
    if (!worked.stop) return result;
    result.stated = worked.stop->probability;
    result.named = worked.stop->repairs;
    if (worked.stop->nothing) result.named = {"nothing"};
    const std::set<std::string> places = places_of(circuit, opened.faults);
    const bool mended = std::any_of(result.named.begin(), result.named.end(),
                                    [&](const std::string& place) { return places.contains(place); });
    result.verdict = mended ? Verdict::right : Verdict::wrong;
    return result;
}

/// Job files that no row speaks of.
void note_unexpected(const fs::path& folder, const std::vector<ExpectedRow>& expectations,
                     std::vector<Skipped>& skipped) {
    constexpr std::string_view ending = ".job.toml";
    std::set<std::string> known;
    for (const ExpectedRow& expected : expectations) {
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

Score score_of(std::string evidence, const std::vector<const Scored*>& cases) {
    Score score{std::move(evidence), cases.size()};
    for (const Scored* scored : cases) {
        const double rank = scored->rank ? static_cast<double>(*scored->rank) : 0;
        score.top_1 += rank == 1 ? 1 : 0;
        score.top_3 += rank >= 1 && rank <= 3 ? 1 : 0;
        score.mean_reciprocal_rank += rank > 0 ? 1 / rank : 0;
        score.fault_top_1 += scored->fault_rank == 1 ? 1 : 0;
        score.fault_top_3 += scored->fault_rank && *scored->fault_rank <= 3 ? 1 : 0;
        score.left_out_top_1 += scored->rank_left_out == 1 ? 1 : 0;
        score.left_out_top_3 += scored->rank_left_out && *scored->rank_left_out <= 3 ? 1 : 0;
        score.later_top_1 += scored->rank_later == 1 ? 1 : 0;
    }
    const double count = std::max<double>(1, static_cast<double>(cases.size()));
    score.top_1 /= count;
    score.top_3 /= count;
    score.mean_reciprocal_rank /= count;
    score.fault_top_1 /= count;
    score.fault_top_3 /= count;
    score.left_out_top_1 /= count;
    score.left_out_top_3 /= count;
    score.later_top_1 /= count;
    return score;
}

}  // namespace

void score_folder(const fs::path& folder, std::size_t further, Results& results) {
    const auto expectations = read_expectations(folder, results.skipped);
    for (const ExpectedRow& expected : expectations) {
        try {
            score_case(expected, further, results);
        } catch (const std::exception& failure) {
            results.skipped.push_back({(folder / expected.id).string(), failure.what()});
        }
    }
    note_unexpected(folder, expectations, results.skipped);
}

std::vector<WorkedCase> work_folder(const fs::path& folder, std::vector<Skipped>& skipped) {
    std::vector<WorkedCase> worked;
    for (const ExpectedRow& expected : read_expectations(folder, skipped)) {
        try {
            if (const auto opened = open_case(expected, skipped)) worked.push_back(work_case(expected, *opened));
        } catch (const std::exception& failure) {
            skipped.push_back({(folder / expected.id).string(), failure.what()});
        }
    }
    return worked;
}

std::vector<Reliability> reliability_of(const std::vector<Scored>& scored) {
    constexpr int bins = 5;
    std::vector<Reliability> table;
    for (int bin = 0; bin < bins; ++bin) {
        Reliability row{bin / double{bins}, (bin + 1) / double{bins}};
        for (const Scored& one : scored) {
            if (std::min(static_cast<int>(one.probability * bins), bins - 1) != bin) continue;
            ++row.cases;
            row.stated += one.probability;
            row.came_true += one.rank == 1 ? 1 : 0;
            if (one.rank == 1) row.shared += 1.0 / static_cast<double>(one.equal_places);
        }
        if (row.cases == 0) continue;
        row.stated /= static_cast<double>(row.cases);
        row.came_true /= static_cast<double>(row.cases);
        row.shared /= static_cast<double>(row.cases);
        table.push_back(row);
    }
    return table;
}

double log_loss_of(const std::vector<Scored>& scored) {
    constexpr double least = 1e-4;
    double sum = 0;
    for (const Scored& one : scored) sum -= std::log(std::max(one.true_probability, least));
    return scored.empty() ? 0 : sum / static_cast<double>(scored.size());
}

double log_loss_at_power(const std::vector<Scored>& scored, double power) {
    std::vector<Scored> at_power = scored;
    for (Scored& one : at_power) {
        double sum = 0;
        for (const double chance : one.chances) sum += std::pow(chance, power);
        one.true_probability = sum > 0 ? std::pow(one.chances.front(), power) / sum : 0;
    }
    return log_loss_of(at_power);
}

double best_power_of(const std::vector<Scored>& scored) {
    constexpr double step = 0.05;
    constexpr int least = 10;
    constexpr int most = 40;
    double best = 1;
    for (int i = least; i <= most; ++i) {
        if (log_loss_at_power(scored, i * step) < log_loss_at_power(scored, best)) best = i * step;
    }
    return best;
}

double brier_of(const std::vector<Scored>& scored) {
    double sum = 0;
    for (const Scored& one : scored) sum += std::pow(one.probability - (one.rank == 1 ? 1 : 0), 2);
    return scored.empty() ? 0 : sum / static_cast<double>(scored.size());
}

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

std::vector<Score> scores_by(const std::vector<Scored>& scored, std::string ExpectedRow::*text) {
    std::map<std::string, std::vector<const Scored*>> groups;
    for (const Scored& one : scored) groups[one.expected.*text].push_back(&one);
    std::vector<Score> scores;
    for (const auto& [name, members] : groups) scores.push_back(score_of(name, members));
    return scores;
}

}  // namespace voltfall
