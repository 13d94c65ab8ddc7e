// The circuit on paper: parts, wires, joints and branches. It does not change after it is built.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "netlists/circuit/fault_mode.hpp"
#include "netlists/circuit/ids.hpp"
#include "netlists/circuit/moving_quantity.hpp"
#include "netlists/circuit/place.hpp"
#include "netlists/laws/laws.hpp"
#include "netlists/tables/wires.hpp"
#include "netlists/text/problem.hpp"
#include "netlists/text/quantity.hpp"

namespace voltfall {

struct Kind;

/// A value of a part or wire: typed in the file, or a default with its source.
struct Parameter {
    std::string name;  ///< "coil ohms", "rated amps"
    double value{};
    Unit unit{Unit::none};
    std::string source;   ///< "file", or "connector_ohm: <source of the default>"
    double tolerance{0};  ///< share of the value, as typed (10% is 0.10); 0 where none
    bool typed{false};
    bool guessed{false};  ///< written with ~
};

/// One position of a switch or key and the contacts that it closes.
struct Position {
    std::string name;
    std::vector<std::string> contacts;
};

/// One coil of a resistor pack, between two taps.
struct Coil {
    std::string from;
    std::string to;
    Parameter ohms;
};

/// One thermal limiter of a pack: at which tap it stands.
struct Limiter {
    std::string tap;
    Parameter opens_at;
};

/// What a person hears or sees of a load.
enum class LoadKind { none, motor, clutch, lamp, heater };

/// How a kind of part behaves by itself, as data for the settling loop.
struct RelayAction {
    BranchId coil;
    double healthy_coil_ohms{};
    double pull_in_volts{};    ///< pulls when coil amps x healthy ohms reach this
    double drop_out_volts{};   ///< lets go below this
    BranchId normally_open;    ///< 30-87, if laid
    BranchId normally_closed;  ///< 30-87a, if laid
};

/// What opens by current: fuse, breaker, fusible link.
struct FuseAction {
    BranchId element;
    std::string type;  ///< word of the fuse type ("mini", "link" …)
    double rating_amps{};
};

/// What electronics do by themselves, as data for the settling loop: they look at volts, come to one figure (a duty,
/// volts of drop), and set the laws of some branches by it. The circuit is solved again until the figure stands.
struct Electronics {
    std::vector<JointId> seen;  ///< joints whose volts they look at
    std::vector<BranchId>
        driven;     ///< branches that they set; a fault that holds the first (HoldContact) holds them all
    double full{};  ///< the figure when held closed, and the one to begin with
    double none{};  ///< the figure when held open
    /// The figure that these volts at `seen` ask for.
    std::function<double(std::span<const double> volts)> wanted;
    /// The laws of `driven`, one each, at a figure.
    std::function<std::vector<Law>(double figure)> laws;
};

struct Part {
    std::string name;
    const Kind* kind{nullptr};
    SourcePlace source;
    std::vector<Parameter> parameters;
    std::vector<std::string> flags;   ///< words understood: "maxi", "resets", "open", "diode"
    std::string print;                ///< words kept for print: "left cowl stud"
    std::string common;               ///< a switch's common terminal
    std::vector<Position> positions;  ///< of a switch, key or contact ("open", "closed")
    std::size_t rest_position{0};     ///< index of the position it has when nothing is said
    std::vector<Coil> coils;
    std::vector<Limiter> limiters;
    std::string feed;  ///< "30" or "15" when fed from a bus, else empty
    std::string plug;  ///< connector at the part, else empty

    // laid by the kind
    std::vector<BranchId> branches;            ///< its own, sockets included
    std::map<std::string, JointId> pins;       ///< terminal -> joint inside the part
    std::map<std::string, JointId> harness;    ///< terminal -> joint of the wire side (equal where nothing plugs)
    std::map<std::string, BranchId> contacts;  ///< switch or key contact terminal -> its branch
    std::optional<RelayAction> relay;
    std::optional<FuseAction> fuse;
    std::optional<MovingQuantity> moved_by;  ///< of a contact that pressure or heat moves, where its figures tell how
    std::optional<Electronics> electronics;
    BranchId load_branch;  ///< winding, coil or filament, where the part is a load

    /// The parameter of that name, or null.
    const Parameter* parameter(std::string_view name) const;
    /// Its value; a missing one is a bug (assertion).
    double value(std::string_view name) const;
    bool has_flag(std::string_view flag) const;
    std::optional<std::size_t> position_named(std::string_view name) const;
};

/// The end of a wire as typed.
struct WireEnd {
    PartId part;
    std::string terminal;  ///< as the part names it; empty for a splice or ground without numbers
    JointId joint;
    SourcePlace source;
};

struct Wire {
    std::string name;    ///< "541", "60:1", "w3"
    std::string number;  ///< circuit number of the line it was written in ("60")
    WireEnd from;
    WireEnd to;
    WireStandard standard{WireStandard::metric};
    double size{};      ///< mm2 or gauge
    double area_mm2{};  ///< of one strand bundle
    int parallel{1};
    int bundle{1};                        ///< wires that run tied together, this one counted
    std::optional<double> class_celsius;  ///< °C of its insulation, where the file says it
    std::string colour;                   ///< as typed
    std::string colour_words;             ///< "red with blue"; empty where no table of colours knows it
    Parameter length;                     ///< metres
    double ohms{};                        ///< whole wire at 20 °C
    JointId middle;
    BranchId first_half;   ///< from -> middle
    BranchId second_half;  ///< middle -> to
    SourcePlace source;
};

/// Where a probe may go.
enum class Access {
    open,    ///< a terminal or cavity
    closed,  ///< forbidden by [closed]
    inside,  ///< within a part or under insulation
};

/// Everything that is one piece of copper: a terminal, a cavity half, a splice.
struct Joint {
    std::string name;                  ///< "C101.4@541", "M1.1", "C304.1", "SP1", "B1+", "31"
    std::vector<std::string> aliases;  ///< other ways to write it
    std::string place;                 ///< what must be reached to touch it: "C304", "C101"
    Access access{Access::open};
    std::string closed_reason;
};

/// What a branch is to the rooms that warm, unplug or trace it.
enum class BranchSort {
    other,
    contact,      ///< pieces that touch: cavities, legs of splices, contacts of switches and relays
    socket,       ///< the contact between a part and what it plugs into
    pack_coil,    ///< a coil of a resistor pack
    suppression,  ///< a resistor across a relay's coil
    signal,       ///< ohms in or beside a signal: a pull-up, an output's own
    tie,          ///< the reader's own: a bus to its fuse, metal to battery minus
};

/// A two-terminal piece of a part or wire.
struct Branch {
    std::string place;  ///< what a fault phrase calls the thing: "542", "C101.4", "R1", "F7.1", "SP1@555"
    std::string role;   ///< "first half", "contact", "coil 1-2", "limiter", "winding", "contact 4", "socket"
    JointId a;
    JointId b;
    Law law;
    PartId part;          ///< owner, or invalid
    WireId wire;          ///< owner, or invalid
    double tolerance{0};  ///< one sigma of its ohms, as a share (log-normal for contacts)
    BranchSort sort{BranchSort::other};
};

/// A control that a person can set.
struct Control {
    PartId part;
    std::string word;  ///< "blower"
};

/// One [limits] line, kept as written and read.
struct Limit {
    std::string key;  ///< "hi.amps", "feed", "C303"
    double low{};
    double high{};
    Unit unit{Unit::none};
    double at_volts{0};  ///< supply at which it holds; 0 where not said
    SourcePlace source;
};

struct Strip {
    std::string name;
    double minutes{};
    std::vector<std::string> places;
};

struct Care {
    std::string place;
    std::string text;                ///< whole, for print
    std::vector<std::string> words;  ///< of hot, rubs, moves, wet, rust, heat-cycled, repaired-before
};

struct Circuit {
    std::string name;
    std::string note;
    double supply{12};        ///< 12 or 24
    std::vector<Part> parts;  ///< in the order written
    std::vector<Wire> wires;  ///< in the order written; pieces of a chain follow each other
    std::vector<Joint> joints;
    std::vector<Branch> branches;
    std::vector<ModePtr> modes;  ///< the fault catalogue, in order of parts, then wires

    std::vector<Control> controls;
    std::vector<Limit> limits;
    std::map<std::string, double> reach;  ///< place -> minutes
    std::vector<Strip> strips;
    std::vector<Care> care;
    std::map<std::string, std::vector<std::string>> together;
    std::map<std::string, double, std::less<>> heat;  ///< [heat]: row of the defaults table -> value
    std::map<std::string, std::string> closed;        ///< place -> "sealed", "electronic", other words

    JointId reference;  ///< B1-, where the black lead stands; node 0
    JointId metal;      ///< 31
    JointId bus_30;
    JointId bus_15;  ///< invalid where nothing uses it
    PartId battery;
    PartId key;            ///< invalid where no key is drawn (then one is implied)
    BranchId implied_key;  ///< contact 30-15 of the implied key, if laid

    const Part& part(PartId id) const { return parts[id.index]; }
    const Wire& wire(WireId id) const { return wires[id.index]; }
    const Joint& joint(JointId id) const { return joints[id.index]; }
    const Branch& branch(BranchId id) const { return branches[id.index]; }
    const FaultMode& mode(ModeId id) const { return *modes[id.index]; }

    /// Names are compared without case. Nothing when unknown.
    PartId find_part(std::string_view name) const;
    WireId find_wire(std::string_view name) const;
    /// The joint of that name or alias.
    JointId find_joint(std::string_view name) const;
    /// The part that a place is, or sits in or at: by its owner's name or plug ("C101.4" -> C101, "C303.1" -> R1).
    /// Invalid for a wire.
    PartId part_at(std::string_view place) const;
    bool is_control(PartId part) const;
    /// Minutes to reach a place, there and back: [reach], a strip group, or `reach_unknown` (known = false).
    struct Reach {
        double minutes{};
        bool known{true};
        std::string strip;  ///< the strip-down that opens it, when that is the way
    };
    Reach reach_of(std::string_view place) const;
    const Care* care_of(std::string_view place) const;
};

}  // namespace voltfall
