// Has a repair been proved? What the readings after it show, and what is still open.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/diagnosis/match.hpp"
#include "engine/proof/job_minutes.hpp"
#include "netlists/files/job_file.hpp"

namespace voltfall {

enum class CheckResult {
    passed,
    failed,  ///< a reading says otherwise
    open,    ///< nothing says so yet
};
/// "passed", "FAILED", "open".
std::string_view word_of(CheckResult result);

/// What a check is about.
enum class CheckSort {
    load,        ///< a load in one position
    supply,      ///< volts of the battery under load
    amps,        ///< current of a load
    feed,        ///< drop from battery plus to a load
    ground,      ///< drop from a ground to battery minus
    warmth,      ///< of a plug
    seen_again,  ///< a fuse, relay or the air, looked at again
    reading,     ///< any other reading after the repair
    runs,        ///< a fault that comes and goes
    repair,      ///< what was mended
    cause,       ///< why something has blown, opened or burnt
    fault,       ///< whether the fault itself could still be there
    together,    ///< what goes together
};

/// One thing that must be so for the repair to be proved.
struct ProofCheck {
    CheckSort sort{CheckSort::reading};
    std::string what{};  ///< "blower at hi", "amps of M1 at hi", "why F7 blew"
    CheckResult result{CheckResult::open};
    std::string before{};  ///< as it was read before the repair: "slow"; empty where it was not
    std::string after{};   ///< "normal", "20.3 A"
    std::string limit{};   ///< "18 to 21 A at 13.5 V"; empty where there is none
    std::string why{};     ///< one sentence, where the result needs one
    double limit_used{0};  ///< of a drop: share of its limit, what is dropped by design left out of both
    std::string closes{};  ///< of an open or failed one: the test to take ("hi  clamp 542") or what to write down
};

/// The same test before and after the repair.
struct BeforeAfter {
    std::string test;
    std::string before;  ///< empty: not read
    std::string after;   ///< empty: not read
    std::string sound;   ///< what a sound vehicle reads at that supply; empty for words
};

struct ProofAnswer {
    std::string job;
    std::string concern;
    bool proved{false};         ///< every check has passed
    bool nothing_found{false};  ///< the job says that no fault was found
    std::vector<ProofCheck> checks;
    std::vector<BeforeAfter> compared;
    std::string concern_text;  ///< three paragraphs for the order: concern, cause, correction
    std::string cause_text;
    std::string correction_text;
    std::vector<std::string> order;     ///< parts to order
    std::vector<std::string> may_wait;  ///< what need not be done before the vehicle leaves
    bool hand_back{false};
    std::string hand_back_text;
    std::vector<std::string> cautions;  ///< before the tests that are still to be taken
    std::vector<std::string> notes;
    JobMinutes minutes;
};

/// Does a load, or a reading after the repair, still show a fault? Then another one is looked for.
bool is_still_faulty(const ProofAnswer& proof);

/// Weighs the readings before the repair, holds those after it against the sound circuit, the limits and the cause.
ProofAnswer prove(Simulator& simulator, const Circuit& circuit, const Job& job, const MatchOptions& options = {});

}  // namespace voltfall
