#include "engine/proof/job_minutes.hpp"

#include "engine/planning/test_minutes.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/overloaded.hpp"

namespace voltfall {

namespace {

TestKind kind_of(const Measurement& measurement) {
    return std::visit(
        Overloaded{
            alike<VoltsReading, LiveReading, LampReading>([] { return TestKind::volts; }),
            alike<OhmsReading, BeepReading>([] { return TestKind::ohms; }),
            alike<AmpsReading, DutyReading, RippleReading>([] { return TestKind::clamp; }),
            alike<HeatReading, HotterReading>([] { return TestKind::feel; }),
            alike<QuantityReading>([] { return TestKind::gauge; }),
            alike<FuseReading>([] { return TestKind::fuse; }),
            alike<RatingReading>([] { return TestKind::rating; }),
            alike<LookReading, DragReading, SmellReading, GoodReading>([] { return TestKind::look; }),
            alike<LoadReading, AirReading, RelayReading, NoMeasurement>([] { return TestKind::load; }),
        },
        measurement);
}

/// Goes through the job in its order; what was opened once stays open.
class Clock {
public:
    Clock(const Circuit& circuit, const Job& job) : circuit_(circuit), blank_(job) {
        blank_.readings.clear();
        blank_.after.clear();
    }

    double of(const std::vector<Reading>& readings) {
        double minutes = 0;
        for (const Reading& reading : readings) {
            Job alone = blank_;
            alone.readings.push_back(reading);
            TestCandidate test;
            test.kind = kind_of(reading.measurement);
            test.places = reached_places(circuit_, alone);
            test.state_minutes = default_value("minutes_unplug") * static_cast<double>(reading.state.unplugged.size()) +
                                 default_value("minutes_pull") * static_cast<double>(reading.state.pulled.size());
            minutes += minutes_of(circuit_, test, reached_).minutes;
            reached_.insert(reached_.end(), test.places.begin(), test.places.end());
        }
        return minutes;
    }

    double of_repair(const Repaired& repaired) {
        if (repaired.nothing_found()) return 0;
        TestCandidate visit;
        visit.kind = TestKind::load;
        visit.places = {reach_place(circuit_, repaired.place)};
        const PartId part = circuit_.find_part(repaired.place);
        const bool is_part = part.valid() && !only_joins(circuit_.part(part));
        visit.state_minutes = default_value(is_part ? "minutes_replace" : "minutes_repair");
        const double minutes = minutes_of(circuit_, visit, reached_).minutes;
        add_reached(circuit_, visit.places.front(), reached_);
        return minutes;
    }

private:
    const Circuit& circuit_;
    Job blank_;
    std::vector<std::string> reached_;
};

}  // namespace

JobMinutes minutes_of_job(const Circuit& circuit, const Job& job) {
    Clock clock(circuit, job);
    JobMinutes minutes;
    minutes.tests = clock.of(job.readings);
    for (const Repaired& repaired : job.repaired) minutes.repairs += clock.of_repair(repaired);
    minutes.proof = clock.of(job.after);
    return minutes;
}

}  // namespace voltfall
