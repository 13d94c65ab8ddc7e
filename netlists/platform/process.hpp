// The process itself: its words, its environment, its memory, its end.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace voltfall {

/// The words behind the program's name, in UTF-8.
std::vector<std::string> command_words(int count, char** words);

/// A variable of the environment; nullopt where it is not set.
std::optional<std::string> environment_text(const char* name);

/// The folder in which a person's own settings stand; empty where the system names none.
std::string settings_folder();

/// Keeps freed memory instead of giving it back to the system, where the system can be told.
void keep_freed_memory();

/// Ends the process, with a word on stderr, while its other threads hang or hold what they hold: calls nothing but the
/// system.
[[noreturn]] void end_at_once(int status, std::string_view farewell);

/// Fills the bytes from the system's source of secrets; false where it gives none.
bool fill_random(std::span<unsigned char> bytes);

/// Raises the limit of open files to `wanted` as far as it goes; the limit, or nullopt where the system tells none.
std::optional<unsigned long> room_for_open_files(unsigned long wanted);

}  // namespace voltfall
