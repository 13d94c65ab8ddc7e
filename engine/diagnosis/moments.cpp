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

double score_moments(std::span<const Moment> moments, Trigger trigger) {
    double sum = 0;
    for (std::size_t i = 0; i < moments.size(); ++i) {
        const Moment& base = moments[i];
        if (base.handled && base.beside) continue;  // scored with what it changed
        double shows = base.shows;
        double hides = base.hides;
        double chance = shows_under(trigger, base.under);
        const auto handle = [&](const Moment& moment, double& if_shown, double& if_hidden) {
            const double changes = moment.handled_here ? changes_where_handled : changes_elsewhere;
            if_shown += either(changes, moment.hides, moment.shows);
            if_hidden += either(changes, moment.shows, moment.hides);
        };
        if (base.handled && !base.told) {
            chance = shows_when_handled;
            shows = hides = 0;
            handle(base, shows, hides);
        }
        for (const Moment& moment : moments) {
            if (moment.handled && moment.beside == i) handle(moment, shows, hides);
        }
        sum += base.told ? shows : either(chance, shows, hides);
    }
    return sum;
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
