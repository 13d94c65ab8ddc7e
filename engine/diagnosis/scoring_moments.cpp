// The likelihood of readings under a fault that comes and goes: what was looked at and measured, as moments.
#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/diagnosis/moments.hpp"
#include "engine/diagnosis/scoring.hpp"
#include "engine/readings/measurement_facts.hpp"

namespace voltfall {

namespace {

/// The moment of the same state with nothing handled.
template <class Bare>
std::optional<std::size_t> moment_beside(const std::vector<Moment>& moments, const std::vector<Bare>& states,
                                         const Bare& state) {
    for (std::size_t i = 0; i < states.size(); ++i) {
        if (!moments[i].handled && states[i] == state) return i;
    }
    return std::nullopt;
}

/// Is the other state one of those that this one speaks of: the same with all its positions among this one's? Minutes
/// count only where the other tells them.
bool speaks_of(StatePhrase one, const StatePhrase& other) {
    if (one.settings.size() != other.settings.size()) return false;
    for (const ControlSetting& setting : other.settings) {
        const auto same = std::find_if(one.settings.begin(), one.settings.end(),
                                       [&](const ControlSetting& s) { return s.part == setting.part; });
        if (same == one.settings.end()) return false;
        const bool among = std::all_of(setting.positions.begin(), setting.positions.end(), [&](std::size_t position) {
            return std::find(same->positions.begin(), same->positions.end(), position) != same->positions.end();
        });
        if (!among) return false;
    }
    one.settings = other.settings;
    if (!other.after_seconds) one.after_seconds.reset();
    one.sometimes = other.sometimes;
    return one == other;
}

}  // namespace

double Going::shows(std::optional<Trigger> condition) const {
    const double anew = shows_under(triggers, condition);
    return last && last_under == condition ? stays_as_it_is * *last + (1 - stays_as_it_is) * anew : anew;
}

double Scorer::Moments::score(Trigger trigger) const {
    return score_moments(list, trigger) + score_conditions_told(list, trigger);
}

bool Scorer::Moments::name_conditions() const {
    return std::any_of(list.begin(), list.end(), [](const Moment& moment) { return moment.under.has_value(); });
}

double Scorer::score_coming_and_going(const Prediction& shows, const Prediction& hides) const {
    const Moments moments = moments_of(shows, hides);
    if (!moments.name_conditions()) return moments.lasting + score_moments(moments.list, Trigger::itself);
    double sum = -std::numeric_limits<double>::infinity();
    for (const Trigger trigger : all_triggers)
        sum = log_add(sum, std::log(shows.triggers[static_cast<std::size_t>(trigger)]) + moments.score(trigger));
    return moments.lasting + sum;
}

Going Scorer::going_of(Story story, const Prediction& shows, const Prediction& hides) const {
    Going going;
    if (story != Story::intermittent && story != Story::may_come_and_go) return going;
    going.share = 1;
    if (story == Story::may_come_and_go) {
        const double lasts = std::log(lasting_though_loose) + score_lasting(shows);
        const double goes = std::log1p(-lasting_though_loose) + score_coming_and_going(shows, hides);
        going.share = std::exp(goes - log_add(lasts, goes));
    }
    const Moments moments = moments_of(shows, hides);
    std::vector<double> logs;
    std::vector<MomentsScore> followed;
    for (const Trigger trigger : all_triggers) {
        followed.push_back(follow_moments(moments.list, trigger));
        logs.push_back(std::log(shows.triggers[static_cast<std::size_t>(trigger)]) + followed.back().log +
                       score_conditions_told(moments.list, trigger));
    }
    const std::vector<double> weights = weights_of_logs(logs);
    std::copy(weights.begin(), weights.end(), going.triggers.begin());
    if (!followed.front().there) return going;
    going.last = 0;
    going.last_under = followed.front().under;
    for (std::size_t i = 0; i < trigger_count; ++i) *going.last += weights[i] * *followed[i].there;
    return going;
}

Scorer::Moments Scorer::moments_of(const Prediction& shows, const Prediction& hides) const {
    Moments all;
    add_measured(shows, hides, all.list);
    all.lasting = add_seen(shows, hides, all.list);
    return all;
}

void Scorer::add_measured(const Prediction& shows, const Prediction& hides, std::vector<Moment>& moments) const {
    std::vector<State> measured;
    for (std::size_t state = 0; state < questions_.states.size(); ++state) {
        const auto first = first_number_in(state);
        if (!first) continue;
        State bare = questions_.states[state].state;
        Moment& moment = moments.emplace_back();
        moment.shows = score_numbers(shows, prepare(shows, state), state, nullptr);
        moment.hides = score_numbers(hides, prepare(hides, state), state, nullptr);
        moment.under = condition_made(questions_.reading(*first).state);
        moment.at = *first;
        moment.earlier = questions_.reading(*first).state.earlier;
        moment.handled = !bare.handled.empty();
        moment.handled_here = shows.handled_here[state];
        bare.handled.clear();
        moment.beside = moment_beside(moments, measured, bare);
        measured.push_back(std::move(bare));
    }
}

double Scorer::add_seen(const Prediction& shows, const Prediction& hides, std::vector<Moment>& moments) const {
    double lasting = 0;
    const std::size_t first_look = moments.size();
    std::vector<const Statement*> looks;
    for (const Statement& statement : statements_) {
        const Reading& said = questions_.reading(statement.readings.front());
        const double showing = say(statement, shows, Stays::comes_and_goes, nullptr);
        // A look or a fuse stays as it is.
        if (!facts_of(said.measurement).of_a_moment) {
            lasting += showing;
            continue;
        }
        Moment& moment = moments.emplace_back();
        moment.shows = showing;
        // `sometimes` speaks of the moments in which the fault shows.
        moment.told = said.state.sometimes;
        if (!moment.told) moment.hides = say(statement, hides, Stays::comes_and_goes, nullptr);
        moment.under = condition_made(said.state);
        moment.at = statement.readings.front();
        moment.earlier = said.state.earlier;
        moment.handled = !said.state.handled.empty();
        moment.handled_here = is_handled_here(statement, shows);
        looks.push_back(&statement);
    }
    const std::vector<Moment> seen(moments.begin() + static_cast<std::ptrdiff_t>(first_look), moments.end());
    for (std::size_t i = 0; i < seen.size(); ++i) {
        if (!seen[i].handled || seen[i].told) continue;
        if (const auto beside = look_beside(seen, looks, i)) moments[first_look + i].beside = first_look + *beside;
    }
    // Who tells of no `sometimes` has seen it stay as it is.
    const bool told = std::any_of(statements_.begin(), statements_.end(), [&](const Statement& statement) {
        return questions_.reading(statement.readings.front()).state.sometimes;
    });
    if (!told && !seen.empty()) lasting += std::log((1 - sometimes_if_loose) / (1 - sometimes_if_lasting));
    return lasting;
}

std::optional<std::size_t> Scorer::first_number_in(std::size_t state) const {
    // Numbers stand in the order of the readings.
    for (const NumberObservation& number : questions_.numbers) {
        if (state_of(number) == state) return number.reading;
    }
    return std::nullopt;
}

std::optional<std::size_t> Scorer::look_beside(const std::vector<Moment>& moments,
                                               const std::vector<const Statement*>& looks, std::size_t of) const {
    Test bare = test_of(questions_.reading(looks[of]->readings.front()));
    bare.state.handled.clear();
    const auto may_be = [&](std::size_t i) {
        if (moments[i].handled) return false;
        return std::any_of(looks[i]->readings.begin(), looks[i]->readings.end(), [&](std::size_t reading) {
            const Test test = test_of(questions_.reading(reading));
            return test.tested == bare.tested && speaks_of(test.state, bare.state);
        });
    };
    for (std::size_t i = of; i-- > 0;) {
        if (!moments[i].told && may_be(i)) return i;
    }
    for (std::size_t i = 0; i < moments.size(); ++i) {
        if (moments[i].told && may_be(i)) return i;
    }
    return std::nullopt;
}

bool Scorer::is_handled_here(const Statement& statement, const Prediction& p) const {
    return std::any_of(statement.words.begin(), statement.words.end(), [&](std::size_t word) {
        const auto& in = questions_.words[word].states;
        return std::any_of(in.begin(), in.end(), [&](const auto& state) { return p.handled_here[state.second]; });
    });
}

}  // namespace voltfall
