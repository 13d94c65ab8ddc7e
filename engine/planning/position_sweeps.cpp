#include "engine/planning/position_sweeps.hpp"

#include <algorithm>
#include <map>
#include <utility>

#include "engine/planning/cautions.hpp"
#include "engine/planning/information.hpp"

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

/// What several looks tell together. In a given suspect they are independent: what is uncertain of each is how a person
/// words it.
double joint_bits(const Outlook& outlook, const std::vector<std::size_t>& tests) {
    const std::vector<Standing>& standings = outlook.standings.list;
    std::vector<Possibility> possibilities;
    for (const Standing& standing : standings) possibilities.push_back({standing.weight, standing.group, 0, 0});
    using Outcome = std::vector<double>;  // P(outcome | standing)
    std::vector<Outcome> outcomes{Outcome(standings.size(), 1.0)};
    for (const std::size_t index : tests) {
        const TestCandidate& test = outlook.future.tests[index];
        const std::vector<double> words =
            word_outcomes(outlook.circuit, outlook.job, *outlook.weighed, test, standings);
        std::vector<Outcome> finer;
        Outcome rest(standings.size(), 0.0);
        for (const Outcome& outcome : outcomes) {
            for (std::size_t w = 0; w < test.words.size(); ++w) {
                Outcome both = outcome;
                double weight = 0;
                for (std::size_t s = 0; s < both.size(); ++s) {
                    both[s] *= words[s * test.words.size() + w];
                    weight += both[s] * standings[s].weight;
                }
                if (weight >= rare_outcome) {
                    finer.push_back(std::move(both));
                    continue;
                }
                for (std::size_t s = 0; s < both.size(); ++s) rest[s] += both[s];
            }
        }
        finer.push_back(std::move(rest));
        outcomes = std::move(finer);
    }
    std::vector<double> flat;
    for (std::size_t s = 0; s < standings.size(); ++s) {
        for (const Outcome& outcome : outcomes) flat.push_back(outcome[s]);
    }
    return information_of_words(possibilities, outlook.standings.groups.size(), flat, outcomes.size());
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
    std::vector<std::pair<std::string, StatePhrase>> shown;  // words in the order of their first position
    for (const std::size_t index : sweep.tests) {
        const TestCandidate& test = outlook.future.tests[index];
        const std::string word = word_expected(outlook, test, suspect);
        const auto same = std::find_if(shown.begin(), shown.end(), [&](const auto& one) { return one.first == word; });
        if (same == shown.end()) {
            shown.emplace_back(word, test.test.state);
        } else {
            same->second.settings.front().positions.push_back(test.test.state.settings.front().positions.front());
        }
    }
    if (shown.size() == 1) return shown.front().first;
    std::string text;
    for (const auto& [word, state] : shown)
        text += (text.empty() ? "" : ", ") + word + " in " + write_state(outlook.circuit, state);
    return text;
}

std::vector<std::string> sweep_cautions(const Outlook& outlook, const PositionSweep& sweep) {
    std::vector<std::string> lines;
    std::optional<SafeTime> shortest;
    for (const std::size_t index : sweep.tests) {
        const TestCandidate& test = outlook.future.tests[index];
        const State& state = outlook.future.questions.states[test.state].state;
        for (std::string& line : cautions_of(outlook.circuit, outlook.job, test, state))
            if (std::find(lines.begin(), lines.end(), line) == lines.end()) lines.push_back(std::move(line));
        auto safe = outlook.dangers.safe_time(test);
        if (safe && (!shortest || safe->seconds < shortest->seconds)) shortest = std::move(safe);
    }
    if (shortest) lines.push_back(safe_time_caution(*shortest));
    return lines;
}

}  // namespace voltfall
