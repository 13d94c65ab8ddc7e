#include "netlists/checks/wired_terminals.hpp"

#include <algorithm>
#include <span>

#include "netlists/parts/kind.hpp"
#include "netlists/text/lists.hpp"

namespace voltfall {

namespace {
constexpr std::size_t most_listed = 10;

/// The terminal that `feed 30` or `feed 15` ties to the bus, as the reader lays it.
std::string feed_terminal(const Part& part) {
    for (const std::string_view wanted : {"1", "30"}) {
        if (std::string terminal = canonical_terminal(part, wanted); !terminal.empty()) return terminal;
    }
    return part.common;
}

}  // namespace

WiredTerminals::WiredTerminals(const Circuit& circuit) : circuit_(circuit), ends_(circuit.parts.size()) {
    for (std::uint32_t i = 0; i < circuit.wires.size(); ++i) {
        const Wire& wire = circuit.wires[i];
        if (wire.from.part.valid()) ends_[wire.from.part.index].push_back({{i}, wire.from.terminal, false});
        if (wire.to.part.valid()) ends_[wire.to.part.index].push_back({{i}, wire.to.terminal, true});
    }
}

bool WiredTerminals::has_wire(PartId part, std::string_view terminal) const {
    const auto& ends = ends_[part.index];
    return std::any_of(ends.begin(), ends.end(), [&](const End& end) { return end.terminal == terminal; });
}

bool WiredTerminals::wired(PartId part, std::string_view terminal) const {
    const Part& owner = circuit_.part(part);
    return (!owner.feed.empty() && terminal == feed_terminal(owner)) || has_wire(part, terminal);
}

std::string terminal_name(const Part& part, std::string_view terminal) {
    return write_terminal(part.name, terminal);
}

std::string listed(const std::vector<std::string>& words) {
    if (words.size() <= most_listed) return joined(words);
    return joined(std::span(words).first(most_listed), ", ") + " and " + std::to_string(words.size() - most_listed) +
           " more";
}

std::string_view kind_word(const Part& part) {
    return part.kind->word;
}

}  // namespace voltfall
