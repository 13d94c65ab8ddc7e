#include "engine/diagnosis/match.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "engine/diagnosis/causes.hpp"
#include "engine/diagnosis/contrast.hpp"
#include "engine/diagnosis/reasons.hpp"
#include "engine/diagnosis/repair_chances.hpp"
#include "engine/diagnosis/same_as.hpp"
#include "engine/diagnosis/weighing.hpp"
#include "engine/readings/rounding.hpp"
#include "netlists/tables/fuses.hpp"

namespace voltfall {

namespace {

/// A reading is named as doubtful above this probability of being wrong.
constexpr double doubtful_above = 0.25;
/// A thing that this share of causes lies in is worth ruling out aloud, once it is below `ruled_out_below`.
constexpr double prominent_prior = 0.01;
constexpr double ruled_out_below = 0.01;
/// Candidates below this probability get no search for what looks the same.
constexpr double worth_comparing = 0.01;
constexpr std::size_t most_compared = 4;
/// What is this much less probable than a candidate is not named beside it.
constexpr double alike_worth_naming = 1e-3;
constexpr std::size_t most_numeric_comparisons = 8;
/// Candidates confirmed by the simulator of record: those that a screen shows.
constexpr std::size_t most_confirmed = 5;
/// Places below this probability are not listed.
constexpr double least_listed_place = 1e-4;
constexpr std::size_t most_pairs = 5;

/// A motor is one thing, its plug another, and what moves a contact a third.
std::string thing_of(const FaultMode& mode) {
    if (mode.is(ModeFact::outside_circuit)) return mode.repair;
    const std::string whole(read_place(mode.place).owner);
    return mode.fault_class == FaultClass::joint ? whole + " joints" : whole;
}

/// Probabilities of whole things (a motor, a connector), with their leading suspect.
struct Thing {
    double prior{0};
    double probability{0};
    std::size_t leading{0};
};
std::map<std::string, Thing> things_of(const Weighed& weighed) {
    std::map<std::string, Thing> things;
    for (const std::size_t i : weighed.ranked()) {
        const Suspect& suspect = weighed.suspects[i];
        if (!suspect.mode) continue;
        const auto [entry, added] = things.try_emplace(thing_of(*suspect.mode));
        if (added) entry->second.leading = i;
        entry->second.prior += suspect.prior;
        entry->second.probability += suspect.probability;
    }
    return things;
}

/// No reading of a circuit tells how far the system behind a sound contact is off: until a gauge has, there is no size.
bool is_narrowed(const Suspect& suspect, const Spread& spread) {
    constexpr double most_of_it = 0.75;
    const SizeRange& range = *suspect.mode->size;
    return !suspect.mode->is(ModeFact::outside_circuit) ||
           spread.high - spread.low < most_of_it * (range.high - range.low);
}

/// Ratings are a series: the number that was read on the fuse, else those that are made within the spread.
Spread with_made_ratings(const Weighed& weighed, const Suspect& suspect, const Spread& spread) {
    Spread made{nearest_fuse_rating(spread.best), nearest_fuse_rating(spread.low), nearest_fuse_rating(spread.high)};
    for (std::size_t i = 0; i < weighed.questions.job->readings.size(); ++i) {
        const auto* number = std::get_if<RatingReading>(&weighed.questions.reading(i).measurement);
        if (number == nullptr || number->part != suspect.mode->part || weighed.wrong[i] > doubtful_above) continue;
        const double amps = nearest_fuse_rating((number->value.low + number->value.high) / 2);
        made = {amps, amps, amps};
    }
    return made;
}

Candidate candidate_of(const Weighed& weighed, const Suspect& suspect, const Suspect& leader) {
    Candidate candidate;
    candidate.fault = suspect.phrase();
    candidate.probability = nine_digits(suspect.probability);
    if (suspect.mode) {
        candidate.place = suspect.mode->place;
        candidate.mode = suspect.mode->mode;
        candidate.repair = suspect.mode->repair;
    } else {
        candidate.mode = "nothing";
        candidate.nothing = true;
    }
    if (auto spread = size_spread(suspect); spread && is_narrowed(suspect, *spread)) {
        if (suspect.mode->is(ModeFact::wrong_rating)) spread = with_made_ratings(weighed, suspect, *spread);
        candidate.size = SizeEstimate{nine_digits(spread->best), nine_digits(spread->low), nine_digits(spread->high),
                                      suspect.mode->size->unit};
    }
    if (const auto spread = place_spread(suspect)) {
        candidate.where =
            SizeEstimate{nine_digits(spread->best), nine_digits(spread->low), nine_digits(spread->high), Unit::percent};
    }
    for (const ModePtr& victim : suspect.led_to) candidate.led_to.push_back({victim->phrase(), victim->place});
    candidate.because = reasons_for(weighed, suspect);
    candidate.against = reasons_against(weighed, suspect, leader);
    return candidate;
}

/// The most probable ones, the healthy circuit, and the leading suspect of every thing worth ruling out.
std::vector<std::size_t> chosen(const Weighed& weighed, std::size_t keep) {
    const std::vector<std::size_t> ranked = weighed.ranked();
    std::vector<bool> taken(ranked.size(), false);
    for (std::size_t i = 0; i < std::min(keep, ranked.size()); ++i) taken[ranked[i]] = true;
    taken[0] = true;
    for (const auto& [name, thing] : things_of(weighed)) {
        if (thing.prior >= prominent_prior) taken[thing.leading] = true;
    }
    std::vector<std::size_t> list;
    for (const std::size_t i : ranked) {
        if (taken[i] && weighed.suspects[i].at_best.ok) list.push_back(i);
    }
    return list;
}

void add_alike(MatchAnswer& answer, Simulator& simulator, const Circuit& circuit, const Weighed& weighed,
               const std::vector<std::size_t>& list) {
    Lookalikes lookalikes(simulator, circuit);
    std::size_t numeric = 0;
    for (std::size_t k = 0; k < list.size() && k < most_compared; ++k) {
        const Suspect& suspect = weighed.suspects[list[k]];
        if (suspect.probability < worth_comparing) break;
        for (const std::size_t other_index : weighed.ranked()) {
            const Suspect& other = weighed.suspects[other_index];
            if (&other == &suspect || other.probability < alike_worth_naming * suspect.probability) continue;
            bool same = suspect.mode && other.mode && lookalikes.by_graph(*suspect.mode, *other.mode);
            if (!same && !alike_so_far(weighed, suspect, other)) continue;
            if (!same && suspect.mode && numeric < most_numeric_comparisons) {
                ++numeric;
                same = lookalikes.by_numbers(*suspect.mode, suspect.best.size, suspect.best.where, other.mode,
                                             other.best.size);
            }
            Candidate& candidate = answer.candidates[k];
            (same ? candidate.same_as : candidate.alike_so_far).push_back(other.phrase());
        }
    }
}

void add_ruled_out(MatchAnswer& answer, const Weighed& weighed, const Suspect& leader) {
    std::vector<std::pair<double, RuledOut>> list;
    for (const auto& [name, thing] : things_of(weighed)) {
        if (thing.prior < prominent_prior || thing.probability >= ruled_out_below) continue;
        const Suspect& suspect = weighed.suspects[thing.leading];
        const auto reading = strongest_against(weighed, suspect, leader);
        if (reading)
            list.push_back({-nine_digits(thing.prior), {suspect.phrase(), weighed.questions.reading(*reading).id}});
    }
    std::stable_sort(list.begin(), list.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    for (auto& [prior, ruled_out] : list) answer.ruled_out.push_back(std::move(ruled_out));
}

/// Before a person sees what the sound circuit and the leading candidates would read.
void confirm_shown(const Weighed& weighed, const std::vector<std::size_t>& list) {
    weighed.predictor->confirm(nullptr, {});
    for (std::size_t k = 0; k < std::min(list.size(), most_confirmed); ++k) {
        const Suspect& suspect = weighed.suspects[list[k]];
        if (suspect.mode)
            weighed.predictor->confirm(suspect.mode, {suspect.best.size, suspect.best.where, suspect.world()});
    }
}

/// The pairs, and what they leave to the probabilities that the answer holds already.
void tell_pairs(MatchAnswer& answer, const Weighed& weighed) {
    const double rest = weighed.share_of_singles;
    for (Candidate& candidate : answer.candidates) candidate.probability = nine_digits(candidate.probability * rest);
    for (RepairChance& place : answer.places) place.probability = nine_digits(place.probability * rest);
    answer.none_of_these = nine_digits(answer.none_of_these * rest);
    answer.pairs_asked = true;
    const auto repairs_of = [](const Suspect& pair) {
        std::array<std::string, 2> repairs{pair.mode->repair, pair.second->mode->repair};
        std::sort(repairs.begin(), repairs.end());
        return repairs;
    };
    std::map<std::array<std::string, 2>, double> of_repairs;
    for (const Suspect& pair : weighed.pairs) of_repairs[repairs_of(pair)] += pair.probability;
    for (const Suspect& pair : weighed.pairs) {
        if (answer.pairs.size() == most_pairs) break;
        const SecondFault& second = *pair.second;
        answer.pairs.push_back({{phrase_with_size(*pair.mode, second.sizes.front().first),
                                 phrase_with_size(*second.mode, second.sizes.front().second)},
                                {pair.mode->repair, second.mode->repair},
                                nine_digits(pair.probability),
                                {pair.mode->phrase(), second.mode->phrase()},
                                nine_digits(std::exchange(of_repairs[repairs_of(pair)], 0))});
    }
}

}  // namespace

MatchAnswer match(Simulator& simulator, const Circuit& circuit, const Job& job, const MatchOptions& options) {
    return match(simulator, circuit, job, options, *weigh(simulator, circuit, job, options));
}

MatchAnswer match(Simulator& simulator, const Circuit& circuit, const Job& job, const MatchOptions& options,
                  const Weighed& weighed) {
    MatchAnswer answer;
    answer.readings = static_cast<int>(job.readings.size());
    answer.none_of_these = nine_digits(weighed.none);
    answer.supply_unknown = weighed.questions.supply_unknown;
    answer.notes = weighed.questions.notes;
    if (weighed.failed > 0)
        answer.notes.push_back(fmt::format("{} faults had no solution and were left out", weighed.failed));
    answer.places = repair_chances(circuit, weighed, least_listed_place);
    const std::vector<std::size_t> list = chosen(weighed, options.keep);
    if (list.empty()) return answer;
    const Suspect& leader = weighed.suspects[list.front()];
    for (const std::size_t i : list) answer.candidates.push_back(candidate_of(weighed, weighed.suspects[i], leader));
    Candidate& first = answer.candidates.front();
    if (first.because.empty() && leader.mode)
        first.because.push_back("no reading speaks for it clearly: it leads by how often it happens");
    confirm_shown(weighed, list);
    add_alike(answer, simulator, circuit, weighed, list);
    add_causes(answer, circuit, weighed, list);
    for (std::size_t i = 0; i < weighed.wrong.size(); ++i) {
        if (weighed.wrong[i] > doubtful_above)
            answer.doubtful.push_back({job.readings[i].id, nine_digits(weighed.wrong[i])});
    }
    add_ruled_out(answer, weighed, leader);
    answer.contrast = contrast_of(weighed, weighed.ranked());
    if (weighed.pairs_weighed) tell_pairs(answer, weighed);
    return answer;
}

}  // namespace voltfall
