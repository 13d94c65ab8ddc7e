#include "engine/diagnosis/priors.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numeric>

#include "netlists/tables/defaults.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// Nothing is wrong with the circuit (air side, customer, gone today), and a cause that the catalogue does not hold.
/// ASSUMED.
constexpr double prior_nothing = 0.04;
constexpr double prior_none = 0.02;
/// A part just fitted is rarely the root (files.md); how rarely is ASSUMED.
constexpr double newly_fitted = 0.3;
/// Factors on what may have killed a part for the second time, and the words that tell it (ASSUMED): a new part that
/// helps for a while was moved in its plug; and a pack burns by its motor.
constexpr double plug_of_a_second_victim = 10.0;
constexpr double motor_of_a_second_victim = 3.0;
constexpr std::array<std::string_view, 5> again_words{"second", "third", "fourth", "fifth", "again"};
constexpr std::array<std::string_view, 2> helped_words{"worked at first", "each worked"};
constexpr std::array<std::string_view, 4> at_once_words{"today", "just now", "no change", "no help"};
/// A part that has run for a year is as old as any (ASSUMED): it is not just fitted, and that it worked at first says
/// nothing.
constexpr std::array<std::string_view, 3> long_ago_words{"year ago", "years ago", "last year"};
/// Earlier repairs leave poor joints behind (ASSUMED).
constexpr double repaired_before = 2.0;
/// Factor on swapped wires after somebody has worked on the wiring, and the words that tell it (ASSUMED): wires do not
/// change places by themselves.
constexpr double wiring_was_worked_on = 8.0;
constexpr double wiring_was_left_alone = 0.5;
constexpr std::array<std::string_view, 8> wiring_work{"harness",  "rewired", "wiring",   "loom",
                                                      "accident", "splice",  "repaired", "converted"};
/// Only one of `hot` and `rubs`: half of the factor of both, in logarithm (ASSUMED).
constexpr double one_of_hot_rubs_power = 0.5;

bool has(const std::vector<std::string>& words, std::string_view word) {
    return std::find(words.begin(), words.end(), word) != words.end();
}

double care_factor(const std::vector<std::string>& words, const FaultMode& mode) {
    const bool is_resistance = mode.is(ModeFact::poor_contact);
    const bool is_open = mode.is(ModeFact::lost_contact);
    double factor = 1;
    if (mode.is(ModeFact::rubbed_to_metal)) {
        const bool hot = has(words, "hot");
        const bool rubs = has(words, "rubs");
        const double both = default_value("prior_hot_rubs");
        if (hot && rubs) {
            factor *= both;
        } else if (hot || rubs) {
            factor *= std::pow(both, one_of_hot_rubs_power);
        }
    }
    if ((has(words, "wet") || has(words, "rust")) && (is_resistance || is_open))
        factor *= default_value("prior_wet_rust");
    if (has(words, "heat-cycled") && is_resistance) factor *= default_value("prior_heat_cycled");
    if (has(words, "repaired-before") && (is_resistance || is_open)) factor *= repaired_before;
    return factor;
}

template <std::size_t count>
bool says_one_of(const std::array<std::string_view, count>& list, const std::string& words) {
    const std::string text = lower(words);
    return std::any_of(list.begin(), list.end(),
                       [&](std::string_view word) { return text.find(word) != std::string::npos; });
}

bool is_long_ago(const std::string& words) {
    return says_one_of(long_ago_words, words);
}

/// Words that say that the new part is not the first one, or that it went the way of the old one.
bool is_second(const std::string& words) {
    return says_one_of(again_words, words) || (says_one_of(helped_words, words) && !is_long_ago(words));
}

/// Words that say that a new part mended it for a while: what killed the one before it has killed it too, and it is no
/// rarer now than a part that nobody has changed.
bool failed_again(const std::string& words) {
    return is_second(words) && !says_one_of(at_once_words, words);
}

/// A victim that failed twice has its cause elsewhere: in its plug and socket, and for a pack in the motor behind it.
double second_victim_factor(const Circuit& circuit, const Job& job, const FaultMode& mode) {
    double factor = 1;
    for (const Fitted& fitted : job.fitted) {
        if (!fitted.part.valid() || !is_second(fitted.words)) continue;
        if (mode.fault_class == FaultClass::joint && mode.part == fitted.part)
            factor = std::max(factor, plug_of_a_second_victim);
        if (!circuit.part(fitted.part).coils.empty() && mode.fault_class == FaultClass::motor)
            factor = std::max(factor, motor_of_a_second_victim);
    }
    return factor;
}

/// A part is a thing; so is a wire; so is each contact. Wires in each other's place are one thing of the circuit.
std::string counted_thing(const FaultMode& mode) {
    return mode.fault_class == FaultClass::miswired ? std::string() : mode.place;
}

/// Somebody has worked on the wiring, as the job tells.
bool tells_of_wiring_work(const Job& job) {
    const auto tells = [](const std::string& line) {
        const std::string text = lower(line);
        return std::any_of(wiring_work.begin(), wiring_work.end(),
                           [&](std::string_view word) { return text.find(word) != std::string::npos; });
    };
    return tells(job.concern) || std::any_of(job.history.begin(), job.history.end(), tells);
}

/// Of the joints in the confirmed blower cases about half had burnt under load (plugs of packs 4, feeds and fuse boxes
/// 2, motor leads 1, a fuse 1), the others were loose or poor grounds whatever they carried. That burning grows with
/// the current is ASSUMED. 1 at `usual_amps`.
double burn_factor(double amps) {
    constexpr double burnt = 0.5;
    constexpr double usual_amps = 10;
    return 1 - burnt + burnt * amps / usual_amps;
}

}  // namespace

Priors priors_of(const Circuit& circuit, const Job& job, std::span<const double> carried, const CauseShares& causes) {
    std::map<std::pair<FaultClass, std::string>, double> shares;
    for (const ModePtr& mode : circuit.modes) {
        if (!mode->catalogued) continue;
        shares[{mode->fault_class, counted_thing(*mode)}] += mode->share;
    }
    const CircuitPurpose purpose = purpose_of(circuit);
    const bool worked_on_wiring = tells_of_wiring_work(job);
    Priors priors;
    priors.nothing = prior_nothing;
    priors.none = prior_none;
    for (const ModePtr& mode : circuit.modes) {
        double& prior = priors.modes.emplace_back(0.0);
        const double all = shares[{mode->fault_class, counted_thing(*mode)}];
        if (!mode->catalogued || all <= 0) continue;
        prior = causes.of_thing(circuit, *mode, purpose) * mode->share / all;
        if (!carried.empty() && mode->fault_class == FaultClass::joint)
            prior *= burn_factor(carried[priors.modes.size() - 1]);
        if (mode->fault_class == FaultClass::miswired)
            prior *= worked_on_wiring ? wiring_was_worked_on : wiring_was_left_alone;
        prior *= care_factor(care_words(circuit, job, mode->place), *mode);
        const PartId part = circuit.find_part(mode->repair);
        const bool fitted = part.valid() && std::any_of(job.fitted.begin(), job.fitted.end(), [&](const Fitted& f) {
                                return f.part == part && !is_long_ago(f.words);
                            });
        const bool of_new_plug = std::any_of(job.fitted.begin(), job.fitted.end(), [&](const Fitted& f) {
            return !f.plug.empty() && is_cavity_of(mode->place, f.plug) && !is_long_ago(f.words);
        });
        const bool again = fitted && std::any_of(job.fitted.begin(), job.fitted.end(), [&](const Fitted& f) {
                               return f.part == part && failed_again(f.words);
                           });
        if ((fitted && !again) || of_new_plug) prior *= newly_fitted;
        // A plug is repaired apart from its part; a part's own terminals go with it.
        if (!fitted) prior *= second_victim_factor(circuit, job, *mode);
    }
    const double sum = std::accumulate(priors.modes.begin(), priors.modes.end(), 0.0);
    for (double& prior : priors.modes) prior *= (1 - prior_nothing - prior_none) / sum;
    return priors;
}

}  // namespace voltfall
