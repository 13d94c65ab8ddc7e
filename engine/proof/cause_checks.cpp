// What was repaired must be what the readings spoke for; and what has blown, opened or burnt has done so for a reason,
// which must be named and be able to do it, or be excluded.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "engine/proof/proof_case.hpp"
#include "engine/proof/victims.hpp"
#include "engine/readings/word_evidence.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// Below this chance, before the repair, the readings speak against what was repaired.
constexpr double spoken_for = 0.05;
constexpr std::size_t most_named = 3;

class CauseFinder {
public:
    CauseFinder(const ProofCase& of, ProofChecks& checks) : of_(of), circuit_(of.circuit), checks_(checks) {}

    void run() {
        if (of_.job.repaired.empty()) {
            checks_.push_back({.sort = CheckSort::repair,
                               .what = "what was repaired",
                               .why = "the job does not say what was mended",
                               .closes = "[repaired] in the job file: PLACE = \"what was done\", or nothing = \"…\""});
        } else if (nothing_found()) {
            check_nothing();
        } else {
            check_spoken_for();
        }
        for (const Victim& victim : victims_of(of_)) check_victim(victim);
    }

private:
    bool nothing_found() const { return of_.job.repaired.front().nothing_found(); }

    /// A fault that was measured is there; only the customer's own words may not have been seen.
    void check_nothing() {
        for (const JudgedReading& was : of_.before.judged()) {
            const bool told = was.reading->state.earlier || was.reading->state.sometimes;
            if (was.sound || told) continue;
            checks_.push_back(
                {.sort = CheckSort::repair,
                 .what = "no fault found",
                 .result = CheckResult::failed,
                 .before = value_text(circuit_, *was.reading),
                 .why = fmt::format("reading {} is no sound vehicle's; write 'earlier' in front where it is "
                                    "the customer's word",
                                    was.reading->id)});
            return;
        }
    }

    double chance_of_repaired() const {
        double chance = 0;
        for (const Suspect& suspect : of_.weighed.suspects) {
            if (suspect.mode == nullptr) continue;
            const bool there = std::any_of(of_.job.repaired.begin(), of_.job.repaired.end(), [&](const Repaired& r) {
                return is_repaired_at(circuit_, *suspect.mode, r.place);
            });
            if (there) chance += suspect.probability;
        }
        return chance;
    }

    /// Then the question is what has killed them, which is asked by itself.
    bool only_victims_renewed() const {
        const std::vector<Victim> list = victims_of(of_);
        return std::all_of(of_.job.repaired.begin(), of_.job.repaired.end(), [&](const Repaired& repaired) {
            return std::any_of(list.begin(), list.end(), [&](const Victim& victim) {
                return same_word(circuit_.part(victim.part).name, repaired.place);
            });
        });
    }

    /// The hardest position again, the place moved meanwhile: it must stay well.
    std::string wiggle_test(const std::string& place) const {
        for (const ConcernedLoad& load : of_.loads) {
            const ConcernedLoad::Position* hardest = load.hardest();
            if (hardest == nullptr) continue;
            StatePhrase phrase = hardest->phrase;
            phrase.handled.push_back("wiggle " + place);
            return test_in(circuit_, phrase, LoadTest{load.part, {}});
        }
        return "wiggle " + place;
    }

    void check_spoken_for() {
        if (of_.job.readings.empty() || only_victims_renewed()) return;
        const double chance = chance_of_repaired();
        if (chance >= spoken_for) return;
        // A circuit's catalogue is never empty: a battery alone has its faults.
        const Suspect& first = *likeliest_faults(of_.weighed).front();
        const std::string& place = first.mode->place;
        ProofCheck check{.sort = CheckSort::repair, .what = "the repair and the readings before it"};
        check.why =
            fmt::format("they spoke for {}, hardly for what was repaired; handling may have moved it", first.phrase());
        check.closes = wiggle_test(place);
        const bool wiggled =
            std::any_of(of_.after.judged().begin(), of_.after.judged().end(), [&](const JudgedReading& j) {
                const auto& handled = j.reading->state.handled;
                return j.sound && std::any_of(handled.begin(), handled.end(), [&](const std::string& words) {
                           return words.find(read_place(place).owner) != std::string::npos;
                       });
            });
        if (wiggled) check.result = CheckResult::passed;
        checks_.push_back(std::move(check));
    }

    void check_victim(const Victim& victim) {
        const std::string& name = circuit_.part(victim.part).name;
        ProofCheck check{.sort = CheckSort::cause, .what = fmt::format("why {} {}", name, failed_word(victim.sort))};
        if (const std::string cause = named_cause(victim); !cause.empty()) {
            check.result = CheckResult::passed;
            check.why = cause;
        } else if (const std::string excluded = excluded_cause(victim); !excluded.empty()) {
            check.result = CheckResult::passed;
            check.why = excluded;
        } else {
            check.why = open_cause(victim);
            check.closes = closing(victim);
        }
        checks_.push_back(std::move(check));
    }

    static std::string_view failed_word(VictimSort sort) {
        switch (sort) {
            case VictimSort::fuse:
                return "blew";
            case VictimSort::limiter:
                return "failed";
            case VictimSort::burnt:
                break;
        }
        return "burnt";
    }

    /// Something else that was mended and that can have done it, in words.
    std::string named_cause(const Victim& victim) {
        const std::string& name = circuit_.part(victim.part).name;
        for (const Repaired& repaired : of_.job.repaired) {
            if (repaired.nothing_found() || circuit_.part_at(repaired.place) == victim.part) continue;
            const std::string mode = harming_mode(repaired.place, victim);
            if (!mode.empty())
                return fmt::format("{} ({}): {} does that to {}", repaired.place, repaired.words, mode, name);
        }
        return {};
    }

    /// The first fault at the place that opens or burns the victim in some position; empty where none does.
    std::string harming_mode(const std::string& place, const Victim& victim) {
        for (const ModePtr& mode : circuit_.modes) {
            if (!sits_at(circuit_, *mode, place)) continue;
            for (const double size : sizes_of(*mode))
                if (harms(mode, size, victim)) return mode->phrase();
        }
        return {};
    }

    static std::set<double> sizes_of(const FaultMode& mode) {
        if (!mode.size) return {0};
        return {mode.size->low, mode.size->usual, mode.size->high};
    }

    bool harms(const ModePtr& mode, double size, const Victim& victim) {
        const Fault fault{mode, size, 0.5, {}, {}};
        switch (victim.sort) {
            case VictimSort::fuse:
                return opens_fuse(fault, victim.part);
            case VictimSort::limiter: {
                const std::vector<Fault> led = of_.before.predictor().consequences().of(fault);
                return std::any_of(led.begin(), led.end(), [&](const Fault& f) { return f.mode->part == victim.part; });
            }
            case VictimSort::burnt:
                break;
        }
        return overloads(fault, victim.part);
    }

    bool opens_fuse(const Fault& fault, PartId fuse) {
        for (const State& state : default_states(circuit_)) {
            const CourseResult course = run_course(of_.simulator, circuit_, state, std::span(&fault, 1));
            if (course && std::find(course->opened.begin(), course->opened.end(), fuse) != course->opened.end())
                return true;
        }
        return false;
    }

    /// Does more flow through the part, in some position, than in the sound vehicle?
    bool overloads(const Fault& fault, PartId part) {
        constexpr double more = 1.15;
        for (const State& state : default_states(circuit_)) {
            const SettleResult sound = settle(of_.simulator, circuit_, state, {});
            const SettleResult faulted = settle(of_.simulator, circuit_, state, std::span(&fault, 1));
            if (!sound || !faulted) continue;
            for (const BranchId branch : circuit_.part(part).branches) {
                const double was = std::abs(sound->point.amps[branch.index]);
                const double now = std::abs(faulted->point.amps[branch.index]);
                constexpr double worth_counting = 0.5;  // amperes
                if (now > worth_counting && now > more * was) return true;
            }
        }
        return false;
    }

    bool passed(CheckSort sort) const {
        bool any = false;
        for (const ProofCheck& check : checks_) {
            if (check.sort != sort) continue;
            any = true;
            if (check.result != CheckResult::passed) return false;
        }
        return any;
    }
    bool air_is_well() const {
        return std::any_of(of_.after.judged().begin(), of_.after.judged().end(), [](const JudgedReading& judged) {
            return judged.sound && std::holds_alternative<AirReading>(judged.reading->measurement);
        });
    }

    /// What might have killed it is shown not to be there; empty where that is not shown.
    std::string excluded_cause(const Victim& victim) const {
        if (!passed(CheckSort::amps)) return {};
        switch (victim.sort) {
            case VictimSort::fuse:
                return victim.tired ? "a hairline crack is age, and the current is within its limits" : "";
            case VictimSort::limiter:
                return air_is_well() ? "the motor's current and the air over the pack are as they should be" : "";
            case VictimSort::burnt:
                break;
        }
        return "what it carries is within the limits now";
    }

    /// The likeliest of the suspects that would have done it.
    std::vector<std::string> likely_causes(const Victim& victim) {
        std::vector<std::string> names;
        std::size_t tried = 0;
        constexpr std::size_t most_tried = 40;
        for (const Suspect* suspect : likeliest_faults(of_.weighed)) {
            if (suspect->mode->part == victim.part) continue;
            if (names.size() == most_named || ++tried > most_tried) break;
            // What is weighed are rows of the catalogue.
            const auto row = std::find_if(circuit_.modes.begin(), circuit_.modes.end(),
                                          [&](const ModePtr& mode) { return mode.get() == suspect->mode; });
            if (harms(*row, suspect->best.size, victim)) names.push_back(suspect->phrase());
        }
        return names;
    }

    std::string open_cause(const Victim& victim) {
        const std::string& name = circuit_.part(victim.part).name;
        const auto failed = std::find_if(checks_.begin(), checks_.end(), [](const ProofCheck& check) {
            return check.sort == CheckSort::amps && check.result == CheckResult::failed;
        });
        if (failed != checks_.end())
            return fmt::format("{}: {}; a new {} would fail again", failed->what, failed->after, name);
        const std::vector<std::string> causes = likely_causes(victim);
        const std::string likely = causes.empty() ? "" : fmt::format("; {} would do it", fmt::join(causes, ", "));
        return fmt::format("{} is what failed, not why it did{}", name, likely);
    }

    std::string closing(const Victim& victim) const {
        if (victim.sort == VictimSort::fuse)
            return "find what blew it, mend that, and name it under [repaired]: a new fuse that holds proves nothing";
        const auto amps = std::find_if(checks_.begin(), checks_.end(), [](const ProofCheck& check) {
            return check.sort == CheckSort::amps && check.result != CheckResult::passed;
        });
        if (amps != checks_.end() && !amps->closes.empty()) return amps->closes;
        for (const ConcernedLoad& load : of_.loads)
            if (const auto* hardest = load.hardest(); hardest != nullptr && victim.sort == VictimSort::limiter)
                return test_in(circuit_, hardest->phrase, AirTest{});
        return "name under [repaired] what overloaded it";
    }

    const ProofCase& of_;
    const Circuit& circuit_;
    ProofChecks& checks_;
};

}  // namespace

void check_cause(const ProofCase& of, ProofChecks& checks) {
    CauseFinder(of, checks).run();
}

}  // namespace voltfall
