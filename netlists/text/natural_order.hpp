// Names in the order in which a person counts.
#pragma once

#include <string>

namespace voltfall {

/// 2 before 10, numbers before letters.
struct NaturalOrder {
    bool operator()(const std::string& a, const std::string& b) const;
};

}  // namespace voltfall
