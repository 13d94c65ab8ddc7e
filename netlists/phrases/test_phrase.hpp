// A test asked for: a reading of files.md without its value, `hi  M1.1 to B1-`.
#pragma once

#include <optional>
#include <string>

#include "netlists/phrases/reading_phrase.hpp"

namespace voltfall {

/// Reads a test. Beside the phrases of readings the words of the bench are known: `volts A to B`, `drop C101.4`,
/// `amps 542`, `ohms R1.1 to R1.4`, `F7` alone (look at the fuse), `K3` alone (listen to the relay). The value of the
/// measurement given back means nothing. Nothing, and at least one problem, when it is no test.
std::optional<Reading> read_test_phrase(const TypedText& phrase, const Circuit& circuit, Problems& problems);

/// The measurement as a reading names it, without its value: "M1.1 to B1-", "clamp 542", "fuse F7". Empty for kinds
/// that `is_bench_test` refuses. Of a point that may be several joints the first is meant.
std::string write_test(const Circuit& circuit, const Measurement& measurement);

/// Volts, ohms, amps, lamp, beep, load, relay, fuse and look: what a bench answers.
bool is_bench_test(const Measurement& measurement);

}  // namespace voltfall
