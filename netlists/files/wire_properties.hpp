// What stands behind the ends of a wire: sizes, colours, lengths, `x2`, insulation, bundle.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "netlists/files/circuit_draft.hpp"
#include "netlists/files/wire_tokens.hpp"

namespace voltfall {

/// Reads the properties of one line of [wires]; what cannot be is a problem of the draft. A chain of pieces has one
/// size and colour or one a piece, and a length a piece or one for all, shared among them.
class WireProperties {
public:
    WireProperties(CircuitDraft& draft, const TomlEntry& entry, std::span<const WireToken> tokens)
        : draft_(draft), entry_(entry), tokens_(tokens) {}

    void read();
    /// Holds the counts against the pieces of the chain. Without a length that of the defaults is taken, with a
    /// warning. Where the line has failed already, only what is surely missing is told.
    void check_counts(std::size_t pieces, bool failed);
    bool failed() const { return failed_; }
    /// Gives piece `at` of the chain its size, colour, length and ohms.
    void give(Wire& wire, std::size_t at, std::size_t pieces) const;

private:
    struct Size {
        WireStandard standard{WireStandard::metric};
        double size{};
    };
    struct Colour {
        std::string text;
        SourcePlace place;
        ColourMeaning meaning;
    };

    void error(ProblemCode code, const SourcePlace& place, std::string message, std::string suggestion);
    bool is_second(const WireToken& token, bool said);
    bool holds(const WireToken& token, std::string_view figure, const Measure& measure, std::string_view example);
    void read_property();
    void read_number(const WireToken& token, const Measure& measure, bool guessed);
    void report_misread(const WireToken& token);
    bool read_count(const WireToken& token);
    bool read_count_and_size(const WireToken& token);
    bool read_tracer(const WireToken& token);
    void read_bundle(const WireToken& token);
    void read_class(const WireToken& token, double celsius);
    void read_colour(const WireToken& token);
    bool is_near_miss(const WireToken& token);
    void check_colours(std::size_t pieces);
    void check_meaning(const Colour& colour);
    void check_size_typed_as_length();
    bool is_size_without_square(const WireToken& token, const Measure& measure) const;
    std::string figures_in(std::initializer_list<Unit> units) const;
    void share_length(std::size_t pieces);

    CircuitDraft& draft_;
    const TomlEntry& entry_;
    std::span<const WireToken> tokens_;
    std::size_t next_{0};
    bool failed_{false};
    std::vector<Parameter> lengths_;
    std::vector<Size> sizes_;
    std::vector<Colour> colours_;
    std::optional<int> parallel_;  ///< wires side by side; one where nothing is said
    std::optional<int> bundle_;    ///< one where nothing is said
    std::optional<double> class_;  ///< °C
};

}  // namespace voltfall
