#include "netlists/files/circuit_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "netlists/files/circuit_draft.hpp"
#include "netlists/files/circuit_layout.hpp"
#include "netlists/files/circuit_sections.hpp"
#include "netlists/files/file_top.hpp"
#include "netlists/files/missing_headers.hpp"
#include "netlists/files/section_names.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/text/plain_text.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

const std::vector<std::string>& top_keys() {
    static const std::vector<std::string> keys{"format", "name", "note", "supply", "colours"};
    return keys;
}

/// Most lines of a section that says something of places: each part and each wire once.
constexpr std::size_t most_places = most_parts + most_wires;

class CircuitReader {
public:
    CircuitReader(const TomlFile& file, Problems& problems) : file_(file), draft_(problems) {}

    std::shared_ptr<const Circuit> read() {
        read_top();
        check_section_names();
        const TomlSection* parts = section("parts", "B1 = \"battery 12.6V 8mohm\"");
        // Without parts every other line would name something unknown.
        if (!parts || !fits()) return nullptr;
        read_parts(draft_, *parts);
        if (const auto* plugs = find_section("plugs")) read_plugs(draft_, *plugs);
        if (const auto* wires = section("wires", "541 = \"F7.2 > M1.1  6mm2 RD 0.9m\"")) read_wires(draft_, *wires);
        find_battery();
        draft_.report_unknown();
        Layout layout(draft_.circuit);
        // A circuit with mistakes is not laid; its other sections are read all the same, for their own mistakes.
        if (!draft_.problems.has_errors()) lay_circuit(draft_, layout);
        for (const TomlSection& written : file_.sections) {
            TomlSection optional = written;
            optional.name = meant_name(written.name);
            read_optional_section(draft_, optional);
        }
        if (!find_section("controls")) default_controls(draft_);
        if (draft_.problems.has_errors()) return nullptr;
        declare_wire_modes(layout);
        close_joints(draft_.circuit);
        close_electronics(draft_.circuit);
        return std::make_shared<const Circuit>(std::move(draft_.circuit));
    }

private:
    void error(ProblemCode code, const SourcePlace& place, std::string message, std::string suggestion) {
        draft_.problems.error(code, place, std::move(message), std::move(suggestion));
    }
    SourcePlace whole_file() const { return {file_.path, 0, 0, 1, {}}; }

    /// The section name that was meant: the nearest known one where it is misspelt (reported) and not there besides.
    std::string meant_name(const std::string& name) const {
        const std::vector<std::string> known = words_of_sections(SectionOf::circuit);
        if (name.empty() || std::find(known.begin(), known.end(), name) != known.end()) return name;
        const std::string near = nearest(name, known);
        return near.empty() || file_.find(near) ? name : near;
    }
    const TomlSection* find_section(std::string_view name) const {
        const auto found = std::find_if(file_.sections.begin(), file_.sections.end(),
                                        [&](const TomlSection& s) { return meant_name(s.name) == name; });
        return found == file_.sections.end() ? nullptr : &*found;
    }
    const TomlSection* section(std::string_view name, std::string_view line) {
        const TomlSection* found = find_section(name);
        // `parts = { …` with a mistake in it is there, and told.
        const auto& lost = file_.sections.front().lost;
        if (!found && std::find(lost.begin(), lost.end(), name) == lost.end())
            error(ProblemCode::missing_section, whole_file(), fmt::format("the file has no section [{}]", name),
                  fmt::format("write [{}] and below it {}", name, line));
        return found;
    }

    void read_top();
    void read_top_key(const TomlEntry& entry);
    void read_supply(const TypedText& text);
    void read_colours(const TypedText& text);
    bool fits();
    void find_battery();
    void check_section_names();

    const TomlFile& file_;
    CircuitDraft draft_;
    bool stray_key_{false};
};

void CircuitReader::read_top() {
    const TomlSection& top = file_.sections.front();
    check_format(file_, draft_.problems);
    if (const TomlEntry* format = top.find("format"); format && top.entries.front().key != "format")
        error(ProblemCode::unknown_format, format->key_place, "format is not the first key",
              "move format = 1 to the top of the file");
    for (const TomlEntry& entry : top.entries) {
        if (entry.key != "format") read_top_key(entry);
    }
}

void CircuitReader::read_top_key(const TomlEntry& entry) {
    const auto& known = top_keys();
    if (std::find(known.begin(), known.end(), entry.key) == known.end()) {
        std::string suggestion = section_advice(entry.key, SectionOf::circuit);
        if (suggestion.empty()) suggestion = did_you_mean(entry.key, known);
        // `wire.541` for `wires.541`: the line is lost, and what it names.
        if (const auto point = entry.key.find('.'); point != std::string::npos) {
            const std::string near = nearest(entry.key.substr(0, point), words_of_sections(SectionOf::circuit));
            if (!near.empty()) suggestion = fmt::format("did you mean '{}{}'?", near, entry.key.substr(point));
            draft_.lose(entry.key.substr(point + 1));
        }
        if (suggestion.empty()) suggestion = "keys before the first section are format, name, note, supply, colours";
        // Where [parts] itself is missing, its lines stand here: one problem tells that.
        if (find_section("parts") || !stray_key_)
            error(ProblemCode::unknown_key, entry.key_place, fmt::format("'{}' is not known here", entry.key),
                  std::move(suggestion));
        stray_key_ = true;
        return;
    }
    const auto text = draft_.text_of(entry, entry.key == "supply" ? "12V" : "Bookmobile, cab blower");
    if (!text) return;
    if (entry.key == "name") draft_.circuit.name = text->text;
    if (entry.key == "note") draft_.circuit.note = text->text;
    if (entry.key == "supply") read_supply(*text);
    if (entry.key == "colours") read_colours(*text);
}

void CircuitReader::read_supply(const TypedText& text) {
    if (!reads_plain(text, draft_.problems)) return;
    // `12 V` is read as everywhere else.
    const auto words = cut_words(text, draft_.problems);
    const auto volts = words.size() == 1 ? words.front().measure : std::nullopt;
    if (!volts || volts->unit != Unit::volt || (volts->value != 12 && volts->value != 24)) {
        return error(ProblemCode::no_figure, text.place, fmt::format("supply is '{}'; expected 12V or 24V", text.text),
                     "write supply = \"12V\"");
    }
    draft_.circuit.supply = volts->value;
}

/// With a table that is not built in named, colours are kept as text without a note each.
void CircuitReader::read_colours(const TypedText& text) {
    if (!reads_plain(text, draft_.problems)) return;
    draft_.colour_table = find_colour_table(text.text);
    if (draft_.colour_table) return;
    draft_.foreign_colours = true;
    std::vector<std::string> names = colour_table_names();
    const std::string all = fmt::format("tables are {}", fmt::join(names, ", "));
    names.emplace_back("IEC");
    if (const std::string near = did_you_mean(text.text, names); !near.empty() || text.text.empty())
        return error(ProblemCode::unknown_colour_table, text.place,
                     fmt::format("no colour table is called '{}'", text.text), near.empty() ? all : near);
    draft_.problems.note(ProblemCode::unknown_colour_table, text.place,
                         fmt::format("colour table '{}' is not built in; colours are kept as text", text.text), all);
}

/// Counts before anything is read: one problem for a file that is too large, not one a line.
bool CircuitReader::fits() {
    bool fit = true;
    const auto check = [&](std::string_view name, std::size_t most) {
        const TomlSection* found = find_section(name);
        if (!found || found->entries.size() <= most) return;
        error(ProblemCode::too_many, found->place,
              fmt::format("{} {}; at most {} are read", found->entries.size(), name, most), "split the circuit");
        fit = false;
    };
    check("parts", most_parts);
    check("wires", most_wires);
    for (const TomlSection& written : file_.sections) {
        const std::string name = meant_name(written.name);
        if (name.empty() || name == "parts" || name == "wires" || written.entries.size() <= most_places) continue;
        error(ProblemCode::too_many, written.place,
              fmt::format("{} lines in [{}]; at most {} are read", written.entries.size(), written.name, most_places),
              "is this the right file?");
        fit = false;
    }
    return fit;
}

void CircuitReader::find_battery() {
    const auto& parts = draft_.circuit.parts;
    const auto battery =
        std::find_if(parts.begin(), parts.end(), [](const Part& p) { return has_duty(p, Duty::battery); });
    if (battery != parts.end()) {
        draft_.circuit.battery = {static_cast<std::uint32_t>(battery - parts.begin())};
        return;
    }
    // A part whose own line has mistakes may be the battery.
    const TomlSection* section = find_section("parts");
    if (section && draft_.lost.empty())
        error(ProblemCode::no_battery, section->place, "the circuit has no battery",
              "add B1 = \"battery 12.6V 8mohm\"");
}

void CircuitReader::check_section_names() {
    const std::vector<std::string> known = words_of_sections(SectionOf::circuit);
    for (const TomlSection& found : file_.sections) {
        if (found.name.empty() || std::find(known.begin(), known.end(), found.name) != known.end()) continue;
        std::string suggestion = section_advice(found.name, SectionOf::circuit);
        if (suggestion.empty()) suggestion = did_you_mean(found.name, known);
        if (suggestion.empty()) suggestion = fmt::format("sections are {}", fmt::join(known, ", "));
        error(ProblemCode::unknown_section, found.place, fmt::format("section [{}] is not known", found.name),
              std::move(suggestion));
    }
}

}  // namespace

CircuitReading read_circuit(const TomlFile& file, Problems problems) {
    CircuitReading reading{nullptr, std::move(problems)};
    if (!file.sections.empty()) {
        TomlFile whole = file;
        put_in_circuit_headers(whole, reading.problems);
        reading.circuit = CircuitReader(whole, reading.problems).read();
    }
    if (reading.problems.has_errors()) reading.circuit = nullptr;
    reading.problems.sort();
    return reading;
}

CircuitReading read_circuit_file(const std::string& path) {
    Problems problems;
    const TomlFile file = read_toml_file(path, problems);
    return read_circuit(file, std::move(problems));
}

CircuitReading read_circuit_text(std::string_view text, const std::string& file) {
    Problems problems;
    const TomlFile read = read_toml_text(text, file, problems);
    return read_circuit(read, std::move(problems));
}

}  // namespace voltfall
