// A test as a phrase: a reading of files.md without its value, `hi  M1.1 to B1-`.
#pragma once

#include <optional>
#include <string>

#include "netlists/phrases/test.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

/// Reads a test. Beside the phrases of readings the words of the bench are known: `volts A to B`, `drop C101.4`,
/// `amps 542`, `ohms R1.1 to R1.4`, `F7` alone (look at the fuse), `K3` alone (listen to the relay), `M1` alone (watch
/// the load). Returns nullopt, and at least one problem, when it is no test.
std::optional<Test> read_test_phrase(const TypedText& phrase, const Circuit& circuit, Problems& problems);

/// The phrase that reads as this test: "hi  M1.1 to B1-", "fuse F7".
std::string write_test(const Circuit& circuit, const Test& test);

/// The same without the state: "M1.1 to B1-", "across C101.4", "clamp 542", "ohms R1.1 to R1.4". Empty for `NoTest`.
std::string write_tested(const Circuit& circuit, const Tested& tested);

/// Volts, ohms, amps, lamp, beep, load, relay, fuse and look: what a bench answers.
bool is_bench_test(const Tested& tested);

}  // namespace voltfall
