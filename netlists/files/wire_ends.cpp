// `F7.2`, `B1-`, `C101-4`, `SP1`, `31`: where a wire ends.
#include <fmt/format.h>

#include <algorithm>

#include "netlists/files/circuit_sections.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/text/characters.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

struct Split {
    std::string owner;
    std::string terminal;
};

/// Every way to cut a name into part and terminal, the likeliest first.
std::vector<Split> splits(const std::string& typed) {
    std::vector<Split> ways;
    const auto cut = [&](std::size_t at) {
        if (at != std::string::npos && at > 0 && at + 1 < typed.size())
            ways.push_back({typed.substr(0, at), typed.substr(at + 1)});
    };
    cut(typed.find('.'));
    if (ways.empty() && typed.size() > 1 && (typed.back() == '+' || typed.back() == '-')) {
        ways.push_back({typed.substr(0, typed.size() - 1), typed.substr(typed.size() - 1)});
    }
    for (std::size_t i = typed.size(); i-- > 0;) {
        if (typed[i] == '-' || typed[i] == '/') cut(i);
    }
    return ways;
}

bool is_bus(std::string_view word) {
    return word == "30" || word == "15" || word == "31";
}

/// "write R1.1, R1.2, R1.3 or R1.4".
std::string terminal_choices(const Part& part, const std::string& owner) {
    std::vector<std::string> names = part.kind->terminals(part);
    constexpr std::size_t most_shown = 8;
    names.resize(std::min(names.size(), most_shown));
    for (std::string& name : names) name = write_terminal(owner, name);
    if (names.empty()) return {};
    const std::string last = names.back();
    names.pop_back();
    return names.empty() ? "write " + last : fmt::format("write {} or {}", fmt::join(names, ", "), last);
}

class EndReader {
public:
    EndReader(CircuitDraft& draft, const std::string& typed, const SourcePlace& place)
        : draft_(draft), typed_(typed), place_(place) {}

    std::optional<WireEnd> read() {
        if (const PartId part = draft_.part_named(typed_); part.valid()) return whole_part(part);
        if (is_bus(typed_)) return WireEnd{{}, typed_, {}, place_};
        for (const Split& way : splits(typed_)) {
            PartId part = draft_.part_named(way.owner);
            if (!part.valid()) part = draft_.plug_named(way.owner);
            if (part.valid()) return terminal_of(part, way);
            if (draft_.is_lost(way.owner)) return std::nullopt;
        }
        return unknown();
    }

private:
    void error(ProblemCode code, std::string message, std::string suggestion) {
        draft_.problems.error(code, place_, std::move(message), std::move(suggestion));
    }

    std::optional<WireEnd> unknown() {
        if (draft_.is_lost(typed_)) return std::nullopt;
        const PartId plugged = draft_.plug_named(typed_);
        if (plugged.valid()) {
            error(ProblemCode::missing_terminal, fmt::format("'{}' needs a cavity", typed_),
                  terminal_choices(draft_.circuit.part(plugged), typed_));
            return std::nullopt;
        }
        const auto ways = splits(typed_);
        const std::string owner = ways.empty() ? typed_ : ways.front().owner;
        draft_.note_unknown(owner, place_);
        return std::nullopt;
    }

    /// A name without a terminal: right for a splice and a ground.
    std::optional<WireEnd> whole_part(PartId id) {
        const Part& part = draft_.circuit.part(id);
        if (joins(part, Joining::legs) || joins(part, Joining::metal)) return WireEnd{id, {}, {}, place_};
        if (joins(part, Joining::cavities)) {
            error(ProblemCode::missing_terminal, fmt::format("'{}' needs a cavity", typed_),
                  fmt::format("for example {}.1", part.name));
        } else if (!draft_.doubtful.count(id)) {
            error(ProblemCode::missing_terminal, fmt::format("'{}' needs a terminal", typed_),
                  terminal_choices(part, part.name));
        }
        return std::nullopt;
    }

    std::optional<WireEnd> terminal_of(PartId id, const Split& way) {
        const Part& part = draft_.circuit.part(id);
        if (only_joins(part)) return cavity_of(id, way);
        const std::string terminal = canonical_terminal(part, way.terminal);
        if (!terminal.empty()) return WireEnd{id, terminal, {}, place_};
        if (draft_.doubtful.count(id)) return WireEnd{id, way.terminal, {}, place_};
        error(ProblemCode::unknown_terminal,
              fmt::format("{} has {} {}, not {}", part.name, part.kind->terminals_called,
                          fmt::join(part.kind->terminals(part), " "),
                          is_name(way.terminal) ? way.terminal : "'" + typed_ + "'"),
              terminal_choices(part, way.owner));
        return std::nullopt;
    }

    std::optional<WireEnd> cavity_of(PartId id, const Split& way) {
        const Part& part = draft_.circuit.part(id);
        const auto half = way.terminal.find('@');
        if (half != std::string::npos) {
            error(ProblemCode::extra_word,
                  fmt::format("'{}' names one half; the wire itself tells which half it is on", typed_),
                  fmt::format("write {}.{}", part.name, way.terminal.substr(0, half)));
            return std::nullopt;
        }
        const Parameter* ways = part.parameter("ways");
        const auto number = parse_measure(way.terminal);
        const bool begins_well = way.terminal.find_first_of("-/_") != 0;
        if ((!is_name(way.terminal) || !begins_well) && way.terminal != "+" && way.terminal != "-") {
            error(ProblemCode::bad_name,
                  fmt::format("'{}' is no cavity of {}: letters and digits only", typed_, part.name),
                  fmt::format("for example {}.1", part.name));
            return std::nullopt;
        }
        const bool sure = !draft_.doubtful.count(id);
        if (sure && ways && ways->value > 0 && number && number->unit == Unit::none &&
            (number->value > ways->value || number->value < 1)) {
            error(ProblemCode::unknown_terminal,
                  fmt::format("{} has {} cavities, not {}", part.name, ways->value, way.terminal),
                  fmt::format("for example {}.{}", part.name, ways->value));
            return std::nullopt;
        }
        const auto first = draft_.cavities.try_emplace({id, lower(way.terminal)}, way.terminal).first;
        return WireEnd{id, first->second, {}, place_};
    }

    CircuitDraft& draft_;
    const std::string& typed_;
    const SourcePlace& place_;
};

}  // namespace

std::optional<WireEnd> read_wire_end(CircuitDraft& draft, const std::string& typed, const SourcePlace& place) {
    return EndReader(draft, typed, place).read();
}

}  // namespace voltfall
