// The streams that a program is started with, as a person sees them.
#pragma once

#include <optional>
#include <string>

namespace voltfall {

enum class StandardStream { in, out, err };

bool is_terminal(StandardStream stream);

/// Characters of a line of the terminal that the output goes to; nullopt where it goes elsewhere.
std::optional<int> terminal_columns();

/// Before anything is read or written: no stream is closed (else the next file that is opened, a job perhaps, takes its
/// number and gets what is meant for the stream; writing to what stands there now fails, reading finds the end), and
/// bytes go through as they are, in UTF-8. Ends the process with `status` where that cannot be.
void prepare_streams(int status);

/// One line that a person types at the terminal, edited with history where the system has an editor; its end of line is
/// cut off. Returns nullopt at the end of the input.
std::optional<std::string> edited_line(const std::string& prompt);
/// Puts a line into the history.
void remember_line(const std::string& line);

}  // namespace voltfall
