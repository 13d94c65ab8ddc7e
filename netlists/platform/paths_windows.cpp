#include "netlists/platform/paths.hpp"

#include "netlists/platform/wide_windows.hpp"

namespace voltfall {

std::filesystem::path path_of(std::string_view text) {
    return wide(text);
}

std::string path_text(const std::filesystem::path& path) {
    return narrow(path.generic_wstring());
}

}  // namespace voltfall
