#include "cli/commands/rate_option.hpp"

#include "cli/commands/inputs.hpp"

namespace voltfall {

void declare_rate(CLI::App& app, std::string& rate) {
    app.add_option("--rate", rate, "what the shop takes an hour, \"95 EUR/h\"; the minutes are told in it too")
        ->type_name("RATE");
}

bool set_typed_rate(const std::string& typed, const Console& console, std::optional<ShopRate>& rate) {
    if (typed.empty()) return true;
    rate = read_shop_rate(typed);
    if (!rate) say(console, "'" + typed + "' is no rate of a shop", "--rate \"95 EUR/h\"");
    return rate.has_value();
}

}  // namespace voltfall
