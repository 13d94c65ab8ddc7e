// Text that is not read at a glance: a lesson's hidden fault. Honesty, not security: whoever wants to can unseal it.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace voltfall {

/// "sealed:" and letters and digits that hide the text. The same text gives the same letters.
std::string seal_text(std::string_view text);

/// Does it begin with "sealed:"?
bool is_sealed(std::string_view text);

/// The plain text. Returns nullopt when it is not sealed or was changed by hand.
std::optional<std::string> unseal_text(std::string_view sealed);

}  // namespace voltfall
