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

// No case table counts these, so they are small and ASSUMED. A load other than a motor (clutch, lamp, heater) fails
// about as often as a pack; a battery that is the cause of one load's complaint is rare.
constexpr double prior_load = 0.15;
constexpr double prior_battery = 0.03;
/// Nothing is wrong with the circuit (air side, customer, gone today), and a cause that the catalogue does not hold.
/// ASSUMED.
constexpr double prior_nothing = 0.03;
constexpr double prior_none = 0.02;
/// A part just fitted is rarely the root (files.md); how rarely is ASSUMED.
constexpr double newly_fitted = 0.3;
/// Factor on what may have killed a part for the second time, and the words that tell it (ASSUMED).
constexpr double beside_a_second_victim = 3.0;
constexpr std::array<std::string_view, 7> again_words{"second", "third",           "fourth",     "fifth",
                                                      "again",  "worked at first", "each worked"};
/// Earlier repairs leave poor joints behind (ASSUMED).
constexpr double repaired_before = 2.0;
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

/// Words that say that the new part is not the first one.
bool is_second(const std::string& words) {
    const std::string text = lower(words);
    return std::any_of(again_words.begin(), again_words.end(),
                       [&](std::string_view word) { return text.find(word) != std::string::npos; });
}

/// A victim that failed twice has its cause elsewhere: in its plug and socket, and for a pack in the motor behind it.
bool failed_again_beside(const Circuit& circuit, const Job& job, const FaultMode& mode) {
    return std::any_of(job.fitted.begin(), job.fitted.end(), [&](const Fitted& fitted) {
        if (!is_second(fitted.words)) return false;
        const bool its_joint = mode.fault_class == FaultClass::joint && mode.part == fitted.part;
        const bool its_motor = !circuit.part(fitted.part).coils.empty() && mode.fault_class == FaultClass::motor;
        return its_joint || its_motor;
    });
}

/// A part is a thing; so is a wire; so is each contact.
std::string thing_of(const FaultMode& mode) {
    return mode.place;
}

/// Things of a class in the circuits of the cases that the shares were counted in, on average (scenarios/cases).
double things_usual(FaultClass fault_class) {
    switch (fault_class) {
        case FaultClass::joint:
            return 25;
        case FaultClass::wire:
            return 10;
        case FaultClass::switch_relay:
        case FaultClass::fuse_itself:
            return 1.5;
        case FaultClass::motor:
        case FaultClass::pack:
        case FaultClass::battery:
        case FaultClass::load:
        case FaultClass::outside:
            return 1;
    }
    return 1;
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

CircuitPurpose purpose_of(const Circuit& circuit) {
    const bool pack =
        std::any_of(circuit.parts.begin(), circuit.parts.end(), [](const Part& part) { return !part.coils.empty(); });
    const bool called = std::any_of(circuit.controls.begin(), circuit.controls.end(), [](const Control& control) {
        return lower(control.word).find("blower") != std::string::npos;
    });
    return pack || called ? CircuitPurpose::blower : CircuitPurpose::other;
}

double class_share(FaultClass fault_class, CircuitPurpose purpose) {
    const auto share = [&](const char* blower, const char* other) {
        return default_value(purpose == CircuitPurpose::blower ? blower : other);
    };
    switch (fault_class) {
        case FaultClass::joint:
            return share("prior_joint", "prior_other_joint");
        case FaultClass::motor:
            return share("prior_motor", "prior_other_motor");
        case FaultClass::pack:
            return share("prior_pack", "prior_other_pack");
        case FaultClass::wire:
            return share("prior_wire", "prior_other_wire");
        case FaultClass::switch_relay:
            return share("prior_switch_relay", "prior_other_switch_relay");
        case FaultClass::fuse_itself:
            return default_value("prior_fuse_itself");
        case FaultClass::battery:
            return prior_battery;
        case FaultClass::load:
            return purpose == CircuitPurpose::blower ? prior_load : default_value("prior_other_load");
        case FaultClass::outside:
            return default_value("prior_outside");
    }
    return 0;
}

Priors priors_of(const Circuit& circuit, const Job& job, std::span<const double> carried) {
    std::map<std::pair<FaultClass, std::string>, double> shares;
    for (const ModePtr& mode : circuit.modes) {
        if (!mode->catalogued) continue;
        shares[{mode->fault_class, thing_of(*mode)}] += mode->share;
    }
    const CircuitPurpose purpose = purpose_of(circuit);
    Priors priors;
    priors.nothing = prior_nothing;
    priors.none = prior_none;
    for (const ModePtr& mode : circuit.modes) {
        double& prior = priors.modes.emplace_back(0.0);
        const double all = shares[{mode->fault_class, thing_of(*mode)}];
        if (!mode->catalogued || all <= 0) continue;
        prior = class_share(mode->fault_class, purpose) / things_usual(mode->fault_class) * mode->share / all;
        if (!carried.empty() && mode->fault_class == FaultClass::joint)
            prior *= burn_factor(carried[priors.modes.size() - 1]);
        prior *= care_factor(care_words(circuit, job, mode->place), *mode);
        const PartId part = circuit.find_part(mode->repair);
        const bool fitted = part.valid() && std::any_of(job.fitted.begin(), job.fitted.end(),
                                                        [&](const Fitted& f) { return f.part == part; });
        if (fitted) prior *= newly_fitted;
        if (!fitted && failed_again_beside(circuit, job, *mode)) prior *= beside_a_second_victim;
    }
    const double sum = std::accumulate(priors.modes.begin(), priors.modes.end(), 0.0);
    if (sum > 0) {
        for (double& prior : priors.modes) prior *= (1 - prior_nothing - prior_none) / sum;
    }
    return priors;
}

}  // namespace voltfall
