// The answer of `protect`: every fuse against its wires, and what burns while it holds.
#pragma once

#include <string>

#include "cli/views/text_page.hpp"
#include "engine/heat/protection.hpp"

namespace voltfall {

struct ProtectAnswer {
    std::string circuit;
    Protection protection;
    std::vector<std::string> assumed;  ///< figures of heat that neither the file nor a source gives

    /// No wire is harmed before its fuse opens.
    bool ok() const;
};

std::string protect_text(const ProtectAnswer& answer, PageStyle style);
std::string protect_json(const ProtectAnswer& answer);
std::string protect_plain(const ProtectAnswer& answer);

}  // namespace voltfall
