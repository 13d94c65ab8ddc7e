#include "netlists/platform/terminal.hpp"

#include <fcntl.h>
#include <io.h>

#include <cstdio>
#include <cstdlib>
#include <iostream>

#include "netlists/platform/wide_windows.hpp"

namespace voltfall {

namespace {

HANDLE handle_of(StandardStream stream) {
    switch (stream) {
        case StandardStream::in:
            return ::GetStdHandle(STD_INPUT_HANDLE);
        case StandardStream::out:
            return ::GetStdHandle(STD_OUTPUT_HANDLE);
        case StandardStream::err:
            return ::GetStdHandle(STD_ERROR_HANDLE);
    }
    return nullptr;
}

unsigned page_before = 0;

void give_page_back() {
    ::SetConsoleOutputCP(page_before);
}

/// A closed stream gets a device that nothing comes from.
void fill_closed(std::FILE* stream, const char* how, int status) {
    if (::_get_osfhandle(::_fileno(stream)) < 0 && std::freopen("NUL", how, stream) == nullptr) ::_exit(status);
}

}  // namespace

bool is_terminal(StandardStream stream) {
    DWORD mode = 0;
    return ::GetConsoleMode(handle_of(stream), &mode) != 0;
}

std::optional<int> terminal_columns() {
    CONSOLE_SCREEN_BUFFER_INFO info{};
    if (::GetConsoleScreenBufferInfo(handle_of(StandardStream::out), &info) == 0) return std::nullopt;
    return info.srWindow.Right - info.srWindow.Left + 1;
}

void prepare_streams(int status) {
    fill_closed(stdin, "rb", status);
    // Reading from them: what is written there fails and is told.
    fill_closed(stdout, "rb", status);
    fill_closed(stderr, "rb", status);
    for (std::FILE* stream : {stdin, stdout, stderr}) ::_setmode(::_fileno(stream), _O_BINARY);
    if (!is_terminal(StandardStream::out) && !is_terminal(StandardStream::err)) return;
    page_before = ::GetConsoleOutputCP();
    ::SetConsoleOutputCP(CP_UTF8);
    std::atexit(give_page_back);
    for (const StandardStream stream : {StandardStream::out, StandardStream::err}) {
        DWORD mode = 0;
        if (::GetConsoleMode(handle_of(stream), &mode) != 0)
            ::SetConsoleMode(handle_of(stream), mode | ENABLE_VIRTUAL_TERMINAL_PROCESSING);
    }
}

std::optional<std::string> edited_line(const std::string& prompt) {
    // The console itself edits a line and keeps those before it.
    std::cout << prompt << std::flush;
    std::wstring typed;
    for (;;) {
        wchar_t block[256];
        DWORD got = 0;
        if (::ReadConsoleW(handle_of(StandardStream::in), block, 256, &got, nullptr) == 0 || got == 0)
            return std::nullopt;
        typed.append(block, got);
        if (typed.back() != L'\n') continue;
        while (!typed.empty() && (typed.back() == L'\n' || typed.back() == L'\r')) typed.pop_back();
        // Ctrl-Z ends what is typed.
        if (typed.find(L'\x1a') != std::wstring::npos) return std::nullopt;
        return narrow(typed);
    }
}

void remember_line(const std::string&) {}

}  // namespace voltfall
