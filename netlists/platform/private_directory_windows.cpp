#include "netlists/platform/private_directory.hpp"

#include <fmt/format.h>

#include <cstring>
#include <filesystem>
#include <optional>
#include <random>
#include <stdexcept>
#include <vector>

#include "netlists/platform/process.hpp"
#include "netlists/platform/wide_windows.hpp"

namespace voltfall {

namespace {

[[noreturn]] void cannot(const char* refusal, const std::string& what, int error) {
    throw std::runtime_error(fmt::format("{}: cannot {}: {}", refusal, what, std::strerror(error)));
}

/// For the system and for libraries of C, which keep a copy of the environment each.
void set_variable(const char* name, const std::wstring& value) {
    ::SetEnvironmentVariableW(wide(name).c_str(), value.empty() ? nullptr : value.c_str());
    ::_wputenv_s(wide(name).c_str(), value.c_str());
}

}  // namespace

/// Where the process is killed meanwhile, the folder stays with its empty files: no process is left to take it away.
struct PrivateDirectory::System {
    explicit System(const Wanted& wanted) : variable(wanted.variable), variable_before(environment_text(variable)) {
        std::error_code failed;
        const std::filesystem::path folder = std::filesystem::temp_directory_path(failed);
        if (failed) throw std::runtime_error(fmt::format("{}: there is no folder for temporary files", wanted.refusal));
        std::random_device random;
        own = (folder / fmt::format("voltfall-{:08x}{:08x}", random(), random())).wstring();
        // The folder for temporary files is the user's own here, and so is what is made in it.
        if (::CreateDirectoryW(own.c_str(), nullptr) == 0)
            cannot(wanted.refusal, "make a folder " + narrow(own), errno_of_system());
        for (const char* name : wanted.empty_files) {
            // Closed again: while it is open with a right to delete it, a library of C cannot open it.
            files.push_back(own + L"\\" + wide(name));
            SystemHandle made(::CreateFileW(files.back().c_str(), GENERIC_WRITE, 0, nullptr, CREATE_NEW,
                                            FILE_ATTRIBUTE_NORMAL, nullptr));
            if (made.is_open() && made.close()) continue;
            const int error = errno_of_system();
            let_go();
            cannot(wanted.refusal, "write its start-up files in a folder like " + narrow(own), error);
        }
        before = std::filesystem::current_path(failed).wstring();
        if (::SetCurrentDirectoryW(own.c_str()) == 0) {
            const int error = errno_of_system();
            let_go();
            cannot(wanted.refusal, "enter " + narrow(own), error);
        }
        set_variable(variable, own);
    }
    ~System() {
        ::SetCurrentDirectoryW(before.c_str());
        set_variable(variable, wide(variable_before.value_or("")));
        let_go();
    }
    System(const System&) = delete;
    System& operator=(const System&) = delete;

    void let_go() {
        for (const std::wstring& file : files) ::DeleteFileW(file.c_str());
        ::RemoveDirectoryW(own.c_str());
    }

    const char* variable;
    std::optional<std::string> variable_before;
    std::wstring own;
    std::wstring before;
    std::vector<std::wstring> files;
};

PrivateDirectory::PrivateDirectory(const Wanted& wanted) : system_(std::make_unique<System>(wanted)) {}

PrivateDirectory::~PrivateDirectory() = default;

}  // namespace voltfall
