#include "tests/tools/vehicles.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <random>

#include "engine/courses/dictionary.hpp"
#include "engine/diagnosis/carried_current.hpp"
#include "engine/diagnosis/priors.hpp"
#include "engine/diagnosis/repair_chances.hpp"
#include "engine/diagnosis/size_curve.hpp"
#include "engine/ngspice/ngspice_session.hpp"
#include "engine/planning/outlook.hpp"
#include "engine/planning/worked_run.hpp"
#include "engine/readings/rounding.hpp"
#include "engine/solve/jobs.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/text/suggest.hpp"
#include "tests/support/solvers.hpp"
#include "tests/tools/probing.hpp"

namespace voltfall {

namespace {

using Random = std::mt19937_64;

/// With the free turns of the switch. Nobody gives a vehicle back undecided after ten readings.
constexpr std::size_t most_steps_of_vehicle = 30;

/// The same circuit, every part a little other.
std::shared_ptr<const Circuit> varied(const Circuit& circuit, Random& random) {
    auto copy = std::make_shared<Circuit>(circuit);
    std::normal_distribution<double> normal;
    // The spread that matching allows a supply whose key word is known.
    const double supply = measured_default("tolerance_supply_volts") * normal(random) * circuit.supply / 12;
    for (Branch& branch : copy->branches) {
        const double factor = std::exp(branch.tolerance * normal(random));
        if (auto* resistor = std::get_if<Resistor>(&branch.law)) resistor->ohms *= factor;
        if (auto* contact = std::get_if<Contact>(&branch.law)) contact->ohms *= factor;
        if (auto* motor = std::get_if<Motor>(&branch.law)) {
            // Another current at the same volts, as the linearised circuit takes a motor's tolerance.
            motor->armature_ohms /= factor;
            motor->brush_soft_amps *= factor;
            motor->friction_torque *= factor;
            motor->fan_torque *= factor;
        }
        if (auto* source = std::get_if<Source>(&branch.law)) {
            source->ohms *= factor;
            source->volts += supply;
            source->charging_volts += supply;
        }
    }
    return copy;
}

class Drawer {
public:
    Drawer(const Circuit& circuit, Random& random) : circuit_(circuit), random_(random) {
        const std::vector<double> carried = carried_amps(testing::solver(), circuit);
        const Priors priors = priors_of(circuit, Job{}, carried);
        modes_ = std::discrete_distribution<std::size_t>(priors.modes.begin(), priors.modes.end());
    }

    /// A fault that the driver notices.
    Fault draw(const Circuit& vehicle, Presence presence) {
        constexpr int tries = 400;
        Fault fault;
        for (int i = 0; i < tries; ++i) {
            fault = any();
            const bool loose = fault.mode->is(ModeFact::may_touch) && !fault.mode->is(ModeFact::only_sometimes);
            if (presence == Presence::comes_and_goes && !loose) continue;
            if (noticed(vehicle, fault)) break;
        }
        if (presence == Presence::comes_and_goes) fault.condition = condition();
        return fault;
    }

private:
    /// Heat and movement move what is loose more often than cold and water do (ASSUMED).
    std::string condition() {
        std::discrete_distribution<std::size_t> conditions{0.35, 0.10, 0.15, 0.40};
        constexpr std::array<const char*, 4> words{"hot", "cold", "wet", "bump"};
        return words[conditions(random_)];
    }

    Fault any() {
        std::uniform_real_distribution<double> share(0, 1);
        const ModePtr mode = circuit_.modes[modes_(random_)];
        Fault fault{mode, 0, 0.5, {}, {}};
        if (mode->along_wire) fault.where = 0.05 + 0.9 * share(random_);
        if (mode->size) {
            const double low = scale_of(*mode->size, mode->size->low);
            const double high = scale_of(*mode->size, mode->size->high);
            fault.size = size_of(*mode->size, low + (high - low) * share(random_));
        }
        return fault;
    }

    static bool noticed(const Circuit& vehicle, const Fault& fault) {
        Simulator& simulator = testing::solver();
        for (const State& state : default_states(vehicle)) {
            const SettleResult healthy = settle(simulator, vehicle, state, {});
            const CourseResult course = run_course(simulator, vehicle, state, std::span(&fault, 1));
            if (!healthy || !course) return false;
            if (!course->opened.empty()) return true;
            for (const PartId load : loads_of(vehicle)) {
                if (load_state(course->end(), load, &*healthy).seen != load_state(*healthy, load, &*healthy).seen)
                    return true;
            }
        }
        return false;
    }

    const Circuit& circuit_;
    Random& random_;
    std::discrete_distribution<std::size_t> modes_;
};

bool mends(const StopAdvice& stop, const std::string& repair) {
    return std::any_of(stop.repairs.begin(), stop.repairs.end(),
                       [&](const std::string& one) { return same_word(one, repair); });
}

RepairChance leading(const MatchAnswer& answer) {
    return answer.places.empty() ? RepairChance{} : answer.places.front();
}

/// What the customer tells of a fault that comes and goes: how the load goes sometimes, where it does not go as it
/// should; with the condition in every second case.
Job told_by_customer(const Circuit& circuit, const Fault& fault, Technician technician, Random& random) {
    Job job;
    const bool names_condition = std::uniform_int_distribution<int>(0, 1)(random) == 0;
    for (const StatePhrase& plain : default_phrases(circuit)) {
        for (const PartId load : loads_of(circuit)) {
            StatePhrase state = plain;
            const auto usually = technician.measure({state, LoadTest{load, {}}});
            state.conditions = {fault.condition};
            const auto sometimes = technician.measure({state, LoadTest{load, {}}});
            if (!usually || !sometimes || usually->shown == sometimes->shown) continue;
            Reading reading = sometimes->reading;
            reading.state.sometimes = true;
            if (!names_condition) reading.state.conditions.clear();
            add_reading(job, std::move(reading));
        }
    }
    return job;
}

WorkedVehicle work_one(const Circuit& circuit, const ProbedPath& path, Random& random, Presence presence) {
    const auto vehicle = varied(circuit, random);
    const Fault fault = Drawer(circuit, random).draw(*vehicle, presence);
    const std::string repair = visited_place(circuit, *fault.mode);
    WorkedVehicle worked;
    worked.fault = fault.mode->phrase() + (fault.condition.empty() ? "" : " when " + fault.condition);
    Technician technician(testing::solver(), Vehicle{vehicle.get(), {fault}, {}}, drawn_meters(random()), {});
    Dictionary dictionary(testing::solver(), circuit);
    WorkedOptions options;
    options.most_steps = most_steps_of_vehicle;
    options.match.workers = 1;
    options.match.dictionary = &dictionary;
    options.match.keep = circuit.modes.size() + 1;
    const Job job = presence == Presence::comes_and_goes ? told_by_customer(circuit, fault, technician, random) : Job{};
    // The first question to a customer; the engine runs in the workshop.
    const WorkedRun run = work_through(circuit, job, technician, options);
    worked.minutes = run.minutes;
    worked.tests = static_cast<int>(std::count_if(run.steps.begin(), run.steps.end(),
                                                  [](const WorkedStep& step) { return step.test.minutes > 0; }));
    for (const WorkedStep& step : run.steps)
        worked.taken.push_back(fmt::format("{} ({:.1f} min, {:.2f} bit)", write_reading(circuit, step.measured.reading),
                                           step.test.minutes, step.test.bits));
    for (const RepairChance& place : run.answer.places) {
        if (worked.left.size() < 4) worked.left.push_back(fmt::format("{} {:.3f}", place.place, place.probability));
    }
    const bool sure = run.stop && run.stop->probability >= nearly_sure;
    worked.verdict = !sure ? Verdict::unknown : mends(*run.stop, repair) ? Verdict::right : Verdict::wrong;
    if (run.stop) worked.named = run.stop->repairs;
    worked.named_alone = sure && run.stop->repairs.size() == 1;
    worked.stated = leading(run.answer).probability;
    worked.leads = same_word(leading(run.answer).place, repair);
    Job only_words = run.job;
    std::erase_if(only_words.readings,
                  [](const Reading& reading) { return !std::holds_alternative<LoadReading>(reading.measurement); });
    const RepairChance first = leading(match(testing::solver(), circuit, only_words, options.match));
    worked.first_stated = first.probability;
    worked.first_leads = same_word(first.place, repair);
    if (const auto section = path.section_of(*fault.mode)) {
        const ProbingMinutes minutes = path.minutes_for(*section);
        worked.on_path = true;
        worked.load_to_source = minutes.load_to_source;
        worked.half_split = minutes.half_split;
        worked.optimal = minutes.optimal;
    }
    return worked;
}

}  // namespace

std::vector<WorkedVehicle> work_vehicles(const Circuit& circuit, std::size_t count, std::uint64_t seed, int workers,
                                         Presence presence) {
    const ProbedPath path(circuit);
    std::vector<WorkedVehicle> list(count);
    run_jobs(count, workers, [&](std::size_t i) {
        Random random(seed * 1'000'003 + i);
        list[i] = work_one(circuit, path, random, presence);
    });
    return list;
}

std::vector<Job> jobs_of_vehicles(const Circuit& circuit, std::size_t count, std::uint64_t seed) {
    std::vector<Job> jobs(count);
    for (std::size_t i = 0; i < count; ++i) {
        Random random(seed * 1'000'003 + i);
        const auto vehicle = varied(circuit, random);
        const Fault fault = Drawer(circuit, random).draw(*vehicle, Presence::always);
        Technician technician(testing::solver(), Vehicle{vehicle.get(), {fault}, {}}, drawn_meters(random()), {});
        for (const StatePhrase& state : default_phrases(circuit)) {
            for (const PartId load : loads_of(circuit)) {
                if (const auto measured = technician.measure({state, LoadTest{load, {}}}))
                    add_reading(jobs[i], measured->reading);
            }
        }
    }
    return jobs;
}

}  // namespace voltfall
