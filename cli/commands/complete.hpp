// What may stand next on a command line, for the completions of shells.
#pragma once

#include <string>
#include <vector>

namespace voltfall {

/// Printed among the candidates where a file may stand.
inline constexpr const char* files_mark = "*files";

/// `words` are those behind the program's name; the last is the one that is being typed, perhaps empty and perhaps with
/// a quote that is still open. Gives the words that may stand there and begin so: commands, options, the words of an
/// option, and names of the circuit that another word of the line names.
std::vector<std::string> completions(std::vector<std::string> words);

}  // namespace voltfall
