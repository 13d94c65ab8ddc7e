// What is told of a line that does not read: the first thing that is wrong with it, and how to write what was meant.
#pragma once

#include "netlists/circuit/circuit.hpp"
#include "netlists/text/problem.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

/// One problem in the place of those of a line that does not read: the first of them, with what the line may mean as
/// its suggestion; or what is wrong with the order that was meant, where the line as it stands tells less.
void add_clearest(const TypedText& phrase, const Circuit& circuit, const Problems& as_it_stands, Problems& problems);

}  // namespace voltfall
