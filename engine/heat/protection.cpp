#include "engine/heat/protection.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "engine/heat/contact_verdict.hpp"
#include "engine/heat/gap_sizes.hpp"
#include "engine/heat/heat_values.hpp"
#include "engine/heat/wire_heat.hpp"
#include "engine/solve/fuse_types.hpp"
#include "netlists/checks/survey.hpp"
#include "netlists/graph/paths.hpp"
#include "netlists/phrases/fault_phrase.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/tables/insulation.hpp"
#include "netlists/tables/wires.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// A dead short: the least chafe of the catalogue at the wire's far end.
constexpr double far_end = 0.99;
/// Currents tried between the least that a fuse must notice and the hardest short, evenly on a logarithmic scale.
constexpr int currents_tried = 60;
constexpr double least_overload = 1.10;

class Judge {
public:
    Judge(Simulator& simulator, const HeatModel& model, std::span<const State> states)
        : simulator_(simulator),
          model_(model),
          circuit_(model.circuit()),
          states_(states.begin(), states.end()),
          survey_(survey_positions(circuit_)) {}

    ProtectionResult run() {
        Protection protection;
        find_loads();
        if (lost_) return tl::unexpected(*lost_);
        for (std::uint32_t i = 0; i < circuit_.parts.size(); ++i) {
            const Part& part = circuit_.parts[i];
            if (part.fuse) protection.fuses.push_back(guard_of({i}));
        }
        find_gaps(protection);
        find_hot_places(protection);
        if (lost_) return tl::unexpected(*lost_);
        return protection;
    }

private:
    void find_loads() {
        fed_by_.resize(circuit_.parts.size());
        on_the_way_.resize(circuit_.parts.size());
        for (const State& state : states_) {
            const SettleResult settled = settle(simulator_, circuit_, state, {});
            if (is_lost(settled)) return;
            for (std::uint32_t i = 0; i < circuit_.parts.size(); ++i) {
                const Part& part = circuit_.parts[i];
                if (part.load_branch.valid()) add_feeds(load_path(settled->network, {i}), part.name);
                if (part.relay) add_feeds(branch_path(settled->network, part.relay->coil), part.name + " coil");
            }
        }
    }

    /// What had no solution is not judged: nothing is said of the others then.
    template <class Result>
    bool is_lost(const Result& result) const {
        if (!result && !lost_) lost_ = result.error();
        return !result;
    }

    /// The fuses in a load's feed.
    void add_feeds(const LoadPath& path, const std::string& load) {
        for (const BranchId id : path.feed) {
            const PartId part = circuit_.branch(id).part;
            if (!part.valid() || !circuit_.part(part).fuse || circuit_.part(part).fuse->element != id) continue;
            std::vector<std::string>& fed = fed_by_[part.index];
            if (std::find(fed.begin(), fed.end(), load) == fed.end()) fed.push_back(load);
            for (const auto* side : {&path.feed, &path.back})
                for (const BranchId branch : *side) on_the_way_[part.index].insert(branch.index);
        }
    }

    FuseGuard guard_of(PartId id) const {
        const Part& part = circuit_.part(id);
        const FuseType type = type_of(*part.fuse);
        const double rating = part.fuse->rating_amps;
        FuseGuard guard;
        guard.fuse = id;
        guard.name = part.name;
        guard.type = fuse_type_word(type);
        guard.rating = rating;
        guard.colour = fuse_colour(type, rating);
        guard.i2t = fuse_melting_i2t(type, rating);
        for (const double percent : {110.0, 135.0, 200.0, 350.0, 600.0})
            guard.times.push_back(times_at(type, rating, percent / 100 * rating));
        for (const WireId wire : survey_.guarded[id.index]) guard.wires.push_back(verdict_of(id, wire));
        for (const RatedContact& contact : model_.contacts()) {
            if (on_the_way_[id.index].count(contact.branch.index) > 0)
                guard.contacts.push_back(judge_contact(contact, type, rating, heat_value(circuit_, "ambient_fuse")));
        }
        guard.loads = fed_by_[id.index];
        return guard;
    }

    FuseTimes times_at(FuseType type, double rating, double amps) const {
        const double ambient = heat_value(circuit_, "ambient_fuse");
        const FuseBand band = fuse_band(type, rating, amps, ambient);
        return {amps, band.earliest, seconds_to_open(fuse_model(type, rating, Edge::typical, ambient), {}, amps),
                band.latest};
    }

    /// The row of the catalogue that every wire has: rubbed through to metal, of some ohms.
    const ModePtr& chafe_of(WireId wire) const {
        return *std::find_if(circuit_.modes.begin(), circuit_.modes.end(), [&](const ModePtr& mode) {
            return mode->is(ModeFact::rubbed_to_metal) && same_word(mode->place, circuit_.wire(wire).name);
        });
    }

    /// Amperes through the fuse with a dead short at the wire's far end, the most of all states.
    double hardest_short(PartId fuse, WireId wire) const {
        const ModePtr& chafe = chafe_of(wire);
        const double least = chafe->size.value().low;
        double most = 0;
        for (const State& state : states_) {
            // Its far end is the one behind more of the wire, with the smaller current.
            const double one = short_amps(fuse, state, {chafe, least, 1 - far_end, {}, {}});
            const double other = short_amps(fuse, state, {chafe, least, far_end, {}, {}});
            most = std::max(most, std::min(one, other));
        }
        return most;
    }

    double short_amps(PartId fuse, const State& state, const Fault& fault) const {
        const SettleResult settled = settle(simulator_, circuit_, state, std::span(&fault, 1));
        if (is_lost(settled)) return 0;
        return std::abs(settled->point.amps[circuit_.part(fuse).fuse->element.index]);
    }

    /// Its first half: both are bodies, with the same figures to the metre.
    const Body& body_of(WireId wire) const {
        return *std::find_if(model_.bodies().begin(), model_.bodies().end(), [&](const Body& body) {
            return body.kind == BodyKind::wire && body.branch == circuit_.wire(wire).first_half;
        });
    }

    WireVerdict verdict_of(PartId fuse, WireId wire) const {
        const Body& body = body_of(wire);
        const Part& part = circuit_.part(fuse);
        const double least = least_overload * part.fuse->rating_amps;
        WireVerdict verdict;
        verdict.wire = circuit_.wire(wire).name;
        verdict.hardest_amps = hardest_short(fuse, wire);
        const double most = std::max(verdict.hardest_amps, least);
        verdict.hardest = at_opening(part, body, verdict.hardest_amps);
        verdict.worst = verdict.hardest;
        for (int k = 0; k <= currents_tried; ++k) {
            const WireAtOpening at =
                at_opening(part, body, least * std::pow(most / least, static_cast<double>(k) / currents_tried));
            if (at.excess() > verdict.worst.excess()) verdict.worst = at;
            if (at.excess() <= 0) continue;
            if (!verdict.fails_from) verdict.fails_from = at.amps;
            verdict.fails_to = at.amps;
        }
        return verdict;
    }

    WireAtOpening at_opening(const Part& fuse, const Body& wire, double amps) const {
        const FuseTimes times = times_at(type_of(*fuse.fuse), fuse.fuse->rating_amps, amps);
        const LinearHeat heat = heat_of_wire(amps, wire.ohms_metre, wire.capacity, wire.still_air, wire.ambient);
        const auto end = [&](std::optional<double> seconds) {
            if (seconds) return wire_temperature_after(wire, amps, wire.ambient, *seconds);
            return steady_temperature(heat).value_or(beyond_all);
        };
        WireAtOpening at{amps, times.typical, 0, 0, times.latest, {}};
        at.celsius = std::min(end(at.seconds), beyond_all);
        at.limit = wire_limit_for(circuit_, circuit_.wire(circuit_.branch(wire.branch).wire), times.typical);
        at.latest_celsius = std::min(end(times.latest), beyond_all);
        return at;
    }

    void find_gaps(Protection& protection) const {
        for (std::size_t i = 0; i < circuit_.modes.size(); ++i) {
            const ModePtr& mode = circuit_.modes[i];
            if (!mode->catalogued) continue;
            std::map<std::string, ProtectionGap> quickest;
            // The usual size speaks for the fault; others only where it harms nothing.
            for (const double size : sizes_tried(*mode)) {
                const std::vector<Fault> faults{{mode, size, 0.5, {}, {}}};
                for (const State& state : states_) look_for_gaps(faults, state, quickest);
                if (!quickest.empty()) break;
            }
            add_what_the_fuse_bears(mode, quickest);
            for (auto& [what, gap] : quickest) {
                gap.mode = i;
                protection.gaps.push_back(std::move(gap));
            }
        }
        std::stable_sort(protection.gaps.begin(), protection.gaps.end(),
                         [](const ProtectionGap& a, const ProtectionGap& b) { return a.moment() < b.moment(); });
    }

    /// A load's fault of just the size whose current its fuse still bears without end is what loads the rest of the
    /// way most: its contacts are judged by that too.
    void add_what_the_fuse_bears(const ModePtr& mode, std::map<std::string, ProtectionGap>& quickest) const {
        const bool of_a_load = mode->fault_class == FaultClass::load || mode->fault_class == FaultClass::motor;
        if (!of_a_load || !mode->size || model_.contacts().empty()) return;
        std::map<std::string, ProtectionGap> found;
        for (const State& state : states_) {
            const auto size = size_borne(simulator_, circuit_, mode, state);
            if (is_lost(size) || !*size) continue;
            look_for_gaps({{mode, **size, 0.5, {}, {}}}, state, found);
        }
        for (auto& [what, gap] : found) {
            if (gap.kind == BodyKind::rating) quickest.try_emplace(what, std::move(gap));
        }
    }

    void look_for_gaps(const std::vector<Fault>& faults, const State& state,
                       std::map<std::string, ProtectionGap>& quickest) const {
        const AftermathResult aftermath = run_aftermath(
            simulator_, model_, state, faults, default_value("aftermath_seconds"), {}, HeatReport::events_only);
        if (is_lost(aftermath)) return;
        for (const HeatEvent& event : aftermath->events) {
            const bool resets = event.part.valid() && circuit_.part(event.part).has_flag("resets");
            // What protects itself is no gap.
            if (protects_itself(event.kind) || (event.kind == HeatEventKind::fuse_opens && resets)) continue;
            if (event.kind == HeatEventKind::fuse_opens) {
                // What is harmed before it is a gap, what after is not: unless a slow part of its type holds on.
                if (&event == &aftermath->events.front()) add_slow_case(faults, state, *aftermath, quickest);
                break;
            }
            const bool first = &event == &aftermath->events.front();
            std::string fuse = first ? words_on_the_edge(faults, state, *aftermath) : fuse_words(*aftermath, event);
            keep(gap_of(faults, state, event, std::move(fuse)), quickest);
        }
    }

    ProtectionGap gap_of(const std::vector<Fault>& faults, const State& state, const HeatEvent& event,
                         std::string fuse) const {
        ProtectionGap gap;
        gap.size = faults.front().size;
        gap.fault = write_fault(circuit_, faults.front());
        gap.place = faults.front().mode->place;
        gap.state = state.label;
        gap.what = event.name;
        gap.kind = event.body;
        gap.limiter = event.kind == HeatEventKind::limiter_opens;
        gap.amps = event.amps;
        gap.watts = event.watts;
        gap.seconds = event.seconds;
        gap.melts = melting_of(event);
        gap.fuse = std::move(fuse);
        gap.rating = event.rating;
        if (event.kind == HeatEventKind::harmed && event.body == BodyKind::pack) {
            const std::vector<Limiter>& limiters = circuit_.part(event.part).limiters;
            if (!limiters.empty() && limiters.front().opens_at.value > heat_value(circuit_, "pack_limit"))
                gap.limiter_celsius = limiters.front().opens_at.value;
        }
        return gap;
    }

    static void keep(ProtectionGap gap, std::map<std::string, ProtectionGap>& quickest) {
        const auto [known, added] = quickest.try_emplace(gap.what, gap);
        if (!added && gap.moment() < known->second.moment()) known->second = std::move(gap);
    }

    /// A quick fuse of the type may open before what the usual one lets happen.
    std::string words_on_the_edge(const std::vector<Fault>& faults, const State& state,
                                  const Aftermath& aftermath) const {
        const HeatEvent& first = aftermath.events.front();
        if (faults.front().mode->fault_class == FaultClass::motor && first.body == BodyKind::winding) {
            const auto edge = knife_edge(simulator_, model_, state, faults, first.seconds, aftermath);
            if (edge)
                return fmt::format("{} opens after {:.0f} s or not at all", circuit_.part(edge->fuse).name,
                                   edge->opens_after.value());
        }
        return fuse_words(aftermath, first);
    }

    /// A held or dragging motor's current falls as it warms: a slow fuse of the type may hold.
    void add_slow_case(const std::vector<Fault>& faults, const State& state, const Aftermath& aftermath,
                       std::map<std::string, ProtectionGap>& quickest) const {
        if (faults.front().mode->fault_class != FaultClass::motor) return;
        const auto edge = knife_edge(simulator_, model_, state, faults, default_value("aftermath_seconds"), aftermath);
        if (!edge) return;
        const HeatEvent& opens = aftermath.events.front();
        keep(gap_of(faults, state, edge->before.value(),
                    fmt::format(
                        "{} opens after {:.0f} s or {}", opens.name, opens.seconds,
                        edge->opens_after ? fmt::format("as late as {:.0f} s", *edge->opens_after) : "not at all")),
             quickest);
    }

    /// Onderdonk's form holds for about 5 s.
    std::optional<double> melting_of(const HeatEvent& event) const {
        constexpr double holds_for = 5;
        if (event.body != BodyKind::wire) return std::nullopt;
        const Wire& wire = circuit_.wires.at(circuit_.find_wire(event.name).index);
        const double seconds =
            melting_seconds(wire.area_mm2 * wire.parallel, event.amps, heat_value(circuit_, "ambient_wire"));
        return seconds <= holds_for ? std::optional(seconds) : std::nullopt;
    }

    void find_hot_places(Protection& protection) const {
        for (const Care& care : circuit_.care) {
            const bool hot = std::find(care.words.begin(), care.words.end(), "hot") != care.words.end();
            const WireId wire = circuit_.find_wire(care.place);
            if (!hot || !wire.valid()) continue;
            HotPlace place;
            place.wire = circuit_.wire(wire).name;
            place.care = care.text;
            for (const double metal : {150.0, 200.0, 300.0, 400.0})
                place.lasts.push_back({metal, melt_through_seconds(metal, heat_value(circuit_, "ambient_air"),
                                                                   default_value("insulation_melts"),
                                                                   default_value("insulation_wall_mm"))});
            const ModePtr& chafe = chafe_of(wire);
            add_short(place, {chafe, chafe->size.value().usual, 0.5, {}, {}});
            protection.hot.push_back(std::move(place));
        }
    }

    void add_short(HotPlace& place, const Fault& fault) const {
        place.fault = write_fault(circuit_, fault);
        for (const State& state : states_) {
            const AftermathResult aftermath =
                run_aftermath(simulator_, model_, state, std::span(&fault, 1), default_value("aftermath_seconds"), {},
                              HeatReport::events_only);
            if (is_lost(aftermath)) continue;
            HotPlace::Then then{state.label, "no fuse opens", std::nullopt};
            if (!aftermath->events.empty()) {
                then.what = aftermath->events.front().what;
                then.seconds = aftermath->events.front().seconds;
            }
            place.then.push_back(std::move(then));
        }
    }

    /// The fuses that carry current there, and whether one opens later.
    std::string fuse_words(const Aftermath& aftermath, const HeatEvent& gap) const {
        for (const HeatEvent& event : aftermath.events) {
            if (event.kind == HeatEventKind::fuse_opens && gap.cycling) return event.name + cycling_words(*gap.cycling);
            if (event.kind == HeatEventKind::fuse_opens && event.seconds > gap.seconds)
                return fmt::format("{} opens only after {:.{}f} s", event.name, event.seconds,
                                   event.seconds < 10 ? 1 : 0);
        }
        std::string holding;
        double most = 0;
        for (const Part& part : circuit_.parts) {
            if (!part.fuse) continue;
            const double amps = std::abs(aftermath.faulted.point.amps[part.fuse->element.index]);
            // The fuse that carries at least what runs through the thing guards it.
            if (amps >= 0.9 * gap.amps && amps > most) {
                most = amps;
                holding = part.name;
            }
        }
        return holding.empty() ? "no fuse in the way" : holding + " never opens";
    }

    static constexpr double beyond_all = copper_melts_celsius;  ///< of a wire that runs away

    Simulator& simulator_;
    const HeatModel& model_;
    const Circuit& circuit_;
    std::vector<State> states_;
    Survey survey_;
    mutable std::optional<SolveFailure> lost_;  ///< the first case without a solution
    std::vector<std::vector<std::string>> fed_by_;
    std::vector<std::set<std::uint32_t>> on_the_way_;  ///< by fuse: branches in the ways of the loads that it feeds
};

}  // namespace

void confirm_gaps(Simulator& simulator, const Circuit& circuit, std::span<const State> states,
                  std::span<const ProtectionGap> gaps, std::size_t count) {
    for (const ProtectionGap& gap : gaps.first(std::min(count, gaps.size()))) {
        const Fault fault{circuit.modes[gap.mode], gap.size, 0.5, {}, {}};
        for (const State& state : states) {
            if (state.label != gap.state) continue;
            const SettleResult settled = settle(simulator, circuit, state, std::span(&fault, 1));
            if (settled) confirm(simulator, *settled);
        }
    }
}

ProtectionResult judge_protection(Simulator& simulator, const HeatModel& model, std::span<const State> states) {
    return Judge(simulator, model, states).run();
}

}  // namespace voltfall
