// The manual pages, written from the tables that the program itself reads by: commands, options, kinds of part.
#pragma once

#include <string>
#include <vector>

namespace voltfall {

struct ManualPage {
    std::string name;  ///< "voltfall-circuit"
    int section{1};
    std::string text;  ///< in the man macros of troff

    /// "voltfall-circuit.5".
    std::string file() const { return name + "." + std::to_string(section); }
};

std::vector<ManualPage> manual_pages();

}  // namespace voltfall
