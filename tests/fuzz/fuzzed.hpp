// What the targets have in common: bytes as text, and the circuit that phrases are read against.
#pragma once

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <map>
#include <memory>
#include <string>

#include "netlists/files/circuit_file.hpp"
#include "netlists/text/words.hpp"

namespace voltfall::fuzz {

inline std::string text_of(const std::uint8_t* data, std::size_t size) {
    return {reinterpret_cast<const char*>(data), size};
}

inline TypedText phrase_of(const std::uint8_t* data, std::size_t size) {
    return TypedText::argument("typed", text_of(data, size));
}

inline const Circuit& bookmobile() {
    static const auto circuit = read_circuit_file(PROJECT_DIR "/scenarios/bookmobile/cab-blower.toml").circuit;
    if (!circuit) std::abort();
    return *circuit;
}

/// The circuits that jobs and lessons name, each read once a process: what is fuzzed is the file that names them.
inline CircuitReading kept_circuit(const std::string& path) {
    static std::map<std::string, CircuitReading> kept;
    const auto found = kept.find(path);
    if (found != kept.end()) return found->second;
    constexpr std::size_t most_kept = 100;
    if (kept.size() >= most_kept) return read_circuit_file(path);
    return kept.emplace(path, read_circuit_file(path)).first->second;
}

/// Every located problem says what is wrong, in one line; anything else is a bug.
inline void check_problems(const Problems& problems) {
    for (const Problem& problem : problems.list())
        if (problem.message.empty() || problem.message.find('\n') != std::string::npos) std::abort();
}

}  // namespace voltfall::fuzz
