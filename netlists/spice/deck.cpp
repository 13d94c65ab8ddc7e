#include "netlists/spice/deck.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <charconv>
#include <cmath>
#include <string_view>
#include <variant>

#include "netlists/spice/nodes.hpp"
#include "netlists/tables/defaults.hpp"

namespace voltfall {

namespace {

/// kT/q of the library at 27 °C with its constants of k and q (CODATA 2014), measured on its diode.
constexpr double library_thermal_volts = 1.38064852e-23 / 1.6021766208e-19 * 300.15;
/// The library's default conductance beside every junction, stated in our options too.
constexpr double junction_conductance = 1e-12;
/// Floor for a brush's softness: below it tanh is a step that Newton cannot follow.
constexpr double least_brush_soft_amps = 1e-6;

/// What a deck is for: an operating point, or a transient in which every motor starts from standstill.
enum class DeckUse { steady, start };

/// What stands in the deck for a branch.
enum class Shape : unsigned char { copper, resistor, source, stiff_source, diode, diode_behind_ohms, motor };

Shape shape_of(const NetworkBranch& branch) {
    if (is_copper(branch)) return Shape::copper;
    if (std::holds_alternative<Motor>(branch.law)) return Shape::motor;
    if (const auto* source = std::get_if<Source>(&branch.law)) {
        const bool stiff = !branch.open && source->ohms + branch.added_ohms < copper_ohms;
        return stiff ? Shape::stiff_source : Shape::source;
    }
    if (std::holds_alternative<Diode>(branch.law) && !branch.open) {
        return branch.added_ohms < copper_ohms ? Shape::diode : Shape::diode_behind_ohms;
    }
    return Shape::resistor;
}

/// Ohms of the resistor element `r<k>`: of the branch, before the source, or before the diode.
double element_ohms(const NetworkBranch& branch) {
    if (branch.open) return open_ohms;
    double own = 0;
    if (const auto* resistor = std::get_if<Resistor>(&branch.law)) own = resistor->ohms;
    if (const auto* source = std::get_if<Source>(&branch.law)) own = source->ohms;
    if (const auto* contact = std::get_if<Contact>(&branch.law)) {
        if (!contact->closed) return open_ohms;
        own = contact->ohms;
    }
    return std::min(own + branch.added_ohms, open_ohms);
}

double emf(const Network& network, const NetworkBranch& branch) {
    const Source& source = std::get<Source>(branch.law);
    return network.charging ? source.charging_volts : source.volts;
}

bool has_brushes(const Motor& motor) {
    return motor.brush_volts != 0;
}

double brush_soft(const Motor& motor) {
    return std::max(motor.brush_soft_amps, least_brush_soft_amps);
}

/// Calls `value` with every alterable value of a branch, in the fixed order of Deck::values.
template <class Value>
void each_value(const Network& network, const NetworkBranch& branch, Value&& value) {
    using Kind = DeckValue::Kind;
    switch (shape_of(branch)) {
        case Shape::copper:
        case Shape::diode:
            return;
        case Shape::resistor:
        case Shape::diode_behind_ohms:
            value(Kind::resistance, "r", element_ohms(branch));
            return;
        case Shape::source:
            value(Kind::resistance, "r", element_ohms(branch));
            value(Kind::dc, "v", emf(network, branch));
            return;
        case Shape::stiff_source:
            value(Kind::dc, "v", emf(network, branch));
            return;
        case Shape::motor: {
            const Motor& motor = std::get<Motor>(branch.law);
            value(Kind::resistance, "r", motor_ohms(branch));
            value(Kind::gain, "e", motor.constant);
            value(Kind::gain, "f", motor.constant);
            value(Kind::dc, "i", motor_friction(branch));
            value(Kind::dc, "vq", motor.fan_torque);
            value(Kind::resistance, "rb", motor_brake(branch));
            return;
        }
    }
}

/// FNV-1a over 64-bit words.
class Fingerprint {
public:
    void add(std::uint64_t word) { hash_ = (hash_ ^ word) * 0x100000001b3ULL; }
    void add(double number) { add(std::bit_cast<std::uint64_t>(number)); }
    std::uint64_t value() const { return hash_; }

private:
    std::uint64_t hash_{0xcbf29ce484222325ULL};
};

std::uint64_t structure_of(const Network& network, const Nodes& nodes, Shunts shunts) {
    Fingerprint print;
    print.add(static_cast<std::uint64_t>(shunts));
    print.add(static_cast<std::uint64_t>(network.joints));
    for (const int node : nodes.of_joint) print.add(static_cast<std::uint64_t>(node));
    for (const NetworkBranch& branch : network.branches) {
        const Shape shape = shape_of(branch);
        const std::uint64_t a = static_cast<std::uint64_t>(nodes.of_joint[branch.a.index]);
        const std::uint64_t b = static_cast<std::uint64_t>(nodes.of_joint[branch.b.index]);
        print.add(a << 40 | b << 8 | static_cast<std::uint64_t>(shape));
        if (const auto* diode = std::get_if<Diode>(&branch.law)) {
            print.add(diode->saturation_amps);
            print.add(diode->emission);
        }
        if (const auto* motor = std::get_if<Motor>(&branch.law)) {
            print.add(motor->brush_volts);
            print.add(motor->brush_soft_amps);
        }
    }
    return print.value();
}

/// 17 digits survive a deck; the locale does not matter.
std::string number_text(double value) {
    std::array<char, 32> buffer{};
    const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value);
    return {buffer.data(), end.ptr};
}

/// Writes the elements of one branch after the other.
class Emitter {
public:
    Emitter(Deck& deck, const Network& network, DeckUse use)
        : deck_(deck), network_(network), use_(use), next_speed_node_(deck.nodes + 1) {}

    void branch(std::size_t index) {
        const NetworkBranch& branch = network_.branches[index];
        id_ = std::to_string(index);
        a_ = Deck::node_name(deck_.node_of_joint[branch.a.index]);
        b_ = Deck::node_name(deck_.node_of_joint[branch.b.index]);
        each_value(network_, branch, [&](DeckValue::Kind kind, std::string_view prefix, double value) {
            deck_.values.push_back({kind, std::string(prefix) + id_, value});
        });
        switch (shape_of(branch)) {
            case Shape::copper:
                return;
            case Shape::resistor:
                two_terminal("r", a_, b_, element_ohms(branch));
                return;
            case Shape::source:
                two_terminal("r", a_, "x" + id_, element_ohms(branch));
                source(index, "x" + id_, emf(network_, branch));
                return;
            case Shape::stiff_source:
                source(index, a_, emf(network_, branch));
                return;
            case Shape::diode:
                diode(std::get<Diode>(branch.law), a_);
                return;
            case Shape::diode_behind_ohms:
                two_terminal("r", a_, "x" + id_, element_ohms(branch));
                diode(std::get<Diode>(branch.law), "x" + id_);
                return;
            case Shape::motor:
                motor(index, branch);
                return;
        }
    }

    void shunt(int node) {
        line("rs" + std::to_string(node) + " " + Deck::node_name(node) + " 0 " + number_text(shunt_ohms));
    }

private:
    void line(std::string text) { deck_.elements.push_back(std::move(text)); }

    void two_terminal(std::string_view prefix, const std::string& from, const std::string& to, double value) {
        line(std::string(prefix) + id_ + " " + from + " " + to + " " + number_text(value));
    }

    void source(std::size_t index, const std::string& plus, double volts) {
        line("v" + id_ + " " + plus + " " + b_ + " dc " + number_text(volts));
        deck_.sense_of_branch[index] = "v" + id_;
    }

    void diode(const Diode& diode, const std::string& anode) {
        const double emission = diode.emission * diode_thermal_volts() / library_thermal_volts;
        line("d" + id_ + " " + anode + " " + b_ + " dm" + id_);
        line(".model dm" + id_ + " d(is=" + number_text(diode.saturation_amps) + " n=" + number_text(emission) + ")");
    }

    /// The speed (rad/s) is the voltage of a node, torques (N.m) are currents into it.
    void motor(std::size_t index, const NetworkBranch& branch) {
        const Motor& motor = std::get<Motor>(branch.law);
        const int speed_node = next_speed_node_++;
        const std::string speed = Deck::node_name(speed_node);
        const std::string sense = "vm" + id_;
        const std::string inner = "mb" + id_;
        const std::string behind_brushes = has_brushes(motor) ? "mc" + id_ : inner;
        deck_.speed_node_of_branch[index] = speed_node;
        deck_.sense_of_branch[index] = sense;
        const bool starts = use_ == DeckUse::start && motor.rotor == Rotor::free;
        const bool has_coil = use_ == DeckUse::start && motor.inductance > 0;
        const std::string before_ohms = has_coil ? "ml" + id_ : "ma" + id_;
        line(sense + " " + a_ + " ma" + id_ + " dc 0");
        if (has_coil) two_terminal("l", "ma" + id_, before_ohms, motor.inductance);
        two_terminal("r", before_ohms, inner, motor_ohms(branch));
        if (has_brushes(motor)) {
            line("bb" + id_ + " " + inner + " " + behind_brushes + " V=" + number_text(motor.brush_volts) + "*tanh(i(" +
                 sense + ")/" + number_text(brush_soft(motor)) + ")");
        }
        line("e" + id_ + " " + behind_brushes + " " + b_ + " " + speed + " 0 " + number_text(motor.constant));
        line("f" + id_ + " 0 " + speed + " " + sense + " " + number_text(motor.constant));
        if (starts) {
            starting_shaft(motor, speed);
        } else {
            line("i" + id_ + " " + speed + " 0 dc " + number_text(motor_friction(branch)));
        }
        line("vq" + id_ + " q" + id_ + " 0 dc " + number_text(motor.fan_torque));
        line("bf" + id_ + " " + speed + " 0 I=v(q" + id_ + ")*v(" + speed + ")*abs(v(" + speed + "))");
        two_terminal("rb", speed, "0", starts ? turning_brake : motor_brake(branch));
    }

    /// Inertia is a capacitor. Friction opposes the way it turns, and whatever torque is below it while it stands.
    void starting_shaft(const Motor& motor, const std::string& speed) {
        if (motor.inertia > 0) two_terminal("c", speed, "0", motor.inertia);
        if (motor.friction_torque > 0) {
            line("bt" + id_ + " " + speed + " 0 I=" + number_text(motor.friction_torque) + "*tanh(v(" + speed + ")/" +
                 number_text(friction_soft_speed) + ")");
        }
    }

    Deck& deck_;
    const Network& network_;
    DeckUse use_;
    int next_speed_node_;
    std::string id_;
    std::string a_;
    std::string b_;
};

}  // namespace

std::string Deck::node_name(int node) {
    return node == 0 ? "0" : "n" + std::to_string(node);
}

namespace {

Deck deck_for(const Network& network, Shunts shunts, DeckUse use) {
    Deck deck;
    Nodes nodes = number_nodes(network);
    deck.structure = structure_of(network, nodes, shunts);
    deck.node_of_joint = std::move(nodes.of_joint);
    deck.nodes = nodes.count;
    deck.speed_node_of_branch.assign(network.branches.size(), -1);
    deck.sense_of_branch.resize(network.branches.size());
    Emitter emit(deck, network, use);
    for (std::size_t i = 0; i < network.branches.size(); ++i) emit.branch(i);
    if (shunts == Shunts::idle) {
        for (int node = 1; node <= deck.nodes; ++node) emit.shunt(node);
    }
    return deck;
}

}  // namespace

Deck build_deck(const Network& network, Shunts shunts) {
    return deck_for(network, shunts, DeckUse::steady);
}

Deck build_start_deck(const Network& network) {
    return deck_for(network, Shunts::idle, DeckUse::start);
}

std::vector<double> deck_values(const Network& network) {
    std::vector<double> values;
    values.reserve(network.branches.size() + 8);
    for (const NetworkBranch& branch : network.branches) {
        each_value(network, branch, [&](DeckValue::Kind, std::string_view, double value) { values.push_back(value); });
    }
    return values;
}

std::uint64_t deck_structure(const Network& network, Shunts shunts) {
    return structure_of(network, number_nodes(network), shunts);
}

double diode_thermal_volts() {
    static const double volts = default_value("diode_vt");
    return volts;
}

double diode_amps(const Diode& diode, double volts) {
    const double scale = diode.emission * diode_thermal_volts();
    const double beside = junction_conductance * volts;
    if (volts >= -3 * scale) return diode.saturation_amps * std::expm1(volts / scale) + beside;
    const double ratio = 3 * scale / (volts * std::exp(1.0));
    return -diode.saturation_amps * (1 + ratio * ratio * ratio) + beside;
}

double motor_brake(const NetworkBranch& branch) {
    const bool stands = branch.turning == Turning::standing || std::get<Motor>(branch.law).rotor == Rotor::seized;
    return stands ? standing_brake : turning_brake;
}

double motor_friction(const NetworkBranch& branch) {
    const Motor& motor = std::get<Motor>(branch.law);
    if (motor.rotor == Rotor::seized) return 0;
    return static_cast<double>(branch.turning) * motor.friction_torque;
}

double motor_ohms(const NetworkBranch& branch) {
    if (branch.open) return open_ohms;
    return std::clamp(std::get<Motor>(branch.law).armature_ohms + branch.added_ohms, copper_ohms, open_ohms);
}

}  // namespace voltfall
