#include "cli/commands/command.hpp"

#include <array>

namespace voltfall {

// Each is defined in the file of its name.
extern const Command new_command, check_command, show_command, whatif_command, faults_command, match_command,
    next_command, plan_command, protect_command, read_command, prove_command, report_command, serve_command,
    teach_command, deck_command, help_command;

std::span<const Command* const> commands() {
    static const std::array table = {&new_command,     &check_command, &show_command,  &whatif_command,
                                     &faults_command,  &match_command, &next_command,  &plan_command,
                                     &protect_command, &read_command,  &prove_command, &report_command,
                                     &serve_command,   &teach_command, &deck_command,  &help_command};
    return table;
}

}  // namespace voltfall
