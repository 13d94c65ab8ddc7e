#include "engine/diagnosis/reasons.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "engine/readings/rounding.hpp"

namespace voltfall {

namespace {

constexpr std::size_t most_reasons = 4;
/// A difference in ln likelihood that is worth a sentence.
constexpr double worth_saying = 1.0;
/// A number this near, in sigma, fits.
constexpr double fits_within = 2;
constexpr double alike_factor = 3;
constexpr double alike_sigmas = 0.5;

const NumberObservation* number_of(const Weighed& weighed, std::size_t reading, std::size_t& index) {
    for (std::size_t i = 0; i < weighed.questions.numbers.size(); ++i) {
        if (weighed.questions.numbers[i].reading != reading) continue;
        index = i;
        return &weighed.questions.numbers[i];
    }
    return nullptr;
}

bool is_amps(const Weighed& weighed, const NumberObservation& number) {
    return weighed.questions.cells[number.cells[0].second].is_amps;
}

/// "at M1.1", "from F7.2 to C101.4", "in 542".
std::string where_measured(const Weighed& weighed, std::size_t reading) {
    const Circuit& circuit = *weighed.questions.circuit;
    const Measurement& m = weighed.questions.reading(reading).measurement;
    if (const auto* amps = std::get_if<AmpsReading>(&m)) return "in " + circuit.wire(amps->wire).name;
    const auto* volts = std::get_if<VoltsReading>(&m);
    if (!volts) return {};
    const bool to_battery = volts->black.joints.size() == 1 && volts->black.joints[0] == circuit.reference;
    if (to_battery) return "at " + volts->red.text;
    return fmt::format("from {} to {}", volts->red.text, volts->black.text);
}

std::string typed_value(const Weighed& weighed, const NumberObservation& number) {
    const ReadValue& value = number.value;
    if (!number.exact()) return value.text;
    const int decimals =
        value.last_digit > 0 ? std::clamp(static_cast<int>(std::lround(-std::log10(value.last_digit))), 0, 3) : 2;
    return write_fixed(value.low, decimals) + (is_amps(weighed, number) ? " A" : " V");
}

std::string size_text(const Suspect& suspect) {
    const auto spread = size_spread(suspect);
    if (!spread || suspect.mode->is(ModeFact::outside_circuit)) return suspect.phrase();
    const Unit unit = suspect.mode->size->unit;
    const std::string low = two_digits(spread->low, unit);
    const std::string high = two_digits(spread->high, unit);
    return low == high ? low : low + " to " + high;
}

/// A number by itself is off by this many sigma: then no sentence needs the other readings.
constexpr double plainly_off = 2.5;

bool any_plainly_off(const Scorer& scorer, const Prediction& prediction) {
    for (std::size_t i = 0; i < scorer.questions().numbers.size(); ++i) {
        const Scorer::Residual own = scorer.residual(prediction, i);
        if (std::abs(own.residual) > plainly_off * own.sigma) return true;
    }
    return false;
}

/// Misfit of one number in sigmas: by itself; or beside the others, where all are near enough by themselves.
struct Misfit {
    double sigmas{0};
    double predicted{0};
    bool beside_others{false};
};

/// The misfits of one prediction: what weighs its numbers together is made once, when it is first needed.
class Misfits {
public:
    Misfits(const Scorer& scorer, const Prediction& prediction)
        : scorer_(scorer), prediction_(prediction), plainly_off_(any_plainly_off(scorer, prediction)) {}

    Misfit of(std::size_t number) {
        const Scorer::Residual own = scorer_.residual(prediction_, number);
        const double own_sigmas = std::abs(own.residual) / own.sigma;
        if (plainly_off_) return {own_sigmas, own.predicted, false};
        if (!prepared_) prepared_ = scorer_.prepare(prediction_);
        const Scorer::Residual given = scorer_.residual_given_others(prediction_, *prepared_, number);
        const double given_sigmas = std::abs(given.residual) / given.sigma;
        if (given_sigmas > own_sigmas) return {given_sigmas, given.predicted, true};
        return {own_sigmas, own.predicted, false};
    }

private:
    const Scorer& scorer_;
    const Prediction& prediction_;
    bool plainly_off_;
    std::optional<Scorer::Prepared> prepared_;
};

/// A suspect beside the leader.
struct TwoFits {
    TwoFits(const Scorer& scorer, const Suspect& suspect, const Suspect& leader)
        : of_suspect(scorer, suspect.at_best), of_leader(scorer, leader.at_best) {}
    Misfits of_suspect;
    Misfits of_leader;
};

/// How much worse the suspect explains the reading than the leader does, in ln likelihood.
double loss(const Weighed& weighed, const Scorer& scorer, const Suspect& suspect, const Suspect& leader,
            std::size_t reading, TwoFits& fits) {
    std::size_t index = 0;
    if (number_of(weighed, reading, index)) {
        const Misfit a = fits.of_suspect.of(index);
        const Misfit b = fits.of_leader.of(index);
        return 0.5 * (a.sigmas * a.sigmas - b.sigmas * b.sigmas);
    }
    return scorer.score_of_reading(leader.at_best, reading) - scorer.score_of_reading(suspect.at_best, reading);
}

/// Reading indices by falling loss, those worth a sentence.
std::vector<std::size_t> by_loss(const Weighed& weighed, const Scorer& scorer, const Suspect& suspect,
                                 const Suspect& leader, TwoFits& fits) {
    std::vector<std::pair<double, std::size_t>> losses;
    for (std::size_t i = 0; i < weighed.questions.job->readings.size(); ++i) {
        const double l = loss(weighed, scorer, suspect, leader, i, fits);
        if (l > worth_saying) losses.emplace_back(-l, i);
    }
    std::sort(losses.begin(), losses.end());
    std::vector<std::size_t> order;
    for (const auto& [l, i] : losses) order.push_back(i);
    return order;
}

/// Does the suspect show the reading as well as any suspect does? A reading may be thought wrong because others cannot.
bool explains(const Weighed& weighed, const Scorer& scorer, const Suspect& suspect, std::size_t reading,
              Misfits& misfits) {
    std::size_t index = 0;
    if (number_of(weighed, reading, index)) return misfits.of(index).sigmas <= fits_within;
    double best = -std::numeric_limits<double>::infinity();
    for (const Suspect& other : weighed.suspects) {
        if (other.at_best.ok) best = std::max(best, scorer.score_of_reading(other.at_best, reading));
    }
    return scorer.score_of_reading(suspect.at_best, reading) > best - worth_saying;
}

std::string quoted(const Reading& reading) {
    return "'" + reading.text + "'";
}

}  // namespace

std::vector<std::string> reasons_for(const Weighed& weighed, const Suspect& suspect) {
    std::vector<std::string> reasons;
    const Suspect& healthy = weighed.suspects.front();
    if (!suspect.mode || !suspect.at_best.ok || !healthy.at_best.ok) return reasons;
    const Scorer scorer(weighed.questions);
    TwoFits fits(scorer, healthy, suspect);
    for (const std::size_t i : by_loss(weighed, scorer, healthy, suspect, fits)) {
        if (reasons.size() == most_reasons) break;
        const Reading& reading = weighed.questions.reading(i);
        std::size_t index = 0;
        if (const NumberObservation* number = number_of(weighed, i, index)) {
            const Misfit own = fits.of_leader.of(index);
            const Misfit should = fits.of_suspect.of(index);
            if (own.sigmas > fits_within) continue;
            reasons.push_back(fmt::format("{}: {} {} fits {}; healthy would be {}", reading.id,
                                          typed_value(weighed, *number), where_measured(weighed, i), size_text(suspect),
                                          as_meter(should.predicted, is_amps(weighed, *number))));
        } else {
            reasons.push_back(
                fmt::format("{}: {} is to be expected; not from a healthy circuit", reading.id, quoted(reading)));
        }
    }
    return reasons;
}

std::vector<std::string> reasons_against(const Weighed& weighed, const Suspect& suspect, const Suspect& leader) {
    std::vector<std::string> reasons;
    if (!suspect.at_best.ok || !leader.at_best.ok) return reasons;
    const Scorer scorer(weighed.questions);
    const bool is_leader = &suspect == &leader;
    TwoFits fits(scorer, suspect, leader);
    std::vector<std::size_t> order = by_loss(weighed, scorer, suspect, leader, fits);
    if (is_leader) {
        // What the leader itself does not explain.
        for (std::size_t i = 0; i < weighed.wrong.size(); ++i) {
            if (weighed.wrong[i] > 0.25 && !explains(weighed, scorer, leader, i, fits.of_leader)) order.push_back(i);
        }
    }
    for (const std::size_t i : order) {
        if (reasons.size() == most_reasons) break;
        const Reading& reading = weighed.questions.reading(i);
        std::size_t index = 0;
        if (const NumberObservation* number = number_of(weighed, i, index)) {
            const Misfit own = fits.of_suspect.of(index);
            const std::string expected = as_meter(own.predicted, is_amps(weighed, *number));
            reasons.push_back(
                fmt::format("{}: {} would {} {} {}{}, not {}", reading.id, suspect.phrase(),
                            is_amps(weighed, *number) ? "draw" : "read", expected, where_measured(weighed, i),
                            own.beside_others ? " beside the other readings" : "", typed_value(weighed, *number)));
        } else {
            reasons.push_back(
                fmt::format("{}: {} is not to be expected from {}", reading.id, quoted(reading), suspect.phrase()));
        }
    }
    return reasons;
}

std::optional<std::size_t> strongest_against(const Weighed& weighed, const Suspect& suspect, const Suspect& leader) {
    if (!suspect.at_best.ok || !leader.at_best.ok) return std::nullopt;
    const Scorer scorer(weighed.questions);
    TwoFits fits(scorer, suspect, leader);
    const std::vector<std::size_t> order = by_loss(weighed, scorer, suspect, leader, fits);
    if (order.empty()) return std::nullopt;
    return order.front();
}

bool alike_so_far(const Weighed& weighed, const Suspect& a, const Suspect& b) {
    if (!a.at_best.ok || !b.at_best.ok) return false;
    if (std::abs(a.best.log_likelihood - b.best.log_likelihood) > std::log(alike_factor)) return false;
    const Scorer scorer(weighed.questions);
    for (std::size_t i = 0; i < weighed.questions.numbers.size(); ++i) {
        const Scorer::Residual one = scorer.residual(a.at_best, i);
        const Scorer::Residual two = scorer.residual(b.at_best, i);
        if (std::abs(one.predicted - two.predicted) > alike_sigmas * std::min(one.sigma, two.sigma)) return false;
    }
    return true;
}

}  // namespace voltfall
