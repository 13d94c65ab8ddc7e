// Every fault of one circuit as readings: what a probe would show at each point in each state, with each fault.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "engine/solve/settled.hpp"
#include "netlists/circuit/circuit.hpp"
#include "netlists/files/job_file.hpp"

namespace voltfall {

/// What is seen in one state: volts by probe point (a floating point shows 0), and which fuses have opened.
struct StateView {
    bool solved{false};
    std::vector<double> volts;
    std::vector<bool> fuse_open;
    /// By point: what one sigma of each branch's tolerance, of the supply, of the model and of the meter moves; last,
    /// what no other reading shares. Only where asked.
    std::vector<std::vector<double>> slopes;
};

/// A fault of some size, seen in each state.
struct FaultView {
    std::size_t mode{};  ///< index in the circuit's catalogue; `healthy_mode` for no fault
    std::vector<StateView> states;
};

inline constexpr std::size_t healthy_mode = static_cast<std::size_t>(-1);

/// The faults of a circuit and their views. The states are those of the controls with the engine running, the circuit
/// at rest with the key on, with the key off and with each fuse pulled, and each of the first again with every fuse
/// just fitted and read at once, before one opens; in the others volts are of the end of the case, when nothing opens
/// any more.
class FaultBench {
public:
    explicit FaultBench(std::shared_ptr<const Circuit> circuit);

    const Circuit& circuit() const { return *circuit_; }
    const std::vector<State>& states() const { return states_; }
    const std::vector<std::string>& state_phrases() const { return phrases_; }
    /// Has every fuse just been fitted in this state?
    bool new_fuses(std::size_t state) const { return !states_[state].fitted_new.empty(); }
    const std::vector<JointId>& points() const { return points_; }
    const std::vector<PartId>& fuses() const { return fuses_; }
    const FaultView& healthy() const { return healthy_; }
    /// Every mode of the catalogue at its usual size and at five between its smallest and its largest.
    const std::vector<FaultView>& rivals() const { return rivals_; }

    /// The fault as a phrase names it: usual size, middle of the wire.
    Fault usual_fault(std::size_t mode) const;
    /// Is the fault one of a fuse itself, which a new fuse takes away?
    bool sits_in_fuse(const FaultMode& mode) const;
    /// A fault seen in some states, one after the other: a fuse that opens in any of them stays open in all.
    std::vector<StateView> view(std::span<const Fault> faults, std::span<const std::size_t> states) const;
    /// A fault seen in every state by itself, with the slopes.
    FaultView view_with_slopes(std::size_t mode) const;

private:
    enum class Slopes { no, yes };
    void lay_states();
    StateView view_one(std::span<const Fault> faults, std::size_t state, std::vector<PartId>& opened,
                       Slopes slopes = Slopes::no) const;
    FaultView view_each(std::size_t mode, std::span<const Fault> faults, Slopes slopes = Slopes::no) const;
    std::vector<std::vector<double>> slopes_of(const Settled& seen, std::size_t state) const;

    std::shared_ptr<const Circuit> circuit_;
    std::vector<State> states_;
    std::vector<std::string> phrases_;
    std::vector<JointId> points_;
    std::vector<PartId> fuses_;
    FaultView healthy_;
    std::vector<FaultView> rivals_;
};

/// Readings closer than this are the same to the default meter that shows millivolts.
double meter_tolerance(double volts);

/// Does any point or fuse in any state look other than healthy, by more than the meter and the tolerances of sound
/// parts and of the supply may be off? The fault's view has slopes.
bool shows_anything(const FaultBench& bench, const FaultView& fault);

}  // namespace voltfall
