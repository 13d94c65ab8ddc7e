#include "engine/planning/test_value.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "engine/diagnosis/moments.hpp"
#include "engine/diagnosis/repair_chances.hpp"
#include "engine/diagnosis/same_as.hpp"
#include "engine/planning/idle_tests.hpp"
#include "engine/readings/accuracy.hpp"
#include "engine/readings/displays.hpp"
#include "engine/readings/handling.hpp"
#include "engine/readings/rounding.hpp"
#include "engine/readings/word_evidence.hpp"
#include "engine/solve/jobs.hpp"
#include "netlists/circuit/disjoint_sets.hpp"

namespace voltfall {

namespace {

/// What a person notes of a millivolt range, volts (ASSUMED): finer would tell suspects apart that the model cannot.
constexpr double noted_millivolts = 0.001;
/// Suspects below this probability, and more of them than this, do not count in what a test tells.
constexpr double counts_above = 1e-4;
constexpr std::size_t most_suspects = 70;
/// Chance to see damage at the place of a fault that leaves some, elsewhere, and at a place that wears anyway
/// (ASSUMED).
constexpr double damage_at_fault = 0.6;
constexpr double damage_elsewhere = 0.05;
constexpr double damage_where_care = 0.1;
/// Chance of another number on a fuse than the suspect says (ASSUMED).
constexpr double wrong_number = 0.01;
/// Two suspects whose predictions all lie within this many sigma of the instrument cannot be told apart.
constexpr double same_sigmas = 1.0;

std::size_t samples_wanted(double probability) {
    return probability > 0.05 ? 5 : probability > 0.01 ? 3 : 1;
}

/// Same work: what one visit mends; but clearing the air way is not fitting a motor.
std::string repair_key(const Circuit& circuit, const Suspect& suspect) {
    if (!suspect.mode) return "nothing";
    const bool is_air = suspect.mode->is(ModeFact::air_side);
    // Another rating is seen on the fuse; what has blown is its element.
    const bool is_rating = suspect.mode->is(ModeFact::wrong_rating);
    return visited_place(circuit, *suspect.mode) + (is_air ? " air" : "") + (is_rating ? " rating" : "");
}

/// A gauge has told, or will tell, a system's pressure from a contact that does not work.
bool outside_alike(const Suspect& a, const Suspect& b) {
    const auto outside = [](const Suspect& s) { return s.mode && s.mode->is(ModeFact::outside_circuit); };
    return outside(a) == outside(b);
}

bool predictions_alike(const Job& job, const Future& future, const Prediction& a, const Prediction& b) {
    if (!a.ok || !b.ok) return false;
    for (std::size_t i = 0; i < a.mean.size(); ++i) {
        const TestKind kind = future.questions.cells[i].is_amps ? TestKind::clamp : TestKind::volts;
        if (std::abs(a.mean[i] - b.mean[i]) > same_sigmas * instrument_sigma_at(job, kind, a.mean[i])) return false;
    }
    for (std::size_t i = 0; i < a.words.size(); ++i) {
        if (std::abs(a.words[i] - b.words[i]) > 0.1) return false;
    }
    return true;
}

/// Would the look, or the hand, find what the suspect leaves there?
bool shows(const Circuit& circuit, const TestCandidate& test, const Suspect& suspect) {
    const FaultMode* mode = suspect.mode;
    if (!mode || !sits_at(circuit, *mode, std::get<LookTest>(test.test.tested).place)) return false;
    const bool by_hand = turned_by_hand(test.words.front(), true).has_value();
    return by_hand ? mode->is(ModeFact::rubs) : !mode->looks.empty();
}

bool looks_alike(const Circuit& circuit, const Future& future, const Suspect& a, const Suspect& b) {
    // Where a look, or a hand that turns the motor, may tell them apart, they are not the same.
    return std::none_of(future.tests.begin(), future.tests.end(), [&](const TestCandidate& test) {
        const auto* look = std::get_if<LookTest>(&test.test.tested);
        return look && shows(circuit, test, a) != shows(circuit, test, b);
    });
}

void group(const Circuit& circuit, const Job& job, const Weighed& weighed, const Future& future, Simulator& simulator,
           Standings& standings) {
    std::vector<std::size_t> suspects;
    for (const Standing& standing : standings.list) {
        if (suspects.empty() || suspects.back() != standing.suspect) suspects.push_back(standing.suspect);
    }
    DisjointSets merging(suspects.size());
    const Lookalikes lookalikes(simulator, circuit);
    std::vector<std::size_t> first_standing(suspects.size());
    for (std::size_t i = 0, s = 0; i < suspects.size(); ++i) {
        while (standings.list[s].suspect != suspects[i]) ++s;
        first_standing[i] = s;
    }
    for (std::size_t i = 0; i < suspects.size(); ++i) {
        for (std::size_t j = 0; j < i; ++j) {
            const Suspect& a = weighed.suspects[suspects[i]];
            const Suspect& b = weighed.suspects[suspects[j]];
            const bool same_work = repair_key(circuit, a) == repair_key(circuit, b);
            const bool same_graph = a.mode && b.mode && lookalikes.by_graph(*a.mode, *b.mode);
            const bool same_numbers = outside_alike(a, b) && looks_alike(circuit, future, a, b) &&
                                      predictions_alike(job, future, standings.list[first_standing[i]].prediction,
                                                        standings.list[first_standing[j]].prediction);
            if (same_work || same_graph || same_numbers) merging.join(i, j);
        }
    }
    std::map<std::size_t, std::size_t> group_of_root;
    std::map<std::size_t, std::size_t> group_of_suspect;
    for (std::size_t i = 0; i < suspects.size(); ++i) {
        const auto [entry, added] = group_of_root.try_emplace(merging.set_of(i), standings.groups.size());
        if (added) standings.groups.emplace_back();
        RepairGroup& group = standings.groups[entry->second];
        group.suspects.push_back(suspects[i]);
        group.probability += weighed.suspects[suspects[i]].probability;
        group_of_suspect[suspects[i]] = entry->second;
    }
    for (Standing& standing : standings.list) standing.group = group_of_suspect[standing.suspect];
}

/// While a test is taken such a fault may be away.
bool comes_and_goes(const Suspect& suspect) {
    return suspect.story == Story::intermittent || suspect.story == Story::may_come_and_go;
}

}  // namespace

Standings standings_of(Simulator& simulator, const Circuit& circuit, const Weighed& weighed, Future& future,
                       const Predictor& predictor, const MatchOptions& options) {
    struct Case {
        std::size_t suspect;
        SizeSample sample;
    };
    std::vector<Case> cases;
    std::vector<std::size_t> firsts;  // of each suspect's cases
    std::size_t suspects = 0;
    for (const std::size_t i : weighed.ranked()) {
        const Suspect& suspect = weighed.suspects[i];
        if (suspect.probability < counts_above || suspects++ == most_suspects) break;
        firsts.push_back(cases.size());
        for (const SizeSample& sample : size_samples(suspect, samples_wanted(suspect.probability)))
            cases.push_back({i, sample});
    }
    const auto predict = [&](std::size_t job, Predicting what) {
        const std::size_t first = firsts[job];
        const std::size_t last = job + 1 < firsts.size() ? firsts[job + 1] : cases.size();
        const Suspect& suspect = weighed.suspects[cases[first].suspect];
        std::vector<Trial> trials;
        for (std::size_t i = first; i < last; ++i)
            trials.push_back({cases[i].sample.size, cases[i].sample.where, suspect.world()});
        return predictor.predict_all(suspect.mode, trials, what);
    };
    const bool any_hides = std::any_of(firsts.begin(), firsts.end(), [&](std::size_t first) {
        return comes_and_goes(weighed.suspects[cases[first].suspect]);
    });
    // Solving is quick beside working out spreads: those are asked for only where suspects differ.
    std::vector<PredictedRanges> ranges(firsts.size(), PredictedRanges(future.questions));
    std::vector<char> solved(cases.size(), 0);
    run_jobs(firsts.size(), options.workers, [&](std::size_t job) {
        const std::vector<Prediction> predictions = predict(job, Predicting::means);
        for (std::size_t i = 0; i < predictions.size(); ++i) {
            ranges[job].add(predictions[i]);
            solved[firsts[job] + i] = predictions[i].ok;
        }
    });
    if (any_hides) {
        ranges.emplace_back(future.questions);
        ranges.back().add(predictor.predict_all(nullptr, std::vector<Trial>(1), Predicting::means).front());
    }
    drop_idle_tests(future, ranges);
    std::vector<Prediction> predictions(cases.size());
    run_jobs(
        firsts.size(), options.workers,
        [&](std::size_t job) {
            std::ranges::move(predict(job, Predicting::spreads_too), predictions.begin() + firsts[job]);
        },
        options.progress, "looking ahead");
    const Prediction away = any_hides ? predictor.predict(nullptr, {}) : Prediction{};
    Standings standings;
    for (std::size_t i = 0; i < cases.size(); ++i) {
        const Suspect& suspect = weighed.suspects[cases[i].suspect];
        const bool hides = comes_and_goes(suspect) && away.ok;
        const double weight = suspect.probability * cases[i].sample.share;
        Standing standing{cases[i].suspect, 0, hides ? weight * shows_by_itself : weight, {}};
        standing.prediction = std::move(predictions[i]);
        if (standing.prediction.ok && solved[i]) standings.list.push_back(std::move(standing));
        const bool is_last = i + 1 == cases.size() || cases[i + 1].suspect != cases[i].suspect;
        if (hides && is_last) {
            standings.list.push_back({cases[i].suspect, 0, suspect.probability * (1 - shows_by_itself), away, true});
        }
    }
    group(circuit, *future.job, weighed, future, simulator, standings);
    return standings;
}

namespace {

double sigma_at(const Accuracy& accuracy, TestKind kind, double value) {
    const bool clamp = kind == TestKind::clamp;
    ReadValue read;
    read.low = read.high = value;
    // People note whole millivolts, though the meter shows tenths.
    read.last_digit = clamp ? clamp_digit : std::max(volts_digit(value), noted_millivolts);
    return instrument_sigma(accuracy, read);
}

}  // namespace

double instrument_sigma_at(const Job& job, TestKind kind, double value) {
    const Instrument instrument = kind == TestKind::clamp ? Instrument::clamp : Instrument::meter;
    return sigma_at(accuracy_of(instrument, job.tools), kind, value);
}

std::vector<double> word_outcomes(const Circuit& circuit, const Job& job, const Weighed& weighed,
                                  const TestCandidate& test, const std::vector<Standing>& standings) {
    std::vector<double> outcomes;
    for (const Standing& standing : standings) {
        if (const auto* look = std::get_if<LookTest>(&test.test.tested)) {
            const bool here = shows(circuit, test, weighed.suspects[standing.suspect]);
            if (const auto freely = turned_by_hand(test.words.front(), here)) {
                outcomes.push_back(*freely);
                outcomes.push_back(1 - *freely);
                continue;
            }
            const bool wears = !care_words(circuit, job, look->place).empty();
            const double damage = here ? damage_at_fault : wears ? damage_where_care : damage_elsewhere;
            outcomes.push_back(damage);
            outcomes.push_back(1 - damage);
            continue;
        }
        if (const auto* number = std::get_if<RatingTest>(&test.test.tested)) {
            const FaultMode* mode = weighed.suspects[standing.suspect].mode;
            const bool other = mode && mode->part == number->part && mode->is(ModeFact::wrong_rating);
            outcomes.push_back(other ? wrong_number : 1 - wrong_number);
            outcomes.push_back(other ? 1 - wrong_number : wrong_number);
            continue;
        }
        if (test.kind == TestKind::wiggle) {
            const FaultMode* mode = weighed.suspects[standing.suspect].mode;
            const std::string& handled = test.test.state.handled.front();
            const bool loose = mode && mode->is(ModeFact::may_touch);
            const bool here = loose && is_handled_at(circuit, *mode, handled);
            outcomes.push_back(here ? changes_where_handled : changes_elsewhere);
            outcomes.push_back(1 - outcomes.back());
            continue;
        }
        double sum = 0;
        for (std::size_t w = 0; w < test.words.size(); ++w) sum += standing.prediction.words[test.first_word + w];
        for (std::size_t w = 0; w < test.words.size(); ++w) {
            const double p = standing.prediction.words[test.first_word + w];
            outcomes.push_back(sum > 0 ? p / sum : 1.0 / static_cast<double>(test.words.size()));
        }
    }
    return outcomes;
}

double bits_of(const Circuit& circuit, const Job& job, const Weighed& weighed, const TestCandidate& test,
               const Standings& standings, SupplyKnown supply) {
    if (test.idle) return 0;
    std::vector<Possibility> possibilities;
    const bool is_number = test.kind == TestKind::volts || test.kind == TestKind::clamp;
    const Accuracy accuracy =
        accuracy_of(test.kind == TestKind::clamp ? Instrument::clamp : Instrument::meter, job.tools);
    double lowest = 0;
    double highest = 0;
    double narrowest = 1e9;
    for (const Standing& standing : standings.list) {
        Possibility p{standing.weight, standing.group, 0, 0};
        if (is_number) {
            p.mean = standing.prediction.mean[test.cell];
            double variance = standing.prediction.variance[test.cell];
            if (supply == SupplyKnown::yes) variance -= standing.prediction.supply_variance[test.cell];
            p.sigma = std::hypot(std::sqrt(std::max(variance, 0.0)), sigma_at(accuracy, test.kind, p.mean));
            lowest = possibilities.empty() ? p.mean : std::min(lowest, p.mean);
            highest = possibilities.empty() ? p.mean : std::max(highest, p.mean);
            narrowest = std::min(narrowest, p.sigma);
        }
        possibilities.push_back(p);
    }
    if (!is_number) {
        return information_of_words(possibilities, standings.groups.size(),
                                    word_outcomes(circuit, job, weighed, test, standings.list), test.words.size());
    }
    // All suspects agree far within the spread: no need to integrate.
    if (highest - lowest < tells_nothing_sigmas * narrowest) return 0;
    OutcomeRules rules;
    rules.wrong = measured_default("wrong_reading");
    rules.untouched = test.kind == TestKind::volts && !test.reads_supply ? test.no_touch : 0;
    return information_of_number(possibilities, standings.groups.size(), rules);
}

}  // namespace voltfall
