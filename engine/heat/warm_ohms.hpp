// Ohms that rise with temperature: windings and coils of copper, and wires that carry a fault's current.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "engine/heat/bodies.hpp"
#include "netlists/circuit/fault_mode.hpp"

namespace voltfall {

/// The temperature at which a nameplate's stall current and a coil's ohms hold, °C (ASSUMED where the line says
/// nothing; makers test at 20 or 25).
inline constexpr double nameplate_celsius = 25;

/// Keeps a case's ohms near the temperatures of its bodies. Only bodies count whose ohms set the current: windings of
/// motors that stand or are overloaded, coils, and wires, where they take a tenth or more of the supply's power. A
/// motor that turns under its usual load draws what its fan wants, whatever its winding's ohms.
///
/// Between two solutions the ohms stand at the middle of the temperatures to come, so that steps of some percent in
/// ohms leave an error of less than one in the heat.
class WarmOhms {
public:
    /// `cold` is the case at the ohms of its file; it must outlive this. `step`: how far the ohms go between two
    /// solutions, as a share.
    WarmOhms(const HeatModel& model, const Settled& cold, double step);

    /// Chooses the ohms for the time ahead, from the case as it is settled now and the bodies' temperatures. True when
    /// they have changed so that it must be settled anew. Bodies that are `left_out` (by index) keep the ohms that they
    /// have.
    bool choose(const Settled& now, std::span<const double> celsius, const std::vector<bool>& left_out);

    /// The temperature at which a body's ohms must be chosen anew; nothing for one whose ohms do not count.
    std::optional<double> until(std::size_t body) const { return until_[body]; }

    /// The chosen ohms as a fault that comes after the others; nothing where all are those of the file.
    std::optional<Fault> as_fault() const;

private:
    /// Does the body change the current by warming? `supply` is what the sources make, watts.
    bool counts(std::size_t body, const Settled& now, double supply) const;
    Law law_at(std::size_t body, double factor) const;

    const HeatModel& model_;
    const Settled& cold_;
    double step_;
    std::vector<double> factors_;  ///< by body: ohms over those of the file
    std::vector<std::optional<double>> until_;
};

}  // namespace voltfall
