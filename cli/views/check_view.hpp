// The answer of `check`, and its three ways of showing.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/views/text_page.hpp"
#include "netlists/text/problem.hpp"

namespace voltfall {

/// How large a circuit is. Nodes are electrical: joints of one piece of copper count once, the reference too.
struct CircuitCounts {
    std::size_t parts{};
    std::size_t wires{};
    std::size_t nodes{};
    std::size_t branches{};
};

struct CheckedFile {
    std::string file;
    std::vector<Problem> problems;
    std::optional<CircuitCounts> counts;  ///< nothing when the circuit could not be built
    std::string circuit_file;             ///< the circuit counted; the file itself unless it is a job

    bool ok() const;
};

struct CheckAnswer {
    std::vector<CheckedFile> files;

    bool ok() const;
    /// Every problem once, though a circuit may be checked with several jobs.
    std::vector<Problem> problems() const;
    /// The sizes of the circuits added up, each circuit once; nothing when one could not be built.
    std::optional<CircuitCounts> counts() const;
};

std::string check_text(const CheckAnswer& answer, PageStyle style);
std::string check_json(const CheckAnswer& answer);
std::string check_plain(const CheckAnswer& answer);

}  // namespace voltfall
