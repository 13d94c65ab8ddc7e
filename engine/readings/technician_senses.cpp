// What a technician finds without leads: by eye, ear and hand.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/readings/handling.hpp"
#include "engine/readings/place_heat.hpp"
#include "engine/readings/quantity_evidence.hpp"
#include "engine/readings/random_numbers.hpp"
#include "engine/readings/technician_shown.hpp"
#include "engine/readings/word_evidence.hpp"
#include "netlists/phrases/load_words.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

constexpr double burst_below_seconds = 0.5;

}  // namespace

tl::expected<Technician::Shown, CannotMeasure> Technician::take_load(const LoadTest& load, Taken& taken) {
    const CourseResult run = course(taken.state);
    if (!run) return tl::unexpected(CannotMeasure{run.error().message});
    keep(*run, taken.measured);
    const SettleResult healthy = settle(simulator_, *vehicle_.circuit, taken.state, {});
    if (!healthy) return tl::unexpected(CannotMeasure{healthy.error().message});
    const LoadState now = load_state(run->end(), load.part, &*healthy);
    const LoadState sound = load_state(*healthy, load.part, &*healthy);
    const Part& part = vehicle_.circuit->part(load.part);
    const LoadKind kind = now.rpm ? LoadKind::motor : part.kind ? load_kind_of(part) : LoadKind::heater;
    const std::string word = load_word(errors_.senses, kind, now, sound);
    return Shown{LoadReading{load, word}, std::string(load_word_said(kind, word)), 0, Unit::none};
}

tl::expected<Technician::Shown, CannotMeasure> Technician::take_relay(const RelayTest& relay, Taken& taken) {
    const CourseResult run = course(taken.state);
    if (!run) return tl::unexpected(CannotMeasure{run.error().message});
    keep(*run, taken.measured);
    const std::string word = run->end().relay_pulled[relay.part.index] ? "clicks" : "silent";
    return Shown{RelayReading{relay, word}, word, 0, Unit::none};
}

std::vector<Fault> Technician::faults_at(const std::string& place) const {
    std::vector<Fault> found;
    for (const Fault& fault : vehicle_.faults) {
        if (sits_at(*vehicle_.circuit, *fault.mode, place)) found.push_back(fault);
    }
    return found;
}

Technician::Shown Technician::look_at_fuse(const FuseTest& fuse, Taken& taken) const {
    std::vector<std::string>& notes = taken.measured.notes;
    const Part& part = vehicle_.circuit->part(fuse.part);
    bool blown = vehicle_.has_opened(fuse.part);
    bool missing = false;
    for (const Fault& fault : vehicle_.faults) {
        if (!same_word(fault.mode->place, part.name)) continue;
        blown |= fault.mode->is(ModeFact::fuse_blown);
        missing |= fault.mode->is(ModeFact::fuse_missing);
        if (fault.mode->is(ModeFact::wrong_rating))
            notes.push_back(fmt::format("{:.3g} A is printed on it; the diagram says {:.3g} A", fault.size,
                                        part.fuse->rating_amps));
    }
    for (const OpenedFuse& opened : vehicle_.opened) {
        if (opened.part != fuse.part) continue;
        const bool burst = opened.seconds < burst_below_seconds;
        notes.emplace_back(burst ? "its window is black, the strip burst: a short, at once"
                                 : "the strip has slumped in the middle: too much current for a while");
    }
    if (missing) return {FuseReading{fuse, "missing", {}, {}}, "missing: its seat is empty", 0, Unit::none};
    const std::string word = blown ? "blown" : "good";
    return {FuseReading{fuse, word, {}, {}}, blown ? "blown" : "looks good", 0, Unit::none};
}

/// The hand that feels a housing after some minutes under load is wrong by half or twice (ASSUMED: how well a housing
/// sheds its heat is not known better).
tl::expected<Technician::Shown, CannotMeasure> Technician::feel(const HeatTest& heat, Taken& taken) {
    const CourseResult run = course(taken.state);
    if (!run) return tl::unexpected(CannotMeasure{run.error().message});
    keep(*run, taken.measured);
    const double factor = errors_.noise ? std::exp2(random("feel " + taken.words)) : 1;
    const ReadValue felt = warmth_displayed(factor * rise_of(*vehicle_.circuit, run->end(), heat.place));
    return Shown{HeatReading{heat, felt}, felt.text, 0, Unit::none};
}

/// A new fuse is watched for some minutes.
tl::expected<Technician::Shown, CannotMeasure> Technician::watch_new_fuse(const FuseTest& fuse, Taken& taken) {
    const CourseResult run = course(taken.state);
    if (!run) return tl::unexpected(CannotMeasure{run.error().message});
    keep(*run, taken.measured);
    const double watched = 60 * default_value("minutes_watch");
    for (const Event& event : run->aftermath) {
        if (event.part != fuse.part || event.seconds > watched) continue;
        const bool at_once = event.seconds < burst_below_seconds;
        const double seconds = at_once ? 0 : std::round(event.seconds);
        const std::string after = at_once ? "at once" : fmt::format("after {:.0f} s", seconds);
        return Shown{FuseReading{fuse, "blown", {}, seconds}, "blown " + after, event.seconds, Unit::none};
    }
    return Shown{FuseReading{fuse, "good", {}, {}}, "holds", 0, Unit::none};
}

Technician::Shown Technician::read_number(const RatingTest& rating) const {
    double amps = vehicle_.circuit->part(rating.part).fuse->rating_amps;
    for (const Fault& fault : vehicle_.faults) {
        if (fault.mode->part == rating.part && fault.mode->is(ModeFact::wrong_rating)) amps = fault.size;
    }
    ReadValue value = rating_displayed(amps);
    const std::string text = as_words(value);
    return {RatingReading{rating, std::move(value)}, text, amps, Unit::none};
}

Technician::Shown Technician::look_at(const LookTest& look) const {
    const PartId part = vehicle_.circuit->find_part(look.place);
    const bool turns = part.valid() && load_kind_of(vehicle_.circuit->part(part)) == LoadKind::motor;
    for (const Fault& fault : faults_at(look.place)) {
        if (turns && fault.mode->is(ModeFact::rubs))
            return {LookReading{look, {"stiff"}}, "stiff by hand", 0, Unit::none};
        const std::string& looks = fault.mode->looks;
        std::uint64_t hash = errors_.seed ^ 0x55;
        for (const char c : fault.mode->phrase()) hash = RandomNumbers(hash ^ static_cast<unsigned char>(c)).next();
        if (looks.empty() || RandomNumbers(hash).share() >= errors_.sight_share) continue;
        const std::string word = looks.substr(0, looks.find(' '));
        return {LookReading{look, {word}}, word, 0, Unit::none};
    }
    if (turns) return {LookReading{look, {"turns-freely"}}, "nothing to see; it turns freely", 0, Unit::none};
    return {LookReading{look, {"clean"}}, "nothing to see", 0, Unit::none};
}

Technician::Shown Technician::look_at_gauge(const QuantityTest& quantity, const Taken& taken) const {
    const Circuit& circuit = *vehicle_.circuit;
    std::vector<Fault> there;
    for (const Fault& fault : vehicle_.faults) {
        if (present(circuit, fault, taken.state)) there.push_back(fault);
    }
    const double truth = quantity_found(circuit, quantity, there);
    const Unit unit = circuit.part(contacts_moved(circuit, quantity).front()).moved_by->unit;
    ReadValue value = gauge_displayed(truth, unit);
    const std::string text = as_words(value);
    return {QuantityReading{quantity, std::move(value)}, text, truth, unit};
}

}  // namespace voltfall
