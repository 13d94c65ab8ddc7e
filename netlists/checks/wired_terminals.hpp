// Which wires stand at which terminal: what the rules of wiring sense ask first.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "netlists/circuit/circuit.hpp"

namespace voltfall {

/// The ends of all wires, by part.
class WiredTerminals {
public:
    explicit WiredTerminals(const Circuit& circuit);

    /// One end of a wire at a part.
    struct End {
        WireId wire;
        std::string terminal;
        bool written_to{false};  ///< the wire is written *to* this end
    };
    const std::vector<End>& at(PartId part) const { return ends_[part.index]; }

    /// A wire or the part's own `feed` stands at that terminal.
    bool wired(PartId part, std::string_view terminal) const;
    /// A wire stands at that terminal.
    bool has_wire(PartId part, std::string_view terminal) const;
    bool untouched(PartId part) const { return ends_[part.index].empty(); }

private:
    const Circuit& circuit_;
    std::vector<std::vector<End>> ends_;
};

/// "M1.2", or "B1-" for the posts of a battery.
std::string terminal_name(const Part& part, std::string_view terminal);

/// Words joined for a message: "541, 542 and 555"; of a long list the first ten and how many more.
std::string listed(const std::vector<std::string>& words);

/// First word of the part's line.
std::string_view kind_word(const Part& part);

}  // namespace voltfall
