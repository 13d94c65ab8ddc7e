// What an hour costs in a shop, as it says itself.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "engine/proof/job_minutes.hpp"

namespace voltfall {

/// "95 EUR/h", "$110", "85,50 an hour".
struct ShopRate {
    double per_hour{};
    std::string currency;  ///< as typed; empty where none was
};

/// Returns nullopt where no figure above zero stands in it, or more than one.
std::optional<ShopRate> read_shop_rate(std::string_view typed);

/// "about 36 min: tests 31, repair 0, proof 5; at 95 EUR an hour 57 EUR".
std::string time_text(const JobMinutes& minutes, const std::optional<ShopRate>& rate);

}  // namespace voltfall
