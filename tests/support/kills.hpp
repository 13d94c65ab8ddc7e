// How often a test kills a program: VOLTFALL_KILLS=1000 kills more often than CI does.
#pragma once

#include <algorithm>
#include <cstdlib>

namespace voltfall {

inline int kills(int usual) {
    const char* const typed = std::getenv("VOLTFALL_KILLS");
    return typed != nullptr ? std::max(1, std::atoi(typed)) : usual;
}

}  // namespace voltfall
