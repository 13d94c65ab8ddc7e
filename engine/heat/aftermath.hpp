// What happens to a case with time: fuses that open, limiters that open, things that reach the temperature that harms
// them, one after the other.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "engine/heat/bodies.hpp"
#include "netlists/tables/fuse_model.hpp"

namespace voltfall {

enum class HeatEventKind {
    fuse_opens,
    breaker_closes,  ///< one that resets by itself has cooled
    limiter_opens,
    folds_back,  ///< a stage that has become too hot gives less from now on
    cuts_out,    ///< a fan unit that has become too hot gives nothing until it has cooled
    runs_again,  ///< it has cooled
    harmed,      ///< a body reaches the temperature that harms it; the circuit stays as it is
    warms,       ///< ohms have changed with temperature: a step of the account, never in an aftermath's list
};

/// Does the event mean that something acts at a body's limit?
constexpr bool acts_at_limit(HeatEventKind kind) {
    return kind == HeatEventKind::limiter_opens || kind == HeatEventKind::folds_back || kind == HeatEventKind::cuts_out;
}

/// Is it what electronics and breakers do to protect themselves, and take back by themselves?
constexpr bool protects_itself(HeatEventKind kind) {
    return kind == HeatEventKind::breaker_closes || kind == HeatEventKind::folds_back ||
           kind == HeatEventKind::cuts_out || kind == HeatEventKind::runs_again;
}

/// What happens at the limit of a body that has one.
constexpr HeatEventKind limit_event(const Body& body) {
    switch (body.kind) {
        case BodyKind::module:
            return HeatEventKind::folds_back;
        case BodyKind::winding:
            return HeatEventKind::cuts_out;
        case BodyKind::pack:
        case BodyKind::joint:
        case BodyKind::wire:
        case BodyKind::rating:
            break;
    }
    return HeatEventKind::limiter_opens;
}

/// One thing that happens by itself.
struct HeatEvent {
    HeatEventKind kind{HeatEventKind::harmed};
    double seconds{};
    std::optional<double> earliest;  ///< of a fuse: its quickest and slowest parts, where nothing opened before it
    std::optional<double> latest;
    PartId part;  ///< of a fuse or pack
    std::string name;
    std::string what;  ///< "F7 opens", "R1 limiter opens at 121 C", "M1 winding reaches 155 C"
    double watts{};    ///< made in the body then; a fuse: 0
    double amps{};     ///< through the body or fuse then
    BodyKind body{BodyKind::wire};
    bool goes_on{false};  ///< harmed, and in the end it still heats: nothing has protected it
    double rating{};      ///< of a contact that carries more than it, amperes
    std::optional<double>
        cycling;            ///< share of the time for which a breaker that goes on opening and closing is closed
    std::string otherwise;  ///< of the first fuse: what happens where a slow part of its type opens later or never
};

/// A body as it is when the time is over.
struct BodyHeat {
    std::string name;
    BodyKind kind{BodyKind::wire};
    double celsius{};
    double hottest{};  ///< °C, of all the time
    double limit{};
    double ambient{};
    double watts{};          ///< just after the state is set
    double healthy_watts{};  ///< in the same state without faults
};

struct Aftermath {
    Settled faulted;  ///< just after the state is set
    std::vector<HeatEvent> events;
    std::optional<Settled> after;  ///< nothing when no event changed the circuit
    std::vector<PartId> opened;    ///< fuses
    std::vector<BodyHeat> bodies;  ///< the warmest first
    double seconds{};              ///< how long it was followed

    const Settled& end() const { return after ? *after : faulted; }
};
using AftermathResult = tl::expected<Aftermath, SolveFailure>;

/// With the temperatures of all bodies, or without; `quick` also leaves the ohms as the file has them, for what is
/// asked of hundreds of cases.
enum class HeatReport { bodies, events_only, quick };

/// Follows a case for `seconds` from cold (fuses at `ambient_fuse`, everything else at the temperature around it).
/// Currents are those of the settled circuit: the start-up of a motor is the transient's matter. Windings that stand or
/// are overloaded, coils and wires in a short gain ohms as they warm, and the current falls (`WarmOhms`). A breaker
/// that resets is followed through one closing; then its cycles heat what is behind it by their mean. `opened` fuses
/// stand open from the start.
AftermathResult run_aftermath(Simulator& simulator, const HeatModel& model, const State& state,
                              std::span<const Fault> faults, double seconds, std::span<const PartId> opened = {},
                              HeatReport report = HeatReport::bodies);

/// The case where one fuse is the quickest or the slowest of its type.
struct EdgeFuse {
    PartId fuse;
    Edge edge{Edge::latest};
    std::optional<double> opens_after;  ///< seconds; nothing when it never does in the time
    std::optional<HeatEvent> before;    ///< what is harmed, or opens, before it does
};
/// Is the case a knife edge? Where its first fuse opens before anything else happens: the case with a slow part of the
/// type, if something is harmed before that opens. Where something is harmed first: the case with a quick part of the
/// fuse that carries the current, if that opens before. Nothing where sound fuses of the type agree. `aftermath` is the
/// case with usual parts.
std::optional<EdgeFuse> knife_edge(Simulator& simulator, const HeatModel& model, const State& state,
                                   std::span<const Fault> faults, double seconds, const Aftermath& aftermath);

/// "or not at all; if it does not, M1 winding reaches 155 C after 60 s", or "unless F7 opens before: a quick one does
/// after 8 s".
std::string otherwise_words(const Circuit& circuit, const EdgeFuse& edge);
/// " opens and closes, closed 27% of the time", of a breaker that is closed for this share of it.
std::string cycling_words(double closed);

}  // namespace voltfall
