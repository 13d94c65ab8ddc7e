#include "tests/support/random_circuit.hpp"

#include <cmath>
#include <numbers>
#include <random>

namespace voltfall::test {

namespace {

class Builder {
public:
    explicit Builder(unsigned number) : random_(number) {}

    Circuit build() {
        joints_ = between(6, 24);
        // A tree of resistors and copper ties every joint to the reference.
        for (int joint = 1; joint <= joints_; ++joint) tie(joint, between(0, joint - 1));
        const int batteries = between(1, 2);
        for (int i = 0; i < batteries; ++i) battery();
        const int more = between(2, joints_);
        for (int i = 0; i < more; ++i) resistor(any(), any());
        const int contacts = between(0, 4);
        for (int i = 0; i < contacts; ++i) contact(chance(0.5));
        const int motors = between(0, 2);
        for (int i = 0; i < motors; ++i) motor();
        const int diodes = between(0, 2);
        for (int i = 0; i < diodes; ++i) diode();
        const int relays = between(0, 2);
        for (int i = 0; i < relays; ++i) relay();
        return made_.circuit();
    }

private:
    int between(int low, int high) { return std::uniform_int_distribution<int>(low, high)(random_); }
    bool chance(double share) { return std::uniform_real_distribution<double>(0, 1)(random_) < share; }
    double spread(double low, double high) {
        return std::exp(std::uniform_real_distribution<double>(std::log(low), std::log(high))(random_));
    }
    std::string name(int joint) { return joint == 0 ? "0" : "j" + std::to_string(joint); }
    int any() { return between(0, joints_); }
    std::string next(const std::string& kind) { return kind + std::to_string(++count_); }

    void tie(int from, int to) {
        const double ohms = chance(0.2) ? 0.0 : spread(1e-3, 100);
        made_.resistor(next("r"), name(from), name(to), ohms);
    }
    void resistor(int from, int to) { made_.resistor(next("r"), name(from), name(to), spread(1e-3, 1000)); }
    BranchId contact(bool closed) {
        const double ohms = chance(0.3) ? 0.0 : spread(1e-3, 0.1);
        return made_.branch(next("c"), name(any()), name(any()), Contact{ohms, closed});
    }
    void battery() {
        made_.branch(next("b"), name(between(1, joints_)), name(0),
                     Source{spread(10, 15), spread(13, 15), spread(5e-3, 0.1)});
    }
    void motor() {
        Motor motor;
        motor.brush_volts = chance(0.8) ? 1.0 : 0.0;
        motor.brush_soft_amps = 0.2;
        motor.armature_ohms = spread(0.1, 2);
        motor.constant = spread(0.01, 0.05);
        motor.friction_torque = motor.constant * spread(0.2, 3);
        motor.fan_torque = motor.constant * spread(2, 20) / std::pow(3500 * 2 * std::numbers::pi / 60, 2);
        if (chance(0.15)) motor.rotor = Rotor::seized;
        made_.branch(next("m"), name(between(1, joints_)), name(any()), motor);
    }
    void diode() { made_.branch(next("d"), name(any()), name(any()), Diode{1e-14, 1.0}); }
    void relay() {
        const double ohms = spread(50, 300);
        const BranchId coil = made_.resistor(next("coil"), name(any()), name(0), ohms);
        const BranchId open = contact(false);
        const BranchId closed = chance(0.5) ? contact(true) : BranchId{};
        made_.relay(next("k"), coil, ohms, 7.2, 1.2, open, closed);
    }

    std::mt19937 random_;
    BranchCircuit made_;
    int joints_{0};
    int count_{0};
};

}  // namespace

Circuit random_circuit(unsigned number) {
    return Builder(number).build();
}

}  // namespace voltfall::test
