#include "netlists/platform/process.hpp"

#include <algorithm>
#include <cstdlib>

#include "netlists/platform/wide_windows.hpp"
// Behind the header of the whole system.
#include <bcrypt.h>
#include <shellapi.h>

namespace voltfall {

std::vector<std::string> command_words(int, char**) {
    // The words of `main` come in the old code page of the machine.
    int count = 0;
    wchar_t** const words = ::CommandLineToArgvW(::GetCommandLineW(), &count);
    std::vector<std::string> found;
    for (int i = 1; words != nullptr && i < count; ++i) found.push_back(narrow(words[i]));
    ::LocalFree(words);
    return found;
}

std::optional<std::string> environment_text(const char* name) {
    const wchar_t* const text = ::_wgetenv(wide(name).c_str());
    return text == nullptr ? std::nullopt : std::optional(narrow(text));
}

std::string settings_folder() {
    return environment_text("APPDATA").value_or("");
}

void keep_freed_memory() {}

void end_at_once(int status, std::string_view farewell) {
    write_all(::GetStdHandle(STD_ERROR_HANDLE), farewell);
    ::TerminateProcess(::GetCurrentProcess(), static_cast<UINT>(status));
    std::abort();  // not reached
}

bool fill_random(std::span<unsigned char> bytes) {
    return ::BCryptGenRandom(nullptr, bytes.data(), static_cast<ULONG>(bytes.size()),
                             BCRYPT_USE_SYSTEM_PREFERRED_RNG) == 0;
}

std::optional<unsigned long> room_for_open_files(unsigned long wanted) {
    // Sockets are no files here, and `select` of the page server takes 64 of them in Debian's build.
    return std::min(wanted, 160ul);
}

}  // namespace voltfall
