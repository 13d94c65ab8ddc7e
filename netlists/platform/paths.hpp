// Names of files between our texts, which are UTF-8, and the library's paths, which are what the system has.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>

namespace voltfall {

/// The path that a text names.
std::filesystem::path path_of(std::string_view text);
/// The path as it is told: with `/` between its folders on any system.
std::string path_text(const std::filesystem::path& path);

}  // namespace voltfall
