#include "engine/planning/idle_tests.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "engine/planning/test_value.hpp"

namespace voltfall {

namespace {

/// Chances of a word that differ by less are equal but for rounding.
constexpr double same_chance = 1e-12;

using Range = PredictedRanges::Range;

/// Is the outcome a word that solved states give the chance of? Of the others a suspect's place or rating decides.
bool told_by_states(const TestCandidate& test) {
    switch (test.kind) {
        case TestKind::load:
        case TestKind::fuse:
        case TestKind::ohms:
        case TestKind::gauge:
        case TestKind::new_fuse:
        case TestKind::feel:
            return true;
        case TestKind::volts:
        case TestKind::clamp:
        case TestKind::look:
        case TestKind::rating:
        case TestKind::wiggle:
            return false;
    }
    return false;
}

class IdleTests {
public:
    IdleTests(Future& future, std::span<const PredictedRanges> by_suspect)
        : future_(future), by_suspect_(by_suspect), all_(future.questions) {
        for (const PredictedRanges& one : by_suspect) {
            for (std::size_t i = 0; i < all_.cells.size(); ++i) all_.cells[i].add(one.cells[i]);
            for (std::size_t i = 0; i < all_.words.size(); ++i) all_.words[i].add(one.words[i]);
        }
    }

    void mark() {
        std::map<std::size_t, std::vector<std::size_t>> kept;  // numbers, by step
        for (std::size_t i = 0; i < future_.tests.size(); ++i) {
            TestCandidate& test = future_.tests[i];
            test.idle = test.is_number() ? is_idle_number(test) : told_by_states(test) && is_idle_word(test);
            if (test.idle || !test.is_number() || test.reads_supply) continue;
            std::vector<std::size_t>& earlier = kept[test.step];
            const auto same = std::find_if(earlier.begin(), earlier.end(),
                                           [&](std::size_t other) { return reads_as(test, future_.tests[other]); });
            if (same == earlier.end()) {
                earlier.push_back(i);
                continue;
            }
            test.idle = true;
            test.read_in = *same;
        }
    }

    void drop_questions() {
        Questions& questions = future_.questions;
        std::vector<Cell> cells;
        std::vector<WordObservation> words;
        for (TestCandidate& test : future_.tests) {
            if (test.idle) continue;
            if (test.is_number()) {
                cells.push_back(questions.cells[test.cell]);
                test.cell = cells.size() - 1;
            } else if (told_by_states(test)) {
                const auto first = questions.words.begin() + static_cast<std::ptrdiff_t>(test.first_word);
                test.first_word = words.size();
                words.insert(words.end(), first, first + static_cast<std::ptrdiff_t>(test.words.size()));
            }
        }
        for (std::size_t& known : future_.known_amps) {
            cells.push_back(questions.cells[known]);
            known = cells.size() - 1;
        }
        for (GivenNumber& number : questions.given) {
            cells.push_back(questions.cells[number.cell]);
            number.cell = cells.size() - 1;
        }
        questions.cells = std::move(cells);
        questions.words = std::move(words);
    }

private:
    const JobState& state_of(const TestCandidate& test) const { return future_.questions.states[test.state]; }
    const Supply& supply_of(const TestCandidate& test) const {
        return future_.questions.supplies[state_of(test).supply];
    }

    /// One sigma of the instrument where it is least over the range, V or A.
    double least_sigma(const TestCandidate& test, const Range& range) const {
        return instrument_sigma_at(*future_.job, test.kind, std::clamp(0.0, range.low, range.high));
    }

    bool is_idle_number(const TestCandidate& test) const {
        // The supply's volts serve the readings behind them; a supply that is not the one solved with moves means.
        if (test.reads_supply || supply_of(test).mean != supply_of(test).solved_at) return false;
        const Range& range = all_.cells[test.cell];
        return range.low <= range.high && range.high - range.low < tells_nothing_sigmas * least_sigma(test, range);
    }

    bool is_idle_word(const TestCandidate& test) const {
        for (std::size_t w = 0; w < test.words.size(); ++w) {
            const Range& range = all_.words[test.first_word + w];
            if (!(range.high - range.low <= same_chance)) return false;
        }
        return true;
    }

    /// Does every suspect read in this test what it reads in the other one?
    bool reads_as(const TestCandidate& test, const TestCandidate& other) const {
        if (supply_of(test) != supply_of(other) || test.kind != other.kind || test.no_touch != other.no_touch ||
            test.state_minutes != other.state_minutes)
            return false;
        return std::all_of(by_suspect_.begin(), by_suspect_.end(), [&](const PredictedRanges& suspect) {
            const Range& here = suspect.cells[test.cell];
            const Range& there = suspect.cells[other.cell];
            if (!(here.low <= here.high)) return true;
            const double apart = tells_nothing_sigmas * least_sigma(test, here);
            return std::abs(here.low - there.low) < apart && std::abs(here.high - there.high) < apart;
        });
    }

    Future& future_;
    std::span<const PredictedRanges> by_suspect_;
    PredictedRanges all_;
};

}  // namespace

void PredictedRanges::Range::add(const Range& other) {
    low = std::min(low, other.low);
    high = std::max(high, other.high);
}

void PredictedRanges::add(const Prediction& prediction) {
    if (!prediction.ok) return;
    for (std::size_t i = 0; i < cells.size(); ++i) cells[i].add({prediction.mean[i], prediction.mean[i]});
    for (std::size_t i = 0; i < words.size(); ++i) words[i].add({prediction.words[i], prediction.words[i]});
}

void drop_idle_tests(Future& future, std::span<const PredictedRanges> by_suspect) {
    IdleTests tests(future, by_suspect);
    tests.mark();
    tests.drop_questions();
}

void replace_forbidden_tests(Future& future, const std::vector<bool>& forbidden) {
    std::vector<bool> replaced(future.tests.size(), false);
    for (std::size_t i = 0; i < future.tests.size(); ++i) {
        TestCandidate& test = future.tests[i];
        if (!test.read_in || forbidden[i] || !forbidden[*test.read_in] || replaced[*test.read_in]) continue;
        replaced[*test.read_in] = true;
        test.idle = false;
        test.cell = future.tests[*test.read_in].cell;
    }
}

}  // namespace voltfall
