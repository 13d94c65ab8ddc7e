// Reads a job file: what the customer said, what was fitted, what was measured.
#pragma once

#include <map>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "netlists/circuit/circuit.hpp"
#include "netlists/files/circuit_file.hpp"
#include "netlists/files/toml_file.hpp"
#include "netlists/phrases/reading_phrase.hpp"

namespace voltfall {

/// A part or a plug that is new, and the words about it.
struct Fitted {
    PartId part;  ///< invalid where it is a plug
    std::string words;
    std::string plug{};  ///< as the circuit names it; empty where it is a part
};

/// What was mended, and the words about it.
struct Repaired {
    std::string place;  ///< as the circuit names it; "nothing" where no fault was found
    std::string words;  ///< "new terminal and seal"

    bool nothing_found() const { return place == "nothing"; }
};

/// An instrument at hand.
struct Tool {
    std::string name;    ///< "meter", "clamp", "lamp", "load"
    double relative{0};  ///< accuracy: share of the reading
    double absolute{0};  ///< and units of the reading
    double digits{0};    ///< and times the last digit that was typed
    double watts{0};     ///< of a lamp or load
};

struct Job {
    std::string path;
    std::string circuit_path;
    std::string job;
    std::string concern;
    std::vector<Tool> tools;        ///< meter, clamp and lamp where the file says nothing
    bool names_tools{false};        ///< does the file itself say which?
    std::vector<Reading> readings;  ///< in the order written
    std::vector<Fitted> fitted;
    std::vector<std::string> history;
    std::vector<Repaired> repaired;  ///< in the order written
    std::vector<Reading> after;      ///< taken after the repair, in the order written; no part of `readings`
};

/// Circuit and job are null when either has errors.
struct JobReading {
    std::shared_ptr<const Circuit> circuit;
    std::shared_ptr<const Job> job;
    Problems problems;
};

/// Reads a job and the circuit that it names (relative to the job's folder). A circuit file given instead of a job
/// gives a job without readings.
JobReading read_job_file(const std::string& path);
/// The same for the text of a job file that stands at `path`.
JobReading read_job_text(std::string_view text, const std::string& path);
/// The same of a file that is cut into entries; `problems` has those of its syntax. Without a source the circuit's file
/// is read.
JobReading read_job(const TomlFile& file, Problems problems, const CircuitSource& circuits = {});

/// One more reading, named by its number.
void add_reading(Job& job, Reading reading);
/// Reads one more reading (`--read`), named by its number.
void add_reading(Job& job, const Circuit& circuit, const TypedText& phrase, Problems& problems);
/// Reads one more reading after the repair (`--after`).
void add_reading_after(Job& job, const Circuit& circuit, const TypedText& phrase, Problems& problems);
/// Reads what was mended (`--repaired`): a place and the words about it, "C101.4 new terminal".
void add_repaired(Job& job, const Circuit& circuit, const TypedText& phrase, Problems& problems);

}  // namespace voltfall
