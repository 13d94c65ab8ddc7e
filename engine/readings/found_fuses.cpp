#include "engine/readings/found_fuses.hpp"

#include <algorithm>
#include <cmath>

#include "engine/readings/open_positions.hpp"
#include "netlists/phrases/load_words.hpp"

namespace voltfall {

namespace {

/// A reading speaks for current or volts above these (ASSUMED: above what leaks and what a clamp shows at rest).
constexpr double telling_amps = 0.5;
constexpr double telling_volts = 3;
/// What a reading looks at, volts or amperes: none below the first, some above the second (ASSUMED).
constexpr double none_below = 0.1;
constexpr double some_above = 0.5;

bool tells_of_life(const Reading& reading) {
    if (const auto* amps = std::get_if<AmpsReading>(&reading.measurement))
        return std::min(std::abs(amps->value.low), std::abs(amps->value.high)) > telling_amps;
    if (const auto* volts = std::get_if<VoltsReading>(&reading.measurement))
        return std::min(std::abs(volts->value.low), std::abs(volts->value.high)) > telling_volts;
    if (const auto* load = std::get_if<LoadReading>(&reading.measurement)) {
        // "Ok" has no row: it runs where it should.
        const LoadWord* word = find_load_word(load->word);
        return word == nullptr || word->tells == Tells::that_it_runs;
    }
    return false;
}

double greatest(const std::vector<double>& values) {
    double most = 0;
    for (const double value : values) most = std::max(most, std::abs(value));
    return most;
}

}  // namespace

bool read_before_opening(std::span<const Event> openings, std::span<const PartId> seen_whole) {
    constexpr double a_while = 3;  // seconds in which a meter is read (ASSUMED)
    return !openings.empty() && std::all_of(openings.begin(), openings.end(), [&](const Event& event) {
        return event.seconds > a_while &&
               std::find(seen_whole.begin(), seen_whole.end(), event.part) != seen_whole.end();
    });
}

bool FoundFuses::shows_whole(const Reading& reading, PartId fuse) const {
    if (!tells_of_life(reading)) return false;
    const std::vector<State> states = states_of(circuit_, reading.state);
    return std::all_of(states.begin(), states.end(), [&](const State& state) {
        const auto open = settle(simulator_, circuit_, state, {}, std::span(&fuse, 1));
        const auto whole = settle(simulator_, circuit_, state, {});
        return open && whole && greatest(values_read(circuit_, reading, *open)) < none_below &&
               greatest(values_read(circuit_, reading, *whole)) > some_above;
    });
}

std::vector<PartId> FoundFuses::renewed_by(const Reading& reading) {
    // A blown fuse is renewed with the repair of what blew it.
    if (!reading.state.mended.empty() && !mended_) {
        mended_ = true;
        open_.clear();
    }
    std::vector<PartId> unsaid;
    if (reading.state.earlier) return unsaid;
    std::erase_if(open_, [&](PartId fuse) {
        const auto& fitted = reading.state.fitted_new;
        if (std::find(fitted.begin(), fitted.end(), fuse) != fitted.end()) return true;
        if (!shows_whole(reading, fuse)) return false;
        unsaid.push_back(fuse);
        return true;
    });
    return unsaid;
}

void FoundFuses::note(const Reading& reading) {
    const auto* fuse = std::get_if<FuseReading>(&reading.measurement);
    if (!fuse || reading.state.earlier || reading.state.sometimes) return;
    std::erase(open_, fuse->part);
    const std::vector<std::string>& flags = circuit_.part(fuse->part).flags;
    const bool closes_again = std::find(flags.begin(), flags.end(), "resets") != flags.end();
    if (fuse->word == "missing" || (fuse->word == "blown" && !closes_again)) open_.push_back(fuse->part);
}

}  // namespace voltfall
