// Writes a network as a SPICE deck. Names are generated; nothing a person typed is part of an element.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "netlists/circuit/network.hpp"

namespace voltfall {

/// How a value of the deck is altered in a loaded circuit.
struct DeckValue {
    enum class Kind { resistance, signed_resistance, dc, gain } kind;
    std::string device;  ///< "r17", "v3", "e2"
    double value{};
};

/// Idle shunts stand at every electrical node; published circuits of megohms want none.
enum class Shunts { idle, none };

/// A deck and the map back. Branches of zero ohms are no elements: their joints share a node.
struct Deck {
    std::vector<std::string> elements;         ///< element lines, no title, no .end
    std::vector<DeckValue> values;             ///< every alterable value, in a fixed order
    std::vector<int> node_of_joint;            ///< joint -> node number; 0 is the reference
    int nodes{0};                              ///< electrical nodes, without 0
    std::vector<int> speed_node_of_branch;     ///< motor branch -> its speed node number, else -1
    std::vector<std::string> sense_of_branch;  ///< branch -> voltage source that carries its current, or empty
    std::uint64_t structure{0};                ///< equal for two networks that differ in values only

    /// Name of a node: "n12", or "0".
    static std::string node_name(int node);
};

/// Builds the deck. Never throws for a network made from a circuit.
Deck build_deck(const Network& network, Shunts shunts = Shunts::idle);

/// The deck of a start: motors that are free have their inertia, inductance and a friction that holds them until their
/// torque beats it, whichever way. Its values are written but not for altering: the friction's source is another one.
Deck build_start_deck(const Network& network);

/// Only the values of the same network, in the order of Deck::values; for a network of the same structure.
std::vector<double> deck_values(const Network& network);
/// The structure key alone.
std::uint64_t deck_structure(const Network& network, Shunts shunts = Shunts::idle);

/// Lines to load into the library: title, options, elements, .end.
std::vector<std::string> deck_lines(const Deck& deck);

/// The text of a file that plain `ngspice -b` solves to the same numbers (12 digits): title, a comment line for every
/// joint ("* n12 = C101.4@541"), options, elements, and a fixed block that prints every node.
std::string deck_file_text(const Deck& deck, const Network& network);

/// A typed text as it may stand in a comment of a deck: printable ASCII, one line.
std::string comment_text(std::string_view text);

}  // namespace voltfall
