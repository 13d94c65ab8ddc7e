// The streams of one run, and the helps that every command needs to answer on them.
#pragma once

#include <iosfwd>
#include <string>
#include <string_view>
#include <vector>

#include "cli/commands/arguments.hpp"
#include "cli/commands/exit_status.hpp"
#include "cli/commands/program.hpp"
#include "cli/views/text_page.hpp"
#include "netlists/text/problem.hpp"

namespace voltfall {

struct Console {
    std::istream& in;
    std::ostream& out;
    std::ostream& err;
    Terminal terminal;
    StartSimulator start;              ///< the process's simulator of record
    Simulators* simulators{nullptr};   ///< of the command that runs

    /// Solves what is only compared; see `Simulators`.
    Simulator& sweep() const { return simulators->sweep(); }
    /// Solves what is shown.
    NgspiceSession& of_record() const { return simulators->of_record(); }
};

/// Page style of the answer and of the messages; colour only where a person looks, unless asked for.
PageStyle answer_style(const Arguments& arguments, const Console& console);
PageStyle message_style(const Arguments& arguments, const Console& console);

/// One message to stderr: "voltfall: …", with an optional second line.
void say(const Console& console, std::string_view message, std::string_view suggestion = {});

/// Problems to stderr. Where there are errors all are shown; warnings alone are only counted (`check` shows them), and
/// not even that with --quiet.
void report_problems(const Arguments& arguments, const Console& console, const Problems& problems,
                     std::string_view file);

/// Shows on a terminal, after a second of work, how far it has come; wipes itself out in the end.
class Progress {
public:
    Progress(const Arguments& arguments, const Console& console, std::string_view what);
    ~Progress();
    Progress(const Progress&) = delete;
    Progress& operator=(const Progress&) = delete;

    void reached(std::size_t done, std::size_t all);

private:
    const Console& console_;
    std::string what_;
    bool enabled_;
    double started_;
    int shown_percent_{-1};
};

}  // namespace voltfall
