#include "engine/figures/fuse_curve.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "engine/heat/protection.hpp"
#include "engine/heat/wire_heat.hpp"
#include "engine/solve/fuse_types.hpp"
#include "netlists/graph/separate_circuits.hpp"
#include "netlists/tables/fuse_model.hpp"

namespace voltfall {

namespace {

constexpr double least_seconds = 0.01;
constexpr double most_seconds = 3600;
constexpr int points_a_decade = 6;
/// A wire carries what the fuse carries where the two differ by less than this share.
constexpr double same_current = 0.05;
constexpr std::size_t most_wires = 3;
constexpr double largest_share = 10;  ///< of the rating: a dead short is beyond any band by then

/// The current that brings the wire to its limit in just that time; by halving, as more current is always hotter.
double amps_to_limit(const Circuit& circuit, const Body& body, double seconds) {
    const Wire& wire = circuit.wire(circuit.branch(body.branch).wire);
    const double limit = wire_limit_for(circuit, wire, seconds);
    double low = 0.1;
    double high = 20000;
    for (int i = 0; i < 60; ++i) {
        const double middle = std::sqrt(low * high);
        (wire_temperature_after(body, middle, body.ambient, seconds) < limit ? low : high) = middle;
    }
    return low;
}

class CurveDrawer {
public:
    CurveDrawer(Simulator& simulator, const Circuit& circuit, std::span<const Fault> faults)
        : circuit_(circuit), heat_(simulator, circuit), circuits_(separate_circuits(circuit)) {
        for (const State& state : default_states(circuit)) {
            if (SettleResult sound = settle(simulator, circuit, state, {}))
                sound_.push_back({state, *std::move(sound)});
            if (faults.empty()) continue;
            if (SettleResult now = settle(simulator, circuit, state, faults))
                faulted_.push_back({state, *std::move(now)});
        }
    }

    std::optional<FuseCurve> curve_of(PartId id) const {
        const Part& part = circuit_.part(id);
        if (!part.fuse) return std::nullopt;
        FuseCurve curve{part.name, part.fuse->type, part.fuse->rating_amps, {}, {}, {}, {}, {}, {}, {}};
        add_openings(curve, type_of(*part.fuse));
        if (const Case* most = most_amps(sound_, id)) {
            curve.running = amps_of(*most, id);
            curve.running_in = most->state.label;
            add_wires(curve, *most, id);
        }
        if (const Case* most = most_amps(faulted_, id)) {
            curve.fault = amps_of(*most, id);
            curve.fault_in = most->state.label;
            curve.fault_opens = opening_seconds(most->settled, id);
        }
        return curve;
    }

private:
    struct Case {
        State state;
        Settled settled;
    };

    double amps_of(const Case& one, PartId fuse) const {
        return std::abs(one.settled.point.amps[circuit_.part(fuse).fuse->element.index]);
    }
    const Case* most_amps(const std::vector<Case>& cases, PartId fuse) const {
        const Case* most = nullptr;
        for (const Case& one : cases)
            if (most == nullptr || amps_of(one, fuse) > amps_of(*most, fuse)) most = &one;
        return most;
    }

    void add_openings(FuseCurve& curve, FuseType type) const {
        const FuseModel model = fuse_model(type, curve.rating);
        constexpr int steps = 60;
        for (int i = 0; i <= steps; ++i) {
            const double amps = curve.rating * std::pow(largest_share, static_cast<double>(i) / steps);
            const FuseBand band = fuse_band(type, curve.rating, amps);
            curve.openings.push_back({amps, band.earliest, seconds_to_open(model, {}, amps), band.latest});
        }
    }

    /// The wires of the circuit that the fuse stands in: another one may carry as much by chance.
    std::set<WireId> wires_with(PartId fuse) const {
        for (const std::vector<WireId>& wires : circuits_) {
            const bool here = std::any_of(wires.begin(), wires.end(), [&](WireId wire) {
                return circuit_.wire(wire).from.part == fuse || circuit_.wire(wire).to.part == fuse;
            });
            if (here) return {wires.begin(), wires.end()};
        }
        return {};
    }

    /// One wire of each size, the thinnest first: what they bear must lie right of the band.
    void add_wires(FuseCurve& curve, const Case& most, PartId fuse) const {
        const double amps = amps_of(most, fuse);
        std::vector<const Body*> bodies;
        const std::set<WireId> own = wires_with(fuse);
        std::set<WireId> seen;
        for (const Body& body : heat_.bodies()) {
            if (body.kind != BodyKind::wire) continue;
            const WireId wire = circuit_.branch(body.branch).wire;
            const double carried = std::abs(most.settled.point.amps[body.branch.index]);
            if (!own.contains(wire) || std::abs(carried - amps) > same_current * amps || !seen.insert(wire).second)
                continue;
            bodies.push_back(&body);
        }
        std::stable_sort(bodies.begin(), bodies.end(),
                         [](const Body* a, const Body* b) { return a->area_mm2 < b->area_mm2; });
        double last_area = 0;
        for (const Body* body : bodies) {
            if (body->area_mm2 == last_area || curve.wires.size() == most_wires) continue;
            last_area = body->area_mm2;
            curve.wires.push_back({circuit_.wire(circuit_.branch(body->branch).wire).name, bears(*body)});
        }
    }

    std::vector<TimeCurrent> bears(const Body& body) const {
        std::vector<TimeCurrent> points;
        const double decades = std::log10(most_seconds / least_seconds);
        const int steps = static_cast<int>(decades * points_a_decade);
        for (int i = 0; i <= steps; ++i) {
            const double seconds = least_seconds * std::pow(10.0, decades * i / steps);
            points.push_back({seconds, amps_to_limit(circuit_, body, seconds)});
        }
        return points;
    }

    const Circuit& circuit_;
    HeatModel heat_;
    std::vector<std::vector<WireId>> circuits_;
    std::vector<Case> sound_;
    std::vector<Case> faulted_;
};

}  // namespace

std::vector<FuseCurve> fuse_curves(Simulator& simulator, const Circuit& circuit, std::span<const Fault> faults) {
    const CurveDrawer maker(simulator, circuit, faults);
    std::vector<FuseCurve> curves;
    for (std::size_t i = 0; i < circuit.parts.size(); ++i)
        if (auto curve = maker.curve_of({static_cast<std::uint32_t>(i)})) curves.push_back(*std::move(curve));
    return curves;
}

}  // namespace voltfall
