#include "engine/solve/load_seen.hpp"

#include "netlists/phrases/load_words.hpp"

namespace voltfall {

LoadSeenRow row_of(LoadSeen seen) {
    switch (seen) {
        case LoadSeen::dead:
            return {Vigour::none, "dead", "does nothing"};
        case LoadSeen::slow:
            return {Vigour::less, "slow", "is weak"};
        case LoadSeen::normal:
            return {Vigour::usual, "normal", "is normal"};
        case LoadSeen::fast:
            return {Vigour::more, "fast", "runs too fast"};
        case LoadSeen::runs:
            return {Vigour::unwanted, "runs", "runs though it is switched off"};
        case LoadSeen::dim:
            return {Vigour::less, "dim", "is weak"};
        case LoadSeen::weak:
            return {Vigour::less, "weak", "is weak"};
        case LoadSeen::off:
            return {Vigour::none, "off", "is off"};
        case LoadSeen::glows:
            return {Vigour::faint, "glows", "glows though it is switched off"};
        case LoadSeen::creeps:
            return {Vigour::faint, "creeps", "creeps though it is switched off"};
    }
    return {};
}

std::string_view said_of(LoadKind kind, LoadSeen seen) {
    return load_word_said(kind, word_of(seen));
}

}  // namespace voltfall
