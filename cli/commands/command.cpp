#include "cli/commands/command.hpp"

#include <array>

namespace voltfall {

std::span<const Command* const> commands() {
    static const std::array<const Command*, 10> table = {
        &check_command, &show_command, &whatif_command,  &faults_command, &match_command,
        &next_command,  &plan_command, &protect_command, &teach_command,  &deck_command};
    return table;
}

}  // namespace voltfall
