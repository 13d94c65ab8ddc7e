// The streams of one run, and the helps that every command needs to answer on them.
#pragma once

#include <iosfwd>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "cli/commands/global_options.hpp"
#include "cli/commands/program.hpp"
#include "cli/commands/settings.hpp"
#include "cli/views/text_page.hpp"
#include "engine/solve/jobs.hpp"
#include "netlists/circuit/circuit.hpp"
#include "netlists/platform/signals.hpp"
#include "netlists/text/problem.hpp"

namespace voltfall {

/// What the process says when it ends.
enum class ExitStatus {
    done = 0,           ///< done, or the answer is yes
    no = 1,             ///< the answer is no: no fault fits
    usage = 2,          ///< wrong command line
    file_errors = 3,    ///< a file has errors
    cannot = 4,         ///< it cannot be computed, or the environment is broken
    bug = 70,           ///< a bug of ours
    interrupted = 130,  ///< Ctrl-C; the shell's number for a process ended by it
};

struct Console {
    std::istream& in;
    std::ostream& out;
    std::ostream& err;
    Terminal terminal;
    StartSimulator start;             ///< the process's simulator of record
    Simulators* simulators{nullptr};  ///< of the command that runs
    GlobalOptions options;            ///< of the command that runs
    Settings settings{};              ///< of the person

    /// Solves what is only compared; see `Simulators`.
    Simulator& sweep() const { return simulators->sweep(); }
    /// Solves what is shown.
    TransientSimulator& of_record() const { return simulators->of_record(); }
};

/// Text to stdout.
void write_out(const Console& console, std::string_view text);

/// Page style of the answer and of the messages; colour only where a person looks, unless asked for.
PageStyle answer_style(const Console& console);
PageStyle message_style(const Console& console);

/// Prints the answer in the format asked for.
template <class Answer>
void print(const Console& console, const Answer& answer, std::string (*text)(const Answer&, PageStyle),
           std::string (*json)(const Answer&), std::string (*plain)(const Answer&)) {
    switch (console.options.format) {
        case Format::text:
            write_out(console, text(answer, answer_style(console)));
            break;
        case Format::json:
            write_out(console, json(answer));
            break;
        case Format::plain:
            write_out(console, plain(answer));
            break;
    }
}

/// One message to stderr: "voltfall: …", with an optional second line.
void say(const Console& console, std::string_view message, std::string_view suggestion = {});

/// Problems to stderr. Where there are errors all are shown; warnings alone are only counted (`check` shows them), and
/// not even that with --quiet.
void report_problems(const Console& console, const Problems& problems, std::string_view file);

/// Stands around long work: shows on a terminal, after a second, how far it has come, and wipes itself out in the end.
/// An interrupt meanwhile ends the work with `Interrupted`; a second one ends the process.
class Progress {
public:
    /// `about` stands before the stage: the lesson of many that is checked; may be empty.
    Progress(const Console& console, std::string about);
    ~Progress();
    Progress(const Progress&) = delete;
    Progress& operator=(const Progress&) = delete;

    void reached(std::string_view stage, std::size_t done, std::size_t all);
    /// For the engine; this object must outlive its use.
    ProgressReport report() {
        return [this](std::string_view stage, std::size_t done, std::size_t all) { reached(stage, done, all); };
    }

private:
    const Console& console_;
    std::string about_;
    bool enabled_;
    double started_;
    std::string shown_;
    std::optional<SignalsCaught> caught_;
};

/// Says on stderr, before long work begins, about how long weighing this circuit's faults will take, where that is more
/// than some seconds.
void say_cost(const Console& console, const Circuit& circuit, std::size_t readings);

}  // namespace voltfall
