#include "engine/planning/test_value.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>

#include "engine/diagnosis/moments.hpp"
#include "engine/diagnosis/repair_chances.hpp"
#include "engine/diagnosis/same_as.hpp"
#include "engine/diagnosis/suspect_trials.hpp"
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
std::string repair_key(const Circuit& circuit, const FaultMode& mode) {
    const bool is_air = mode.is(ModeFact::air_side);
    // Another rating is seen on the fuse; what has blown is its element.
    const bool is_rating = mode.is(ModeFact::wrong_rating);
    return visited_place(circuit, mode) + (is_air ? " air" : "") + (is_rating ? " rating" : "");
}

/// Is the repair of the two the same? Of two faults at once it is that of the one and that of the other.
bool same_work(const Circuit& circuit, const Lookalikes& lookalikes, const Suspect& a, const Suspect& b) {
    // Nothing is wrong in one of them alone.
    if (!a.mode || !b.mode) return false;
    const auto same = [&](const FaultMode* one, const FaultMode* other) {
        return repair_key(circuit, *one) == repair_key(circuit, *other) || lookalikes.by_graph(*one, *other);
    };
    if (a.is_pair() != b.is_pair()) return false;
    if (!a.is_pair()) return same(a.mode, b.mode);
    return (same(a.mode, b.mode) && same(a.second->mode, b.second->mode)) ||
           (same(a.mode, b.second->mode) && same(a.second->mode, b.mode));
}

/// A gauge has told, or will tell, a system's pressure from a contact that does not work.
bool outside_alike(const Suspect& a, const Suspect& b) {
    const auto outside = [](const Suspect& suspect) {
        const std::vector<const FaultMode*> modes = suspect.modes();
        return std::any_of(modes.begin(), modes.end(),
                           [](const FaultMode* mode) { return mode->is(ModeFact::outside_circuit); });
    };
    return outside(a) == outside(b);
}

bool predictions_alike(const Job& job, const Future& future, const Prediction& a, const Prediction& b) {
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
    const std::vector<const FaultMode*> modes = suspect.modes();
    const bool by_hand = turned_by_hand(test.words.front(), true).has_value();
    return std::any_of(modes.begin(), modes.end(), [&](const FaultMode* mode) {
        if (!sits_at(circuit, *mode, std::get<LookTest>(test.test.tested).place)) return false;
        return by_hand ? mode->is(ModeFact::rubs) : !mode->looks.empty();
    });
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
            const Suspect& a = weighed.suspect(suspects[i]);
            const Suspect& b = weighed.suspect(suspects[j]);
            // One repair is not two, whatever the tests can see of the second fault.
            const bool same_numbers = a.is_pair() == b.is_pair() && outside_alike(a, b) &&
                                      looks_alike(circuit, future, a, b) &&
                                      predictions_alike(job, future, standings.list[first_standing[i]].prediction,
                                                        standings.list[first_standing[j]].prediction);
            if (same_numbers || same_work(circuit, lookalikes, a, b)) merging.join(i, j);
        }
    }
    std::map<std::size_t, std::size_t> group_of_root;
    std::map<std::size_t, std::size_t> group_of_suspect;
    for (std::size_t i = 0; i < suspects.size(); ++i) {
        const auto [entry, added] = group_of_root.try_emplace(merging.set_of(i), standings.groups.size());
        if (added) standings.groups.emplace_back();
        RepairGroup& group = standings.groups[entry->second];
        group.suspects.push_back(suspects[i]);
        group.probability += weighed.chance(suspects[i]);
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
        double share;
    };
    std::vector<Case> cases;
    std::vector<std::size_t> firsts;  // of each suspect's cases
    std::vector<std::unique_ptr<SuspectTrials>> trials;
    for (const std::size_t i : weighed.ranked_with_pairs()) {
        if (weighed.chance(i) < counts_above || trials.size() == most_suspects) break;
        firsts.push_back(cases.size());
        trials.push_back(
            std::make_unique<SuspectTrials>(circuit, weighed.suspect(i), samples_wanted(weighed.chance(i))));
        for (const double share : trials.back()->shares) cases.push_back({i, share});
    }
    const auto predict = [&](std::size_t job, Predicting what) {
        return predictor.predict_all(weighed.suspect(cases[firsts[job]].suspect).mode, trials[job]->list, what);
    };
    const bool any_hides = std::any_of(firsts.begin(), firsts.end(), [&](std::size_t first) {
        return comes_and_goes(weighed.suspect(cases[first].suspect));
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
        const double chance = weighed.chance(cases[i].suspect);
        const Suspect& suspect = weighed.suspect(cases[i].suspect);
        const bool hides = comes_and_goes(suspect) && away.ok;
        const double weight = chance * cases[i].share;
        const double there = suspect.going.there(future.condition);
        Standing standing{cases[i].suspect, 0, hides ? weight * there : weight, {}};
        standing.prediction = std::move(predictions[i]);
        if (standing.prediction.ok && solved[i]) standings.list.push_back(std::move(standing));
        const bool is_last = i + 1 == cases.size() || cases[i + 1].suspect != cases[i].suspect;
        if (hides && is_last) {
            standings.list.push_back({cases[i].suspect, 0, chance * (1 - there), away, true});
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

double read_sigma(double variance, double instrument) {
    constexpr double least_share = 0.25;  // rounding and what the readings do not share
    const double least = least_share * instrument;
    return std::sqrt(std::max(variance + instrument * instrument, least * least));
}

namespace {

/// P(word | standing) of a look, word by word; they sum to 1.
std::vector<double> words_shown(const TestCandidate& test, const Standing& standing) {
    std::vector<double> chances;
    double sum = 0;
    for (std::size_t w = 0; w < test.words.size(); ++w) sum += standing.prediction.words[test.first_word + w];
    for (std::size_t w = 0; w < test.words.size(); ++w) {
        const double p = standing.prediction.words[test.first_word + w];
        chances.push_back(sum > 0 ? p / sum : 1.0 / static_cast<double>(test.words.size()));
    }
    return chances;
}

/// While a condition is made, a fault that comes and goes is there as often as that condition brings it about, whether
/// or not it is there without.
void mix_as_made(const Weighed& weighed, const TestCandidate& test, const std::vector<Standing>& standings,
                 std::vector<double>& outcomes) {
    const std::size_t count = test.words.size();
    const std::vector<double> before = outcomes;
    for (std::size_t i = 0; i < standings.size(); ++i) {
        const std::size_t own = standings[i].suspect;
        const auto other = std::find_if(standings.begin(), standings.end(), [&](const Standing& standing) {
            return standing.suspect == own && standing.hides != standings[i].hides;
        });
        if (other == standings.end()) continue;
        const std::size_t j = static_cast<std::size_t>(other - standings.begin());
        const Going& going = weighed.suspect(own).going;
        const double made = shows_under(going.triggers, test.makes);
        const double by_itself = going.there(std::nullopt) - (1 - going.share);
        // One that is there now may be there always.
        const double there = standings[i].hides
                                 ? made
                                 : (1 - going.share + by_itself * made) / std::max(going.there(std::nullopt), 1e-9);
        const double as_it_stands = standings[i].hides ? 1 - there : there;
        for (std::size_t w = 0; w < count; ++w)
            outcomes[i * count + w] = as_it_stands * before[i * count + w] + (1 - as_it_stands) * before[j * count + w];
    }
}

}  // namespace

std::vector<double> word_outcomes(const Circuit& circuit, const Job& job, const Weighed& weighed,
                                  const TestCandidate& test, const std::vector<Standing>& standings) {
    std::vector<double> outcomes;
    for (const Standing& standing : standings) {
        if (const auto* look = std::get_if<LookTest>(&test.test.tested)) {
            const bool here = shows(circuit, test, weighed.suspect(standing.suspect));
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
            const std::vector<const FaultMode*> modes = weighed.suspect(standing.suspect).modes();
            const bool other = std::any_of(modes.begin(), modes.end(), [&](const FaultMode* mode) {
                return mode->part == number->part && mode->is(ModeFact::wrong_rating);
            });
            outcomes.push_back(other ? wrong_number : 1 - wrong_number);
            outcomes.push_back(other ? 1 - wrong_number : wrong_number);
            continue;
        }
        if (test.kind == TestKind::wiggle) {
            const std::vector<const FaultMode*> modes = weighed.suspect(standing.suspect).modes();
            const std::string& handled = test.test.state.handled.front();
            const bool here = std::any_of(modes.begin(), modes.end(), [&](const FaultMode* mode) {
                return mode->is(ModeFact::may_touch) && is_handled_at(circuit, *mode, handled);
            });
            outcomes.push_back(here ? changes_where_handled : changes_elsewhere);
            outcomes.push_back(1 - outcomes.back());
            continue;
        }
        for (const double chance : words_shown(test, standing)) outcomes.push_back(chance);
    }
    if (test.makes) mix_as_made(weighed, test, standings, outcomes);
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
            p.sigma = read_sigma(variance, sigma_at(accuracy, test.kind, p.mean));
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
