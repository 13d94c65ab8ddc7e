#include "engine/planning/made_conditions.hpp"

#include <algorithm>
#include <cmath>

#include "engine/planning/information.hpp"
#include "netlists/tables/defaults.hpp"

namespace voltfall {

namespace {

// ASSUMED, all four.
/// A look so unlikely in a sound vehicle has shown the fault.
constexpr double not_sound = 0.15;
/// What comes and goes by this condition must be so probable among all that is suspected.
constexpr double worth_making = 0.08;
/// Tests that are taken while the condition lasts, at most.
constexpr double most_tests_behind = 3;
/// Tests whose worth while the fault is there is worked out.
constexpr std::size_t most_valued = 6;

double minutes_to_make(Trigger trigger) {
    switch (trigger) {
        case Trigger::heat:
            return default_value("minutes_run_hot");
        case Trigger::cold:
            return default_value("minutes_cold_start");
        case Trigger::water:
            return default_value("minutes_wetting");
        case Trigger::movement:
            return default_value("minutes_wiggle");
        case Trigger::itself:
            break;
    }
    return 0;
}

/// ln-free: P(what was seen | sound vehicle), the least over the reading's words.
double sound_chance(const Weighed& weighed, std::size_t reading) {
    const Prediction& sound = weighed.suspects.front().at_best;
    double least = 1;
    for (std::size_t w = 0; w < weighed.questions.words.size() && w < sound.words.size(); ++w) {
        if (weighed.questions.words[w].reading == reading) least = std::min(least, sound.words[w]);
    }
    return least;
}

bool is_a_look(const Reading& reading) {
    return std::holds_alternative<LoadReading>(reading.measurement) && !reading.state.sometimes &&
           !reading.state.earlier;
}

bool looked_in(const Job& job, Trigger trigger) {
    return std::any_of(job.readings.begin(), job.readings.end(), [&](const Reading& reading) {
        return is_a_look(reading) && condition_made(reading.state) == trigger;
    });
}

/// The position of the first complaint that names one, as it is set by hand. Nothing where no fault is told that is
/// there sometimes.
std::optional<StatePhrase> complained_of(const Job& job, const Weighed& weighed) {
    for (std::size_t i = 0; i < job.readings.size(); ++i) {
        const Reading& reading = job.readings[i];
        if (!std::holds_alternative<LoadReading>(reading.measurement) || reading.state.settings.empty()) continue;
        if (!reading.state.sometimes || sound_chance(weighed, i) > not_sound) continue;
        StatePhrase phrase;
        phrase.settings = reading.state.settings;
        for (ControlSetting& setting : phrase.settings) setting.positions = {setting.positions.back()};
        phrase.key = reading.state.key;
        return phrase;
    }
    return std::nullopt;
}

/// How probable it is that something is there that comes and goes by this trigger.
double mass_of(const Weighed& weighed, Trigger trigger) {
    double sum = 0;
    for (std::size_t i = 0; i < weighed.all(); ++i) {
        const Going& going = weighed.suspect(i).going;
        sum += weighed.chance(i) * going.share * going.triggers[static_cast<std::size_t>(trigger)];
    }
    return sum;
}

}  // namespace

std::optional<Trigger> condition_now(const Job& job, const Weighed& weighed) {
    std::optional<Trigger> now;
    const StatePhrase* shown_in = nullptr;
    for (std::size_t i = 0; i < job.readings.size(); ++i) {
        if (!is_a_look(job.readings[i])) continue;
        const StatePhrase& state = job.readings[i].state;
        const auto condition = condition_made(state);
        if (!condition) continue;
        if (sound_chance(weighed, i) < not_sound) {
            now = condition;
            shown_in = &state;
        } else if (now == condition && shown_in->settings == state.settings) {
            // Another position may be well although the fault is there.
            now.reset();
        }
    }
    return now;
}

std::vector<MadeCondition> conditions_to_make(const Job& job, const Weighed& weighed, const StatePhrase& busiest) {
    std::vector<MadeCondition> list;
    const StatePhrase position = complained_of(job, weighed).value_or(busiest);
    for (const Trigger trigger : all_triggers) {
        if (trigger == Trigger::itself || mass_of(weighed, trigger) < worth_making || looked_in(job, trigger)) continue;
        StatePhrase phrase = position;
        phrase.conditions = {std::string(condition_word(trigger))};
        list.push_back({trigger, std::move(phrase), minutes_to_make(trigger)});
    }
    return list;
}

double minutes_to_keep(Trigger condition) {
    switch (condition) {
        case Trigger::heat:
        case Trigger::itself:
            return 0;
        case Trigger::cold:
            return default_value("minutes_cold_start");
        case Trigger::water:
        case Trigger::movement:
            return 1;  // a second hand, or the spray once more; ASSUMED
    }
    return 0;
}

double seconds_run(Trigger condition) {
    return condition == Trigger::heat ? 60 * default_value("minutes_run_hot") : 0;
}

bool looks_for_complaint(const Job& job, const Weighed& weighed, const TestCandidate& test) {
    if (!std::holds_alternative<LoadTest>(test.test.tested) || !test.test.state.handled.empty()) return false;
    if (test.makes) return true;
    const auto complaint = complained_of(job, weighed);
    return complaint && complaint->settings == test.test.state.settings;
}

double bits_seen_with_it(const Outlook& outlook, const TestCandidate& test, double best_bits) {
    const Standings& now = outlook.standings;
    const std::optional<Trigger> as_it_is = outlook.future.condition;
    const std::optional<Trigger> under = test.makes ? test.makes : as_it_is;
    // What would stand, were the fault seen in that condition: what comes about by it is there nearly always.
    Standings then;
    then.groups = now.groups;
    double seen = 0;
    double all = 0;
    for (const Standing& standing : now.list) {
        const Going& going = outlook.suspect(standing.suspect).going;
        const double chance = going.there(under);
        all += standing.weight;
        seen += standing.weight * going.share * going.shows(under);
        Going shown = going;
        double sum = 0;
        for (const Trigger trigger : all_triggers) {
            double& share = shown.triggers[static_cast<std::size_t>(trigger)];
            sum += share *= shows_under(trigger, under);
        }
        for (double& share : shown.triggers) share /= sum;
        shown.last = 1;
        shown.last_under = under;
        const double before = going.there(as_it_is);
        const double there = shown.there(under);
        Standing& kept = then.list.emplace_back(standing);
        kept.weight *= chance * (standing.hides ? (1 - there) / std::max(1 - before, 1e-9) : there / before);
    }
    std::vector<std::pair<double, std::size_t>> order;
    for (std::size_t i = 0; i < outlook.future.tests.size(); ++i) {
        const TestCandidate& other = outlook.future.tests[i];
        // What a look or a hand tells does not wait for the fault to be there.
        if (!other.is_number() || other.makes || other.idle) continue;
        if (other.reads_supply && outlook.is_supply_unknown(other)) continue;
        order.emplace_back(-outlook.bits(other), i);
    }
    std::sort(order.begin(), order.end());
    if (order.size() > most_valued) order.resize(most_valued);
    double best_then = 0;
    for (const auto& [bits, i] : order)
        best_then = std::max(best_then, bits_of(outlook.circuit, outlook.job, *outlook.weighed, outlook.future.tests[i],
                                                then, SupplyKnown::no));
    if (best_then <= best_bits || all <= 0) return 0;
    // Each of the tests behind it tells so much more, until no doubt is left.
    std::vector<double> shares;
    for (const RepairGroup& group : now.groups) shares.push_back(group.probability);
    const double tests = std::min(entropy(shares) / best_then, most_tests_behind);
    return seen / all * tests * (best_then - best_bits);
}

}  // namespace voltfall
