#include "engine/planning/position_sweeps.hpp"

#include <algorithm>
#include <map>
#include <utility>

#include "engine/planning/information.hpp"
#include "engine/planning/test_minutes.hpp"
#include "engine/solve/load_seen.hpp"
#include "netlists/phrases/load_words.hpp"
#include "netlists/tables/defaults.hpp"

namespace voltfall {

namespace {

/// Positions that one look goes through, and that one answer may tell of.
constexpr std::size_t most_positions = 8;
/// Outcomes of several looks that are less likely together than this are counted as one.
constexpr double rare_outcome = 1e-3;

/// The only setting of a state that sets one control to one position and nothing else.
const ControlSetting* plain_setting(const StatePhrase& state) {
    if (state.settings.size() != 1 || state.settings.front().positions.size() != 1) return nullptr;
    StatePhrase alone;
    alone.settings = state.settings;
    return alone == state ? &state.settings.front() : nullptr;
}

/// How finely what a person says of a load is told apart.
enum class Grain {
    words,
    vigour,  ///< nothing, weak, or more: no plan parts at whether it "runs" or is "normal"
};

/// What one look may show, as a person words it, and P(outcome | standing), standing by standing.
struct LookOutcomes {
    std::vector<std::string> words;
    std::vector<double> chance;
};

Vigour vigour_of(std::string_view word) {
    for (const LoadSeen seen : {LoadSeen::dead, LoadSeen::slow, LoadSeen::weak, LoadSeen::dim}) {
        if (word_of(seen) == word) return row_of(seen).vigour;
    }
    return Vigour::usual;
}

LookOutcomes look_outcomes(const Outlook& outlook, const TestCandidate& test, Grain grain) {
    const std::vector<Standing>& standings = outlook.standings.list;
    LookOutcomes all{test.words, word_outcomes(outlook.circuit, outlook.job, *outlook.weighed, test, standings)};
    if (grain == Grain::words) return all;
    // The words of the kind stand in the order of the outcomes.
    const LoadKind kind = load_kind_of(outlook.circuit.part(std::get<LoadTest>(test.test.tested).part));
    const auto kept = load_words_of(kind);
    const bool should_be_off = all.words.front() == word_of(LoadSeen::off);
    std::vector<std::size_t> into(kept.size());
    std::vector<Vigour> vigours;
    LookOutcomes few;
    for (std::size_t w = 0; w < kept.size(); ++w) {
        // "Normal" where it should stand still is that it does.
        const Vigour vigour = vigour_of(load_word_here(kind, kept[w], !should_be_off));
        const auto known = std::find(vigours.begin(), vigours.end(), vigour);
        into[w] = static_cast<std::size_t>(known - vigours.begin());
        if (known != vigours.end()) continue;
        vigours.push_back(vigour);
        const bool unwanted = vigour == Vigour::usual && should_be_off;
        few.words.push_back(unwanted ? std::string(said_of(kind, LoadSeen::runs)) : all.words[w]);
    }
    few.chance.assign(standings.size() * few.words.size(), 0.0);
    for (std::size_t s = 0; s < standings.size(); ++s) {
        for (std::size_t w = 0; w < kept.size(); ++w)
            few.chance[s * few.words.size() + into[w]] += all.chance[s * kept.size() + w];
    }
    return few;
}

/// What several looks show together.
struct JointOutcome {
    std::vector<std::string> words;  ///< one a look
    std::vector<double> chance;      ///< P(outcome | standing)
    bool named{true};                ///< false where several were too rare to be told apart

    double weight(const std::vector<Standing>& standings) const {
        double sum = 0;
        for (std::size_t s = 0; s < chance.size(); ++s) sum += chance[s] * standings[s].weight;
        return sum;
    }
    void add(const JointOutcome& other) {
        for (std::size_t s = 0; s < chance.size(); ++s) chance[s] += other.chance[s];
    }
};

/// The outcomes of several looks, those that are too rare after a look as one. In a given suspect the looks are
/// independent: what is uncertain of each is how a person words it.
std::vector<JointOutcome> joint_outcomes(const Outlook& outlook, const std::vector<std::size_t>& tests, Grain grain) {
    const std::vector<Standing>& standings = outlook.standings.list;
    std::vector<JointOutcome> outcomes{{{}, std::vector<double>(standings.size(), 1.0)}};
    for (const std::size_t index : tests) {
        const LookOutcomes look = look_outcomes(outlook, outlook.future.tests[index], grain);
        const std::size_t count = look.words.size();
        std::vector<JointOutcome> finer;
        JointOutcome rest{{}, std::vector<double>(standings.size(), 0.0), false};
        for (const JointOutcome& outcome : outcomes) {
            for (std::size_t w = 0; w < count; ++w) {
                JointOutcome both = outcome;
                both.words.push_back(look.words[w]);
                for (std::size_t s = 0; s < both.chance.size(); ++s) both.chance[s] *= look.chance[s * count + w];
                if (both.weight(standings) >= rare_outcome)
                    finer.push_back(std::move(both));
                else
                    rest.add(both);
            }
        }
        finer.push_back(std::move(rest));
        outcomes = std::move(finer);
    }
    return outcomes;
}

/// Standing by standing.
std::vector<double> flat(const std::vector<JointOutcome>& outcomes, std::size_t standings) {
    std::vector<double> list;
    for (std::size_t s = 0; s < standings; ++s) {
        for (const JointOutcome& outcome : outcomes) list.push_back(outcome.chance[s]);
    }
    return list;
}

/// What several looks tell together.
double joint_bits(const Outlook& outlook, const std::vector<std::size_t>& tests) {
    const std::vector<Standing>& standings = outlook.standings.list;
    std::vector<Possibility> possibilities;
    for (const Standing& standing : standings) possibilities.push_back({standing.weight, standing.group, 0, 0});
    const std::vector<JointOutcome> outcomes = joint_outcomes(outlook, tests, Grain::words);
    return information_of_words(possibilities, outlook.standings.groups.size(), flat(outcomes, standings.size()),
                                outcomes.size());
}

/// "dead in lo, ml, normal in mh, hi"; one word where it is the same in all. `words`: one a look of the sweep.
std::string words_by_position(const Outlook& outlook, const PositionSweep& sweep,
                              const std::vector<std::string>& words) {
    std::vector<std::pair<std::string, StatePhrase>> shown;  // words in the order of their first position
    for (std::size_t i = 0; i < words.size(); ++i) {
        const StatePhrase& state = outlook.future.tests[sweep.tests[i]].test.state;
        const auto same =
            std::find_if(shown.begin(), shown.end(), [&](const auto& one) { return one.first == words[i]; });
        if (same == shown.end())
            shown.emplace_back(words[i], state);
        else
            same->second.settings.front().positions.push_back(state.settings.front().positions.front());
    }
    if (shown.size() == 1) return shown.front().first;
    std::string text;
    for (const auto& [word, state] : shown)
        text += (text.empty() ? "" : ", ") + word + " in " + write_state(outlook.circuit, state);
    return text;
}

/// Without the positions that tell far less than the best of them: that it stands still at off is no news.
void drop_idle(const Outlook& outlook, std::vector<std::size_t>& tests) {
    constexpr double idle_share = 0.25;
    std::map<std::size_t, double> bits;
    double most = 0;
    for (const std::size_t test : tests) most = std::max(most, bits[test] = outlook.bits(outlook.future.tests[test]));
    std::erase_if(tests, [&](std::size_t test) { return bits[test] < idle_share * most; });
}

}  // namespace

std::vector<PositionSweep> position_sweeps(const Outlook& outlook) {
    std::map<std::pair<std::size_t, PartId>, std::vector<std::size_t>> looks;  // by step and control
    const auto& tests = outlook.future.tests;
    for (std::size_t i = 0; i < tests.size(); ++i) {
        if (tests[i].kind != TestKind::load || outlook.bits(tests[i]) < least_bits) continue;
        if (const ControlSetting* setting = plain_setting(tests[i].test.state))
            looks[{tests[i].step, setting->part}].push_back(i);
    }
    std::vector<PositionSweep> sweeps;
    for (auto& [key, in_turn] : looks) {
        drop_idle(outlook, in_turn);
        if (in_turn.size() < 2) continue;
        in_turn.resize(std::min(in_turn.size(), most_positions));
        PositionSweep sweep;
        sweep.test = tests[in_turn.front()].test;
        for (std::size_t i = 1; i < in_turn.size(); ++i) {
            const ControlSetting& setting = tests[in_turn[i]].test.state.settings.front();
            sweep.test.state.settings.front().positions.push_back(setting.positions.front());
        }
        sweep.tests = std::move(in_turn);
        sweep.bits = joint_bits(outlook, sweep.tests);
        sweeps.push_back(std::move(sweep));
    }
    return sweeps;
}

std::string word_expected(const Outlook& outlook, const TestCandidate& test, std::size_t suspect) {
    const auto& standings = outlook.standings.list;
    const std::vector<double> outcomes = word_outcomes(outlook.circuit, outlook.job, *outlook.weighed, test, standings);
    std::vector<double> words(test.words.size(), 0.0);
    for (std::size_t s = 0; s < standings.size(); ++s) {
        if (standings[s].suspect != suspect || standings[s].hides) continue;
        for (std::size_t w = 0; w < words.size(); ++w) words[w] += standings[s].weight * outcomes[s * words.size() + w];
    }
    return test.words[static_cast<std::size_t>(std::max_element(words.begin(), words.end()) - words.begin())];
}

std::string sweep_expected(const Outlook& outlook, const PositionSweep& sweep, std::size_t suspect) {
    std::vector<std::string> words;
    for (const std::size_t index : sweep.tests)
        words.push_back(word_expected(outlook, outlook.future.tests[index], suspect));
    return words_by_position(outlook, sweep, words);
}

Outcomes sweep_outcomes(const Outlook& outlook, const PositionSweep& sweep, double least) {
    const std::vector<Standing>& standings = outlook.standings.list;
    std::vector<JointOutcome> all = joint_outcomes(outlook, sweep.tests, Grain::vigour);
    double sum = 0;
    for (const Standing& standing : standings) sum += standing.weight;
    JointOutcome rest{{}, std::vector<double>(standings.size(), 0.0), false};
    Outcomes outcomes;
    std::vector<JointOutcome> told;
    for (JointOutcome& outcome : all) {
        if (!outcome.named || outcome.weight(standings) < least * sum) {
            rest.add(outcome);
            continue;
        }
        outcomes.labels.push_back(words_by_position(outlook, sweep, outcome.words));
        told.push_back(std::move(outcome));
    }
    if (rest.weight(standings) > 0) {
        outcomes.labels.emplace_back(other_patterns);
        told.push_back(std::move(rest));
    }
    outcomes.likelihood = flat(told, standings.size());
    return outcomes;
}

std::optional<PositionSweep> leading_sweep(const Outlook& outlook) {
    constexpr double least_minutes = 0.5;  // that even a glance costs, in the ranking
    const double minutes_a_bit = default_value("minutes_a_bit");
    struct Worth {
        double bits{};
        double minutes{};
    };
    const auto saved = [&](const Worth& one) { return one.bits * minutes_a_bit - one.minutes; };
    const auto per_minute = [&](const Worth& one) { return one.bits / std::max(one.minutes, least_minutes); };
    const auto minutes = [&](const TestCandidate& test) {
        return minutes_of(outlook.circuit, test, outlook.reached).minutes;
    };
    std::vector<PositionSweep> sweeps = position_sweeps(outlook);
    const auto most =
        std::max_element(sweeps.begin(), sweeps.end(), [](const auto& a, const auto& b) { return a.bits < b.bits; });
    if (most == sweeps.end() || most->bits < least_bits) return std::nullopt;
    const Worth sweep{most->bits, minutes(outlook.future.tests[most->tests.front()])};
    std::optional<Worth> front;
    for (const TestCandidate& test : outlook.future.tests) {
        if (test.reads_supply && outlook.is_supply_unknown(test)) continue;
        const Worth one{outlook.bits(test), minutes(test)};
        if (one.bits >= least_bits && (!front || saved(one) > saved(*front))) front = one;
    }
    const bool leads = !front || saved(sweep) >= saved(*front) ||
                       (sweep.minutes < least_minutes && per_minute(sweep) >= per_minute(*front));
    return leads ? std::optional(std::move(*most)) : std::nullopt;
}

std::vector<std::string> sweep_cautions(const Outlook& outlook, const PositionSweep& sweep) {
    // A look at a load with nothing but its switch set has no other caution.
    std::optional<SafeTime> shortest;
    for (const std::size_t index : sweep.tests) {
        auto safe = outlook.dangers.safe_time(outlook.future.tests[index]);
        if (safe && (!shortest || safe->seconds < shortest->seconds)) shortest = std::move(safe);
    }
    if (!shortest) return {};
    return {safe_time_caution(*shortest)};
}

}  // namespace voltfall
