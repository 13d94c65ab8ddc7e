// What the shop takes an hour (`--rate`), for the commands that tell what a job has taken.
#pragma once

#include <CLI/CLI.hpp>
#include <optional>
#include <string>

#include "cli/commands/console.hpp"
#include "cli/views/shop_rate.hpp"

namespace voltfall {

void declare_rate(CLI::App& app, std::string& rate);

/// Reads it where one was typed. Returns false, with the reason on stderr, where it is none.
bool set_typed_rate(const std::string& typed, const Console& console, std::optional<ShopRate>& rate);

}  // namespace voltfall
