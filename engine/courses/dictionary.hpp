// What has been solved of one circuit, kept for whoever asks again: the next reading, the plan, a learner's beliefs.
#pragma once

#include <memory>
#include <mutex>
#include <optional>
#include <span>
#include <string>
#include <unordered_map>
#include <vector>

#include "engine/courses/consequences.hpp"
#include "engine/courses/course_ref.hpp"
#include "engine/solve/linear_circuit.hpp"
#include "engine/solve/settled.hpp"

namespace voltfall {

/// What a meter would read at one place of a settled case, and how that leans on the parts' tolerances and the supply.
struct CellValue {
    double mean{0};
    std::vector<double> slope;  ///< per one sigma of every tolerance; empty where the joint floats
    double supply{0};           ///< per volt of the EMF
    double own_sigma{0};        ///< beside tolerances: of a joint that floats
};

/// Where a meter stands.
struct CellPlace {
    JointId red;
    JointId black;
    BranchId clamp;  ///< valid for a clamp

    bool operator==(const CellPlace&) const = default;
};

/// What was read so far in one settled case, so that it need not be unpacked for it again. May be used from several
/// threads.
class CellValues {
public:
    /// How relays, fuses and rotors stand, as a number that is equal for cases that stand alike.
    std::optional<std::uint64_t> stand() const;
    void keep_stand(std::uint64_t stand);
    /// A load beside the sound circuit in the same state.
    std::optional<LoadState> find_load(PartId part) const;
    void keep_load(PartId part, const LoadState& state);
    /// Null where that place was not read yet.
    std::shared_ptr<const CellValue> find(const CellPlace& place) const;
    void keep(const CellPlace& place, std::shared_ptr<const CellValue> value);

private:
    mutable std::mutex lock_;
    std::optional<std::uint64_t> stand_;
    std::vector<std::pair<PartId, LoadState>> loads_;
    std::vector<std::pair<CellPlace, std::shared_ptr<const CellValue>>> values_;
};

/// A course with what was read in it.
struct KnownCourse {
    CourseRef course;                      ///< none where the case has no solution
    std::shared_ptr<CellValues> at_start;  ///< of `Course::faulted`; null where nothing is kept
    std::shared_ptr<CellValues> at_end;    ///< of `Course::end()`
};

/// Courses by state, faults and open fuses, packed small. May be used from several threads. What does not fit into
/// `most_bytes` is solved again each time.
class Dictionary {
public:
    Dictionary(Simulator& simulator, const Circuit& circuit);
    ~Dictionary();
    Dictionary(const Dictionary&) = delete;
    Dictionary& operator=(const Dictionary&) = delete;

    const Circuit& circuit() const { return circuit_; }
    /// One course a case, in their order; what is not known yet is solved together.
    std::vector<KnownCourse> courses(Simulator& simulator, std::span<const SettleCase> cases);
    /// What faults lead to in this circuit.
    const std::shared_ptr<const Consequences>& consequences() const { return consequences_; }

    struct Counters {
        long found{0};
        long solved{0};
        std::size_t bytes{0};
    };
    Counters counters() const;

    static constexpr std::size_t most_bytes = std::size_t{512} << 20;

private:
    struct Entry;
    struct Shard;
    Shard& shard_of(const std::string& key) const;

    const Circuit& circuit_;
    Network bare_;
    std::shared_ptr<const Consequences> consequences_;
    std::vector<std::unique_ptr<Shard>> shards_;
};

}  // namespace voltfall
