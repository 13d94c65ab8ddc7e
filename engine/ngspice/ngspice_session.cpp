#include "engine/ngspice/ngspice_session.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <clocale>
#include <cmath>
#include <limits>
#include <mutex>
#include <stdexcept>
#include <string_view>
#include <variant>

#include "engine/ngspice/ngspice_library.hpp"
#include "engine/ngspice/ngspice_replies.hpp"
#include "engine/ngspice/watchdog.hpp"
#include "netlists/platform/private_directory.hpp"
#include "netlists/spice/nodes.hpp"

#ifdef __SANITIZE_ADDRESS__
/// The library itself loses two small strings at its start and some more at every failed run; ours are still found.
extern "C" const char* __lsan_default_suppressions() {
    return "leak:libngspice";
}
#endif

namespace voltfall {

namespace {

/// The library keeps every command in a history; an empty command frees it.
constexpr long commands_between_sweeps = 500;
/// Volts (or rad/s) beyond this are no solution but a wreck of the iteration.
constexpr double greatest_volts = 1e6;
/// The step that a transient is asked for, seconds; its first one is a hundredth of it. The step control does the rest.
constexpr double first_step = 1e-4;
/// Empty ones stand where the library starts, in the folder that the variable names: no start-up file of the user is
/// run, and no code models are loaded, which halves the start.
constexpr std::array init_files{".spiceinit", "spinit"};
constexpr const char* scripts_variable = "SPICE_SCRIPTS";

tl::unexpected<SolveFailure> no_solution(std::string message) {
    return tl::unexpected(SolveFailure{SolveFailure::Kind::no_solution, std::move(message)});
}

tl::unexpected<SolveFailure> bad_network(std::string message) {
    return tl::unexpected(SolveFailure{SolveFailure::Kind::bad_network, std::move(message)});
}

tl::unexpected<SolveFailure> engine_lost() {
    return tl::unexpected(
        SolveFailure{SolveFailure::Kind::engine_lost, "the circuit simulator has left; start the program again"});
}

/// A value the library would misread or replace in silence (0 ohm becomes 1 mohm).
bool acceptable(DeckValue::Kind kind, double value) {
    if (kind == DeckValue::Kind::signed_resistance) return std::isfinite(value) && value != 0;
    return std::isfinite(value) && (kind != DeckValue::Kind::resistance || value > 0);
}

std::string_view parameter_of(DeckValue::Kind kind) {
    switch (kind) {
        case DeckValue::Kind::resistance:
        case DeckValue::Kind::signed_resistance:
            return "[resistance] = ";
        case DeckValue::Kind::dc:
            return "[dc] = ";
        case DeckValue::Kind::gain:
            return "[gain] = ";
    }
    return {};
}

}  // namespace

/// The library's state and ours beside it.
struct NgspiceSession::Library {
    std::mutex lock;  ///< the library serves one thread at a time
    Received received;
    Counters counters;
    long commands{0};
    bool started{false};
    bool loaded{false};
    Deck deck;                      ///< as loaded; its values are those in force
    std::vector<int> row_of_node;   ///< node -> place in the row; by node number, speed nodes included
    std::vector<int> row_of_sense;  ///< branch -> place of its sense source in the row, or -1
    std::vector<int> row_of_inner;  ///< branch -> place of the node behind a diode's ohms, or -1

    void command(const char* text) {
        // The library does not write to its argument.
        ngspice_library().command(const_cast<char*>(text));
        if (++commands % commands_between_sweeps == 0) ngspice_library().command(nullptr);
    }

    void start() {
        const PrivateDirectory quiet({init_files, scripts_variable, "the circuit simulator is not started"});
        const int code = start_library(received);
        if (code != 0) throw std::runtime_error("the circuit simulator did not start");
        refuse_unknown_version();
        command("set noaskquit");
        command("set nomoremode");
        started = true;
    }

    /// "ngspice-39.3" of the library's first lines; empty where it does not say so.
    std::string version() const {
        const std::string& banner = received.banner;
        const auto at = banner.find("ngspice-");
        return at == std::string::npos ? "" : banner.substr(at, banner.find(' ', at) - at);
    }

    /// What an older one does with a deck was never looked at.
    void refuse_unknown_version() const {
        constexpr int oldest = 39;
        const std::string said = version();
        int number = 0;
        const std::string_view digits = std::string_view(said).substr(said.find('-') + 1);
        std::from_chars(digits.data(), digits.data() + digits.size(), number);
        if (number >= oldest) return;
        throw std::runtime_error("the circuit simulator is " + (said.empty() ? "of an unknown version" : said) +
                                 "; ngspice-" + std::to_string(oldest) + " or newer is needed");
    }

    tl::expected<void, SolveFailure> prepare(const Network& network, Shunts shunts) {
        if (!loaded || deck_structure(network, shunts) != deck.structure) return load(build_deck(network, shunts));
        const std::vector<double> values = deck_values(network);
        for (std::size_t i = 0; i < values.size(); ++i) {
            if (values[i] == deck.values[i].value) continue;
            if (!acceptable(deck.values[i].kind, values[i])) return bad_network(refusal(values[i]));
            alter(deck.values[i], values[i]);
        }
        if (received.error) {
            loaded = false;
            return bad_network("the circuit simulator refused a value: " + received.complaint);
        }
        return {};
    }

    static std::string refusal(double value) {
        std::array<char, 32> text{};
        const auto end = std::to_chars(text.data(), text.data() + text.size(), value);
        return "a branch has the impossible value " + std::string(text.data(), end.ptr);
    }

    void alter(DeckValue& of, double value) {
        std::array<char, 96> text{};
        char* end = text.data();
        const auto append = [&](std::string_view piece) { end = std::copy(piece.begin(), piece.end(), end); };
        append("alter @");
        append(of.device);
        append(parameter_of(of.kind));
        end = std::to_chars(end, text.data() + text.size() - 1, value).ptr;
        *end = '\0';
        command(text.data());
        of.value = value;
        ++counters.alters;
    }

    tl::expected<void, SolveFailure> load(Deck wanted) {
        unload();
        deck = std::move(wanted);
        for (const DeckValue& value : deck.values) {
            if (!acceptable(value.kind, value.value)) return bad_network(refusal(value.value));
        }
        std::vector<std::string> lines = deck_lines(deck);
        std::vector<char*> pointers;
        pointers.reserve(lines.size() + 1);
        for (std::string& line : lines) pointers.push_back(line.data());
        pointers.push_back(nullptr);
        {
            const WatchedCall watched;
            ngspice_library().circuit(pointers.data());
        }
        ++counters.loads;
        if (received.left) return engine_lost();
        // A circuit of whatever kind is there now and must go before the next one.
        occupied_ = true;
        if (received.error) return bad_network("the circuit simulator refused the deck: " + received.complaint);
        if (!stepping_set_) {
            // Transient stepping last and short: a circuit without a solution is known in milliseconds. The setting is
            // the process's own, and it may be given only while a circuit is loaded.
            command("optran 1 1 1 0 0 0");
            stepping_set_ = true;
        }
        received.want_names = true;
        loaded = true;
        return {};
    }

    void unload() {
        if (occupied_) command("remcirc");
        occupied_ = false;
        loaded = false;
        received.clear();
    }

    /// Runs the loaded circuit; the row is in `received`.
    tl::expected<void, SolveFailure> run() {
        const bool names_wanted = received.want_names;
        received.clear();
        {
            const WatchedCall watched;
            command("op");
        }
        ++counters.operating_points;
        command("destroy all");
        if (received.left) return engine_lost();
        if (received.error || !received.row_arrived) {
            loaded = false;
            const std::string why = received.complaint.empty() ? std::string("no answer") : received.complaint;
            return no_solution("the circuit has no steady solution (" + why + ")");
        }
        if (names_wanted) map_row();
        for (const double value : received.row) {
            if (!std::isfinite(value) || std::abs(value) > greatest_volts) {
                return no_solution("the circuit has no steady solution (volts or speed without bound)");
            }
        }
        return {};
    }

    /// Place of a vector in the row, or -1.
    int place_of(const std::string& name) const {
        const auto found = std::find(received.names.begin(), received.names.end(), name);
        return found == received.names.end() ? -1 : static_cast<int>(found - received.names.begin());
    }

    void map_row() {
        const auto last_speed = std::max_element(deck.speed_node_of_branch.begin(), deck.speed_node_of_branch.end());
        const int last = deck.speed_node_of_branch.empty() ? deck.nodes : std::max(deck.nodes, *last_speed);
        row_of_node.assign(static_cast<std::size_t>(last) + 1, -1);
        for (int node = 1; node <= last; ++node) row_of_node[node] = place_of(Deck::node_name(node));
        row_of_sense.assign(deck.sense_of_branch.size(), -1);
        row_of_inner.assign(deck.sense_of_branch.size(), -1);
        for (std::size_t i = 0; i < deck.sense_of_branch.size(); ++i) {
            if (!deck.sense_of_branch[i].empty()) row_of_sense[i] = place_of(deck.sense_of_branch[i] + "#branch");
            row_of_inner[i] = place_of("x" + std::to_string(i));
        }
    }

    double node_volts(int node) const {
        return node == 0 || row_of_node[node] < 0 ? 0.0 : received.row[row_of_node[node]];
    }

    double branch_amps(const Network& network, std::size_t index, const OperatingPoint& point) const {
        const NetworkBranch& branch = network.branches[index];
        if (is_copper(branch)) return std::numeric_limits<double>::quiet_NaN();
        if (row_of_sense[index] >= 0) return received.row[row_of_sense[index]];
        const double from = point.volts[branch.a.index];
        const double to = point.volts[branch.b.index];
        if (row_of_inner[index] >= 0) return (from - received.row[row_of_inner[index]]) / branch.added_ohms;
        // A junction's own volts are those across it: nothing is left to limit.
        double memory = from - to;
        return std::visit([&](const auto& law) { return law.flow(branch, from - to, memory).amps; }, branch.law);
    }

    OperatingPoint read(const Network& network) const {
        OperatingPoint point;
        point.volts.resize(network.joints);
        point.amps.resize(network.branches.size());
        point.speed.assign(network.branches.size(), 0.0);
        for (std::size_t joint = 0; joint < network.joints; ++joint) {
            point.volts[joint] = node_volts(deck.node_of_joint[joint]);
        }
        for (std::size_t i = 0; i < network.branches.size(); ++i) {
            point.amps[i] = branch_amps(network, i, point);
            if (deck.speed_node_of_branch[i] >= 0) point.speed[i] = node_volts(deck.speed_node_of_branch[i]);
        }
        return point;
    }

    SolveResult solve(const Network& network, Shunts shunts) {
        if (received.left) return engine_lost();
        received.clear();
        if (auto ready = prepare(network, shunts); !ready) return tl::unexpected(ready.error());
        if (auto done = run(); !done) return tl::unexpected(done.error());
        OperatingPoint point = read(network);
        if (received.struggled) {
            // A singular matrix may end in an arbitrary "solution": it counts only when the currents add up.
            const Balance balance = check_balance(network, point, shunts);
            if (!balance.holds()) {
                return no_solution("the circuit has no single steady solution (the iteration did not come to rest)");
            }
        }
        return point;
    }

    /// Loads a deck of its own, runs it and leaves nothing loaded: the next operating point loads anew.
    TransientResult transient(const Network& network, const TransientRun& wanted) {
        if (received.left) return engine_lost();
        received.clear();
        if (auto ready = load(build_start_deck(network)); !ready) return tl::unexpected(ready.error());
        received.clear();
        received.keep_rows = true;
        {
            const WatchedCall watched;
            command(transient_command(wanted).c_str());
        }
        received.keep_rows = false;
        ++counters.transients;
        command("destroy all");
        loaded = false;
        TransientResult result = read_transient(network, wanted);
        received.forget_rows();
        return result;
    }

    static std::string transient_command(const TransientRun& wanted) {
        // From rest with nothing charged (uic): an operating point first would be the end of the start.
        std::string text = "tran";
        for (const double value : {first_step, wanted.seconds, 0.0, wanted.longest_step}) {
            std::array<char, 32> digits{};
            const auto end = std::to_chars(digits.data(), digits.data() + digits.size(), value);
            text.append(" ").append(digits.data(), end.ptr);
        }
        return text + " uic";
    }

    TransientResult read_transient(const Network& network, const TransientRun& wanted) {
        if (received.left) return engine_lost();
        if (received.error || received.rows < 2 || received.overflowed) {
            const std::string why = received.overflowed ? "too many steps" : received.complaint;
            return no_solution("the start-up has no solution (" + (why.empty() ? "no answer" : why) + ")");
        }
        map_row();
        const int time = place_of("time");
        Transient run{{},
                      std::vector<std::vector<double>>(wanted.watched.size()),
                      std::vector<std::vector<double>>(wanted.watched.size())};
        for (std::size_t row = 0; row < received.rows; ++row) {
            received.pick_row(row);
            for (const double value : received.row) {
                if (!std::isfinite(value) || std::abs(value) > greatest_volts)
                    return no_solution("the start-up has no solution (volts or speed without bound)");
            }
            run.seconds.push_back(received.row[time]);
            const OperatingPoint point = read(network);
            for (std::size_t i = 0; i < wanted.watched.size(); ++i) {
                run.amps[i].push_back(point.amps[wanted.watched[i].index]);
                run.speed[i].push_back(point.speed[wanted.watched[i].index]);
            }
        }
        return run;
    }

private:
    bool occupied_{false};
    bool stepping_set_{false};
};

NgspiceSession::NgspiceSession() : library_(std::make_unique<Library>()) {
    if (std::string_view(std::localeconv()->decimal_point) != ".") {
        throw std::logic_error("the simulator reads numbers with a decimal point only; the locale must stay \"C\"");
    }
    library_->start();
}

NgspiceSession::~NgspiceSession() = default;

NgspiceSession& NgspiceSession::instance() {
    static NgspiceSession& session = *new NgspiceSession;
    return session;
}

SolveResult NgspiceSession::solve(const Network& network) {
    const std::lock_guard one_at_a_time(library_->lock);
    return library_->solve(network, Shunts::idle);
}

SolveResult NgspiceSession::solve_without_shunts(const Network& network) {
    const std::lock_guard one_at_a_time(library_->lock);
    return library_->solve(network, Shunts::none);
}

TransientResult NgspiceSession::transient(const Network& network, const TransientRun& wanted) {
    const std::lock_guard one_at_a_time(library_->lock);
    return library_->transient(network, wanted);
}

std::string NgspiceSession::version() const {
    return library_->version();
}

NgspiceSession::Counters NgspiceSession::counters() const {
    return library_->counters;
}

}  // namespace voltfall
