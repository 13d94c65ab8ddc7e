// Fuses that a job tells of as blown: they stay so until somebody fits new ones.
#pragma once

#include <span>
#include <vector>

#include "engine/solve/settled.hpp"
#include "netlists/files/job_file.hpp"

namespace voltfall {

/// Is a meter read before any of these fuses opens? So where each was seen whole and takes its time.
bool read_before_opening(std::span<const Event> openings, std::span<const PartId> seen_whole);

/// Follows a job's readings in their order.
class FoundFuses {
public:
    FoundFuses(Simulator& simulator, const Circuit& circuit) : simulator_(simulator), circuit_(circuit) {}

    /// What the reading tells by its state, before its value is weighed: `new F7` makes F7 whole, and so does a current
    /// or a running load that there cannot be with it open. Returns the fuses of the second sort.
    std::vector<PartId> renewed_by(const Reading& reading);
    /// What its value tells: a fuse found blown, or its seat empty, stays open from here on. A breaker
    /// that closes by itself does not.
    void note(const Reading& reading);
    /// Open now, in the order in which they were found.
    const std::vector<PartId>& open() const { return open_; }

private:
    bool shows_whole(const Reading& reading, PartId fuse) const;

    Simulator& simulator_;
    const Circuit& circuit_;
    std::vector<PartId> open_;
    bool mended_{false};  ///< a reading after the repair was met
};

}  // namespace voltfall
