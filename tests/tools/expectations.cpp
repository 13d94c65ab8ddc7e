#include "tests/tools/expectations.hpp"

#include <fstream>
#include <map>
#include <optional>
#include <span>
#include <sstream>

#include <fmt/format.h>

#include "engine/diagnosis/repair_chances.hpp"
#include "netlists/phrases/fault_phrase.hpp"
#include "netlists/phrases/place_pattern.hpp"
#include "netlists/text/csv.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {
namespace {

namespace fs = std::filesystem;

std::optional<std::string> file_text(const fs::path& path) {
    std::ifstream in(path, std::ios::binary);
    if (!in) {
        return std::nullopt;
    }
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

/// Where the columns that are used stand; nothing where one is missing.
std::optional<std::map<std::string, std::size_t>> columns_of(const CsvRow& header) {
    std::map<std::string, std::size_t> columns;
    for (std::size_t at = 0; at < header.fields.size(); ++at) {
        columns[header.fields[at]] = at;
    }
    for (const char* needed : {"id", "expected_places", "evidence"}) {
        if (!columns.contains(needed)) {
            return std::nullopt;
        }
    }
    return columns;
}

/// The faults that one pattern means, as phrases without size in small letters.
std::set<std::string> faults_meant(const Circuit& circuit, std::string_view pattern) {
    if (same_word(pattern, "nothing")) {
        return {"nothing"};
    }
    std::set<std::string> faults;
    for (const ModePtr& mode : circuit.modes) {
        if (matches_place_pattern(circuit, pattern, *mode)) {
            faults.insert(lower(mode->phrase()));
        }
    }
    Problems ignored;
    if (const auto fault = read_fault_phrase(TypedText::argument("expected_places", pattern), circuit, ignored)) {
        faults.insert(lower(fault->mode->phrase()));
    }
    return faults;
}

}  // namespace

std::vector<ExpectedRow> read_expectations(const fs::path& folder, std::vector<Skipped>& skipped) {
    const fs::path path = folder / "expect.csv";
    const auto text = file_text(path);
    if (!text) {
        skipped.push_back({path.string(), "cannot be read; a folder to score holds expect.csv"});
        return {};
    }
    const auto rows = cut_csv(*text);
    const auto columns = rows.empty() ? std::nullopt : columns_of(rows.front());
    if (!columns) {
        skipped.push_back({path.string(), "its first line lacks one of the columns id, expected_places, evidence"});
        return {};
    }
    std::vector<ExpectedRow> expectations;
    for (const CsvRow& row : std::span(rows).subspan(1)) {
        const auto field = [&](const char* name) {
            const auto column = columns->find(name);
            if (column == columns->end()) return std::string();
            const std::size_t at = column->second;
            return at < row.fields.size() ? row.fields[at] : std::string();
        };
        ExpectedRow expected{folder,           field("id"),         field("expected_places"), field("evidence"),
                             field("circuit"), field("cause_kind"), field("certainty")};
        if (expected.id.empty() || expected.places.empty()) {
            skipped.push_back({fmt::format("{}:{}", path.string(), row.line), "row without id or expected_places"});
            continue;
        }
        if (expected.evidence.empty()) {
            expected.evidence = "not said";
        }
        expectations.push_back(std::move(expected));
    }
    return expectations;
}

tl::expected<std::set<std::string>, std::string> faults_expected(const Circuit& circuit, std::string_view patterns) {
    std::set<std::string> faults;
    while (!patterns.empty()) {
        const auto bar = patterns.find('|');
        const std::string_view pattern = patterns.substr(0, bar);
        patterns = bar == std::string_view::npos ? std::string_view{} : patterns.substr(bar + 1);
        const std::set<std::string> meant = faults_meant(circuit, pattern);
        if (meant.empty()) {
            return tl::unexpected(fmt::format("its expected place '{}' is nothing of the circuit", pattern));
        }
        faults.insert(meant.begin(), meant.end());
    }
    return faults;
}

std::set<std::string> places_of(const Circuit& circuit, const std::set<std::string>& faults) {
    std::set<std::string> places;
    for (const ModePtr& mode : circuit.modes) {
        if (faults.contains(lower(mode->phrase()))) places.insert(visited_place(circuit, *mode));
    }
    if (faults.contains("nothing")) places.insert("nothing");
    return places;
}

}  // namespace voltfall
