#include "engine/planning/stop_advice.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/diagnosis/moments.hpp"
#include "engine/diagnosis/suspect_trials.hpp"
#include "engine/heat/aftermath.hpp"
#include "engine/planning/harmless.hpp"
#include "engine/planning/outlook.hpp"
#include "engine/readings/rounding.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/lists.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// Causes less probable than this are not named.
constexpr double cause_worth_naming = 0.01;
/// Before it is said that all works so many numbers are read; words alone overlook what is a little slow (ASSUMED).
constexpr std::size_t numbers_before_all_works = 6;
/// Nor is it asked what less probable ones do.
constexpr double cause_worth_weighing = 1e-4;
constexpr std::size_t most_causes = 3;
/// Groups of repairs that are named where no test that pays parts them.
constexpr std::size_t most_groups_named = 5;
/// What they shall account for together, and how sure it must be that all works.
constexpr double nearly_all = 0.95;
/// A group rarer than this is not named beside others.
constexpr double group_worth_naming = 0.02;
/// Readings named to prove a repair by.
constexpr std::size_t most_proofs = 2;

class Advisor {
public:
    explicit Advisor(const Outlook& outlook) : outlook_(outlook) {}

    std::optional<StopAdvice> run(bool tests_left) const {
        const auto& groups = outlook_.standings.groups;
        if (groups.empty()) return std::nullopt;
        const auto group =
            std::max_element(groups.begin(), groups.end(),
                             [](const RepairGroup& a, const RepairGroup& b) { return a.probability < b.probability; });
        const Suspect& leader = outlook_.suspect(group->suspects.front());
        StopAdvice stop;
        if (group->probability < sure_enough && tests_left) {
            const double all_works = leader.mode ? 0 : chance_all_works();
            if (all_works < nearly_all) return std::nullopt;
            stop.probability = nine_digits(all_works);
            stop.nothing = true;
            stop.why = "all works, and what may be wrong changes nothing that a load does; verify the concern again";
            return stop;
        }
        stop.fault = leader.phrase();
        const RepairGroup named = to_try(*group);
        std::vector<std::vector<std::string>> repairs = outlook_.repairs_of(named);
        if (!repairs.empty()) stop.repairs = std::move(repairs.front());
        if (repairs.size() > 1) stop.second_repairs = std::move(repairs.back());
        const bool several = named.suspects.size() > group->suspects.size();
        stop.probability = nine_digits(several ? outlook_.chance_at(stop.repairs) : group->probability);
        if (!leader.mode) {
            stop.nothing = true;
            stop.why = "nothing that these tests can find is wrong; verify the concern again";
            return stop;
        }
        stop.why = leader.is_pair() ? why_both(stop, leader) : why(stop, leader, several);
        for (const std::size_t i : named.suspects) {
            for (const FaultMode* mode : outlook_.suspect(i).modes()) add_new(stop.order, to_order(mode->repair));
        }
        // What the cause has broken is renewed with it.
        for (const ModePtr& victim : leader.led_to) {
            add_new(stop.order, {victim->place});
            add_new(stop.order, to_order(victim->place));
        }
        stop.cause = cause_of(leader);
        stop.hand_back = hand_back(leader);
        return stop;
    }

private:
    /// That nothing is wrong, or nothing that any load shows.
    double chance_all_works() const {
        const Questions& questions = outlook_.weighed->questions;
        // What is told to fail sometimes does not always work, however well it does now.
        if (questions.numbers.size() < numbers_before_all_works || tells_of_moments(questions)) return 0;
        const Harmless harmless(outlook_.simulator, outlook_.circuit);
        double chance = 0;
        for (const std::size_t i : outlook_.weighed->ranked()) {
            const Suspect& suspect = outlook_.suspect(i);
            if (suspect.probability < cause_worth_weighing) break;
            if (harmless.is(faults_at_best(outlook_.circuit, suspect))) chance += suspect.probability;
        }
        return chance;
    }

    /// The group, and where it is not nearly sure those behind it, until they are nearly all there is: the tests that
    /// would part them cost more than they save. Two faults at once are told by themselves.
    RepairGroup to_try(const RepairGroup& group) const {
        RepairGroup named = group;
        const Suspect& leader = outlook_.suspect(group.suspects.front());
        if (!leader.mode || leader.is_pair()) return named;
        std::vector<const RepairGroup*> others;
        for (const RepairGroup& other : outlook_.standings.groups) {
            const Suspect& first = outlook_.suspect(other.suspects.front());
            if (&other != &group && first.mode && !first.is_pair() && other.probability >= group_worth_naming)
                others.push_back(&other);
        }
        std::stable_sort(others.begin(), others.end(),
                         [](const RepairGroup* a, const RepairGroup* b) { return a->probability > b->probability; });
        for (std::size_t i = 0; i < others.size() && i + 1 < most_groups_named; ++i) {
            if (named.probability >= (i == 0 ? nearly_sure : nearly_all)) break;
            named.suspects.insert(named.suspects.end(), others[i]->suspects.begin(), others[i]->suspects.end());
            named.probability += others[i]->probability;
        }
        return named;
    }

    /// `several`: tests that would part them are left, or may be, but do not pay.
    std::string why(const StopAdvice& stop, const Suspect& leader, bool several) const {
        if (stop.repairs.size() > 1)
            return fmt::format(
                "not settled: {} {}; try them in this order and prove each before the next: {}",
                several ? "no test that is left is worth its minutes to part" : "no permitted test parts",
                joined(stop.repairs), proof(leader));
        if (stop.probability >= nearly_sure) return fmt::format("prove it: {}", proof(leader));
        return "no test that is left tells more, or is worth its minutes";
    }

    /// Two faults are mended one after the other, and what the first repair does not bring back shows the second.
    std::string why_both(const StopAdvice& stop, const Suspect& leader) const {
        std::string text = fmt::format("both are needed: {} first", fmt::join(stop.repairs, " or "));
        const double first = outlook_.chance_at(stop.repairs);
        constexpr double clearly_more = 0.02;
        if (first > stop.probability + clearly_more)
            text += fmt::format(" (at fault in {:.0f} of 100 ways that fit, {} in {:.0f})", std::floor(100 * first),
                                fmt::join(stop.second_repairs, " or "),
                                std::floor(100 * outlook_.chance_at(stop.second_repairs)));
        return text +
               fmt::format(", then the same readings again before the second is touched; after both {}", proof(leader));
    }

    /// With what is replaced or checked together, as the file says it.
    std::vector<std::string> to_order(const std::string& repair) const {
        std::vector<std::string> list;
        for (const auto& [place, words] : outlook_.circuit.together) {
            if (same_word(place, repair)) list.insert(list.end(), words.begin(), words.end());
        }
        return list;
    }

    static void add_new(std::vector<std::string>& list, const std::vector<std::string>& more) {
        for (const std::string& one : more) {
            if (std::find(list.begin(), list.end(), one) == list.end()) list.push_back(one);
        }
    }

    /// The readings that the repair must bring back.
    std::string proof(const Suspect& leader) const {
        std::vector<std::string> lines;
        const Weighed& weighed = *outlook_.weighed;
        const Suspect& healthy = weighed.suspects.front();
        const Scorer scorer(weighed.questions);
        for (std::size_t i = 0; i < weighed.questions.numbers.size() && lines.size() < most_proofs; ++i) {
            const Scorer::Residual should = scorer.residual(healthy.at_best, i);
            const Scorer::Residual is = scorer.residual(leader.at_best, i);
            if (std::abs(should.predicted - is.predicted) < 2 * should.sigma) continue;
            const NumberObservation& number = weighed.questions.numbers[i];
            const bool amps = weighed.questions.cells[number.cells[0].second].is_amps;
            lines.push_back(fmt::format("reading {} again must be {}", weighed.questions.reading(number.reading).id,
                                        as_meter(should.predicted, amps)));
        }
        if (lines.empty()) return "same state, same load, all positions as they should be";
        return fmt::format("{}", fmt::join(lines, ", "));
    }

    /// A victim is not the end: what may have killed it.
    std::string cause_of(const Suspect& leader) const {
        for (const FaultMode* mode : leader.modes()) {
            if (std::string cause = cause_of(*mode); !cause.empty()) return cause;
        }
        return {};
    }

    std::string cause_of(const FaultMode& mode) const {
        if (mode.is(ModeFact::fuse_blown))
            return "a fuse blows for a reason: look for the short or the overload before a new one goes in";
        if (mode.fault_class != FaultClass::pack) return {};
        std::vector<std::string> causes;
        for (const std::size_t i : outlook_.weighed->ranked()) {
            const Suspect& suspect = outlook_.suspect(i);
            if (suspect.probability < cause_worth_naming || causes.size() == most_causes) break;
            const bool led = std::any_of(suspect.led_to.begin(), suspect.led_to.end(),
                                         [&](const ModePtr& victim) { return victim->place == mode.place; });
            if (led) causes.push_back(suspect.phrase());
        }
        if (causes.empty())
            return fmt::format("why {} failed is not shown: motor amps and air way before a new one", mode.place);
        return fmt::format("{} would have killed it: motor amps on the highest speed before a new one goes in",
                           fmt::join(causes, " or "));
    }

    /// What happens when the vehicle is used as it is.
    std::string hand_back(const Suspect& leader) const {
        std::vector<Fault> faults = faults_at_best(outlook_.circuit, leader);
        if (leader.led_on) {
            for (Fault& fault : outlook_.predictor.consequences().of(*leader.mode, leader.best.size))
                faults.push_back(std::move(fault));
        }
        const HeatModel heat(outlook_.simulator, outlook_.circuit);
        std::string fuse;
        for (const State& state : default_states(outlook_.circuit)) {
            const AftermathResult aftermath =
                run_aftermath(outlook_.simulator, heat, state, faults, default_value("aftermath_seconds"), {},
                              HeatReport::events_only);
            if (!aftermath) continue;
            for (const HeatEvent& event : aftermath->events) {
                if (event.kind == HeatEventKind::fuse_opens) {
                    if (fuse.empty()) fuse = event.name;
                    break;
                }
                if (event.goes_on)
                    return fmt::format(
                        "not to be used as it is: in {} {}, and no fuse stops it; fuse out until it is mended",
                        state.label, event.what);
            }
        }
        if (!fuse.empty()) return fmt::format("{} stays out until it is mended; nothing else on it then works", fuse);
        return "it may wait for parts: nothing is overheated meanwhile";
    }

    const Outlook& outlook_;
};

}  // namespace

std::optional<StopAdvice> stop_advice(const Outlook& outlook, bool tests_left) {
    return Advisor(outlook).run(tests_left);
}

}  // namespace voltfall
