// A job's readings as questions to a solved circuit: in which states, at which points, against which values.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "engine/readings/joint_normal.hpp"
#include "engine/solve/settled.hpp"
#include "netlists/files/job_file.hpp"

namespace voltfall {

/// What is known of the battery's EMF for the readings of one key state. Readings that share it lean on one unknown.
struct Supply {
    std::string key;   ///< "run", or "run?" where no key word tells it
    bool told{false};  ///< by a key word or by a reading of B1+ to B1-
    double mean{};     ///< before any reading
    double sigma{};
    double emf{};  ///< what `mean` and `sigma` are where the volts between the posts are not the EMF
    double emf_sigma{};
    double solved_at{};     ///< EMF at which the cases are solved; a reading of B1+ to B1- where there is one
    bool overrides{false};  ///< `solved_at` is not what the file says

    bool operator==(const Supply&) const = default;
};

/// A state in which something was measured or seen.
struct JobState {
    State state;
    std::size_t supply{0};
    bool earlier{false};  ///< before what blew had blown
    bool sometimes{false};
    bool new_fuse{false};  ///< a fuse was fitted and the reading taken at once
    bool guessed{false};   ///< in no reading: a position that the driver may have used before the fuse was found blown
    bool names_blowing{false};       ///< what opens in it is open in every reading
    std::vector<PartId> found_open;  ///< fuses that readings before it have found blown
};

/// One number that a solved state can give.
struct Cell {
    std::size_t state{};
    bool is_amps{false};
    JointId red;
    JointId black;
    BranchId branch;       ///< of a clamp
    bool any_sign{false};  ///< clamps and `across`: people leave the sign out
};

/// A typed number. `cells` are the things that the phrase may mean, with their weights; a single one joins the other
/// numbers in one correlated normal when the value is one number.
struct NumberObservation {
    std::size_t reading{};
    ReadValue value;
    double sigma{};  ///< of the instrument
    double scale{};  ///< the part of `sigma` that the instrument's readings share, with the sign of the value
    WrongReading wrong;
    std::vector<std::pair<double, std::size_t>> cells;
    bool exact() const { return value.low == value.high; }
};

/// A number read already, given to the questions of tests to come.
struct GivenNumber {
    std::size_t cell{};
    double value{};  ///< V or A, with the sign that the cell is told with
    double sigma{};  ///< of the instrument
    double scale{};  ///< the part of `sigma` that the instrument's readings share, with the sign of the value
};

/// Something seen or heard. `cells` are used by lamps and live/dead; loads, air and relays look at whole states.
struct WordObservation {
    std::size_t reading{};
    double wrong{};      ///< chance that the word is wrong
    double by_chance{};  ///< chance of the word when it is
    std::vector<std::pair<double, std::size_t>> states;
    std::vector<std::pair<double, std::size_t>> cells;
    std::vector<std::size_t> blown_at;  ///< states that a fuse reading names with `at`
};

struct Questions {
    const Circuit* circuit{nullptr};
    const Job* job{nullptr};
    std::vector<Supply> supplies;
    std::vector<JobState> states;
    std::vector<Cell> cells;
    std::vector<NumberObservation> numbers;
    std::vector<WordObservation> words;
    std::vector<GivenNumber> given;     ///< predictions are made with these known
    double volts_scale{0};              ///< relative, one sigma, of the meter that will read; of use beside `given`
    double amps_scale{0};               ///< the same of the clamp
    std::vector<std::size_t> settings;  ///< by state, the first one with the same setting; empty: each has its own
    std::vector<PartId> fuses_seen_good;
    std::vector<PartId> fuses_found_blown;  ///< and not renewed by the end of the job
    std::vector<std::string> notes;
    bool supply_unknown{false};

    const Reading& reading(std::size_t index) const { return job->readings[index]; }
    /// Two states of one setting are one circuit: what the model has wrong of it is wrong in both.
    bool of_one_setting(std::size_t a, std::size_t b) const {
        return settings.empty() ? a == b : settings[a] == settings[b];
    }
    double scale_of(bool is_amps) const { return is_amps ? amps_scale : volts_scale; }
};

/// Makes the questions. The simulator solves the healthy circuit where a reading leaves a control's position open.
Questions make_questions(Simulator& simulator, const Circuit& circuit, const Job& job);

/// The supply of a key state: told or not, and no reading of it yet.
Supply supply_of(const Circuit& circuit, KeyPosition key, bool told);

/// True when a reading says the battery's volts themselves: red on B1+, black on B1-.
bool reads_supply(const Circuit& circuit, const Measurement& measurement);

}  // namespace voltfall
