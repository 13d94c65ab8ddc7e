// Amperes, feed drop and ground drop of the hardest position that showed the fault, under load, against the limits.
#include <fmt/format.h>

#include <algorithm>

#include "engine/proof/load_under_test.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// A plug's or part's own limit of warmth ("C303 = 40C"), where something was mended there.
void check_warmth(const ProofCase& of, const StatePhrase& hardest, ProofChecks& checks) {
    for (const Limit& limit : of.circuit.limits) {
        // No position has degrees: what does is a place.
        if (limit.unit != Unit::celsius) continue;
        const std::string place = find_place(of.circuit, limit.key).value();
        if (!of.touches_repaired(place)) continue;
        ProofCheck check{.sort = CheckSort::warmth,
                         .what = "warmth of " + place,
                         .limit = fmt::format("{:g} C over the air at most", limit.high)};
        check.why = "not felt or measured since the repair";
        check.closes = test_in(of.circuit, hardest, HeatTest{place, true});
        for (const Reading& reading : of.job.after) {
            const auto* heat = std::get_if<HeatReading>(&reading.measurement);
            if (heat == nullptr || !heat->rise || !same_word(heat->place, place)) continue;
            check.after = value_text(of.circuit, reading);
            check.result = heat->value.high <= limit.high ? CheckResult::passed : CheckResult::failed;
            check.why = check.result == CheckResult::passed ? "" : "it still heats";
            if (check.result == CheckResult::passed) check.closes.clear();
        }
        checks.push_back(std::move(check));
    }
}

}  // namespace

void check_limits_after(const ProofCase& of, ProofChecks& checks) {
    bool first = true;
    for (const ConcernedLoad& load : of.loads) {
        const ConcernedLoad::Position* hardest = load.hardest();
        if (hardest == nullptr) continue;
        const LoadUnderTest under(of, load, *hardest);
        if (!under.solved()) {
            checks.push_back({.sort = CheckSort::amps,
                              .what = "limits of " + of.circuit.part(load.part).name,
                              .why = "the sound circuit has no solution there to hold readings against"});
            continue;
        }
        if (ProofCheck supply = under.supply(); supply.result != CheckResult::passed)
            checks.push_back(std::move(supply));
        checks.push_back(under.amps());
        checks.push_back(under.feed());
        if (auto ground = under.ground()) checks.push_back(*std::move(ground));
        if (first) check_warmth(of, hardest->phrase, checks);
        first = false;
    }
}

}  // namespace voltfall
