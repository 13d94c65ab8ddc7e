// Folders of jobs whose cause is known: the rank of the true place.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "tests/tools/expectations.hpp"
#include "tests/tools/vehicles.hpp"

namespace voltfall {

/// One job that was matched.
struct Scored {
    ExpectedRow expected;
    std::optional<std::size_t> rank;        ///< of the true place among what one visit mends, from 1; nullopt: absent
    std::optional<std::size_t> fault_rank;  ///< of the first fault that counts as found
    std::string top;                        ///< the leading place
    double probability{};                   ///< of the leading place
    double true_probability{};              ///< given to the true places together
    std::vector<double> chances;            ///< of all that was weighed, the true places as one of them, the first
    std::size_t equal_places{1};            ///< of which nobody knows which one it was
    std::optional<std::size_t> rank_left_out{};  ///< as `rank`, with this case not among those that were counted
    std::optional<std::size_t> rank_later{};     ///< as `rank`, after further tests answered as the true fault does
    std::vector<std::string> further{};          ///< these tests with what they read
    std::vector<std::pair<std::string, double>> places_later{};  ///< the first places after them
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
    double fault_top_1{};
    double fault_top_3{};
    double left_out_top_1{};
    double left_out_top_3{};
    double later_top_1{};
};

/// Matches every row of the folder's expect.csv, as it stands and after `further` tests; what cannot be scored is kept
/// with the reason.
void score_folder(const std::filesystem::path& folder, std::size_t further, Results& results);

/// One job that was worked to its end.
struct WorkedCase {
    ExpectedRow expected;
    Verdict verdict{Verdict::unknown};
    double minutes{};                ///< of the tests that `next` asked for, beside those that the job already tells
    std::size_t tests{};             ///< that cost minutes
    std::vector<std::string> named;  ///< what the stop names, in the order to try; "nothing": nothing is wrong
    double stated{};                 ///< with this probability
    std::vector<std::string> taken;  ///< the tests with what they showed, as typed
};

/// Follows `next` on every row of the folder's expect.csv, answered as its true fault would, until testing ends.
std::vector<WorkedCase> work_folder(const std::filesystem::path& folder, std::vector<Skipped>& skipped);

/// How the leading places' stated probabilities came true, between two of them.
struct Reliability {
    double from{};
    double to{};
    std::size_t cases{};
    double stated{};     ///< mean
    double came_true{};  ///< share of cases in which it was one of the places that count as found
    double shared{};     ///< the same, where a case with n equal places counts as found in one of n
};

/// Fifths of the probability of the leading place; empty ones are left out.
std::vector<Reliability> reliability_of(const std::vector<Scored>& scored);
/// Mean of -ln of the probability given to the true places, never below 1e-4.
double log_loss_of(const std::vector<Scored>& scored);
/// The same with every chance raised to this power and all scaled to a sum of 1.
double log_loss_at_power(const std::vector<Scored>& scored, double power);
/// The power between 0.5 and 2 with the least log loss: above 1 where the chances are stated too modestly.
double best_power_of(const std::vector<Scored>& scored);
/// Mean squared difference between the leading place's probability and whether it was the true one.
double brier_of(const std::vector<Scored>& scored);

/// All cases first, then each class of evidence, the telling ones first.
std::vector<Score> scores_of(const std::vector<Scored>& scored);
/// By another text of the row ("cause_kind"), in the order of the alphabet.
std::vector<Score> scores_by(const std::vector<Scored>& scored, std::string ExpectedRow::*text);

}  // namespace voltfall
