#include "netlists/spice/deck.hpp"

#include <array>
#include <bit>
#include <charconv>
#include <string_view>
#include <variant>

#include "netlists/laws/element_writer.hpp"
#include "netlists/spice/nodes.hpp"

namespace voltfall {

namespace {

void write_branch(const Network& network, const NetworkBranch& branch, ElementWriter& writer) {
    std::visit([&](const auto& law) { law.write(writer, branch, network.battery); }, branch.law);
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

/// Takes what a law states and leaves out what it does not want.
class PartialWriter : public ElementWriter {
public:
    DeckUse use() const override { return DeckUse::steady; }
    void ammeter(std::string_view, ElementNode, ElementNode) override {}
    void carries_current(std::string_view) override {}
    void fixed(std::span<const double>, const std::function<void()>&) override {}
    void line(std::string) override {}
    std::string element_name(std::string_view) const override { return {}; }
    std::string node_name(ElementNode) const override { return {}; }
};

/// The alterable values alone, in the order in which the laws state them.
class ValueList : public PartialWriter {
public:
    std::vector<double> values;

    void resistor(std::string_view, ElementNode, ElementNode, double ohms) override { values.push_back(ohms); }
    void signed_resistor(std::string_view, ElementNode, ElementNode, double ohms) override { values.push_back(ohms); }
    void voltage(std::string_view, ElementNode, ElementNode, double volts) override { values.push_back(volts); }
    void current(std::string_view, ElementNode, ElementNode, double amps) override { values.push_back(amps); }
    void speed_voltage(std::string_view, ElementNode, ElementNode, double gain) override { values.push_back(gain); }
    void speed_current(std::string_view, double gain) override { values.push_back(gain); }
};

/// A print of which elements there are, between which nodes of the branch, and of the parameters that cannot be
/// altered.
class StructurePrint : public PartialWriter {
public:
    explicit StructurePrint(Fingerprint& print) : print_(print) {}

    void resistor(std::string_view prefix, ElementNode from, ElementNode to, double) override { add(prefix, from, to); }
    void signed_resistor(std::string_view prefix, ElementNode from, ElementNode to, double) override {
        add(prefix, from, to);
    }
    void voltage(std::string_view prefix, ElementNode plus, ElementNode minus, double) override {
        add(prefix, plus, minus);
    }
    void current(std::string_view prefix, ElementNode from, ElementNode to, double) override { add(prefix, from, to); }
    void speed_voltage(std::string_view prefix, ElementNode plus, ElementNode minus, double) override {
        add(prefix, plus, minus);
    }
    void speed_current(std::string_view prefix, double) override { add(prefix, speed_node, reference_node); }
    void fixed(std::span<const double> parameters, const std::function<void()>&) override {
        for (const double parameter : parameters) print_.add(parameter);
    }

private:
    void add(std::string_view prefix, ElementNode from, ElementNode to) {
        add(prefix);
        for (const ElementNode node : {from, to}) {
            print_.add(static_cast<std::uint64_t>(node.kind));
            add(node.prefix);
        }
    }
    void add(std::string_view text) {
        for (const char letter : text) print_.add(static_cast<std::uint64_t>(letter));
    }
    Fingerprint& print_;
};

std::uint64_t structure_of(const Network& network, const Nodes& nodes, Shunts shunts) {
    Fingerprint print;
    print.add(static_cast<std::uint64_t>(shunts));
    print.add(static_cast<std::uint64_t>(network.joints));
    for (const int node : nodes.of_joint) print.add(static_cast<std::uint64_t>(node));
    StructurePrint writer(print);
    for (const NetworkBranch& branch : network.branches) {
        const std::uint64_t a = static_cast<std::uint64_t>(nodes.of_joint[branch.a.index]);
        const std::uint64_t b = static_cast<std::uint64_t>(nodes.of_joint[branch.b.index]);
        print.add(a << 32 | b);
        write_branch(network, branch, writer);
    }
    return print.value();
}

/// Writes the elements of one branch after the other.
class Emitter : public ElementWriter {
public:
    Emitter(Deck& deck, const Network& network, DeckUse use)
        : deck_(deck), network_(network), use_(use), next_speed_node_(deck.nodes + 1) {}

    void branch(std::size_t index) {
        const NetworkBranch& branch = network_.branches[index];
        index_ = index;
        id_ = std::to_string(index);
        a_ = Deck::node_name(deck_.node_of_joint[branch.a.index]);
        b_ = Deck::node_name(deck_.node_of_joint[branch.b.index]);
        write_branch(network_, branch, *this);
    }

    void shunt(int node) {
        line("rs" + std::to_string(node) + " " + Deck::node_name(node) + " 0 " + deck_number(shunt_ohms));
    }

    DeckUse use() const override { return use_; }

    void resistor(std::string_view prefix, ElementNode from, ElementNode to, double ohms) override {
        value(DeckValue::Kind::resistance, prefix, ohms);
        two_terminal(prefix, from, to, deck_number(ohms));
    }
    void signed_resistor(std::string_view prefix, ElementNode from, ElementNode to, double ohms) override {
        value(DeckValue::Kind::signed_resistance, prefix, ohms);
        two_terminal(prefix, from, to, deck_number(ohms));
    }
    void voltage(std::string_view prefix, ElementNode plus, ElementNode minus, double volts) override {
        value(DeckValue::Kind::dc, prefix, volts);
        two_terminal(prefix, plus, minus, "dc " + deck_number(volts));
    }
    void current(std::string_view prefix, ElementNode from, ElementNode to, double amps) override {
        value(DeckValue::Kind::dc, prefix, amps);
        two_terminal(prefix, from, to, "dc " + deck_number(amps));
    }
    void speed_voltage(std::string_view prefix, ElementNode plus, ElementNode minus, double gain) override {
        value(DeckValue::Kind::gain, prefix, gain);
        two_terminal(prefix, plus, minus, node_name(speed_node) + " 0 " + deck_number(gain));
    }
    void speed_current(std::string_view prefix, double gain) override {
        value(DeckValue::Kind::gain, prefix, gain);
        line(element_name(prefix) + " 0 " + node_name(speed_node) + " " + deck_.sense_of_branch[index_] + " " +
             deck_number(gain));
    }
    void ammeter(std::string_view prefix, ElementNode from, ElementNode to) override {
        // A branch with a shaft has its speed node from here on.
        deck_.speed_node_of_branch[index_] = next_speed_node_++;
        carries_current(prefix);
        two_terminal(prefix, from, to, "dc 0");
    }
    void carries_current(std::string_view prefix) override { deck_.sense_of_branch[index_] = element_name(prefix); }
    void fixed(std::span<const double>, const std::function<void()>& lines) override { lines(); }
    void line(std::string text) override { deck_.elements.push_back(std::move(text)); }
    std::string element_name(std::string_view prefix) const override { return std::string(prefix) + id_; }
    std::string node_name(ElementNode node) const override {
        switch (node.kind) {
            case ElementNode::Kind::first:
                return a_;
            case ElementNode::Kind::second:
                return b_;
            case ElementNode::Kind::own:
                return element_name(node.prefix);
            case ElementNode::Kind::speed:
                return Deck::node_name(deck_.speed_node_of_branch[index_]);
            case ElementNode::Kind::reference:
                return "0";
        }
        return {};
    }

private:
    void value(DeckValue::Kind kind, std::string_view prefix, double number) {
        deck_.values.push_back({kind, element_name(prefix), number});
    }
    void two_terminal(std::string_view prefix, ElementNode from, ElementNode to, const std::string& rest) {
        line(element_name(prefix) + " " + node_name(from) + " " + node_name(to) + " " + rest);
    }

    Deck& deck_;
    const Network& network_;
    DeckUse use_;
    int next_speed_node_;
    std::size_t index_{0};
    std::string id_;
    std::string a_;
    std::string b_;
};

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

std::string deck_number(double value) {
    std::array<char, 32> buffer{};
    const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value);
    return {buffer.data(), end.ptr};
}

std::string Deck::node_name(int node) {
    return node == 0 ? "0" : "n" + std::to_string(node);
}

Deck build_deck(const Network& network, Shunts shunts) {
    return deck_for(network, shunts, DeckUse::steady);
}

Deck build_start_deck(const Network& network) {
    return deck_for(network, Shunts::idle, DeckUse::start);
}

std::vector<double> deck_values(const Network& network) {
    ValueList list;
    list.values.reserve(network.branches.size() + 8);
    for (const NetworkBranch& branch : network.branches) write_branch(network, branch, list);
    return std::move(list.values);
}

std::uint64_t deck_structure(const Network& network, Shunts shunts) {
    return structure_of(network, number_nodes(network), shunts);
}

}  // namespace voltfall
