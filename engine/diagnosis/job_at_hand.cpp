#include "engine/diagnosis/job_at_hand.hpp"

namespace voltfall {

Job job_at_hand(const Job& job) {
    Job whole = job;
    std::vector<std::string> places;
    for (const Repaired& repaired : job.repaired) {
        if (!repaired.nothing_found()) places.push_back(repaired.place);
    }
    if (places.empty() || job.after.empty()) return whole;
    for (Reading reading : job.after) {
        const auto* fuse = std::get_if<FuseReading>(&reading.measurement);
        if (fuse && fuse->word == "good") continue;
        reading.state.mended = places;
        reading.id = "after " + reading.id;
        whole.readings.push_back(std::move(reading));
    }
    whole.after.clear();
    return whole;
}

std::vector<std::string> mended_by_now(const Job& job) {
    return job.readings.empty() ? std::vector<std::string>{} : job.readings.back().state.mended;
}

}  // namespace voltfall
