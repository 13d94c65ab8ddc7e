// Suspects by what one visit mends, and what a person says in one line or in several.
#include "engine/diagnosis/repair_chances.hpp"

#include <algorithm>
#include <numeric>

#include "engine/diagnosis/match.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/solvers.hpp"

using namespace voltfall;
using voltfall::testing::cab_blower;
using voltfall::testing::job_of;

namespace {

MatchAnswer match_all(const std::vector<std::string>& readings) {
    MatchOptions options;
    options.keep = 1000;
    return match(solver(), cab_blower(), job_of(cab_blower(), readings), options);
}

double of(const MatchAnswer& answer, const std::string& place) {
    const auto found = std::find_if(answer.places.begin(), answer.places.end(),
                                    [&](const RepairChance& chance) { return chance.place == place; });
    return found == answer.places.end() ? 0 : found->probability;
}

}  // namespace

TEST_CASE("four cavities of one plug are one place; all places and none of these add up to certainty") {
    const MatchAnswer answer = match_all({"lo,ml,mh,hi  blower dead"});
    REQUIRE(answer.places.size() > 5);
    double sum = answer.none_of_these;
    for (const RepairChance& chance : answer.places) {
        sum += chance.probability;
        CHECK_FALSE(chance.place.find("C101.") == 0);
        CHECK_FALSE(chance.faults.empty());
    }
    CHECK(sum == Approx(1).margin(0.01));  // places below 1 in 10,000 are not listed
    double plug = 0;
    for (const Candidate& candidate : answer.candidates) {
        if (candidate.place.starts_with("C101")) plug += candidate.probability;
    }
    REQUIRE(plug > 0);
    CHECK(of(answer, "C101") == Approx(plug).margin(1e-6));
    CHECK(std::is_sorted(answer.places.begin(), answer.places.end(),
                         [](const auto& a, const auto& b) { return a.probability > b.probability; }));
    // A motor's brushes are the motor's, the contacts of its plug are not.
    const auto motor = std::find_if(answer.places.begin(), answer.places.end(),
                                    [](const RepairChance& chance) { return chance.place == "M1"; });
    REQUIRE(motor != answer.places.end());
    CHECK(std::none_of(motor->faults.begin(), motor->faults.end(),
                       [](const std::string& fault) { return fault.starts_with("M1."); }));
}

TEST_CASE("the same words in one line or in four weigh the same") {
    // The statement is one: a person who calls it dead on one setting calls it dead on the others.
    const MatchAnswer one = match_all({"lo,ml,mh,hi  blower dead"});
    const MatchAnswer four = match_all({"lo  blower dead", "ml  blower dead", "mh  blower dead", "hi  blower dead"});
    CHECK(four.none_of_these == Approx(one.none_of_these).epsilon(1e-6));
    for (const RepairChance& chance : one.places) {
        INFO(chance.place);
        CHECK(of(four, chance.place) == Approx(chance.probability).epsilon(0.01).margin(1e-4));
    }
    // Words that differ are statements of their own.
    const MatchAnswer mixed = match_all({"lo,ml,mh  blower dead", "hi  blower normal"});
    CHECK(of(mixed, "R1") > 2 * of(one, "R1"));
}
