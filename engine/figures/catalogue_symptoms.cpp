#include "engine/figures/catalogue_symptoms.hpp"

#include <algorithm>
#include <cmath>

#include "engine/figures/symptoms.hpp"
#include "netlists/phrases/load_words.hpp"
#include "netlists/text/digits.hpp"
#include "netlists/text/lists.hpp"

namespace voltfall {

namespace {

constexpr std::size_t sizes_of_a_mode = 5;
/// Modes solved between two reports of progress: long enough to keep the workers busy.
constexpr std::size_t modes_a_round = 64;
constexpr std::string_view no_solution = "no solution";

/// One mode of the catalogue at the sizes tried.
struct CatalogueRow {
    std::vector<Fault> faults;
    std::vector<ListedFault> listed;
};

std::vector<CatalogueRow> rows_of(const Circuit& circuit) {
    std::vector<CatalogueRow> rows;
    for (const ModePtr& mode : circuit.modes) {
        if (!mode->catalogued) continue;
        CatalogueRow& row = rows.emplace_back();
        Fault fault;
        fault.mode = mode;
        if (!mode->size) {
            row.faults.push_back(fault);
            row.listed.push_back({mode->phrase(), std::nullopt, Unit::none, true, true});
            continue;
        }
        const std::vector<double> sizes = sizes_tried(*mode->size);
        for (std::size_t i = 0; i < sizes.size(); ++i) {
            fault.size = sizes[i];
            row.faults.push_back(fault);
            row.listed.push_back({mode->phrase(), sizes[i], mode->size->unit, i == 0, i + 1 == sizes.size()});
        }
    }
    return rows;
}

using SeenLoads = std::vector<std::optional<LoadSeen>>;

/// "slow", or "M1 slow, L1 out" where the circuit has several loads. A load that is off is not spoken of; nor is one
/// that goes as it does in `beside`, where that is given. Empty where nothing is left to say.
std::string words_of(const SymptomTable& table, const SeenLoads& seen, const SeenLoads* beside) {
    std::vector<std::string> words;
    for (std::size_t l = 0; l < seen.size(); ++l) {
        if (beside ? seen[l] == (*beside)[l] : seen[l] == LoadSeen::off) continue;
        const Part& load = table.circuit().part(table.loads()[l]);
        const std::string_view word = seen[l] ? said_of(load_kind_of(load), *seen[l]) : no_solution;
        words.push_back((seen.size() > 1 ? load.name + " " : "") + std::string(word));
    }
    return joined(words, ", ");
}

SymptomPattern pattern_of(const SymptomTable& table, const Noticed& noticed, const Noticed& healthy) {
    SymptomPattern pattern;
    for (std::size_t s = 0; s < noticed.seen.size(); ++s) {
        const std::string& label = table.states()[s].label;
        const std::string all = words_of(table, noticed.seen[s], nullptr);
        pattern.seen.emplace_back(label, all.empty() ? std::string(word_of(LoadSeen::off)) : all);
        if (std::string changed = words_of(table, noticed.seen[s], &healthy.seen[s]); !changed.empty())
            pattern.changed.emplace_back(label, std::move(changed));
    }
    for (std::uint32_t i = 0; i < table.circuit().parts.size(); ++i)
        if (std::find(noticed.opened.begin(), noticed.opened.end(), PartId{i}) != noticed.opened.end())
            pattern.fuses.push_back(table.circuit().parts[i].name);
    return pattern;
}

void put_into_group(std::vector<SymptomGroup>& groups, SymptomPattern symptom, ListedFault fault) {
    for (SymptomGroup& group : groups)
        if (group.symptom == symptom) {
            group.faults.push_back(std::move(fault));
            return;
        }
    groups.push_back({std::move(symptom), {std::move(fault)}});
}

}  // namespace

std::vector<double> sizes_tried(const SizeRange& range) {
    std::vector<double> sizes;
    for (std::size_t i = 0; i < sizes_of_a_mode; ++i) {
        const double share = static_cast<double>(i) / static_cast<double>(sizes_of_a_mode - 1);
        const double size = range.logarithmic && range.low > 0 ? range.low * std::pow(range.high / range.low, share)
                                                               : range.low + (range.high - range.low) * share;
        sizes.push_back(range.logarithmic ? significant(size, 2) : significant(size, 3));
    }
    return sizes;
}

tl::expected<FaultsAnswer, SolveFailure> symptoms_of_catalogue(Simulator& simulator, const Circuit& circuit,
                                                               std::span<const State> states, int workers,
                                                               const ProgressReport& report) {
    const SymptomTable table(simulator, circuit, states);
    if (table.failure()) return tl::unexpected(*table.failure());
    const Noticed healthy = table.noticed_healthy();
    FaultsAnswer answer{circuit.name, pattern_of(table, healthy, healthy), {}, {}};
    const std::vector<CatalogueRow> rows = rows_of(circuit);
    for (std::size_t first = 0; first < rows.size(); first += modes_a_round) {
        const std::size_t count = std::min(modes_a_round, rows.size() - first);
        std::vector<std::vector<Noticed>> noticed(count);
        run_jobs(count, workers, [&](std::size_t job) {
            std::vector<FaultList> lists;
            for (const Fault& fault : rows[first + job].faults) lists.push_back({std::span(&fault, 1), {}});
            noticed[job] = table.noticed(lists);
        });
        for (std::size_t job = 0; job < count; ++job) {
            const CatalogueRow& row = rows[first + job];
            for (std::size_t i = 0; i < row.listed.size(); ++i)
                put_into_group(answer.groups, pattern_of(table, noticed[job][i], healthy), row.listed[i]);
        }
        report("solving", first + count, rows.size());
    }
    std::stable_partition(answer.groups.begin(), answer.groups.end(),
                          [&](const SymptomGroup& group) { return group.symptom != answer.healthy; });
    if (table.loads().empty()) answer.notes.push_back("no load that a driver notices: only fuses tell");
    return answer;
}

}  // namespace voltfall
