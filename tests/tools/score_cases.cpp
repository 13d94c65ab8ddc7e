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

/// The first of these faults that matching searches; null where none is.
ModePtr first_of(const Circuit& circuit, const std::set<std::string>& faults) {
    for (const ModePtr& mode : circuit.modes) {
        if (mode->catalogued && faults.contains(lower(mode->phrase()))) return mode;
    }
    return nullptr;
}

void score_case(const ExpectedRow& expected, std::size_t further, Results& results) {
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
    const std::set<std::string> places = places_of(*reading.circuit, *expected_faults);
    MatchOptions options;
    options.keep = reading.circuit->modes.size() + 1;
    const MatchAnswer answer = match(testing::solver(), *reading.circuit, *reading.job, options);
    Scored scored{expected, rank_of(answer, places), std::nullopt, "none of these", answer.none_of_these, 0};
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
    const auto found =
        std::find_if(answer.candidates.begin(), answer.candidates.end(),
                     [&](const Candidate& candidate) { return expected_faults->contains(lower(candidate.fault)); });
    if (found != answer.candidates.end())
        scored.fault_rank = static_cast<std::size_t>(found - answer.candidates.begin()) + 1;
    // Of several that would count as found, the one that fits the readings best stands for the vehicle.
    const std::set<std::string> stands =
        found == answer.candidates.end() ? *expected_faults : std::set<std::string>{lower(found->fault)};
    if (const ModePtr cause = first_of(*reading.circuit, stands)) {
        const CauseShares others = CauseShares::usual().without(*reading.circuit, *cause);
        options.causes = &others;
        scored.rank_left_out = rank_of(match(testing::solver(), *reading.circuit, *reading.job, options), places);
        options.causes = nullptr;
        const double size = found == answer.candidates.end() || !found->size ? 0 : found->size->best;
        const Job later = with_further_tests(*reading.circuit, *reading.job, *cause, size, further);
        for (std::size_t i = reading.job->readings.size(); i < later.readings.size(); ++i)
            scored.further.push_back(write_reading(*reading.circuit, later.readings[i]));
        const MatchAnswer after = match(testing::solver(), *reading.circuit, later, options);
        scored.rank_later = rank_of(after, places);
        for (const RepairChance& chance : after.places) {
            if (scored.places_later.size() == places_told) break;
            scored.places_later.emplace_back(chance.place, chance.probability);
        }
    }
    results.scored.push_back(std::move(scored));
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
