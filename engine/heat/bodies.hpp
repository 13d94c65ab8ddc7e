// What warms up in a circuit: wires, joints, resistor packs, motor windings.
#pragma once

#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "engine/heat/linear_heat.hpp"
#include "engine/heat/rated_contacts.hpp"
#include "engine/solve/settled.hpp"

namespace voltfall {

enum class BodyKind {
    pack,     ///< coils of a resistor pack, with the air of the fan that they slow down
    winding,  ///< a motor's, or the coil of a clutch
    joint,    ///< a contact, or ohms that a fault gave to a wire or to a fuse's grip
    wire,     ///< half of a wire
    module,   ///< a linear stage that gives less when it is hot
    rating,   ///< a contact that carries more than its rating: of events only, it has no temperature here
};

/// "pack", "winding", "joint", "wire", "module", "rating".
std::string_view body_word(BodyKind kind);

/// One thing with one temperature.
struct Body {
    BodyKind kind{BodyKind::wire};
    std::string name;      ///< "R1", "M1 winding", "C101.4", "542"
    PartId part;           ///< of a pack, module, motor or clutch
    BranchId branch;       ///< of a winding, joint, wire or stage
    double limit{};        ///< °C at which it is harmed, a limiter opens, a stage folds back or a fan unit cuts out
    double harmed_at{};    ///< °C; where something acts at `limit`: what harms it in spite of that, else as `limit`
    bool limiter{false};   ///< something acts at `limit`
    double capacity{};     ///< J/K (a wire: per metre)
    double still_air{};    ///< W/K at standstill; for wires and joints the only one (a wire: per metre)
    double full_air{};     ///< W/K more at the motor's rated speed
    double ambient{};      ///< °C around it
    double ohms_metre{};   ///< of a wire, at 20 °C
    double area_mm2{};     ///< of a wire, all its parallel pieces
    BranchId fan;          ///< the motor whose air cools it; invalid: none
    double rated_speed{};  ///< of that motor, rad/s
};

/// The bodies of one circuit with their constants. Packs and windings are calibrated on the healthy circuit: in the
/// position with most heat they stand `pack_rise` (`winding_rise`) above the air around them, and standing air carries
/// off a share of what moving air does (all ASSUMED: no published values). A linear stage that folds back sheds its
/// watts at that temperature in full air, and is cooled and warms as a pack does (ASSUMED). A fan unit's controller is
/// as warm as its windings: they share a housing and its air (ASSUMED).
class HeatModel {
public:
    HeatModel(Simulator& simulator, const Circuit& circuit);

    const Circuit& circuit() const { return circuit_; }
    const std::vector<Body>& bodies() const { return bodies_; }
    const std::vector<RatedContact>& contacts() const { return contacts_; }

    /// The faults that a pack's limiter has when it is open, what a stage does that folds back, and what a fan unit
    /// does that has cut out; empty for a part without any.
    const std::vector<ModePtr>& limiter_modes(PartId part) const { return limiter_modes_[part.index]; }
    /// Heat made in the body, watts (a wire: in the whole half).
    double watts(const Body& body, const Settled& settled) const;
    /// Current through it, amperes (a pack: the most of its coils).
    double amps(const Body& body, const Settled& settled) const;
    LinearHeat heat(const Body& body, const Settled& settled) const;
    /// Kelvin of a winding over its air at its rated current and speed.
    double winding_rise() const { return winding_rise_; }

private:
    void add_packs(const std::vector<Settled>& healthy);
    void add_modules(const std::vector<Settled>& healthy);
    void add_windings();
    void add_coils();
    void add_joints();
    void add_wires();
    void cool_by_fan(Body& body, const std::vector<Settled>& healthy) const;
    /// Watts per kelvin that it sheds in full air; standing air carries off a share of that, and its seconds are those.
    void shed_in_full_air(Body& body, double conductance) const;
    double pack_watts(PartId pack, const Settled& settled) const;
    double airflow(const Body& body, const Settled& settled) const;

    const Circuit& circuit_;
    std::vector<Body> bodies_;
    std::vector<std::vector<ModePtr>> limiter_modes_;  ///< by part
    double winding_rise_{};
    std::vector<RatedContact> contacts_;
};

}  // namespace voltfall
