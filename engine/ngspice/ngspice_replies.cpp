#include "engine/ngspice/ngspice_replies.hpp"

#include <algorithm>
#include <cstring>
#include <string_view>

#include "engine/ngspice/ngspice_library.hpp"

namespace voltfall {

namespace {

/// A failed run prints some 150 lines; the first one that says why is kept.
constexpr std::size_t longest_complaint = 200;
/// Kept rows of a transient together, numbers: 160 MB.
constexpr std::size_t most_kept_numbers = 20'000'000;

bool begins(std::string_view text, std::string_view with) {
    return text.substr(0, with.size()) == with;
}

bool holds(std::string_view text, std::string_view part) {
    return text.find(part) != std::string_view::npos;
}

/// Errors by their beginning on the library's stderr; names may contain the bare word.
bool is_error(std::string_view line) {
    return begins(line, "Error") || begins(line, "ERROR") || begins(line, "Fatal error") ||
           begins(line, "doAnalyses:") || holds(line, "simulation(s) aborted") ||
           holds(line, "no such command available");
}

/// The plain iteration did not do; the result is looked at twice.
bool is_struggle(std::string_view line) {
    return holds(line, "singular matrix") || begins(line, "Note: Starting");
}

// Callbacks only store: the library hangs when one throws or calls back into it.
int on_text(char* text, int, void* user) noexcept {
    auto& received = *static_cast<Received*>(user);
    std::string_view line = text ? text : "";
    if (received.banner.empty() && holds(line, "ngspice-")) received.banner = line;
    if (!begins(line, "stderr ")) return 0;
    line.remove_prefix(std::strlen("stderr "));
    received.struggled = received.struggled || is_struggle(line);
    if (!is_error(line)) return 0;
    if (!received.error) received.complaint = line.substr(0, longest_complaint);
    received.error = true;
    return 0;
}

int on_status(char*, int, void*) noexcept {
    return 0;
}

int on_exit(int, NG_BOOL, NG_BOOL, int, void* user) noexcept {
    static_cast<Received*>(user)->left = true;
    return 0;
}

void keep_row(Received& received) noexcept {
    received.overflowed = received.overflowed || received.all_rows.size() + received.row.size() > most_kept_numbers;
    if (received.overflowed) return;
    received.all_rows.insert(received.all_rows.end(), received.row.begin(), received.row.end());
    ++received.rows;
}

int on_row(pvecvaluesall values, int count, int, void* user) noexcept {
    auto& received = *static_cast<Received*>(user);
    received.row.resize(static_cast<std::size_t>(count));
    for (int i = 0; i < count; ++i) received.row[i] = values->vecsa[i]->creal;
    if (received.want_names) {
        received.names.resize(static_cast<std::size_t>(count));
        for (int i = 0; i < count; ++i) received.names[i] = values->vecsa[i]->name;
        received.want_names = false;
    }
    received.row_arrived = true;
    if (received.keep_rows) keep_row(received);
    return 0;
}

// Without this one the library sends no rows either.
int on_row_names(pvecinfoall, int, void*) noexcept {
    return 0;
}

int on_background(NG_BOOL, int, void*) noexcept {
    return 0;
}

}  // namespace

void Received::clear() {
    row_arrived = false;
    error = false;
    struggled = false;
    complaint.clear();
}

void Received::forget_rows() {
    all_rows = {};
    rows = 0;
    overflowed = false;
}

void Received::pick_row(std::size_t index) {
    const auto width = static_cast<std::ptrdiff_t>(row.size());
    const auto from = all_rows.begin() + static_cast<std::ptrdiff_t>(index) * width;
    std::copy(from, from + width, row.begin());
}

int start_library(Received& received) {
    return ngspice_library().init(on_text, on_status, on_exit, on_row, on_row_names, on_background, &received);
}

}  // namespace voltfall
