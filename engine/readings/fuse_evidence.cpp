#include "engine/readings/fuse_evidence.hpp"

#include <algorithm>
#include <cmath>

#include "engine/solve/fuse_types.hpp"
#include "netlists/tables/fuse_model.hpp"

namespace voltfall {

namespace {

// All chances here are ASSUMED.
constexpr double right_word = 0.97;
constexpr double wrong_word = 0.02;
constexpr double blown_in_guessed = 0.4;  ///< a fuse found blown, which would go only in a position that nobody named
constexpr double blown_elsewhere = 0.2;   ///< a fuse said to blow in one position, which would go in another
constexpr double goes_sometimes = 0.3;    ///< a fuse that ages goes sometimes
constexpr double goes_some_day = 0.2;     ///< and is found blown
/// A fuse that failed by itself, where fuses go again and again: a new one would hold (common practice, no source).
constexpr double fails_by_itself_again = 0.05;
constexpr double empty_called_blown = 0.05;
constexpr double empty_called_good = 0.005;

std::optional<double> opening_time(const CourseRef& course, PartId fuse) {
    for (const Event& event : course.aftermath()) {
        if (event.part == fuse) return event.seconds;
    }
    return std::nullopt;
}

/// How a typed time agrees with the computed one: fuses of one type spread by a factor of two or three between the
/// quickest and the slowest (`fuse_model`), people round, and few are far off (ASSUMED).
double time_agreement(double typed, double computed) {
    constexpr double far_off = 0.03;
    // Within a second or two is "at once" to whoever turned the switch.
    constexpr double moment = 1.5;
    // A factor of two either way is the spread of sound fuses.
    const double apart = std::abs(std::log((computed + moment) / (typed + moment))) - std::log(2.0);
    const double z = std::max(apart, 0.0) / std::log(2.5);
    return far_off + (1 - far_off) * std::exp(-0.5 * z * z);
}

/// A fuse that would open after a while is still whole where nobody left the switch on for so long.
double whole_so_long(std::optional<double> seconds) {
    constexpr double patience = 30;  // seconds after which half have switched off what does not run (ASSUMED)
    if (!seconds) return wrong_word;
    return wrong_word + (0.5 - wrong_word) * (1 - std::exp(-*seconds / patience));
}

/// A motor that is held or drags warms, and its current falls. By the time its winding is harmed, copper of 155 C has
/// half as many ohms more, beside what stays of the supply's volts over the current (DERIVED).
double warm_current(const Circuit& circuit, const Part& motor, double amps) {
    constexpr double more_ohms = 0.5;
    const double armature_ohms = std::get<Motor>(circuit.branch(motor.load_branch).law).armature_ohms;
    const double all_ohms = circuit.part(circuit.battery).value("charging volts") / std::abs(amps);
    return std::abs(amps) / (1 + more_ohms * std::min(1.0, armature_ohms / all_ohms));
}

/// A fuse whose current stands on the edge: of two sound ones one opens and one lets the motor burn (ASSUMED).
constexpr double on_the_edge = 0.5;

/// May a sound but slow fuse of the type hold, in some state in which the usual one opens?
bool may_hold(const WordContext& c, PartId fuse) {
    if (!c.mode || c.mode->fault_class != FaultClass::motor) return false;
    const Circuit& circuit = *c.questions.circuit;
    const Part& part = circuit.part(fuse);
    const FuseType type = type_of(*part.fuse);
    return std::any_of(c.solved.courses.begin(), c.solved.courses.end(), [&](const CourseRef& course) {
        if (!course || !opening_time(course, fuse)) return false;
        const double amps = course->faulted.point.amps[part.fuse->element.index];
        const double rating = course->faulted.network.ratings[fuse.index];
        // By the slowest part of the model: published limits would let any fuse hold for an hour at 135 %.
        const FuseModel slow = fuse_model(type, rating, Edge::latest);
        return std::isfinite(amps) &&
               !seconds_to_open(slow, {}, warm_current(circuit, circuit.part(c.mode->part), amps));
    });
}

/// The I2t of a motor's start above its running current, A2s: from standstill its current falls from V / R with the
/// time constant J R / k^2 (friction neglected), and I0^2 t / 2 is what passes (DERIVED from reference parts 1.4).
double start_i2t(const Motor& motor, double volts) {
    const double ohms = motor.armature_ohms;
    const double first = volts / ohms;
    return first * first * motor.inertia * ohms / (motor.constant * motor.constant) / 2;
}

/// Does a fuse that holds age in some state, so that it goes one day, or at one of the next starts? Above 75 % of its
/// rating for minutes, or starts above 50 % of its melting heat (rows F33 and F36 of the published fuse data).
bool ages(const WordContext& c, PartId fuse) {
    constexpr double continuous_share = 0.75;
    constexpr double start_share = 0.5;
    const Part& part = c.questions.circuit->part(fuse);
    const FuseType type = type_of(*part.fuse);
    return std::any_of(c.solved.courses.begin(), c.solved.courses.end(), [&](const CourseRef& course) {
        if (!course) return false;
        const Settled& settled = course->faulted;
        const double rating = settled.network.ratings[fuse.index];
        const double amps = std::abs(settled.point.amps[part.fuse->element.index]);
        if (!std::isfinite(amps) || amps <= 0) return false;
        if (amps > continuous_share * rating) return true;
        double i2t = 0;
        for (std::size_t i = 0; i < settled.network.branches.size(); ++i) {
            const NetworkBranch& branch = settled.network.branches[i];
            const auto* motor = std::get_if<Motor>(&branch.law);
            if (!motor || branch.turning == Turning::standing || motor->inertia <= 0) continue;
            // What the fuse does not carry is not behind it.
            if (!(std::abs(settled.point.amps[i]) <= amps * 1.01)) continue;
            i2t += start_i2t(*motor, c.questions.circuit->supply);
        }
        return i2t > start_share * fuse_melting_i2t(type, rating);
    });
}

}  // namespace

std::optional<double> earliest_opening(const Questions& questions, const SolvedCase& solved, PartId fuse,
                                       StatesAsked asked) {
    std::optional<double> first;
    for (std::size_t i = 0; i < solved.courses.size(); ++i) {
        const CourseRef& course = solved.courses[i];
        if (!course || (asked == StatesAsked::named && questions.states[i].guessed)) continue;
        if (const auto seconds = opening_time(course, fuse); seconds && (!first || *seconds < *first)) first = seconds;
    }
    return first;
}

double fuse_probability(const WordObservation& word, const FuseReading& reading, const WordContext& c) {
    const bool own = c.mode && c.mode->is(ModeFact::fuse_blown) && c.mode->part == reading.part;
    const bool fresh = !c.questions.reading(word.reading).state.fitted_new.empty();
    const bool no_fuse = c.mode && c.mode->is(ModeFact::fuse_missing) && c.mode->part == reading.part && !fresh;
    if (reading.word == "missing") return no_fuse ? right_word : seat_emptied;
    if (no_fuse) return reading.word == "good" ? empty_called_good : empty_called_blown;
    bool blown = false;
    std::optional<double> seconds;
    for (const std::size_t state : word.blown_at) {
        const auto time = opening_time(c.solved.courses[state], reading.part);
        blown |= time.has_value();
        if (time && (!seconds || *time < *seconds)) seconds = time;
    }
    bool elsewhere = false;
    bool guessed = false;
    if (word.blown_at.empty()) {
        seconds = earliest_opening(c.questions, c.solved, reading.part, StatesAsked::named);
        blown = seconds.has_value();
        // Nobody names the position in which the fuse would have gone.
        guessed = !blown && earliest_opening(c.questions, c.solved, reading.part, StatesAsked::all).has_value();
    } else if (!blown) {
        // A person may mistake the position in which an old fuse went; a fuse just fitted is watched.
        elsewhere = !fresh && c.solved.has_opened(reading.part);
    }
    // Another rating than the diagram's: where it holds for now, it may go on some day or at some start.
    const bool tired = !blown && !guessed && c.mode && c.mode->is(ModeFact::wrong_rating) &&
                       c.mode->part == reading.part && ages(c, reading.part);
    if (tired && reading.word != "good") return reading.word == "sometimes-blown" ? goes_sometimes : goes_some_day;
    const bool edge = !own && (blown || guessed) && may_hold(c, reading.part);
    const bool driven = blown || guessed;
    blown |= own && !fresh;
    if (edge && reading.word == "good") return on_the_edge;
    if (reading.word == "good") return blown || guessed ? whole_so_long(seconds) : right_word;
    if (reading.word == "sometimes-blown")
        return driven                                           ? 0.3
               : blown                                          ? fails_by_itself_again
               : c.mode && c.mode->is(ModeFact::only_sometimes) ? 0.1
                                                                : wrong_word;
    double probability = blown       ? (edge ? on_the_edge : right_word)
                         : guessed   ? blown_in_guessed
                         : elsewhere ? blown_elsewhere
                                     : wrong_word;
    if (blown && reading.after_seconds) probability *= seconds ? time_agreement(*reading.after_seconds, *seconds) : 0.3;
    return probability;
}

double number_probability(const Circuit& circuit, const RatingReading& reading) {
    constexpr double same_number = 0.02;   // share
    constexpr double also_wrong = 0.0006;  // any one other number (ASSUMED)
    const double rating = circuit.part(reading.part).fuse->rating_amps;
    const double amps = (reading.value.low + reading.value.high) / 2;
    return std::abs(amps / rating - 1) < same_number ? right_word : also_wrong;
}

double rating_probability(const RatingReading& reading, const WordContext& c) {
    constexpr double number_sigma = 0.1;  // logarithm: neighbouring ratings are a quarter apart
    const double elsewhere = number_probability(*c.questions.circuit, reading);
    const bool own = c.mode && c.mode->part == reading.part && c.mode->is(ModeFact::wrong_rating);
    if (!own) return elsewhere;
    const bool as_drawn = elsewhere == right_word;
    const double amps = (reading.value.low + reading.value.high) / 2;
    const double apart = std::log(amps / c.solved.faults.front().size) / number_sigma;
    return as_drawn ? 0 : std::exp(-0.5 * apart * apart);
}

}  // namespace voltfall
