#include "engine/diagnosis/moments.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "engine/readings/joint_normal.hpp"

namespace voltfall {

namespace {

// All ASSUMED, as nobody has counted them.
/// People move the harness while the fault is there to be seen.
constexpr double shows_when_handled = 0.8;

double either(double chance, double one, double other) {
    return log_add(std::log(chance) + one, std::log1p(-chance) + other);
}

}  // namespace

bool tells_of_moments(const Questions& questions) {
    return std::any_of(questions.states.begin(), questions.states.end(), [](const JobState& state) {
        return state.sometimes || !state.state.conditions.empty() || !state.state.handled.empty();
    });
}

namespace {

/// One moment with nothing handled: ln of what was seen in it, and of what changed when something was handled then.
struct Shown {
    double shows{};
    double hides{};
    const Moment* moment{};
};

/// Those that follow one another in time, in order. What is told of shows for certain, and what is handled with no look
/// before it stands by itself: their likelihood is added to `log`.
std::vector<Shown> in_order(std::span<const Moment> moments, double& log) {
    std::vector<Shown> chain;
    for (std::size_t i = 0; i < moments.size(); ++i) {
        const Moment& base = moments[i];
        if (base.handled && base.beside) continue;  // scored with what it changed
        Shown shown{base.shows, base.hides, &base};
        const auto handle = [&](const Moment& moment) {
            const double changes = moment.handled_here ? changes_where_handled : changes_elsewhere;
            shown.shows += either(changes, moment.hides, moment.shows);
            shown.hides += either(changes, moment.shows, moment.hides);
        };
        const bool by_itself = base.handled && !base.told;
        if (by_itself) {
            shown.shows = shown.hides = 0;
            handle(base);
        }
        for (const Moment& moment : moments) {
            if (moment.handled && moment.beside == i) handle(moment);
        }
        if (base.told)
            log += shown.shows;
        else if (by_itself)
            log += either(shows_when_handled, shown.shows, shown.hides);
        else
            chain.push_back(shown);
    }
    std::stable_sort(chain.begin(), chain.end(),
                     [](const Shown& a, const Shown& b) { return a.moment->at < b.moment->at; });
    return chain;
}

}  // namespace

MomentsScore follow_moments(std::span<const Moment> moments, Trigger trigger) {
    MomentsScore score;
    const Moment* before = nullptr;
    double there = 0;
    for (const Shown& shown : in_order(moments, score.log)) {
        const Moment& moment = *shown.moment;
        const double anew = shows_under(trigger, moment.under);
        if (moment.earlier) {
            score.log += either(anew, shown.shows, shown.hides);
            continue;
        }
        const bool follows = before != nullptr && before->under == moment.under;
        const double expected = follows ? stays_as_it_is * there + (1 - stays_as_it_is) * anew : anew;
        const double log = either(expected, shown.shows, shown.hides);
        there = std::exp(std::log(expected) + shown.shows - log);
        score.log += log;
        before = &moment;
    }
    if (before != nullptr) {
        score.there = there;
        score.under = before->under;
    }
    return score;
}

double score_moments(std::span<const Moment> moments, Trigger trigger) {
    return follow_moments(moments, trigger).log;
}

double score_conditions_told(std::span<const Moment> moments, Trigger trigger) {
    // One person tells of all positions: what is said once counts once.
    std::vector<std::optional<Trigger>> told;
    for (const Moment& moment : moments) {
        if (moment.told && std::find(told.begin(), told.end(), moment.under) == told.end())
            told.push_back(moment.under);
    }
    double sum = 0;
    for (const auto& condition : told) {
        // Beside a condition that is named, telling it once more without adds nothing.
        if (condition || told.size() == 1) sum += std::log(told_with(trigger, condition));
    }
    return sum;
}

}  // namespace voltfall
