// States settled around the operating point: relays, motors that start or stand, and what then opens.
#pragma once

#include <map>
#include <optional>
#include <span>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "engine/solve/load_seen.hpp"
#include "engine/solve/overlay.hpp"
#include "engine/solve/simulator.hpp"
#include "engine/solve/state.hpp"

namespace voltfall {

/// A case that has come to rest (or that never does).
struct Settled {
    Network network;
    OperatingPoint point;
    std::vector<bool> relay_pulled;  ///< by part
    std::vector<JointId> floating;   ///< cut off by the graph; their volts mean nothing
    std::vector<JointId> weak;       ///< reached only through a blocked diode; volts are under a 10 Mohm meter
    std::vector<PartId> chattering;  ///< relays that pull and let go without end
    std::vector<PartId> holding;     ///< relays with a second stable answer (pulled when once pulled)

    bool floats(JointId joint) const;
};

using SettleResult = tl::expected<Settled, SolveFailure>;

/// Settles one state with faults: relays start dropped, at most eight rounds; a motor stands where its torque does not
/// beat its friction. Current law and power balance are checked after the last solve (a failure is a bug:
/// UnsoundCase).
SettleResult settle(Simulator& simulator, const Circuit& circuit, const State& state, std::span<const Fault> faults);

/// Look for a second stable answer too (a holding circuit)? It costs another settling where the circuit has a relay.
enum class SecondAnswer { skip, look_for };

/// As above, with these fuses (parts) open; one that the state fits new is whole again.
SettleResult settle(Simulator& simulator, const Circuit& circuit, const State& state, std::span<const Fault> faults,
                    std::span<const PartId> opened, SecondAnswer second = SecondAnswer::skip);

/// One case of many: which state, with which faults, and which fuses stand open from the start.
struct SettleCase {
    const State* state{};
    std::span<const Fault> faults;
    std::span<const PartId> opened;
};
/// Settles many cases, which is far quicker than one after the other where they are the sizes of one fault in one
/// state.
std::vector<SettleResult> settle_all(Simulator& simulator, const Circuit& circuit, std::span<const SettleCase> cases);

/// Settles a network that has its state and faults already: relays and motors are moved from there.
SettleResult settle_network(Simulator& simulator, const Network& network, SecondAnswer second = SecondAnswer::skip);

/// Has a settled case confirmed (`Simulator::confirm`): every joint but those that float or hang on a blocked diode,
/// whose volts are a meter's.
void confirm(Simulator& simulator, const Settled& settled);

/// One thing that happens by itself.
struct Event {
    double seconds{};
    PartId part;
    std::string what;  ///< "F7 opens"
};

/// Just after the state is set, what then happens, and how it ends.
struct Course {
    Settled faulted;
    std::vector<Event> aftermath;
    std::optional<Settled> after;  ///< nothing when no event changed anything: then `faulted` is the end
    std::vector<PartId> opened;

    const Settled& end() const { return after ? *after : faulted; }
};
using CourseResult = tl::expected<Course, SolveFailure>;

/// Runs a case to its end: the fuse that opens first opens, solve again, until nothing changes. `opened` stand open
/// from the start.
CourseResult run_course(Simulator& simulator, const Circuit& circuit, const State& state, std::span<const Fault> faults,
                        std::span<const PartId> opened = {});

/// The same for many cases.
std::vector<CourseResult> run_courses(Simulator& simulator, const Circuit& circuit, std::span<const SettleCase> cases);

/// Seconds until a part's fuse element opens at its present current, or nothing. One-pole form, cold start at 25 °C.
std::optional<double> opening_seconds(const Settled& settled, PartId fuse);

/// What a person sees of a load beside the healthy one: dead below 5 % of the nameplate speed (power for lamps and
/// heaters, pull volts for a clutch), slow and fast beyond 10 % of healthy, dim (lamp) and weak (heater) below 80 % of
/// healthy volts, else normal. Where the healthy one does nothing: off, or by its own volts and speed runs, glows (a
/// lamp below 80 % of its rated volts) or creeps (a motor below a quarter of its speed). `healthy` may be null: then
/// the nameplate stands for it.
struct LoadState {
    double volts{};
    double amps{};
    std::optional<double> rpm;
    LoadSeen seen{LoadSeen::normal};
    LoadKind kind{LoadKind::none};
    std::optional<double> rated_rpm{};  ///< of a motor, where its plate says it

    /// What is seen, in the words of its kind: a lamp is "out", a motor "dead".
    std::string_view said() const { return said_of(kind, seen); }
};
LoadState load_state(const Settled& settled, PartId load, const Settled* healthy);

/// Current of a wire at its two ends, in the direction first-written end to last.
struct WireAmps {
    double from{};
    double to{};
};
WireAmps wire_amps(const Settled& settled, WireId wire);

}  // namespace voltfall
