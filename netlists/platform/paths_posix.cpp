#include "netlists/platform/paths.hpp"

namespace voltfall {

std::filesystem::path path_of(std::string_view text) {
    return text;
}

std::string path_text(const std::filesystem::path& path) {
    return path.string();
}

}  // namespace voltfall
