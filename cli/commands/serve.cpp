// `serve`: a job or a class on a local page, for a phone or a screen at the vehicle.
#include <fmt/format.h>

#include <algorithm>
#include <csignal>
#include <filesystem>
#include <functional>
#include <optional>
#include <ostream>

#include "cli/commands/command.hpp"
#include "cli/commands/inputs.hpp"
#include "cli/commands/line_input.hpp"
#include "cli/commands/options.hpp"
#include "cli/commands/pictures.hpp"
#include "cli/commands/rate_option.hpp"
#include "cli/commands/report_view.hpp"
#include "cli/commands/teach.hpp"
#include "cli/serve/class_desk.hpp"
#include "cli/serve/gate.hpp"
#include "cli/serve/http_server.hpp"
#include "cli/serve/job_desk.hpp"
#include "cli/serve/job_shelf.hpp"
#include "cli/serve/qr_code.hpp"
#include "cli/views/problem_view.hpp"
#include "cli/views/teach_view.hpp"
#include "engine/courses/dictionary.hpp"
#include "engine/lessons/progress_file.hpp"
#include "netlists/files/file_top.hpp"
#include "netlists/platform/lan.hpp"
#include "netlists/platform/paths.hpp"

namespace voltfall {

namespace {

namespace fs = std::filesystem;

constexpr const char* loopback = "127.0.0.1";

struct ServeArguments {
    std::string file;
    int port{0};
    bool lan{false};
    std::string progress;
    std::string rate;
    std::optional<ShopRate> shop_rate{};  ///< `rate` as read
};

void declare(CLI::App& app, ServeArguments& arguments) {
    declare_file(app, arguments.file, "JOB",
                 "a job, every answer is kept in it; a lesson, for a class; or a folder of jobs or lessons");
    app.add_option("--port", arguments.port, "the port to listen at; one that is free by default")
        ->check(whole_number(0, 65535))
        ->type_name("N");
    app.add_flag("--lan", arguments.lan, "answer phones on this machine's network too; asks before it does");
    app.add_option("--progress", arguments.progress, "of a class: add each result to this CSV file")->type_name("FILE");
    declare_rate(app, arguments.rate);
}

std::sig_atomic_t volatile stop_asked = 0;

/// An interrupt ends the serving, not the process.
class StopAtInterrupt {
public:
    StopAtInterrupt() {
        stop_asked = 0;
        caught_.emplace({Sent::interrupt, Sent::end}, [](int) { stop_asked = 1; });
    }

private:
    std::optional<SignalsCaught> caught_;
};

/// Weighs a job again and again; what was solved of its circuit stays as long as the circuit's file says the same.
class KeptCircuit {
public:
    explicit KeptCircuit(const Console& console) : console_(console) {}

    ReportView weigh(const std::shared_ptr<const Circuit>& circuit, const Job& job) {
        const auto text = read_whole_file(job.circuit_path);
        const bool same = dictionary_ && text && path_ == job.circuit_path && text_ == *text;
        if (!same) {
            // The dictionary holds to its circuit: that one goes last.
            dictionary_.reset();
            circuit_ = circuit;
            dictionary_ = std::make_unique<Dictionary>(console_.sweep(), *circuit_);
            path_ = job.circuit_path;
            text_ = text.value_or("");
        }
        return live_view(console_, {circuit_, with_own_tools(job, console_)}, *dictionary_);
    }

private:
    const Console& console_;
    std::string path_;
    std::string text_;
    std::shared_ptr<const Circuit> circuit_;
    std::unique_ptr<Dictionary> dictionary_;
};

/// Where the server listens, and by which names it is called there.
struct Listening {
    std::string address;
    std::vector<std::string> hosts(int port) const {
        std::vector<std::string> names{fmt::format("{}:{}", address, port)};
        if (address == loopback) names.push_back(fmt::format("localhost:{}", port));
        return names;
    }
};

/// Asks before others can reach the page. Nothing, with the reason on stderr, where that is not wanted or not possible.
std::optional<Listening> place_to_listen(const ServeArguments& arguments, Console& console) {
    if (!arguments.lan) return Listening{loopback};
    const auto addresses = lan_addresses();
    if (addresses.empty()) {
        say(console, "this machine is on no network that a phone could reach",
            "leave --lan out to serve this machine alone");
        return std::nullopt;
    }
    TextPage page(answer_style(console));
    page.paragraph(
        fmt::format("Everyone on the network of {} who gets the key can read {} and add to it; what is sent is not "
                    "encrypted.",
                    addresses.front(), arguments.file),
        0, 0);
    write_out(console, page.text());
    const std::string answer = LineInput(console).next("Listen there? yes or no: ").value_or("");
    if (answer == "y" || answer == "yes") return Listening{addresses.front()};
    say(console, "not listening");
    return std::nullopt;
}

void show_address(const Console& console, const std::string& what, const std::string& address, bool with_code) {
    write_out(console, what + address + "\n");
    if (with_code) write_out(console, qr_text(qr_modules(address)));
    console.out.flush();
}

/// What every desk of a job is made with.
struct DeskMaker {
    Console& console;
    std::optional<ShopRate> rate;
    JobDesk::Invite invite;
};

/// The desk of a job, whose addresses begin with `base`. Every reading of the file makes a circuit of its own, so that
/// an editor's change counts.
std::unique_ptr<JobDesk> desk_of(const std::string& file, const std::string& base, const DeskMaker& with) {
    Console& console = with.console;
    const auto kept = std::make_shared<KeptCircuit>(console);
    const auto told = [rate = with.rate](ReportView view) {
        view.rate = rate;
        return view;
    };
    return std::make_unique<JobDesk>(
        file,
        [kept, told](const std::shared_ptr<const Circuit>& circuit, const Job& job) {
            return told(kept->weigh(circuit, job));
        },
        [&console, told](const std::shared_ptr<const Circuit>& circuit, const Job& job) {
            return report_page(told(report_view(console, {circuit, with_own_tools(job, console)})));
        },
        with.invite, base);
}

JobShelf shelf_of(const std::vector<std::string>& jobs, bool lessons, const DeskMaker& with) {
    return {jobs, [with](const std::string& file, const std::string& base) { return desk_of(file, base, with); },
            lessons};
}

using Answer = std::function<HttpResponse(const HttpRequest&)>;

/// Serves those who work at vehicles with what `make` makes: one job, or the jobs of a folder.
ExitStatus serve_workers(const ServeArguments& arguments, Console& console,
                         const std::function<Answer(const JobDesk::Invite&)>& make) {
    const auto place = place_to_listen(arguments, console);
    if (!place) return ExitStatus::no;
    std::optional<Gate> gate;
    const JobDesk::Invite invite = [&gate] { return gate->new_address(Role::worker, KeyUse::once); };
    const Answer answer = make(invite);
    HttpServer server(place->address, arguments.port, [&](HttpRequest& request) {
        if (auto turned_away = gate->check(request)) return *std::move(turned_away);
        return answer(request);
    });
    gate.emplace(place->hosts(server.port()));
    const StopAtInterrupt stop;
    show_address(console, "open ", invite(), arguments.lan);
    if (!console.options.quiet)
        say(console, fmt::format("{}; the key opens once; Ctrl-C ends it",
                                 arguments.lan ? "this network" : "this machine only"));
    server.run_until([] { return stop_asked != 0; });
    return ExitStatus::done;
}

ExitStatus serve_job(const ServeArguments& arguments, const TypedFile& typed, Console& console) {
    const auto input = load_input(typed, console);
    if (!input) return ExitStatus::file_errors;
    if (input->job.path == input->job.circuit_path) {
        say(console, arguments.file + " is a circuit; readings are kept in a job file",
            "voltfall new --job " + arguments.file + " -o FILE begins one");
        return ExitStatus::usage;
    }
    return serve_workers(arguments, console, [&](const JobDesk::Invite& invite) -> Answer {
        return [desk = std::shared_ptr<JobDesk>(desk_of(arguments.file, {}, {console, arguments.shop_rate, invite}))](
                   const HttpRequest& request) { return desk->answer(request); };
    });
}

ExitStatus serve_jobs(const ServeArguments& arguments, const std::vector<std::string>& jobs, Console& console) {
    return serve_workers(arguments, console, [&](const JobDesk::Invite& invite) -> Answer {
        return [shelf = std::make_shared<JobShelf>(shelf_of(jobs, false, {console, arguments.shop_rate, invite}))](
                   const HttpRequest& request) {
            return shelf->answer(request).value_or(refused(404, "There is no such page; the jobs stand at /."));
        };
    });
}

/// What a folder holds, by name.
struct Folder {
    std::vector<std::string> jobs;
    std::vector<std::string> lessons;
};
Folder read_folder(const std::string& path) {
    Folder folder;
    std::error_code failed;
    for (const auto& entry : fs::directory_iterator(path_of(path), failed)) {
        if (entry.path().extension() != ".toml") continue;
        Problems unused;
        const std::string file = path_text(entry.path());
        const TomlFile read = read_toml_file(file, unused);
        if (holds_lesson(read))
            folder.lessons.push_back(file);
        else if (!holds_circuit(read) && FileTop(read, "job", unused).entry("circuit") != nullptr)
            folder.jobs.push_back(file);
    }
    std::sort(folder.jobs.begin(), folder.jobs.end());
    std::sort(folder.lessons.begin(), folder.lessons.end());
    return folder;
}

tl::expected<std::unique_ptr<ServedLesson>, std::string> open_lesson(const Console& console, const std::string& path) {
    const LessonReading reading = read_lesson_file(path);
    if (!reading.lesson) {
        for (const Problem& problem : reading.problems.list())
            if (problem.severity == Severity::error) return tl::unexpected(problem.message + "; " + problem.suggestion);
        return tl::unexpected(path + " is no lesson");
    }
    return std::make_unique<ServedLesson>(console.sweep(), path_text(path_of(path).stem()),
                                          exercise_of(console.sweep(), reading.circuit, *reading.lesson,
                                                      static_cast<std::uint64_t>(console.options.seed)));
}

/// The folder in which benches are kept, beside the lessons; empty, with the reason on stderr, where it cannot be made.
std::string folder_of_benches(const std::string& file, const Console& console) {
    std::error_code failed;
    const fs::path folder =
        (fs::is_directory(path_of(file), failed) ? path_of(file) : path_of(file).parent_path()) / "benches";
    fs::create_directories(folder, failed);
    const std::string trial = path_text(folder / ".trial");
    const auto written = replace_whole_file(trial, "");
    fs::remove(path_of(trial), failed);
    if (written) return path_text(folder);
    say(console, "the learners' benches are kept in " + path_text(folder) + ", and it may not be written",
        written.error().message);
    return {};
}

/// Serves the lessons to a class, and the jobs that stand beside them.
ExitStatus serve_class(const ServeArguments& arguments, const Folder& files, Console& console) {
    if (!arguments.progress.empty()) {
        if (const auto failure = cannot_append(arguments.progress)) {
            say(console, failure->message, failure->suggestion);
            return ExitStatus::cannot;
        }
    }
    const std::string folder = folder_of_benches(arguments.file, console);
    if (folder.empty()) return ExitStatus::cannot;
    const auto place = place_to_listen(arguments, console);
    if (!place) return ExitStatus::no;
    std::string class_address;
    ClassDesk desk(
        files.lessons, folder,
        {[&](const std::string& path) { return open_lesson(console, path); },
         [&](ServedLesson& lesson) {
             return reveal_text(lesson.simulator(), lesson.exercise(), lesson.plan(), {40, Colour::off, 5, false});
         },
         [&](ServedLesson& lesson) {
             std::string svg;
             if (const auto pictures = sound_wiring(console, *lesson.exercise().circuit))
                 for (const Picture& picture : *pictures) svg += picture.inside();
             return svg;
         },
         [&] { return class_address; },
         [&](const LearnerBench& bench) {
             if (arguments.progress.empty() || bench.result_row().empty()) return;
             if (const auto failure = append_progress(arguments.progress, bench.result_row()))
                 say(console, failure->message, bench.result_row());
         },
         !files.jobs.empty()});
    std::optional<Gate> gate;
    std::optional<JobShelf> shelf;
    if (!files.jobs.empty())
        shelf.emplace(shelf_of(files.jobs, true, {console, arguments.shop_rate, [&gate] {
                                                      return gate->new_address(Role::worker, KeyUse::once);
                                                  }}));
    HttpServer server(place->address, arguments.port, [&](HttpRequest& request) {
        if (auto turned_away = gate->check(request)) return *std::move(turned_away);
        auto of_jobs = shelf ? shelf->answer(request) : std::nullopt;
        return of_jobs ? *std::move(of_jobs) : desk.answer(request);
    });
    gate.emplace(place->hosts(server.port()));
    const StopAtInterrupt stop;
    class_address = gate->new_address(Role::worker, KeyUse::by_many);
    show_address(console, "learners open ", class_address, arguments.lan);
    show_address(console, "the teacher opens ", gate->new_address(Role::teacher, KeyUse::once), false);
    if (!console.options.quiet)
        say(console, fmt::format("{}; benches are kept in {}; Ctrl-C ends it",
                                 arguments.lan ? "this network" : "this machine only", folder));
    server.run_until([] { return stop_asked != 0; });
    return ExitStatus::done;
}

ExitStatus serve_folder(const ServeArguments& arguments, Console& console) {
    const Folder folder = read_folder(arguments.file);
    if (!folder.lessons.empty()) return serve_class(arguments, folder, console);
    if (!folder.jobs.empty()) return serve_jobs(arguments, folder.jobs, console);
    say(console, "there is no job and no lesson in " + arguments.file,
        "a job is a .toml file that names its circuit, a lesson one with a title and what is hidden");
    return ExitStatus::file_errors;
}

ExitStatus run(const ServeArguments& typed_arguments, Console& console) {
    ServeArguments arguments = typed_arguments;
    if (!set_typed_rate(arguments.rate, console, arguments.shop_rate)) return ExitStatus::usage;
    if (arguments.file == standard_input_name || is_stream(arguments.file)) {
        say(console, "serve keeps answers in a file; a pipe is none", "name the job's file");
        return ExitStatus::usage;
    }
    std::error_code failed;
    if (fs::is_directory(path_of(arguments.file), failed)) return serve_folder(arguments, console);
    const TypedFile typed = read_typed_file(arguments.file, console.in);
    return typed.kind == FileKind::lesson ? serve_class(arguments, {{}, {arguments.file}}, console)
                                          : serve_job(arguments, typed, console);
}

}  // namespace

extern const Command serve_command = {
    "serve",
    "a job, a folder of jobs, or lessons for a class, on a local page: the next test as a card; every answer is kept",
    "JOB, LESSON or FOLDER [--lan] [--port N] [--rate RATE]",
    "voltfall serve weak-air.job.toml\n"
    "voltfall serve weak-air.job.toml --lan\n"
    "voltfall serve scenarios/lessons --lan --progress class.csv",
    with_arguments<ServeArguments>(declare, run),
};

}  // namespace voltfall
