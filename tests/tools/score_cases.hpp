// Folders of jobs whose cause is known: the rank of the true place.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace voltfall {

/// One row of expect.csv.
struct ExpectedRow {
    std::filesystem::path folder;
    std::string id;
    std::string places;  ///< fault phrases, `|` between equals
    std::string evidence;
};

/// One job that was matched.
struct Scored {
    ExpectedRow expected;
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

/// Matches every row of the folder's expect.csv; what cannot be scored is kept with the reason.
void score_folder(const std::filesystem::path& folder, Results& results);

/// All cases first, then each class of evidence, the telling ones first.
std::vector<Score> scores_of(const std::vector<Scored>& scored);

}  // namespace voltfall
