// How a law states its elements of a SPICE deck: once, for the deck's lines, its values and its structure alike.
#pragma once

#include <functional>
#include <span>
#include <string>
#include <string_view>

namespace voltfall {

/// What a deck is for: an operating point, or a transient in which every motor starts from standstill.
enum class DeckUse { steady, start };

/// A node of one branch: an end, or one of its own, named by a prefix.
struct ElementNode {
    enum class Kind { first, second, own, speed, reference } kind{Kind::own};
    std::string_view prefix{};
};
inline constexpr ElementNode first_end{ElementNode::Kind::first};
inline constexpr ElementNode second_end{ElementNode::Kind::second};
/// The node whose voltage is the shaft's speed in rad/s.
inline constexpr ElementNode speed_node{ElementNode::Kind::speed};
inline constexpr ElementNode reference_node{ElementNode::Kind::reference};
constexpr ElementNode own_node(std::string_view prefix) {
    return {ElementNode::Kind::own, prefix};
}

/// Takes the elements of one branch after the other. Elements are named by a prefix and the branch's number.
class ElementWriter {
public:
    virtual ~ElementWriter() = default;

    virtual DeckUse use() const = 0;

    /// A resistor whose ohms may be altered.
    virtual void resistor(std::string_view prefix, ElementNode from, ElementNode to, double ohms) = 0;
    /// The same, whose ohms may be negative: one of several branches that only together spend power.
    virtual void signed_resistor(std::string_view prefix, ElementNode from, ElementNode to, double ohms) = 0;
    /// A voltage source whose volts may be altered.
    virtual void voltage(std::string_view prefix, ElementNode plus, ElementNode minus, double volts) = 0;
    /// A current source whose amperes may be altered.
    virtual void current(std::string_view prefix, ElementNode from, ElementNode to, double amps) = 0;
    /// A voltage controlled by the speed node.
    virtual void speed_voltage(std::string_view prefix, ElementNode plus, ElementNode minus, double gain) = 0;
    /// A current into the speed node, controlled by the branch's current.
    virtual void speed_current(std::string_view prefix, double gain) = 0;
    /// A source of 0 V that carries the branch's current, or names one of the above as doing so.
    virtual void ammeter(std::string_view prefix, ElementNode from, ElementNode to) = 0;
    virtual void carries_current(std::string_view prefix) = 0;

    /// Elements whose `parameters` belong to the structure: altering one means another deck. `lines` is called only
    /// when the deck's text is wanted.
    virtual void fixed(std::span<const double> parameters, const std::function<void()>& lines) = 0;
    /// For `lines`: one line of text, and the names that stand in it.
    virtual void line(std::string text) = 0;
    virtual std::string element_name(std::string_view prefix) const = 0;
    virtual std::string node_name(ElementNode node) const = 0;
};

/// 17 digits survive a deck, whatever the locale.
std::string deck_number(double value);

}  // namespace voltfall
