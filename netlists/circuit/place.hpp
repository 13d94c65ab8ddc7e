// Where something sits, as people name it. Names hold no '.' and no '@', so that a place can be cut at them.
#pragma once

#include <string>
#include <string_view>

namespace voltfall {

/// A part, plug, connector or wire; a cavity, terminal or leg of one; or one half of that, told by the wire on it.
struct Place {
    std::string_view owner;     ///< "C101", "M1", "542"
    std::string_view cavity{};  ///< "4" of "C101.4"; empty for the whole and for a leg without a number
    std::string_view half{};    ///< "541" of "C101.4@541" and of "SP1@541"; else empty

    /// "C101.4" of "C101.4@541".
    Place without_half() const { return {owner, cavity, {}}; }
};

/// The one reader of places; the result views `text`.
Place read_place(std::string_view text);

/// The one writer: "C101.4@541", "SP1@541".
std::string write_place(const Place& place);

/// A terminal of a part: "M1.1"; a battery's posts are names of their own, "B1+".
std::string write_terminal(std::string_view owner, std::string_view terminal);

/// Does a place lie within another: "C101.4" in "C101", "SP1@541" in "SP1", "C101.4@541" in "C101.4"? Names are
/// compared without case; nothing lies within itself.
bool is_cavity_of(std::string_view place, std::string_view owner);

}  // namespace voltfall
