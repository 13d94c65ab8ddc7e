#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "engine/diagnosis/match.hpp"
#include "engine/planning/blind_readings.hpp"
#include "engine/planning/cautions.hpp"
#include "engine/planning/ending.hpp"
#include "engine/planning/expected_numbers.hpp"
#include "engine/planning/made_conditions.hpp"
#include "engine/planning/next.hpp"
#include "engine/planning/outlook.hpp"
#include "engine/planning/plan_problem.hpp"
#include "engine/planning/position_sweeps.hpp"
#include "engine/planning/seen_sizes.hpp"
#include "engine/planning/stop_advice.hpp"
#include "engine/planning/test_minutes.hpp"
#include "engine/planning/test_value.hpp"
#include "engine/readings/displays.hpp"
#include "engine/readings/rounding.hpp"
#include "engine/solve/jobs.hpp"
#include "netlists/tables/defaults.hpp"

namespace voltfall {

namespace {

/// Minutes that even a glance costs, in the ranking.
constexpr double least_minutes = 0.5;
constexpr std::size_t most_tests = 20;
constexpr std::size_t most_expected = 4;
/// Tests whose expected readings the simulator of record confirms: those that a screen shows.
constexpr std::size_t most_confirmed = 5;
/// Tests whose bits differ by less than this share tell the same.
constexpr double same_bits = 0.06;

struct Ranked {
    std::size_t test{};
    double bits{};
    TestMinutes minutes;
    std::optional<std::size_t> sweep{};  ///< the control is turned through its positions: `test` is the first of them
    double later_bits{0};                ///< that the tests behind it tell more, should it show what comes and goes
    double per_minute() const { return bits / std::max(minutes.minutes, least_minutes); }
    /// Minutes of wrong repairs and later tests that it saves, less its own.
    double saved() const {
        static const double minutes_a_bit = default_value("minutes_a_bit");
        return (bits + later_bits) * minutes_a_bit - minutes.minutes;
    }
};

class Ranking {
public:
    Ranking(Simulator& simulator, const Circuit& circuit, const Job& job, const MatchOptions& options,
            std::shared_ptr<const Weighed> weighed)
        : outlook_(simulator, circuit, job, options, std::move(weighed)), sweeps_(position_sweeps(outlook_)) {}

    NextAnswer answer() {
        NextAnswer answer;
        std::vector<Ranked> ranked = rank();
        const bool any_worth = put_worthy_first(ranked);
        if (any_worth) look_ahead(ranked);
        put_free_first(ranked);
        place_supply(ranked, answer);
        put_number_first(ranked);
        put_gauge_first(ranked, answer);
        sizes_.emplace(outlook_);
        for (const Ranked& one : ranked) answer.tests.push_back(proposal(one));
        confirm_shown(ranked);
        answer.stop = stop_advice(outlook_, any_worth);
        for (const std::string& note : blind_readings(outlook_.simulator, *outlook_.weighed))
            answer.notes.push_back(note);
        for (const std::string& note : outlook_.dangers.notes()) answer.notes.push_back(note);
        answer.notes.push_back(makers_procedure);
        return answer;
    }

private:
    void confirm_shown(const std::vector<Ranked>& ranked) const {
        std::vector<std::size_t> tests;
        for (std::size_t i = 0; i < std::min(ranked.size(), most_confirmed); ++i) tests.push_back(ranked[i].test);
        outlook_.confirm(tests, leaders());
    }

    /// Those that are worth their minutes stand before the others. Are there any?
    bool put_worthy_first(std::vector<Ranked>& ranked) const {
        std::vector<TestOffer> offers;
        std::map<std::string, std::size_t> opened;
        for (const Ranked& one : ranked) {
            const TestCandidate& test = outlook_.future.tests[one.test];
            TestOffer offer{one.bits + one.later_bits, one.minutes.minutes, one.minutes.minutes, {}};
            for (const Opening& opening : openings_of(outlook_.circuit, test, outlook_.reached)) {
                offer.own_minutes -= opening.minutes;
                offer.openings.push_back(opened.try_emplace(opening.name, opened.size()).first->second);
            }
            offers.push_back(std::move(offer));
        }
        std::vector<double> shares;
        for (const RepairGroup& group : outlook_.standings.groups) shares.push_back(group.probability);
        const std::vector<bool> worth = worth_their_minutes(shares, offers, default_value("minutes_wrong_repair"));
        std::vector<Ranked> ordered;
        for (const bool pays : {true, false}) {
            for (std::size_t i = 0; i < ranked.size(); ++i) {
                if (worth[i] == pays) ordered.push_back(ranked[i]);
            }
        }
        ranked = std::move(ordered);
        return std::find(worth.begin(), worth.end(), true) != worth.end();
    }

    /// What tells most for its minutes is not always the way that ends soonest: of those in front the one that two
    /// tests ahead costs least, wrong repairs priced in, comes first.
    void look_ahead(std::vector<Ranked>& ranked) const {
        constexpr std::size_t most_looked_at = 10;
        std::vector<std::size_t> tests;
        for (const Ranked& one : ranked) {
            const bool plain = !one.sweep && one.later_bits == 0 && !outlook_.future.tests[one.test].makes;
            if (!plain && tests.empty()) return;
            if (plain && tests.size() < most_looked_at) tests.push_back(one.test);
        }
        const std::optional<std::size_t> first = first_of(outlook_, tests);
        if (!first) return;
        const auto found =
            std::find_if(ranked.begin(), ranked.end(), [&](const Ranked& one) { return one.test == *first; });
        std::rotate(ranked.begin(), found, found + 1);
    }

    std::vector<Ranked> rank() {
        // The same measurement in several states is one step: its best state stands for it.
        std::map<std::size_t, Ranked> best;
        const std::vector<double> bits = bits_by_test();
        double most = 0;
        for (std::size_t i = 0; i < bits.size(); ++i) {
            if (!outlook_.future.tests[i].makes) most = std::max(most, bits[i]);
        }
        for (std::size_t i = 0; i < outlook_.future.tests.size(); ++i) {
            const TestCandidate& test = outlook_.future.tests[i];
            if (test.reads_supply && outlook_.is_supply_unknown(test)) continue;
            Ranked one{i, bits[i], {}};
            if (looks_for_complaint(outlook_.job, *outlook_.weighed, test))
                one.later_bits = bits_seen_with_it(outlook_, test, most);
            if (one.bits + one.later_bits < least_bits) continue;
            one.minutes = minutes_of(outlook_.circuit, test, outlook_.reached);
            const auto [entry, added] = best.try_emplace(test.step, one);
            if (!added && better(one, entry->second)) entry->second = one;
        }
        for (std::size_t i = 0; i < sweeps_.size(); ++i) {
            const TestCandidate& first = outlook_.future.tests[sweeps_[i].tests.front()];
            if (sweeps_[i].bits < least_bits) continue;
            const Ranked all{sweeps_[i].tests.front(), sweeps_[i].bits,
                             minutes_of(outlook_.circuit, first, outlook_.reached), i};
            const auto [entry, added] = best.try_emplace(first.step, all);
            if (!added && better(all, entry->second)) entry->second = all;
        }
        std::vector<Ranked> ranked;
        for (const auto& [step, one] : best) ranked.push_back(one);
        std::stable_sort(ranked.begin(), ranked.end(), [&](const Ranked& a, const Ranked& b) { return better(a, b); });
        drop_repeats(ranked);
        if (ranked.size() > most_tests) ranked.resize(most_tests);
        return ranked;
    }

    std::vector<double> bits_by_test() const {
        const std::vector<TestCandidate>& tests = outlook_.future.tests;
        std::vector<double> bits(tests.size());
        run_jobs(tests.size(), outlook_.options.workers, [&](std::size_t i) { bits[i] = outlook_.bits(tests[i]); });
        return bits;
    }

    /// Of tests of one kind and state that tell as much (clamps along one path), the cheapest is enough for now; what
    /// the others tell beside it is ranked again once its reading is in.
    void drop_repeats(std::vector<Ranked>& ranked) const {
        std::vector<Ranked> kept;
        for (const Ranked& one : ranked) {
            const TestCandidate& test = outlook_.future.tests[one.test];
            const bool repeats = std::any_of(kept.begin(), kept.end(), [&](const Ranked& other) {
                const TestCandidate& first = outlook_.future.tests[other.test];
                return first.kind == test.kind && first.state == test.state &&
                       std::abs(other.bits - one.bits) < same_bits * one.bits;
            });
            if (test.kind == TestKind::look || !repeats) kept.push_back(one);
        }
        ranked = std::move(kept);
    }

    /// What saves more minutes; among equals the first in the circuit's order.
    bool better(const Ranked& a, const Ranked& b) const {
        if (std::abs(a.saved() - b.saved()) > 1e-9) return a.saved() > b.saved();
        return a.test < b.test;
    }

    /// What takes no minutes is done before anything is opened: the switch turned through its positions. It does not
    /// use up the test behind it, so it goes first where it tells more a minute; but not for its own sake, for every
    /// test is a reading to write down.
    void put_free_first(std::vector<Ranked>& ranked) const {
        if (ranked.empty()) return;
        const double most = ranked.front().per_minute();
        std::stable_partition(ranked.begin(), ranked.end(), [&](const Ranked& one) {
            return outlook_.future.tests[one.test].kind == TestKind::load && one.minutes.minutes < least_minutes &&
                   one.per_minute() >= most;
        });
    }

    /// The battery's volts, while nothing tells them, are worth what the best other test gains by them. They stand
    /// where that puts them: before the readings that need them, behind a look that does not.
    void place_supply(std::vector<Ranked>& ranked, NextAnswer& answer) {
        double gain = 0;
        std::optional<std::size_t> state;
        for (const Ranked& one : ranked) {
            const TestCandidate& test = outlook_.future.tests[one.test];
            if (!test.is_number() || !outlook_.is_supply_unknown(test)) continue;
            const double more = outlook_.bits(test, SupplyKnown::yes) - one.bits;
            if (state && more <= gain) continue;
            gain = std::max(gain, more);
            state = test.state;
        }
        if (!state && !outlook_.weighed->questions.supply_unknown) return;
        const auto& tests = outlook_.future.tests;
        const auto supply = std::find_if(tests.begin(), tests.end(), [&](const TestCandidate& test) {
            return test.reads_supply && outlook_.is_supply_unknown(test) && (!state || test.state == *state);
        });
        if (supply == tests.end()) return;
        gain = std::max(gain, outlook_.bits(*supply));
        if (gain < least_bits) return;
        const Ranked volts{static_cast<std::size_t>(supply - tests.begin()), gain,
                           minutes_of(outlook_.circuit, *supply, outlook_.reached)};
        const auto behind =
            std::find_if(ranked.begin(), ranked.end(), [&](const Ranked& one) { return better(volts, one); });
        if (behind == ranked.begin())
            answer.notes.push_back("the supply is unknown: its volts come first, other volts are judged against them");
        ranked.insert(behind, volts);
        if (ranked.size() > most_tests) ranked.resize(most_tests);
    }

    /// A fuse that goes sometimes may be one of another rating: the number on it is read while one is there.
    void put_number_first(std::vector<Ranked>& ranked) const {
        for (const Reading& reading : outlook_.job.readings) {
            const auto* fuse = std::get_if<FuseReading>(&reading.measurement);
            if (!fuse || fuse->word != "sometimes-blown") continue;
            put_first(ranked, 0, [&](const Tested& tested) {
                const auto* number = std::get_if<RatingTest>(&tested);
                return number && number->part == fuse->part;
            });
        }
    }

    /// Puts the first test that is wanted, and tells at least these bits, to the front. Was there one?
    template <class Wanted>
    bool put_first(std::vector<Ranked>& ranked, double least, const Wanted& wanted) const {
        const auto& tests = outlook_.future.tests;
        const auto found = std::find_if(tests.begin(), tests.end(),
                                        [&](const TestCandidate& test) { return wanted(test.test.tested); });
        if (found == tests.end() || outlook_.bits(*found) < least) return false;
        const auto index = static_cast<std::size_t>(found - tests.begin());
        std::erase_if(ranked, [&](const Ranked& one) { return one.test == index; });
        ranked.insert(ranked.begin(),
                      {index, outlook_.bits(*found), minutes_of(outlook_.circuit, *found, outlook_.reached)});
        if (ranked.size() > most_tests) ranked.resize(most_tests);
        return true;
    }

    /// A contact that pressure or heat moves is not condemned before its quantity is known: where it leads, or what
    /// moves it does, the gauge comes first.
    void put_gauge_first(std::vector<Ranked>& ranked, NextAnswer& answer) const {
        if (outlook_.standings.groups.empty()) return;
        const Suspect& leader = suspect(outlook_.standings.groups.front().suspects.front());
        if (!leader.mode || !leader.mode->part.valid()) return;
        const Part& contact = outlook_.circuit.part(leader.mode->part);
        if (!contact.moved_by || leader.mode->fault_class == FaultClass::joint) return;
        const bool asked = put_first(ranked, least_bits, [&](const Tested& tested) {
            const auto* quantity = std::get_if<QuantityTest>(&tested);
            if (!quantity) return false;
            const std::vector<PartId> moved = contacts_moved(outlook_.circuit, *quantity);
            return std::find(moved.begin(), moved.end(), leader.mode->part) != moved.end();
        });
        if (!asked) return;
        answer.notes.push_back(
            fmt::format("{} may stand as it does because its {} says so: that is read before it is condemned",
                        contact.name, contact.moved_by->unit == Unit::pascal ? "pressure" : "temperature"));
    }

    const Suspect& suspect(std::size_t index) const { return outlook_.suspect(index); }

    std::vector<std::size_t> leaders() const {
        std::vector<std::size_t> list;
        for (const RepairGroup& group : outlook_.standings.groups) {
            if (list.size() == most_expected || group.probability < 0.005) break;
            list.push_back(group.suspects.front());
        }
        return list;
    }

    std::vector<Expectation> expectations(const Ranked& one) const {
        const TestCandidate& test = outlook_.future.tests[one.test];
        std::vector<Expectation> list;
        const bool is_number = test.kind == TestKind::volts || test.kind == TestKind::clamp;
        for (const std::size_t leader : leaders()) {
            Expectation expectation;
            expectation.fault = suspect(leader).phrase();
            const double step = test.kind == TestKind::clamp ? clamp_digit : meter_digit;
            if (is_number) {
                const auto range = expected_number(outlook_, test, leader);
                if (!range) continue;
                expectation.low = std::round(range->low / step) * step;
                expectation.high = std::round(range->high / step) * step;
                expectation.unit = test.kind == TestKind::clamp ? Unit::ampere : Unit::volt;
            } else {
                expectation.word = one.sweep ? sweep_expected(outlook_, sweeps_[*one.sweep], leader)
                                             : word_expected(outlook_, test, leader);
            }
            list.push_back(std::move(expectation));
        }
        return list;
    }

    TestProposal proposal(const Ranked& one) const {
        const TestCandidate& test = outlook_.future.tests[one.test];
        TestProposal proposal;
        proposal.test = one.sweep ? sweeps_[*one.sweep].test : test.test;
        proposal.minutes = one.minutes.minutes;
        proposal.bits = nine_digits(one.bits);
        proposal.bits_per_minute = nine_digits(one.per_minute());
        proposal.expect = expectations(one);
        proposal.can_see = sizes_->seen_by(test);
        proposal.caution = one.sweep ? sweep_cautions(outlook_, sweeps_[*one.sweep]) : outlook_.cautions(test);
        proposal.notes = one.minutes.notes;
        proposal.finds_complaint = one.later_bits > one.bits;
        return proposal;
    }

    Outlook outlook_;
    std::vector<PositionSweep> sweeps_;
    std::optional<SeenSizes> sizes_;
};

}  // namespace

NextAnswer next_tests(Simulator& simulator, const Circuit& circuit, const Job& job, const MatchOptions& options) {
    return next_tests(simulator, circuit, job, options, weigh(simulator, circuit, job, options));
}

NextAnswer next_tests(Simulator& simulator, const Circuit& circuit, const Job& job, const MatchOptions& options,
                      std::shared_ptr<const Weighed> weighed) {
    return Ranking(simulator, circuit, job, options, std::move(weighed)).answer();
}

}  // namespace voltfall
