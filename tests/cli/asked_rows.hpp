// Command lines as rows: what each answers, some of them on small circuits.
#pragma once

#include <regex>

#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"

namespace voltfall::testing {

inline const std::string head =
    "format = 1\nname = \"small\"\n[parts]\nB1 = \"battery 12.6V 8mohm, charging 14.2V\"\nG1 = \"ground\"\n";

/// A lamp behind a switch, with no fuse.
inline const std::string unfused =
    head +
    "S1 = \"switch C: off on=1\"\nL1 = \"lamp 21W\"\n[wires]\n1 = \"30 > S1.C 1mm2 RD 1m\"\n"
    "2 = \"S1.1 > L1.1 1mm2 RD 1m\"\n3 = \"L1.2 > G1 1mm2 BK 1m\"\n";
/// A lamp that nothing switches.
inline const std::string unswitched = head +
                                      "F1 = \"fuse 10A mini, feed 30\"\nL1 = \"lamp 21W\"\n[wires]\n"
                                      "1 = \"F1.2 > L1.1 1mm2 RD 1m\"\n3 = \"L1.2 > G1 1mm2 BK 1m\"\n";
/// A relay that feeds its own coil once the switch has pulled it.
inline const std::string latched =
    head +
    "F1 = \"fuse 20A, feed 30\"\nK1 = \"relay 30A, coil 90ohm\"\nS1 = \"switch C: off start=1\"\nL1 = \"lamp 21W\"\n"
    "SP1 = \"splice\"\n[wires]\n1 = \"F1.2 > K1.30 1mm2 RD 1m\"\n2 = \"K1.87 > SP1 1mm2 RD 1m\"\n"
    "3 = \"SP1 > L1.1 1mm2 RD 1m\"\n4 = \"L1.2 > G1 1mm2 BK 1m\"\n5 = \"SP1 > K1.86 1mm2 RD 1m\"\n"
    "6 = \"K1.85 > G1 1mm2 BK 1m\"\n7 = \"F1.2 > S1.C 1mm2 RD 1m\"\n8 = \"S1.1 > K1.86 1mm2 RD 1m\"\n";

struct Row {
    std::vector<std::string> args;
    int status;
    std::vector<std::string> told;  ///< stand in what is printed, in this order
    std::string file{};             ///< the text of the circuit that is put behind the command
};

/// The text with lines that were broken for the terminal's width joined: where they break follows from how long the checkout's path is.
inline std::string joined(const std::string& text) {
    static const std::regex broken("\\n +");
    return std::regex_replace(text, broken, " ");
}

inline void check_rows(const std::vector<Row>& rows) {
    for (const Row& row : rows) {
        const ScratchFile file("typed.toml", row.file);
        std::vector<std::string> args = row.args;
        if (!row.file.empty()) args.insert(args.begin() + 1, file.path());
        const Said said = command_line(args);
        const std::string all = joined(said.out + said.err);
        std::string line;
        for (const std::string& arg : args) line += arg + " ";
        INFO(line << "\n" << all);
        CHECK(said.status == row.status);
        std::size_t at = 0;
        for (const std::string& told : row.told) {
            const std::size_t found = all.find(told, at);
            INFO("looked for '" << told << "'");
            CHECK(found != std::string::npos);
            if (found != std::string::npos) at = found + told.size();
        }
    }
}

inline const std::string cab = scenario("cab-blower.toml");
inline const std::string weak = scenario("weak-air.job.toml");
inline const std::string done = scenario("weak-air-done.job.toml");

}  // namespace voltfall::testing
