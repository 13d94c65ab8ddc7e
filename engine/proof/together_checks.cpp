// What the circuit's file names to be replaced or checked together with what was repaired.
#include <fmt/format.h>

#include <algorithm>

#include "engine/figures/repair_reach.hpp"
#include "engine/proof/proof_case.hpp"
#include "netlists/phrases/reading_phrase.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "netlists/text/suggest.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

namespace {

bool names_amps(const std::string& entry) {
    const std::string words = lower(entry);
    return words.find("amps") != std::string::npos || words.find("current") != std::string::npos;
}

/// A part looked at, said to be good, or warmed and felt since the repair counts as handled.
bool looked_at(const ProofCase& of, const std::string& place) {
    const PartId part = of.circuit.part_at(place);
    return std::any_of(of.job.after.begin(), of.job.after.end(), [&](const Reading& reading) {
        if (const auto* look = std::get_if<LookReading>(&reading.measurement)) return same_word(look->place, place);
        if (const auto* good = std::get_if<GoodReading>(&reading.measurement)) return good->part == part;
        const auto* heat = std::get_if<HeatReading>(&reading.measurement);
        return heat != nullptr && same_word(heat->place, place);
    });
}

/// Named as repaired, or in the words about it.
bool handled(const ProofCase& of, const std::string& entry, const std::string& place) {
    return std::any_of(of.job.repaired.begin(), of.job.repaired.end(), [&](const Repaired& repaired) {
        if (same_word(repaired.place, place) || is_cavity_of(repaired.place, place)) return true;
        const std::string words = lower(repaired.words);
        return words.find(lower(place)) != std::string::npos || words.find(lower(entry)) != std::string::npos;
    });
}

/// A current was read after the repair, and the check of it stands among the others.
bool amps_checked(const ProofChecks& checks) {
    return std::any_of(checks.begin(), checks.end(), [](const ProofCheck& check) {
        return check.sort == CheckSort::amps && check.result == CheckResult::passed;
    });
}

void check_entry(const ProofCase& of, const std::string& repaired, const std::string& entry, ProofChecks& checks) {
    const auto place = find_place(of.circuit, place_in(entry));
    if (!place) return;  // a reminder in words; the paragraphs repeat it
    ProofCheck check{.sort = CheckSort::together, .what = "with " + repaired + ": " + entry};
    if (names_amps(entry)) {
        if (amps_checked(checks)) check.result = CheckResult::passed;
        check.why = check.result == CheckResult::passed ? "read, within the limits" : "";
        const auto amps =
            std::find_if(checks.begin(), checks.end(), [](const ProofCheck& c) { return c.sort == CheckSort::amps; });
        if (check.result != CheckResult::passed && amps != checks.end()) check.closes = amps->closes;
    } else if (handled(of, entry, *place) || looked_at(of, *place)) {
        check.result = CheckResult::passed;
    } else {
        check.why = "neither renewed nor looked at";
        check.closes = fmt::format("look {}", *place);
    }
    checks.push_back(std::move(check));
}

}  // namespace

void check_together(const ProofCase& of, ProofChecks& checks) {
    for (const Repaired& repaired : of.job.repaired)
        for (const std::string& entry : replaced_with(of.circuit, repaired.place))
            check_entry(of, repaired.place, entry, checks);
}

}  // namespace voltfall
