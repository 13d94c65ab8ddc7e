#include "engine/ngspice/ngspice_start.hpp"

#include <cstdlib>
#include <fstream>
#include <stdexcept>
#include <system_error>

namespace voltfall {

namespace {

constexpr const char* scripts_variable = "SPICE_SCRIPTS";

}  // namespace

PrivateDirectory::PrivateDirectory() {
    std::error_code failed;
    before_ = std::filesystem::current_path(failed);
    std::string pattern = (std::filesystem::temp_directory_path() / "voltfall-XXXXXX").string();
    if (!mkdtemp(pattern.data())) throw std::runtime_error("cannot make a temporary directory " + pattern);
    own_ = pattern;
    std::ofstream(own_ / ".spiceinit").flush();
    std::ofstream(own_ / "spinit").flush();
    if (const char* scripts = std::getenv(scripts_variable)) scripts_before_ = scripts;
    setenv(scripts_variable, own_.c_str(), 1);
    std::filesystem::current_path(own_);
}

PrivateDirectory::~PrivateDirectory() {
    std::error_code ignored;
    if (!before_.empty()) std::filesystem::current_path(before_, ignored);
    std::filesystem::remove_all(own_, ignored);
    if (scripts_before_) {
        setenv(scripts_variable, scripts_before_->c_str(), 1);
    } else {
        unsetenv(scripts_variable);
    }
}

}  // namespace voltfall
