// `deck`: the SPICE deck of one case.
#include "netlists/spice/deck.hpp"

#include <fmt/format.h>

#include <ostream>

#include "cli/commands/command.hpp"
#include "cli/commands/inputs.hpp"
#include "cli/commands/options.hpp"
#include "cli/commands/output_file.hpp"
#include "cli/views/deck_view.hpp"
#include "engine/solve/ngspice_session.hpp"

namespace voltfall {

namespace {

constexpr std::string_view stdout_name = "-";

void declare(CLI::App& app, Arguments& arguments) {
    declare_file(app, arguments, "CIRCUIT", "a circuit, or a job that names one");
    declare_faults(app, arguments);
    declare_states(app, arguments, "the state, one; the last position by default");
    app.add_option_function<std::string>(
           "--at",
           [&arguments](const std::string& word) {
               arguments.moment = word == "after" ? DeckMoment::after : DeckMoment::faulted;
           },
           "faulted (default): before anything opens; after: when it is over")
        ->check(one_of({"faulted", "after"}))
        ->type_name("WHEN");
    app.add_option("-o,--output", arguments.output, "the file to write; - or none is stdout")->type_name("FILE");
    app.add_flag("--force", arguments.force, "overwrite the file");
}

/// The one state of the deck: as typed, else the last of the default ones (a blower's highest speed).
std::optional<State> deck_state(const Arguments& arguments, const Console& console, const Circuit& circuit) {
    const auto states = typed_states(arguments, console, circuit);
    if (!states || states->empty()) return std::nullopt;
    if (!arguments.states.empty() && states->size() > 1) {
        say(console, fmt::format("a deck is one state, and --state names {}", states->size()), "name one position");
        return std::nullopt;
    }
    return states->back();
}

/// The node of every joint that a person can name.
std::vector<std::pair<std::string, std::string>> nodes_of(const Circuit& circuit, const Deck& deck) {
    std::vector<std::pair<std::string, std::string>> nodes;
    for (std::uint32_t i = 0; i < circuit.joints.size(); ++i) {
        const std::string& name = circuit.joints[i].name;
        if (circuit.find_joint(name) == JointId{i}) nodes.emplace_back(name, Deck::node_name(deck.node_of_joint[i]));
    }
    return nodes;
}

ExitStatus run(const Arguments& arguments, Console& console) {
    const auto input = load_input(arguments, console);
    if (!input) return ExitStatus::file_errors;
    const Circuit& circuit = *input->circuit;
    const auto faults = typed_faults(arguments, console, circuit);
    const auto state = deck_state(arguments, console, circuit);
    if (!faults || !state) return ExitStatus::usage;
    const CourseResult course = run_course(console.of_record(), circuit, *state, *faults);
    if (!course) return cannot_compute(console, course.error(), fault_phrases(circuit, *faults), state->label);
    const Settled& settled = arguments.moment == DeckMoment::after ? course->end() : course->faulted;
    const Deck deck = build_deck(settled.network);
    DeckAnswer answer;
    answer.faults = fault_phrases(circuit, *faults);
    answer.state = state->label;
    answer.at = arguments.moment == DeckMoment::after ? "after" : "faulted";
    answer.nodes = nodes_of(circuit, deck);
    answer.deck = deck_file_text(deck, settled.network);
    if (!arguments.output.empty() && arguments.output != stdout_name) {
        answer.file = arguments.output;
        if (const ExitStatus written = write_output(answer.deck, arguments, console, "ngspice -b " + arguments.output);
            written != ExitStatus::done) {
            return written;
        }
    }
    switch (arguments.format) {
        case Format::json:
            console.out << deck_json(answer);
            break;
        case Format::plain:
            console.out << deck_plain(answer);
            break;
        case Format::text:
            if (answer.file.empty()) console.out << answer.deck;
            break;
    }
    return ExitStatus::done;
}

}  // namespace

const Command deck_command = {
    "deck",
    "the SPICE deck of one case; ngspice -b solves it to the same numbers",
    "CIRCUIT [--fault F]... [--state S] [--at faulted|after] [-o FILE]",
    "voltfall deck cab-blower.toml --state hi -o hi.cir\n"
    "voltfall deck cab-blower.toml --fault \"542 chafe 20mohm at 60%\" --at after -o after.cir",
    declare,
    run,
};

}  // namespace voltfall
