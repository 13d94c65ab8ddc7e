// The measuring stick: (a) folders of real cases, (b) vehicles with faults drawn at random, (c) whether stated
// probabilities are what happens.
#include <algorithm>
#include <array>
#include <charconv>
#include <filesystem>
#include <iostream>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "netlists/files/circuit_file.hpp"
#include "tests/tools/orders.hpp"
#include "tests/tools/score_cases.hpp"
#include "tests/tools/stated.hpp"
#include "tests/tools/vehicles.hpp"

namespace voltfall {
namespace {

namespace fs = std::filesystem;
using nlohmann::ordered_json;

constexpr std::string_view usage =
    "usage: score [--json] [--further N] [--to-the-end] [--vehicles N [--come-and-go | --orders]] [--circuit FILE]... "
    "[--seed S] "
    "[--workers N] FOLDER...\n";

struct Asked {
    bool json{false};
    bool to_the_end{false};  ///< the cases are worked by following `next`, not matched
    bool orders{false};      ///< of the vehicles only the order of tests is weighed
    std::size_t vehicles{0};
    Presence presence{Presence::always};
    std::size_t further{2};
    std::uint64_t seed{1};
    int workers{2};
    std::vector<fs::path> circuits;
    std::vector<fs::path> folders;
};

/// Vehicles of one circuit and their sums.
struct Bench {
    std::string circuit;
    std::vector<WorkedVehicle> vehicles;

    double share(Verdict verdict) const {
        const auto count = std::count_if(vehicles.begin(), vehicles.end(),
                                         [&](const WorkedVehicle& v) { return v.verdict == verdict; });
        return static_cast<double>(count) / std::max<double>(1, static_cast<double>(vehicles.size()));
    }
    /// Right, with no other place named beside it.
    double right_alone() const {
        const auto count = std::count_if(vehicles.begin(), vehicles.end(), [](const WorkedVehicle& v) {
            return v.verdict == Verdict::right && v.named_alone;
        });
        return static_cast<double>(count) / std::max<double>(1, static_cast<double>(vehicles.size()));
    }
    template <class Value>
    double mean(const Value& value, bool on_path_only) const {
        double sum = 0;
        double count = 0;
        for (const WorkedVehicle& v : vehicles) {
            if (on_path_only && !v.on_path) continue;
            sum += value(v);
            ++count;
        }
        return count > 0 ? sum / count : 0;
    }
    std::size_t on_path() const {
        return static_cast<std::size_t>(
            std::count_if(vehicles.begin(), vehicles.end(), [](const WorkedVehicle& v) { return v.on_path; }));
    }
};

std::vector<Stated> stated_of(const std::vector<Bench>& benches, bool first) {
    std::vector<Stated> stated;
    for (const Bench& bench : benches) {
        for (const WorkedVehicle& v : bench.vehicles)
            stated.emplace_back(first ? v.first_stated : v.stated, first ? v.first_leads : v.leads);
    }
    return stated;
}

void print_cases(const Results& results, std::size_t further) {
    fmt::print("{:<12} {:<17} {:>5} {:>5} {:>5}  {:<16} {}\n", "id", "evidence", "place", "later", "fault",
               "leading place", "stated");
    const auto rank_text = [](const std::optional<std::size_t>& rank) { return rank ? fmt::format("{}", *rank) : "-"; };
    for (const Scored& scored : results.scored) {
        fmt::print("{:<12} {:<17} {:>5} {:>5} {:>5}  {:<16} {:.2f}\n", scored.expected.id, scored.expected.evidence,
                   rank_text(scored.rank), rank_text(scored.rank_later), rank_text(scored.fault_rank), scored.top,
                   scored.probability);
    }
    fmt::print("\nrank of the true place, and of the fault itself\n");
    fmt::print("{:<17} {:>5} {:>6} {:>6} {:>14} {:>12} {:>12}\n", "evidence", "cases", "first", "in 3", "mean 1 / rank",
               "fault first", "fault in 3");
    for (const Score& score : scores_of(results.scored)) {
        fmt::print("{:<17} {:>5} {:>6.2f} {:>6.2f} {:>14.2f} {:>12.2f} {:>12.2f}\n", score.evidence, score.cases,
                   score.top_1, score.top_3, score.mean_reciprocal_rank, score.fault_top_1, score.fault_top_3);
    }
    const Score all = scores_of(results.scored).front();
    fmt::print("each case left out of the counts of causes: first {:.2f}, in 3 {:.2f}\n", all.left_out_top_1,
               all.left_out_top_3);
    fmt::print("after further tests ({}) answered as the true fault does: first {:.2f}\n", further, all.later_top_1);
    const auto print_by = [&](const char* what, std::string ExpectedRow::*text) {
        fmt::print("\n{:<34} {:>5} {:>6} {:>6} {:>14}\n", what, "cases", "first", "in 3", "mean 1 / rank");
        for (const Score& score : scores_by(results.scored, text))
            fmt::print("{:<34} {:>5} {:>6.2f} {:>6.2f} {:>14.2f}\n", score.evidence, score.cases, score.top_1,
                       score.top_3, score.mean_reciprocal_rank);
    };
    print_by("how sure the cause is", &ExpectedRow::certainty);
    print_by("circuit", &ExpectedRow::circuit);
    print_by("kind of cause", &ExpectedRow::cause);
    fmt::print("\nthe leading place's probability: as stated, and how often it came true\n");
    fmt::print("{:<12} {:>5} {:>7} {:>9} {:>16}\n", "from .. to", "cases", "stated", "came true", "in one of equals");
    for (const Reliability& row : reliability_of(results.scored))
        fmt::print("{:.1f} .. {:.1f}   {:>5} {:>7.2f} {:>9.2f} {:>16.2f}\n", row.from, row.to, row.cases, row.stated,
                   row.came_true, row.shared);
    fmt::print("log loss {:.2f}, Brier score {:.3f}\n", log_loss_of(results.scored), brier_of(results.scored));
    const double power = best_power_of(results.scored);
    fmt::print("chances raised to a further power of {:.2f} would lose the least: {:.2f}\n", power,
               log_loss_at_power(results.scored, power));
}

void print_benches(const std::vector<Bench>& benches) {
    fmt::print("\n{:<18} {:>8} {:>6} {:>12} {:>6} {:>8} {:>6} {:>8}\n", "circuit", "vehicles", "right", "as one place",
               "wrong", "unknown", "tests", "minutes");
    for (const Bench& b : benches) {
        fmt::print("{:<18} {:>8} {:>6.2f} {:>12.2f} {:>6.2f} {:>8.2f} {:>6.1f} {:>8.1f}\n", b.circuit,
                   b.vehicles.size(), b.share(Verdict::right), b.right_alone(), b.share(Verdict::wrong),
                   b.share(Verdict::unknown), b.mean([](const WorkedVehicle& v) { return v.tests; }, false),
                   b.mean([](const WorkedVehicle& v) { return v.minutes; }, false));
    }
    fmt::print("\nfaults on the load's current path; the other three never read wrongly and know it lies there\n");
    fmt::print("{:<18} {:>8} {:>8} {:>15} {:>11} {:>8}\n", "circuit", "vehicles", "minutes", "load to source",
               "half-split", "optimum");
    for (const Bench& b : benches) {
        fmt::print("{:<18} {:>8} {:>8.1f} {:>15.1f} {:>11.1f} {:>8.1f}\n", b.circuit, b.on_path(),
                   b.mean([](const WorkedVehicle& v) { return v.minutes; }, true),
                   b.mean([](const WorkedVehicle& v) { return v.load_to_source; }, true),
                   b.mean([](const WorkedVehicle& v) { return v.half_split; }, true),
                   b.mean([](const WorkedVehicle& v) { return v.optimal; }, true));
    }
}

void print_calibration(const std::vector<Bench>& benches) {
    for (const bool first : {true, false}) {
        const std::vector<Stated> stated = stated_of(benches, first);
        fmt::print("\n{}\n{:<12} {:>8} {:>7} {:>9}\n",
                   first ? "the leading place's probability by what works and what does not, and how often it came true"
                         : "the same when testing ended",
                   "from .. to", "vehicles", "stated", "came true");
        for (const StatedBin& bin : bins_of(stated))
            fmt::print("{:.1f} .. {:.1f}   {:>8} {:>7.2f} {:>9.2f}\n", bin.from, bin.to, bin.count, bin.stated,
                       bin.was_so);
        fmt::print("mean distance {:.3f}, log loss {:.2f}, Brier score {:.3f}\n", calibration_error(stated),
                   log_loss(stated), brier_score(stated));
    }
}

constexpr const char* verdict_words[] = {"right", "wrong", "not settled"};

void print_worked(const std::vector<WorkedCase>& worked) {
    fmt::print("{:<14} {:<12} {:>5} {:>8} {:>7}  {}\n", "id", "ends", "tests", "minutes", "stated", "at");
    double minutes = 0;
    std::array<std::size_t, 3> counts{};
    std::size_t alone = 0;
    for (const WorkedCase& one : worked) {
        fmt::print("{:<14} {:<12} {:>5} {:>8.1f} {:>7.2f}  {}\n", one.expected.id,
                   verdict_words[static_cast<int>(one.verdict)], one.tests, one.minutes, one.stated,
                   fmt::join(one.named, ", "));
        minutes += one.minutes;
        ++counts[static_cast<std::size_t>(one.verdict)];
        if (one.verdict == Verdict::right && one.named.size() == 1) ++alone;
    }
    fmt::print(
        "\n{} jobs followed to their end: {} right ({} with one place named), {} wrong, {} not settled; {:.1f} minutes "
        "each\n",
        worked.size(), counts[0], alone, counts[1], counts[2],
        minutes / std::max<double>(1, static_cast<double>(worked.size())));
}

ordered_json json_of(const std::vector<WorkedCase>& worked) {
    ordered_json list = ordered_json::array();
    for (const WorkedCase& one : worked) {
        list.push_back({{"id", one.expected.id},
                        {"folder", one.expected.folder.string()},
                        {"expected", one.expected.places},
                        {"ends", verdict_words[static_cast<int>(one.verdict)]},
                        {"minutes", one.minutes},
                        {"tests", one.tests},
                        {"named", one.named},
                        {"stated", one.stated},
                        {"taken", one.taken}});
    }
    return list;
}

ordered_json or_null(const std::optional<std::size_t>& rank) {
    return rank ? ordered_json(*rank) : ordered_json(nullptr);
}

ordered_json json_of(const Results& results, const std::vector<Bench>& benches, const Asked& asked) {
    ordered_json cases = ordered_json::array();
    for (const Scored& scored : results.scored) {
        cases.push_back({{"id", scored.expected.id},
                         {"folder", scored.expected.folder.string()},
                         {"evidence", scored.expected.evidence},
                         {"expected", scored.expected.places},
                         {"rank", or_null(scored.rank)},
                         {"rank_left_out", or_null(scored.rank_left_out)},
                         {"rank_later", or_null(scored.rank_later)},
                         {"further", scored.further},
                         {"places_later", scored.places_later},
                         {"fault_rank", or_null(scored.fault_rank)},
                         {"true_probability", scored.true_probability},
                         {"top", scored.top},
                         {"probability", scored.probability}});
    }
    ordered_json scores = ordered_json::array();
    for (const Score& score : scores_of(results.scored)) {
        scores.push_back({{"evidence", score.evidence},
                          {"cases", score.cases},
                          {"top_1", score.top_1},
                          {"top_3", score.top_3},
                          {"mean_reciprocal_rank", score.mean_reciprocal_rank},
                          {"left_out_top_1", score.left_out_top_1},
                          {"left_out_top_3", score.left_out_top_3},
                          {"later_top_1", score.later_top_1},
                          {"fault_top_1", score.fault_top_1},
                          {"fault_top_3", score.fault_top_3}});
    }
    ordered_json worked = ordered_json::array();
    for (const Bench& bench : benches) {
        for (const WorkedVehicle& v : bench.vehicles) {
            const char* words[] = {"right", "wrong", "unknown"};
            ordered_json row{{"circuit", bench.circuit},
                             {"fault", v.fault},
                             {"verdict", words[static_cast<int>(v.verdict)]},
                             {"taken", v.taken},
                             {"left", v.left},
                             {"named", v.named},
                             {"one_place", v.named_alone},
                             {"minutes", v.minutes},
                             {"tests", v.tests},
                             {"stated", v.stated},
                             {"leads", v.leads},
                             {"first_stated", v.first_stated},
                             {"first_leads", v.first_leads}};
            if (v.on_path) {
                row["load_to_source"] = v.load_to_source;
                row["half_split"] = v.half_split;
                row["optimal"] = v.optimal;
            }
            worked.push_back(std::move(row));
        }
    }
    ordered_json skipped = ordered_json::array();
    for (const Skipped& one : results.skipped) skipped.push_back({{"what", one.what}, {"why", one.why}});
    return {{"schema", 1},
            {"command", "score"},
            {"seed", asked.seed},
            {"cases", cases},
            {"scores", scores},
            {"vehicles", worked},
            {"calibration",
             {{"first", calibration_error(stated_of(benches, true))},
              {"end", calibration_error(stated_of(benches, false))}}},
            {"skipped", skipped}};
}

template <class Number>
std::optional<Number> number_of(const std::string& text) {
    Number value{};
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc() || end != text.data() + text.size()) return std::nullopt;
    return value;
}

/// Nothing, and what was wrong on stderr, where the arguments make no sense.
std::optional<Asked> read_arguments(const std::vector<std::string>& arguments) {
    Asked asked;
    for (std::size_t i = 0; i < arguments.size(); ++i) {
        const std::string& argument = arguments[i];
        const auto value = [&] { return i + 1 < arguments.size() ? arguments[++i] : std::string(); };
        if (argument == "--json") {
            asked.json = true;
        } else if (argument == "--to-the-end") {
            asked.to_the_end = true;
        } else if (argument == "--orders") {
            asked.orders = true;
        } else if (argument == "--come-and-go") {
            asked.presence = Presence::comes_and_goes;
        } else if (argument == "--circuit") {
            asked.circuits.emplace_back(value());
        } else if (argument == "--vehicles" || argument == "--further" || argument == "--seed" ||
                   argument == "--workers") {
            const auto number = number_of<std::uint64_t>(value());
            if (!number || (argument == "--workers" && (*number < 1 || *number > 64))) {
                std::cerr << fmt::format("score: {} takes a whole number; {}", argument, usage);
                return std::nullopt;
            }
            if (argument == "--vehicles") asked.vehicles = *number;
            if (argument == "--further") asked.further = *number;
            if (argument == "--seed") asked.seed = *number;
            if (argument == "--workers") asked.workers = static_cast<int>(*number);
        } else if (argument.starts_with("-")) {
            std::cerr << fmt::format("score: unknown option '{}'; {}", argument, usage);
            return std::nullopt;
        } else {
            asked.folders.emplace_back(argument);
        }
    }
    if (asked.folders.empty() && (asked.vehicles == 0 || asked.circuits.empty())) {
        std::cerr << "score: neither a folder nor --vehicles with a --circuit named; " << usage;
        return std::nullopt;
    }
    return asked;
}

std::vector<Bench> work_circuits(const Asked& asked, std::vector<Skipped>& skipped) {
    std::vector<Bench> benches;
    if (asked.vehicles == 0) return benches;
    for (const fs::path& path : asked.circuits) {
        const CircuitReading reading = read_circuit_file(path.string());
        if (!reading.circuit) {
            skipped.push_back({path.string(), "no circuit that can be read"});
            continue;
        }
        benches.push_back({path.stem().string(),
                           work_vehicles(*reading.circuit, asked.vehicles, asked.seed, asked.workers, asked.presence)});
    }
    return benches;
}

void print_skipped(const std::vector<Skipped>& list) {
    for (const Skipped& skipped : list) std::cerr << fmt::format("score: left out {}: {}\n", skipped.what, skipped.why);
}

void print_json(const ordered_json& json) {
    std::cout << json.dump(1, ' ', false, ordered_json::error_handler_t::replace) << '\n';
}

int work_to_the_end(const Asked& asked) {
    std::vector<Skipped> skipped;
    std::vector<WorkedCase> worked;
    for (const fs::path& folder : asked.folders) {
        for (WorkedCase& one : work_folder(folder, skipped)) worked.push_back(std::move(one));
    }
    if (asked.json)
        print_json({{"schema", 1}, {"command", "score --to-the-end"}, {"jobs", json_of(worked)}});
    else
        print_worked(worked);
    print_skipped(skipped);
    return worked.empty() ? 3 : 0;
}

int run(const std::vector<std::string>& arguments) {
    const std::optional<Asked> asked = read_arguments(arguments);
    if (!asked) return 2;
    if (asked->orders) {
        print_orders(asked->circuits, asked->vehicles, asked->seed);
        return 0;
    }
    if (asked->to_the_end) return work_to_the_end(*asked);
    Results results;
    for (const fs::path& folder : asked->folders) score_folder(folder, asked->further, results);
    const std::vector<Bench> benches = work_circuits(*asked, results.skipped);
    if (asked->json) {
        print_json(json_of(results, benches, *asked));
    } else {
        if (!asked->folders.empty()) print_cases(results, asked->further);
        if (!benches.empty()) {
            print_benches(benches);
            print_calibration(benches);
        }
    }
    print_skipped(results.skipped);
    return results.scored.empty() && benches.empty() ? 3 : 0;
}

}  // namespace
}  // namespace voltfall

int main(int argc, char** argv) {
    return voltfall::run({argv + 1, argv + argc});
}
