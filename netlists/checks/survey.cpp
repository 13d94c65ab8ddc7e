#include "netlists/checks/survey.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "netlists/graph/drawn_state.hpp"
#include "netlists/graph/paths.hpp"

namespace voltfall {

namespace {

/// Positions times branches that are looked at: keeps the largest circuit that is read within about a second.
constexpr std::size_t most_survey_work = 1'000'000;
/// Coils fed or grounded through another load need a walk of their own: branches walked for them in all.
constexpr std::size_t most_deep_work = 10'000'000;
/// Batteries side by side that differ by more than this push current through each other (ASSUMED: two healthy ones of
/// the same system differ by a few tenths).
constexpr double most_unequal_volts = 1.0;

struct PositionOfPart {
    PartId part;
    std::size_t position{};
};

std::vector<PositionOfPart> positions_of_parts(const Circuit& circuit) {
    std::vector<PositionOfPart> positions;
    for (std::uint32_t i = 0; i < circuit.parts.size(); ++i) {
        const Part& part = circuit.parts[i];
        if (part.contacts.empty()) continue;
        const bool is_key = PartId{i} == circuit.key;
        for (std::size_t p = 0; p < part.positions.size(); ++p) {
            if (is_key || p != off_position(part)) positions.push_back({{i}, p});
        }
    }
    return positions;
}

std::string words_of(const Circuit& circuit, const PositionOfPart& at) {
    const Part& part = circuit.part(at.part);
    return part.name + " at " + part.positions[at.position].name;
}

void note_ends(EndsSeen& seen, Pole first, Pole second) {
    seen.first_plus |= first == Pole::plus || first == Pole::both;
    seen.first_minus |= first == Pole::minus || first == Pole::both;
    seen.second_plus |= second == Pole::plus || second == Pole::both;
    seen.second_minus |= second == Pole::minus || second == Pole::both;
    seen.across |= across_supply(first, second);
}

/// What the survey keeps between positions.
class Surveyor {
public:
    explicit Surveyor(const Circuit& circuit) : circuit_(circuit), blocked_(circuit.branches.size(), false) {
        const std::size_t parts = circuit.parts.size();
        survey_.loads.resize(parts);
        survey_.coils.resize(parts);
        survey_.guarded.resize(parts);
        for (const Part& part : circuit.parts) {
            if (part.fuse) blocked_[part.fuse->element.index] = true;
        }
        for (std::uint32_t i = 0; i < circuit.branches.size(); ++i) {
            if (sort_of(circuit.branches[i].law) == LawSort::source) sources_.push_back({i});
        }
    }

    void look(const Network& network, const Reach& reach, Setting setting, const std::string& position) {
        look_at_ends(network, reach);
        look_behind_fuses(network, reach);
        // Two switches in odd positions at once may be kept apart by the part itself; only single positions count.
        if (setting == Setting::pair) return;
        const std::vector<int> island = metal_islands(network, reach);
        if (!look_for_shorts(network, reach, island, position)) look_for_fights(network, island);
    }

    /// Some load or coil has no way yet that two switches together could give it.
    bool wants_pairs() const {
        for (std::size_t i = 0; i < circuit_.parts.size(); ++i) {
            const Part& part = circuit_.parts[i];
            if (part.load_branch.valid() && !survey_.loads[i].across) return true;
            if (part.relay && !survey_.coils[i].across) return true;
        }
        return false;
    }

    Survey take() { return std::move(survey_); }

private:
    void look_at_ends(const Network& network, const Reach& reach) {
        const std::vector<Pole> poles = reach.poles(Through::heaters);
        const std::vector<Pole> easy = reach.poles(Through::resistors);
        for (std::size_t i = 0; i < circuit_.parts.size(); ++i) {
            const Part& part = circuit_.parts[i];
            if (part.load_branch.valid() && network.conducts(part.load_branch)) {
                const NetworkBranch& load = network.at(part.load_branch);
                // A heater must not be taken for its own way back; a ballast may stand in another load's way.
                const auto& own = reach.carrier(part.load_branch) == Carrier::heater ? easy : poles;
                note_ends(survey_.loads[i], own[load.a.index], own[load.b.index]);
            }
            if (!part.relay) continue;
            const NetworkBranch& coil = network.at(part.relay->coil);
            Pole a = poles[coil.a.index];
            Pole b = poles[coil.b.index];
            const bool one_sided = (a == Pole::none) != (b == Pole::none);
            if (one_sided && !survey_.coils[i].across && deep_work_ < most_deep_work) {
                deep_work_ += network.branches.size();
                const std::vector<Pole> far = reach.poles(Through::loads, part.relay->coil);
                a = far[coil.a.index];
                b = far[coil.b.index];
            }
            note_ends(survey_.coils[i], a, b);
        }
    }

    void look_behind_fuses(const Network& network, const Reach& reach) {
        const std::vector<int> steps = reach.steps_from_supply();
        std::vector<bool> stop(network.joints, false);
        const auto stop_at = [&](JointId joint) {
            if (joint.valid()) stop[joint.index] = true;
        };
        for (const JointId joint : reach.supply()) stop_at(joint);
        for (const JointId joint : {circuit_.reference, circuit_.metal, circuit_.bus_30, circuit_.bus_15})
            stop_at(joint);
        for (std::size_t i = 0; i < circuit_.parts.size(); ++i) {
            if (!circuit_.parts[i].fuse) continue;
            const NetworkBranch& element = network.at(circuit_.parts[i].fuse->element);
            const int first = steps[element.a.index];
            const int second = steps[element.b.index];
            if (first < 0 && second < 0) continue;
            const bool first_is_feed = second < 0 || (first >= 0 && first <= second);
            for (const BranchId walked : reach.metal_from(first_is_feed ? element.b : element.a, stop, blocked_)) {
                if (walked.index < circuit_.branches.size()) guard(survey_.guarded[i], circuit_.branch(walked).wire);
            }
        }
    }

    static void guard(std::vector<WireId>& wires, WireId wire) {
        if (wire.valid() && std::find(wires.begin(), wires.end(), wire) == wires.end()) wires.push_back(wire);
    }

    /// True when some battery is shorted in this position.
    bool look_for_shorts(const Network& network, const Reach& reach, const std::vector<int>& island,
                         const std::string& position) {
        const bool plus_on_minus = reach.poles(Through::metal)[circuit_.reference.index] == Pole::both;
        bool any = false;
        for (const BranchId source : sources_) {
            const NetworkBranch& battery = network.at(source);
            if (!plus_on_minus && island[battery.a.index] != island[battery.b.index]) continue;
            // Plus on the minus of another battery is a ring of batteries: a matter of `look_for_fights`.
            auto way = metal_path(network, battery.a, battery.b);
            if (way.empty() && battery.a != battery.b) continue;
            any = true;
            add_short({circuit_.branch(source).part, position, std::move(way)});
        }
        return any;
    }

    void add_short(DeadShort found) {
        const bool known = std::any_of(survey_.shorts.begin(), survey_.shorts.end(),
                                       [&](const DeadShort& s) { return s.battery == found.battery; });
        if (!known) survey_.shorts.push_back(std::move(found));
    }

    /// Pieces that wires and closed contacts make one; a diode between two batteries keeps them apart.
    static std::vector<int> metal_islands(const Network& network, const Reach& reach) {
        Network metal = network;
        for (std::uint32_t i = 0; i < metal.branches.size(); ++i) {
            const bool diode = sort_of(metal.branches[i].law) == LawSort::one_way;
            if (diode || reach.carrier({i}) != Carrier::metal) metal.branches[i].open = true;
        }
        return islands(metal);
    }

    /// Gives every island of metal its volts, battery by battery; a battery that closes a ring must agree.
    void look_for_fights(const Network& network, const std::vector<int>& island) {
        if (sources_.size() < 2 || !survey_.fights.empty()) return;
        std::vector<std::optional<double>> volts(network.joints);
        std::vector<BranchId> setter(network.joints);
        std::vector<bool> done(sources_.size(), false);
        volts[static_cast<std::size_t>(island[circuit_.reference.index])] = 0;
        for (bool more = true; more;) {
            more = false;
            for (std::size_t i = 0; i < sources_.size(); ++i) {
                if (done[i]) continue;
                const NetworkBranch& battery = network.at(sources_[i]);
                const auto plus = static_cast<std::size_t>(island[battery.a.index]);
                const auto minus = static_cast<std::size_t>(island[battery.b.index]);
                const double own = std::get<Source>(battery.law).volts;
                if (!volts[plus] && !volts[minus]) continue;
                done[i] = more = true;
                if (volts[plus] && volts[minus]) {
                    const double other = *volts[plus] - *volts[minus];
                    const BranchId rival = setter[plus].valid() ? setter[plus] : setter[minus];
                    if (std::abs(other - own) > most_unequal_volts && rival.valid())
                        add_fight(rival, sources_[i], other, own);
                } else if (volts[minus]) {
                    volts[plus] = *volts[minus] + own;
                    setter[plus] = sources_[i];
                } else {
                    volts[minus] = *volts[plus] - own;
                    setter[minus] = sources_[i];
                }
            }
        }
    }

    void add_fight(BranchId first, BranchId second, double first_volts, double second_volts) {
        survey_.fights.push_back(
            {circuit_.branch(first).part, circuit_.branch(second).part, first_volts, second_volts});
    }

    const Circuit& circuit_;
    std::vector<bool> blocked_;  ///< fuse elements
    std::vector<BranchId> sources_;
    std::size_t deep_work_{0};
    Survey survey_;
};

void set_part(Network& network, const Circuit& circuit, const PositionOfPart& at) {
    set_position(network, at.part, at.position);
    if (at.part != circuit.key) set_key(network, "run");
}

}  // namespace

bool each_position(const Circuit& circuit,
                   const std::function<bool(const Network&, const Reach&, Setting, const std::string&)>& look) {
    Network network = network_at_rest(circuit);
    if (!look(network, Reach(network), Setting::at_rest, "")) return true;
    const std::vector<PositionOfPart> positions = positions_of_parts(circuit);
    std::size_t work_left = most_survey_work;
    const auto show = [&](Setting setting, const std::string& words) {
        set_relays(network);
        return look(network, Reach(network), setting, words);
    };
    const auto undo = [&](const PositionOfPart& at) {
        if (at.part != circuit.key) set_position(network, at.part, off_position(circuit.part(at.part)));
        set_key(network, "on");
    };
    const auto affordable = [&] {
        if (work_left < circuit.branches.size()) return false;
        work_left -= circuit.branches.size();
        return true;
    };
    for (const PositionOfPart& at : positions) {
        if (!affordable()) return false;
        set_part(network, circuit, at);
        const bool more = show(Setting::single, words_of(circuit, at));
        undo(at);
        if (!more) return true;
    }
    for (std::size_t i = 0; i < positions.size(); ++i) {
        for (std::size_t j = i + 1; j < positions.size(); ++j) {
            if (positions[i].part == positions[j].part) continue;
            if (!affordable()) return false;
            set_part(network, circuit, positions[i].part == circuit.key ? positions[j] : positions[i]);
            set_position(network, positions[j].part, positions[j].position);
            set_position(network, positions[i].part, positions[i].position);
            const bool more =
                show(Setting::pair, words_of(circuit, positions[i]) + " and " + words_of(circuit, positions[j]));
            undo(positions[i]);
            undo(positions[j]);
            if (!more) return true;
        }
    }
    return true;
}

Survey survey_positions(const Circuit& circuit) {
    Surveyor surveyor(circuit);
    const auto look = [&](const Network& network, const Reach& reach, Setting setting, const std::string& position) {
        if (setting == Setting::pair && !surveyor.wants_pairs()) return false;
        surveyor.look(network, reach, setting, position);
        return true;
    };
    const bool all = each_position(circuit, look);
    Survey survey = surveyor.take();
    const auto switches = std::count_if(circuit.parts.begin(), circuit.parts.end(),
                                        [](const Part& part) { return !part.contacts.empty(); });
    if (!all || switches > 2) {
        const Network closed = all_closed(circuit);
        survey.all_closed = Reach(closed).poles(Through::resistors);
    }
    return survey;
}

bool Survey::could_flow(JointId a, JointId b) const {
    return !all_closed.empty() && across_supply(all_closed[a.index], all_closed[b.index]);
}

std::vector<EndsSeen> ends_through_loads(const Circuit& circuit, const std::vector<PartId>& wanted) {
    std::vector<EndsSeen> ends(circuit.parts.size());
    each_position(circuit, [&](const Network& network, const Reach& reach, Setting, const std::string&) {
        for (const PartId id : wanted) {
            const BranchId load = circuit.part(id).load_branch;
            const std::vector<Pole> poles = reach.poles(Through::loads, load);
            const NetworkBranch& branch = network.at(load);
            note_ends(ends[id.index], poles[branch.a.index], poles[branch.b.index]);
        }
        return true;
    });
    return ends;
}

Network all_closed(const Circuit& circuit) {
    Network network(circuit);
    for (NetworkBranch& branch : network.branches) {
        if (auto* contact = std::get_if<Contact>(&branch.law)) contact->closed = true;
    }
    return network;
}

}  // namespace voltfall
