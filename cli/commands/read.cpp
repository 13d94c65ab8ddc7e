// `read`: one more reading kept in a job's file, and what it changes.
#include "cli/commands/read.hpp"

#include "cli/commands/command.hpp"
#include "cli/commands/inputs.hpp"
#include "cli/commands/options.hpp"
#include "cli/views/next_view.hpp"
#include "cli/views/proof_view.hpp"
#include "cli/views/read_view.hpp"
#include "engine/planning/reading_effect.hpp"
#include "netlists/files/job_store.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "netlists/text/lists.hpp"

namespace voltfall {

namespace {

struct ReadArguments {
    std::string file;
    std::string reading;
    std::string after;     ///< a reading taken after the repair
    std::string repaired;  ///< what was mended
};

void declare(CLI::App& app, ReadArguments& arguments) {
    declare_file(app, arguments.file, "JOB", "a job file; the reading is added to it");
    app.add_option("READING", arguments.reading, "what was measured, \"hi M1.1 to B1- 10.3V\"; none: a conversation");
    app.add_option("--after", arguments.after, "a reading taken after the repair; tells what is still to be proved")
        ->type_name("R");
    app.add_option("--repaired", arguments.repaired, "what was mended, \"C101.4 new terminal\"; tells how it is proved")
        ->type_name("P WORDS");
}

ExitStatus run(const ReadArguments& arguments, Console& console) {
    if (arguments.file == "-") {
        say(console, "read keeps readings in a file; '-' is none", "voltfall match takes --read without a job file");
        return ExitStatus::usage;
    }
    const bool several =
        (arguments.after.empty() ? 0 : 1) + (arguments.reading.empty() ? 0 : 1) + (arguments.repaired.empty() ? 0 : 1) >
        1;
    if (several) {
        say(console, "one thing at a time: a reading before the repair, what was repaired, or a reading after it");
        return ExitStatus::usage;
    }
    if (!arguments.repaired.empty()) return read_repaired(console, arguments.file, arguments.repaired);
    if (!arguments.after.empty()) return read_after(console, arguments.file, arguments.after);
    if (arguments.reading.empty()) return read_in_turn(console, arguments.file);
    return read_once(console, arguments.file, arguments.reading);
}

}  // namespace

ExitStatus say_not_stored(const Console& console, const StoredReading& stored, const std::string& file) {
    if (stored.failure) {
        say(console, stored.failure->message, stored.failure->suggestion);
        return ExitStatus::cannot;
    }
    if (!stored.before) {
        report_problems(console, stored.file_problems, file);
        return ExitStatus::file_errors;
    }
    report_problems(console, stored.phrase_problems, "the reading");
    return ExitStatus::usage;
}

ExitStatus read_once(Console& console, const std::string& file, const std::string& phrase) {
    const StoredReading stored = store_reading(file, TypedText::argument("reading", phrase));
    if (stored.key.empty()) return say_not_stored(console, stored, file);
    MatchOptions options;
    options.workers = workers_of(console);
    options.two_where_one_fits_poorly = true;
    ReadView view{file, stored.keys, stored.phrase, false, {}};
    {
        Progress progress(console, "");
        options.progress = progress.report();
        view.answer = answer_reading(console.sweep(), *stored.circuit, with_own_tools(*stored.before, console),
                                     with_own_tools(*stored.after, console), options);
    }
    for (const TestProposal& test : view.answer.next.tests)
        view.tests.push_back(write_test(*stored.circuit, test.test));
    if (!view.answer.next.tests.empty()) view.how = how_asked(*stored.circuit, view.answer.next.tests.front().test);
    print(console, view, read_text, read_json, read_plain);
    return ExitStatus::done;
}

namespace {

/// How far the repair is proved by what the file has now.
ExitStatus tell_proof(Console& console, const std::string& file, const StoredReading& stored) {
    if (stored.key.empty()) return say_not_stored(console, stored, file);
    MatchOptions options;
    options.workers = workers_of(console);
    ProofView view{{}, "voltfall read " + file + " --after \"what you measured\""};
    {
        Progress progress(console, "");
        options.progress = progress.report();
        view.answer = prove(console.sweep(), *stored.circuit, with_own_tools(*stored.after, console), options);
    }
    print(console, view, proof_text, proof_json, proof_plain);
    return ExitStatus::done;
}

}  // namespace

ExitStatus read_after(Console& console, const std::string& file, const std::string& phrase) {
    return tell_proof(console, file, store_reading(file, TypedText::argument("reading", phrase), RepairStage::after));
}

ExitStatus read_repaired(Console& console, const std::string& file, const std::string& phrase) {
    return tell_proof(console, file, store_repair(file, phrase));
}

extern const Command read_command = {
    "read",
    "adds a reading to the job file and tells what it changed; alone, a conversation at the vehicle",
    "JOB [READING | --repaired \"PLACE WORDS\" | --after READING]",
    "voltfall read weak-air.job.toml \"key run, hi  across C101.4  3.6V\"\n"
    "voltfall read weak-air.job.toml --repaired \"C101.4 new terminal\"\n"
    "voltfall read weak-air.job.toml --after \"key run, hi  blower normal\"\n"
    "voltfall read weak-air.job.toml",
    with_arguments<ReadArguments>(declare, run),
};

}  // namespace voltfall
