#include "engine/readings/triggers.hpp"

#include <algorithm>

#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

// All ASSUMED, as nobody has counted them.
/// While its condition is made, and while the opposite one is.
constexpr double shows_in_its_own = 0.9;
constexpr double shows_in_the_opposite = 0.05;
/// Some other condition neither brings it about nor keeps it away.
constexpr double shows_in_another = 0.3;
/// Every second one who brings a vehicle tells when it fails, and seldom names what has nothing to do with it.
constexpr double told_rightly = 0.5;
constexpr double told_wrongly = 0.04;

bool opposite(Trigger a, Trigger b) {
    return (a == Trigger::heat && b == Trigger::cold) || (a == Trigger::cold && b == Trigger::heat);
}

}  // namespace

TriggerShares trigger_shares(const FaultMode& mode) {
    switch (mode.fault_class) {
        case FaultClass::motor:
            return {0.35, 0.35, 0.10, 0.05, 0.15};
        case FaultClass::pack:
        case FaultClass::module:
            return {0.35, 0.45, 0.10, 0.05, 0.05};
        case FaultClass::switch_relay:
            return {0.35, 0.30, 0.10, 0.05, 0.20};
        default:
            break;
    }
    return {0.25, 0.20, 0.05, 0.15, 0.35};
}

std::string_view condition_word(Trigger trigger) {
    switch (trigger) {
        case Trigger::itself:
            return "";
        case Trigger::heat:
            return "hot";
        case Trigger::cold:
            return "cold";
        case Trigger::water:
            return "wet";
        case Trigger::movement:
            return "bump";
    }
    return "";
}

namespace {

std::optional<Trigger> condition_named(const std::vector<std::string>& words) {
    for (const std::string& word : words) {
        for (const Trigger trigger : all_triggers) {
            if (trigger != Trigger::itself && same_word(word, std::string(condition_word(trigger)))) return trigger;
        }
    }
    return std::nullopt;
}

}  // namespace

std::optional<Trigger> condition_made(const State& state) {
    return condition_named(state.conditions);
}

std::optional<Trigger> condition_made(const StatePhrase& state) {
    if (const auto named = condition_named(state.conditions)) return named;
    if (state.after_seconds && *state.after_seconds >= hot_after) return Trigger::heat;
    return std::nullopt;
}

double shows_under(Trigger trigger, std::optional<Trigger> condition) {
    if (!condition || trigger == Trigger::itself) return shows_by_itself;
    if (trigger == *condition) return shows_in_its_own;
    return opposite(trigger, *condition) ? shows_in_the_opposite : shows_in_another;
}

double shows_under(const TriggerShares& shares, std::optional<Trigger> condition) {
    double sum = 0;
    for (const Trigger trigger : all_triggers)
        sum += shares[static_cast<std::size_t>(trigger)] * shows_under(trigger, condition);
    return sum;
}

double told_with(Trigger trigger, std::optional<Trigger> condition) {
    if (condition) return trigger == *condition ? told_rightly : told_wrongly;
    const double named = (trigger == Trigger::itself ? 0 : told_rightly - told_wrongly) +
                         told_wrongly * static_cast<double>(trigger_count - 1);
    return 1 - named;
}

}  // namespace voltfall
