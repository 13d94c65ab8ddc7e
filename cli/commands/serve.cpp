// `serve`: a job on a local page, for a phone or a screen at the vehicle.
#include "cli/commands/command.hpp"
#include "cli/commands/inputs.hpp"
#include "cli/commands/options.hpp"
#include "cli/commands/report_view.hpp"
#include "cli/serve/gate.hpp"
#include "cli/serve/http_server.hpp"
#include "cli/serve/job_desk.hpp"
#include "engine/courses/dictionary.hpp"

namespace voltfall {

namespace {

struct ServeArguments {
    std::string file;
    int port{0};
};

void declare(CLI::App& app, ServeArguments& arguments) {
    declare_file(app, arguments.file, "JOB", "a job file; every answer is kept in it");
    app.add_option("--port", arguments.port, "the port to listen at; one that is free by default")
        ->check(whole_number(0, 65535))
        ->type_name("N");
}

std::sig_atomic_t volatile interrupted = 0;

/// An interrupt ends the serving, not the process.
class StopAtInterrupt {
public:
    StopAtInterrupt() {
        interrupted = 0;
        struct sigaction on_interrupt {};
        on_interrupt.sa_handler = [](int) { interrupted = 1; };
        on_interrupt.sa_flags = static_cast<int>(SA_RESETHAND);
        sigaction(SIGINT, &on_interrupt, &before_int_);
        sigaction(SIGTERM, &on_interrupt, &before_term_);
    }
    ~StopAtInterrupt() {
        sigaction(SIGINT, &before_int_, nullptr);
        sigaction(SIGTERM, &before_term_, nullptr);
    }
    StopAtInterrupt(const StopAtInterrupt&) = delete;
    StopAtInterrupt& operator=(const StopAtInterrupt&) = delete;

private:
    struct sigaction before_int_ {};
    struct sigaction before_term_ {};
};

ExitStatus run(const ServeArguments& arguments, Console& console) {
    const auto input = load_input(arguments.file, console);
    if (!input) return ExitStatus::file_errors;
    if (input->job.path == input->job.circuit_path) {
        say(console, arguments.file + " is a circuit; readings are kept in a job file",
            "voltfall new --job " + arguments.file + " -o FILE begins one");
        return ExitStatus::usage;
    }
    // Every reading of the file makes a circuit of its own, so that an editor's change counts.
    JobDesk desk(arguments.file, [&](const std::shared_ptr<const Circuit>& circuit, const Job& job) {
        Dictionary dictionary(console.sweep(), *circuit);
        return live_view(console, {circuit, job}, dictionary);
    });
    std::optional<Gate> gate;
    HttpServer server(arguments.port, [&](const HttpRequest& request) {
        if (auto turned_away = gate->check(request)) return *std::move(turned_away);
        return desk.answer(request);
    });
    gate.emplace(random_key(), random_key(), server.port());
    write_out(console, "open " + gate->address() + "\n");
    console.out.flush();
    say(console, "this machine only; the key opens once; Ctrl-C ends it");
    const StopAtInterrupt stop;
    server.run_until([] { return interrupted != 0; });
    return ExitStatus::done;
}

}  // namespace

extern const Command serve_command = {
    "serve",
    "a job on a local page: the next test as a card, the ranking and where the volts fall; every answer is kept",
    "JOB [--port N]",
    "voltfall serve weak-air.job.toml\n"
    "voltfall serve weak-air.job.toml --port 8080",
    with_arguments(declare, run),
};

}  // namespace voltfall
