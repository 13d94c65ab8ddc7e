#include "engine/heat/aftermath.hpp"

#include <cmath>
#include <limits>

#include "engine/heat/follow.hpp"
#include "engine/solve/fuse_types.hpp"

namespace voltfall {

namespace {

/// The fuse whose quick part would open first at the currents of the beginning, of those that carry what runs through
/// the harmed thing.
PartId quickest_fuse(const Aftermath& aftermath, const HeatEvent& harmed) {
    constexpr double least_share = 0.9;
    PartId quickest;
    double least = std::numeric_limits<double>::infinity();
    const Settled& at = aftermath.faulted;
    const std::vector<Part>& parts = at.network.circuit->parts;
    for (std::uint32_t i = 0; i < parts.size(); ++i) {
        if (!parts[i].fuse) continue;
        const double amps = std::abs(at.point.amps[parts[i].fuse->element.index]);
        if (!(amps >= least_share * harmed.amps)) continue;
        const auto opens =
            seconds_to_open(fuse_model(type_of(*parts[i].fuse), at.network.ratings[i], Edge::earliest), {}, amps);
        if (!opens || *opens >= least) continue;
        least = *opens;
        quickest = {i};
    }
    return quickest;
}

}  // namespace

AftermathResult run_aftermath(Simulator& simulator, const HeatModel& model, const State& state,
                              std::span<const Fault> faults, double seconds, std::span<const PartId> opened,
                              HeatReport report) {
    AftermathResult result = follow({simulator, model, state, faults}, seconds, opened, report);
    if (!result || report != HeatReport::bodies || !opened.empty()) return result;
    const auto edge = knife_edge(simulator, model, state, faults, seconds, *result);
    if (edge) result->events.front().otherwise = otherwise_words(model.circuit(), *edge);
    return result;
}

std::optional<EdgeFuse> knife_edge(Simulator& simulator, const HeatModel& model, const State& state,
                                   std::span<const Fault> faults, double seconds, const Aftermath& aftermath) {
    if (aftermath.events.empty()) return std::nullopt;
    const HeatEvent& first = aftermath.events.front();
    const bool opens = first.kind == HeatEventKind::fuse_opens;
    EdgeFuse edge{opens ? first.part : quickest_fuse(aftermath, first), opens ? Edge::latest : Edge::earliest, {}, {}};
    if (!edge.fuse.valid() || model.circuit().part(edge.fuse).has_flag("resets")) return std::nullopt;
    const AftermathResult result =
        follow({simulator, model, state, faults}, seconds, {}, HeatReport::events_only, edge.fuse, edge.edge);
    if (!result) return std::nullopt;
    for (const HeatEvent& event : result->events) {
        if (event.kind == HeatEventKind::fuse_opens && event.part == edge.fuse) {
            edge.opens_after = event.seconds;
            break;
        }
        if (!edge.before) edge.before = event;
    }
    // Usual and edge agree where the slow one still opens first, and where the quick one comes too late as well.
    const bool agrees = opens ? !edge.before : !edge.opens_after || edge.before.has_value();
    if (agrees && !opens) {
        // By the model even a quick one holds the falling current. The times published for its type are wider: one of
        // unknown make may open before.
        const Part& part = model.circuit().part(edge.fuse);
        const double amps = aftermath.faulted.point.amps[part.fuse->element.index];
        const double rating = aftermath.faulted.network.ratings[edge.fuse.index];
        const FuseBand band = fuse_band(type_of(*part.fuse), rating, amps);
        if (band.earliest && *band.earliest < first.seconds) {
            edge.opens_after = band.earliest;
            return edge;
        }
    }
    return agrees ? std::nullopt : std::optional(edge);
}

}  // namespace voltfall
