#include "engine/readings/word_tables.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>

#include "engine/readings/rounding.hpp"
#include "netlists/phrases/load_words.hpp"
#include "netlists/tables/defaults.hpp"

namespace voltfall {

namespace {

/// 0 far below `middle`, 1 far above.
double step(double value, double middle, double width) {
    return 1 / (1 + std::exp(-(value - middle) / width));
}

}  // namespace

Perceived perceive(const LoadState& load, const LoadState& healthy) {
    Perceived p;
    p.powered = std::abs(load.amps) > 0.5;
    if (!load.rpm || !healthy.rpm) {
        const Vigour vigour = row_of(load.seen).vigour;
        const bool alive = vigour != Vigour::none;
        const bool should = row_of(healthy.seen).vigour != Vigour::none;
        p.wanted = should;
        if (!alive) {
            p.dead = 1;
        } else if (vigour == Vigour::faint) {
            p.faint = 1;
        } else if (!should) {
            p.runs = 1;
        } else if (vigour == Vigour::less) {
            p.slow = 1;
        } else if (vigour == Vigour::more) {
            p.fast = 1;
        } else {
            p.normal = 1;
        }
        return p;
    }
    const double rpm = std::abs(*load.rpm);
    const double should_rpm = std::abs(*healthy.rpm);
    static const double usual_rpm = default_value("motor_rpm");
    static const double dead_below = default_value("dead_below");
    const double nameplate = load.rated_rpm.value_or(usual_rpm);
    const double least = dead_below * nameplate;
    constexpr double standing = 1.0 / 175;  // of that: one turn a minute of a usual blower
    const double moving = step(rpm, 1.2 * least, 0.2 * least) * (rpm > standing * least ? 1 : 0);
    p.dead = 1 - moving;
    if (should_rpm < least) {
        constexpr double creeps_below = 0.25;  // of the nameplate speed, as `load_state` has it
        p.wanted = false;
        p.runs = moving * step(rpm, creeps_below * nameplate, 0.04 * nameplate);
        p.faint = moving - p.runs;
        return p;
    }
    const double ratio = rpm / should_rpm;
    static const double slow_below = default_value("slow_below");
    static const double fast_above = default_value("fast_above");
    const double slow = 1 - step(ratio, slow_below - 0.02, 0.02);
    const double fast = step(ratio, fast_above + 0.02, 0.02);
    p.slow = moving * slow;
    p.fast = moving * fast;
    p.normal = std::max(moving * (1 - slow - fast), 0.0);
    return p;
}

double load_word_probability(std::string_view word, const Perceived& p) {
    const LoadWord* row = find_load_word(word);
    if (row == nullptr) throw std::logic_error("no load is said to be '" + std::string(word) + "'");
    const SaidOf& said = row->said_of;
    const double dead = p.powered && said.when_powered > 0 ? said.when_powered : said.dead;
    return p.dead * dead + p.slow * said.slow + p.normal * said.normal + p.fast * said.fast + p.runs * said.runs +
           p.faint * said.faint;
}

double air_word_probability(std::string_view word, const Perceived& p, bool air_blocked) {
    const double none = 0.90 * p.dead + 0.05 * p.slow + (air_blocked ? 0.15 : 0.015) * (p.normal + p.fast) +
                        0.05 * p.runs + 0.6 * p.faint;
    const double weak = 0.08 * p.dead + 0.75 * p.slow + (air_blocked ? 0.75 : 0.06) * (p.normal + p.fast) +
                        0.35 * p.runs + 0.35 * p.faint;
    if (word == "none") return none;
    if (word == "weak") return weak;
    return std::max(1 - none - weak, 0.005);
}

double relay_word_probability(std::string_view word, bool pulled) {
    const bool says_pulled = word == "clicks" || word == "pulled";
    return says_pulled == pulled ? 0.93 : 0.05;
}

double lamp_word_probability(std::string_view word, double volts, double full) {
    const double share = std::abs(volts) / full;
    const double glows =
        step(share, 0.15, 0.04);  // a filament begins to be seen at some 15 % of its volts (common practice, no source)
    const double bright = step(share, 0.75, 0.06);
    if (word == "dark") return 0.02 + 0.96 * (1 - glows);
    if (word == "bright") return 0.01 + 0.80 * glows * bright;
    if (word == "dim") return 0.01 + 0.90 * glows * (1 - bright) + 0.03 * bright;
    return 0.02 + 0.90 * glows;
}

double live_probability(bool live, double volts, double full, double untouched) {
    const double is_live = 0.02 + 0.96 * step(std::abs(volts) / full, 0.4, 0.08);
    // "Dead" may be a probe that did not touch.
    return live ? is_live * (1 - untouched) : 1 - is_live * (1 - untouched);
}

}  // namespace voltfall
