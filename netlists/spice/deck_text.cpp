// The deck as lines for the library and as a file for `ngspice -b`.
#include <string>
#include <string_view>

#include "netlists/circuit/circuit.hpp"
#include "netlists/spice/deck.hpp"

namespace voltfall {

namespace {

// Tighter tolerances than these fall below the rounding of the nonlinear sources, the library's defaults leave
// microvolts; measured, see DEVELOPERS.md. gmin and temperatures are the library's defaults, stated.
constexpr std::string_view options = ".options noacct reltol=1e-6 vntol=1e-7 abstol=1e-10 gmin=1e-12 temp=27 tnom=27";

/// What a branch is in the words of the circuit.
std::string branch_comment(const Circuit& circuit, std::size_t index) {
    if (index >= circuit.branches.size()) return "an added path";
    const Branch& branch = circuit.branches[index];
    return comment_text(branch.place + " " + branch.role);
}

/// Elements are numbered by their branch: "r12" is branch 12.
std::string element_comments(const Deck& deck, const Circuit& circuit) {
    std::string text;
    for (const DeckValue& value : deck.values) {
        const auto digits = value.device.find_first_of("0123456789");
        if (value.device.substr(0, digits) != "r") continue;
        text += "* " + value.device + " = " + branch_comment(circuit, std::stoul(value.device.substr(digits))) + "\n";
    }
    return text;
}

std::string comments(const Deck& deck, const Circuit& circuit) {
    std::string text;
    for (std::size_t joint = 0; joint < circuit.joints.size(); ++joint) {
        text +=
            "* " + Deck::node_name(deck.node_of_joint[joint]) + " = " + comment_text(circuit.joints[joint].name) + "\n";
    }
    for (std::size_t i = 0; i < deck.speed_node_of_branch.size(); ++i) {
        if (deck.speed_node_of_branch[i] < 0) continue;
        text += "* " + Deck::node_name(deck.speed_node_of_branch[i]) + " = speed of " + branch_comment(circuit, i) +
                ", rad/s as volts\n";
    }
    for (std::size_t i = 0; i < deck.sense_of_branch.size(); ++i) {
        if (deck.sense_of_branch[i].empty()) continue;
        text += "* i(" + deck.sense_of_branch[i] + ") = current of " + branch_comment(circuit, i) + "\n";
    }
    return text + element_comments(deck, circuit);
}

std::string print_block(const Deck& deck) {
    std::string text = ".control\nset numdgt=12\nop\n";
    for (int node = 1; node <= deck.nodes; ++node) text += "print " + Deck::node_name(node) + "\n";
    for (const int node : deck.speed_node_of_branch) {
        if (node >= 0) text += "print " + Deck::node_name(node) + "\n";
    }
    for (const std::string& sense : deck.sense_of_branch) {
        if (!sense.empty()) text += "print i(" + sense + ")\n";
    }
    return text + "quit\n.endc\n";
}

}  // namespace

std::string comment_text(std::string_view text) {
    std::string plain;
    for (const char letter : text) plain += letter >= ' ' && letter <= '~' ? letter : '?';
    return plain;
}

std::vector<std::string> deck_lines(const Deck& deck) {
    std::vector<std::string> lines;
    lines.reserve(deck.elements.size() + 3);
    lines.emplace_back("voltfall");
    lines.emplace_back(options);
    lines.insert(lines.end(), deck.elements.begin(), deck.elements.end());
    lines.emplace_back(".end");
    return lines;
}

std::string deck_file_text(const Deck& deck, const Network& network) {
    const Circuit& circuit = *network.circuit;
    std::string text = "* Voltfall: " + comment_text(circuit.name) + "\n";
    text += comments(deck, circuit);
    text += std::string(options) + "\n";
    for (const std::string& element : deck.elements) text += element + "\n";
    text += print_block(deck);
    return text + ".end\n";
}

}  // namespace voltfall
