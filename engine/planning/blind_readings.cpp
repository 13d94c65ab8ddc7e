#include "engine/planning/blind_readings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "engine/readings/prediction.hpp"
#include "engine/readings/rounding.hpp"
#include "netlists/tables/defaults.hpp"

namespace voltfall {

namespace {

constexpr double worth_asking = 0.005;
constexpr double shown_sigmas = 2;
/// A bulb test light takes about this much: a way that carries less is as good as unloaded, A.
constexpr double little_current = 0.5;

/// The most probable suspect whose size is ohms in series.
const Suspect* leading_ohms(const Weighed& weighed) {
    for (const std::size_t i : weighed.ranked()) {
        const Suspect& suspect = weighed.suspects[i];
        if (suspect.probability < worth_asking) break;
        if (suspect.mode && suspect.mode->is(ModeFact::poor_contact) && suspect.mode->size) return &suspect;
    }
    return nullptr;
}

/// Current through the suspected place in a healthy circuit, A.
double amps_through(const Suspect& suspect, const Predictor& predictor, std::size_t state) {
    const auto& settled = predictor.healthy().read[state];
    if (!settled) return 0;
    double most = 0;
    for (const Change& change : suspect.mode->changes(suspect.mode->size->usual, 0.5)) {
        const auto* ohms = std::get_if<AddOhms>(&change);
        if (!ohms) continue;
        const double amps = std::abs(settled->point.amps[ohms->branch.index]);
        if (std::isfinite(amps)) most = std::max(most, amps);
    }
    return most;
}

}  // namespace

std::vector<std::string> blind_readings(Simulator& simulator, const Weighed& weighed) {
    std::vector<std::string> notes;
    const Questions& questions = weighed.questions;
    const Suspect* suspect = leading_ohms(weighed);
    if (!suspect || questions.numbers.empty()) return notes;
    const Predictor predictor(simulator, questions);
    const Prediction healthy = predictor.predict(nullptr, {});
    if (!healthy.ok) return notes;
    const SizeRange& range = *suspect->mode->size;
    const auto count = static_cast<int>(default_value("grid_sizes"));
    std::vector<std::optional<double>> sees(questions.numbers.size());
    for (int k = 0; k < count; ++k) {
        const double low = scale_of(range, range.low);
        const double size = size_of(range, low + (scale_of(range, range.high) - low) * k / (count - 1));
        const Prediction p = predictor.predict(suspect->mode, {size, suspect->best.where});
        if (!p.ok) continue;
        for (std::size_t i = 0; i < questions.numbers.size(); ++i) {
            const NumberObservation& number = questions.numbers[i];
            const std::size_t cell = number.cells[0].second;
            const double sigma = std::hypot(std::sqrt(healthy.variance[cell]), number.sigma);
            if (!sees[i] && std::abs(p.mean[cell] - healthy.mean[cell]) > shown_sigmas * sigma) sees[i] = size;
        }
    }
    for (std::size_t i = 0; i < questions.numbers.size(); ++i) {
        const NumberObservation& number = questions.numbers[i];
        const Reading& reading = questions.reading(number.reading);
        const bool supply = reads_supply(*questions.circuit, reading.measurement);
        if (questions.cells[number.cells[0].second].is_amps || supply) continue;
        if (sees[i] && *sees[i] < least_blind_ohms) continue;
        if (amps_through(*suspect, predictor, questions.cells[number.cells[0].second].state) > little_current) continue;
        const std::string power = sees[i] ? "only from " + two_digits(*sees[i], range.unit) + " on" : "at no size";
        notes.push_back(fmt::format(
            "reading {} was taken with next to no current through {}: it could have shown its resistance {}; "
            "good volts without load prove little",
            reading.id, suspect->mode->place, power));
    }
    return notes;
}

}  // namespace voltfall
