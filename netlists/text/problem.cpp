#include "netlists/text/problem.hpp"

#include <algorithm>
#include <tuple>
#include <utility>

namespace voltfall {

std::string_view severity_name(Severity severity) {
    switch (severity) {
        case Severity::error:
            return "error";
        case Severity::warning:
            return "warning";
        case Severity::note:
            return "note";
    }
    return "error";
}

SourcePlace SourcePlace::shifted(int offset, int new_length) const {
    SourcePlace moved = *this;
    moved.column = column + offset;
    moved.length = std::max(1, new_length);
    return moved;
}

void Problems::error(SourcePlace place, std::string message, std::string suggestion) {
    add({Severity::error, std::move(place), std::move(message), std::move(suggestion)});
}

void Problems::warning(SourcePlace place, std::string message, std::string suggestion) {
    add({Severity::warning, std::move(place), std::move(message), std::move(suggestion)});
}

void Problems::note(SourcePlace place, std::string message, std::string suggestion) {
    add({Severity::note, std::move(place), std::move(message), std::move(suggestion)});
}

void Problems::add_all(const Problems& others) {
    if (&others == this) return;
    list_.insert(list_.end(), others.list_.begin(), others.list_.end());
}

bool Problems::has_errors() const {
    return std::any_of(list_.begin(), list_.end(), [](const Problem& p) { return p.severity == Severity::error; });
}

void Problems::sort() {
    std::stable_sort(list_.begin(), list_.end(), [](const Problem& a, const Problem& b) {
        return std::tie(a.place.file, a.place.line, a.place.column) <
               std::tie(b.place.file, b.place.line, b.place.column);
    });
}

}  // namespace voltfall
