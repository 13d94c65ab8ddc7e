#include "engine/planning/tests_of_things.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

#include "engine/readings/care.hpp"
#include "engine/readings/probes.hpp"
#include "engine/readings/word_evidence.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// A place that does not wear by its surroundings is looked at when the fault is there with this chance (ASSUMED).
constexpr double worth_a_look = 0.03;

class ThingTests {
public:
    ThingTests(const Circuit& circuit, const Job& job, const Weighed& weighed, Future& future, std::size_t& last_step)
        : circuit_(circuit), job_(job), weighed_(weighed), future_(future), last_step_(last_step) {}

    void add_all() {
        for (std::uint32_t i = 0; i < circuit_.parts.size(); ++i) add_fuse({i});
        for (std::uint32_t i = 0; i < circuit_.parts.size(); ++i) add_rating({i});
        add_gauges();
        for (std::uint32_t i = 0; i < circuit_.parts.size(); ++i) add_turning({i});
        add_looks();
    }

private:
    void add_fuse(PartId id) {
        const Part& part = circuit_.part(id);
        if (!part.fuse || is_closed(circuit_, part.name)) return;
        const bool seen = std::any_of(job_.readings.begin(), job_.readings.end(), [&](const Reading& reading) {
            const auto* fuse = std::get_if<FuseReading>(&reading.measurement);
            return fuse && fuse->part == id && reading.state.fitted_new.empty();
        });
        if (seen) return;
        TestCandidate test;
        test.kind = TestKind::fuse;
        test.test.tested = FuseTest{id};
        test.places = {part.name};
        test.words = {"good", "blown", "missing"};
        test.state = future_.questions.states.size() - 1;
        test.first_word = add_word(FuseReading{{id}, "good", {}, {}});
        add_word(FuseReading{{id}, "blown", {}, {}});
        add_word(FuseReading{{id}, "missing", {}, {}});
        add(std::move(test));
    }

    /// The number on a fuse, where another one than the diagram's is a suspect.
    void add_rating(PartId id) {
        const Part& part = circuit_.part(id);
        if (!part.fuse || is_closed(circuit_, part.name)) return;
        const bool known = std::any_of(job_.readings.begin(), job_.readings.end(), [&](const Reading& reading) {
            const auto* read = std::get_if<RatingReading>(&reading.measurement);
            return read && read->part == id;
        });
        const bool may_be_wrong = std::any_of(
            weighed_.suspects.begin(), weighed_.suspects.end(),
            [&](const Suspect& s) { return s.mode && s.mode->part == id && s.mode->is(ModeFact::wrong_rating); });
        if (known || !may_be_wrong) return;
        TestCandidate test;
        test.kind = TestKind::rating;
        test.test.tested = RatingTest{id};
        test.places = {part.name};
        test.words = {write_measure(part.fuse->rating_amps, Unit::ampere), "another number"};
        add(std::move(test));
    }

    /// What moves the contacts: the gas that several may share, and each contact that heat moves.
    void add_gauges() {
        const QuantityTest gas;
        if (!contacts_moved(circuit_, gas).empty()) add_gauge(gas);
        for (std::uint32_t i = 0; i < circuit_.parts.size(); ++i) {
            const auto& quantity = circuit_.parts[i].moved_by;
            if (quantity && quantity->unit == Unit::celsius) add_gauge({{i}, GasSide::both});
        }
    }

    bool gauge_read(const std::vector<PartId>& contacts) const {
        return std::any_of(job_.readings.begin(), job_.readings.end(), [&](const Reading& reading) {
            const auto* read = std::get_if<QuantityReading>(&reading.measurement);
            if (!read || reading.state.earlier || reading.doubted) return false;
            const std::vector<PartId> known = contacts_moved(circuit_, *read);
            return std::any_of(known.begin(), known.end(), [&](PartId contact) {
                return std::find(contacts.begin(), contacts.end(), contact) != contacts.end();
            });
        });
    }

    /// Its outcomes are the stretches between the figures at which contacts leave their healthy position.
    void add_gauge(const QuantityTest& tested) {
        const std::vector<PartId> contacts = contacts_moved(circuit_, tested);
        if (gauge_read(contacts)) return;
        std::set<double> figures;
        for (const PartId contact : contacts) figures.insert(circuit_.part(contact).moved_by->threshold());
        const Unit unit = circuit_.part(contacts.front()).moved_by->unit;
        TestCandidate test;
        test.kind = TestKind::gauge;
        test.test.tested = tested;
        test.state = future_.questions.states.size() - 1;
        double low = -std::numeric_limits<double>::infinity();
        const auto add_stretch = [&](double high) {
            ReadValue value;
            value.low = low;
            value.high = high;
            value.unit = unit;
            const std::string from = write_measure(low, unit);
            const std::string to = write_measure(high, unit);
            test.words.push_back(!std::isfinite(low)    ? "below " + to
                                 : !std::isfinite(high) ? "above " + from
                                                        : from + " to " + to);
            const std::size_t word = add_word(QuantityReading{tested, value});
            if (test.words.size() == 1) test.first_word = word;
            low = high;
        };
        for (const double figure : figures) add_stretch(figure);
        add_stretch(std::numeric_limits<double>::infinity());
        add(std::move(test));
    }

    /// Chance that something is wrong at a place and leaves what can be seen.
    double chance_to_see(const std::string& place) const {
        return weighed_.chance_of(
            [&](const FaultMode& mode) { return !mode.looks.empty() && read_place(mode.place).owner == place; });
    }

    void add_looks() {
        std::set<std::string> places = turned_;
        for (const Suspect& suspect : weighed_.suspects) {
            if (!suspect.mode || suspect.mode->looks.empty()) continue;
            // One looks at a whole connector.
            const std::string place(read_place(suspect.mode->place).owner);
            if (is_closed(circuit_, place) || !places.insert(place).second) continue;
            if (care_words(circuit_, job_, suspect.mode->place).empty() && chance_to_see(place) < worth_a_look)
                continue;
            const bool looked = std::any_of(job_.readings.begin(), job_.readings.end(), [&](const Reading& reading) {
                const auto* look = std::get_if<LookReading>(&reading.measurement);
                return look && sits_at(circuit_, *suspect.mode, look->place);
            });
            if (looked) continue;
            TestCandidate test;
            test.kind = TestKind::look;
            test.test.tested = LookTest{place};
            test.places = {place};
            test.words = {"damage", "clean"};
            add(std::move(test));
        }
    }

    /// A motor that may be stiff is turned by hand, unless somebody has looked at it.
    void add_turning(PartId id) {
        const Part& part = circuit_.part(id);
        const bool may_rub = std::any_of(weighed_.suspects.begin(), weighed_.suspects.end(), [&](const Suspect& s) {
            return s.mode && s.mode->part == id && s.mode->is(ModeFact::rubs);
        });
        if (!may_rub || is_closed(circuit_, part.name)) return;
        const bool looked = std::any_of(job_.readings.begin(), job_.readings.end(), [&](const Reading& reading) {
            const auto* seen = std::get_if<LookReading>(&reading.measurement);
            return seen && same_word(seen->place, part.name);
        });
        if (looked) return;
        turned_.insert(part.name);
        TestCandidate test;
        test.kind = TestKind::look;
        test.test.tested = LookTest{part.name};
        test.places = {part.name};
        test.words = {"turns-freely", "stiff"};
        add(std::move(test));
    }

    std::size_t add_word(Measurement measurement) { return add_future_word(future_, std::move(measurement)); }

    void add(TestCandidate test) {
        test.step = ++last_step_;
        future_.tests.push_back(std::move(test));
    }

    const Circuit& circuit_;
    const Job& job_;
    const Weighed& weighed_;
    Future& future_;
    std::size_t& last_step_;
    std::set<std::string> turned_;  ///< motors that are turned by hand, which is a look at them too
};

}  // namespace

std::size_t add_future_word(Future& future, Measurement measurement, std::optional<std::size_t> state) {
    Reading reading;
    reading.measurement = std::move(measurement);
    future.job->readings.push_back(std::move(reading));
    WordObservation word;
    word.reading = future.job->readings.size() - 1;
    if (state) word.states = {{1.0, *state}};
    future.questions.words.push_back(std::move(word));
    return future.questions.words.size() - 1;
}

void add_tests_of_things(const Circuit& circuit, const Job& job, const Weighed& weighed, Future& future,
                         std::size_t& last_step) {
    ThingTests(circuit, job, weighed, future, last_step).add_all();
}

}  // namespace voltfall
