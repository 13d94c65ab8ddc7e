#include "engine/lessons/exercise.hpp"

#include <algorithm>
#include <cmath>

#include "engine/diagnosis/priors.hpp"
#include "engine/heat/aftermath.hpp"
#include "engine/lessons/symptoms.hpp"
#include "engine/readings/random_numbers.hpp"
#include "engine/readings/word_evidence.hpp"
#include "netlists/files/tools_line.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/tables/fuses.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

constexpr int most_draws = 400;
/// Minutes that a drawn exercise of a level gives (ASSUMED).
constexpr double minutes_of_level[] = {0, 30, 45, 60};

bool has_mode(const std::vector<Fault>& faults, const ModePtr& mode) {
    return std::any_of(faults.begin(), faults.end(), [&](const Fault& fault) { return fault.mode == mode; });
}

/// Limiters that the roots open within half an hour in some position.
std::vector<Fault> burnt_by(Simulator& simulator, const Circuit& circuit, const std::vector<Fault>& roots) {
    std::vector<Fault> burnt;
    if (roots.empty()) return burnt;
    const bool any_pack = std::any_of(circuit.parts.begin(), circuit.parts.end(),
                                      [](const Part& part) { return !part.limiters.empty(); });
    if (!any_pack) return burnt;
    const HeatModel heat(simulator, circuit);
    for (const State& state : default_states(circuit)) {
        const AftermathResult run = run_aftermath(simulator, heat, state, roots, default_value("aftermath_seconds"), {},
                                                  HeatReport::events_only);
        if (!run) continue;
        for (const HeatEvent& event : run->events) {
            if (event.kind != HeatEventKind::limiter_opens) continue;
            const ModePtr& mode = heat.limiter_modes(event.part).front();
            if (!has_mode(burnt, mode)) burnt.push_back({mode, 0, 0.5, {}, {}});
        }
    }
    return burnt;
}

class Drawer {
public:
    Drawer(Simulator& simulator, std::shared_ptr<const Circuit> circuit, std::uint64_t seed, int level)
        : simulator_(simulator), circuit_(std::move(circuit)), seed_(seed), level_(level), random_(seed, "fault") {
        Job job;
        weights_ = priors_of(*circuit_, job).modes;
        for (std::size_t i = 0; i < weights_.size(); ++i) {
            // Rare kinds must come up too: a class is practised, not expected.
            weights_[i] = circuit_->modes[i]->catalogued ? std::sqrt(weights_[i]) : 0;
        }
    }

    std::optional<Exercise> draw() {
        // What kind of exercise it is, is drawn once: else a sound vehicle, which is always accepted, would come too
        // often.
        kind_ = random_.share();
        for (int i = 0; i < most_draws; ++i) {
            Lesson lesson;
            fill(lesson);
            Exercise exercise = exercise_of(simulator_, circuit_, lesson, seed_);
            const Vehicle shown = with_conditions_met(exercise.found);
            const std::vector<Symptom> symptoms = symptoms_of(simulator_, shown);
            const bool nothing = lesson.faults.empty() && lesson.roots.empty();
            if (!nothing && !anything_wrong(symptoms)) continue;
            if (!each_is_noticed(lesson.faults)) continue;
            // A cause that burns nothing is the fault itself.
            if (exercise.lesson.faults.empty() && exercise.found.opened.empty())
                std::swap(exercise.lesson.faults, exercise.lesson.roots);
            exercise.drawn = true;
            exercise.lesson.concern = words_of(exercise, symptoms);
            return exercise;
        }
        return std::nullopt;
    }

private:
    /// A sound vehicle comes with a concern like those that show only now and then.
    std::string words_of(const Exercise& exercise, const std::vector<Symptom>& symptoms) {
        if (exercise.hidden().empty()) {
            std::vector<Symptom> made_up = symptoms;
            for (Symptom& symptom : made_up)
                if (symptom.healthy != LoadSeen::off) symptom.seen = LoadSeen::dead;
            return concern_in_words(*circuit_, made_up) + (random_.share() < 0.5
                                                               ? "; only sometimes, on rough roads"
                                                               : "; only after a while, when everything is warm");
        }
        std::string text = concern_in_words(*circuit_, symptoms);
        for (const Fault& fault : exercise.hidden()) {
            if (fault.condition == "bump") return text + "; only sometimes, on rough roads";
            if (fault.condition == "hot") return text + "; only after a while, when everything is warm";
        }
        return text;
    }

    /// Of several faults none may hide behind another for ever.
    bool each_is_noticed(const std::vector<Fault>& faults) const {
        if (faults.size() < 2) return true;
        return std::all_of(faults.begin(), faults.end(), [&](const Fault& fault) {
            Vehicle alone{circuit_.get(), {fault}, {}};
            alone = with_conditions_met(std::move(alone));
            let_blow(simulator_, alone);
            return anything_wrong(symptoms_of(simulator_, alone));
        });
    }

    static bool is_plain(const FaultMode& mode) { return !mode.size; }

    Fault one(bool plain) {
        for (int i = 0; i < most_draws; ++i) {
            const std::size_t at = random_.by_weight(weights_);
            const ModePtr& mode = circuit_->modes[at];
            if (is_plain(*mode) != plain || mode->is(ModeFact::only_sometimes)) continue;
            // A place to a hundredth of the wire, as a person would say it.
            Fault fault{mode, 0, std::round(100 * (0.2 + 0.6 * random_.share())) / 100, {}, {}};
            if (!mode->size) return fault;
            const SizeRange& range = *mode->size;
            const double at_share = random_.share();
            fault.size = range.logarithmic ? range.low * std::pow(range.high / range.low, at_share)
                                           : range.low + at_share * (range.high - range.low);
            if (mode->is(ModeFact::wrong_rating)) {
                fault.size = nearest_fuse_rating(fault.size);
                return fault;
            }
            // Two digits, as a person would say it.
            const double digit = std::pow(10.0, std::floor(std::log10(fault.size)) - 1);
            fault.size = std::round(fault.size / digit) * digit;
            return fault;
        }
        return {circuit_->modes.front(), 0, 0.5, {}, {}};
    }

    void fill(Lesson& lesson) {
        lesson.title = "Drawn at random";
        lesson.level = level_;
        lesson.skill = std::string(lesson_skills().front());
        lesson.budget_minutes = minutes_of_level[level_];
        lesson.allow.assign(lesson_actions().begin(), lesson_actions().end());
        lesson.tools = usual_tools();
        if (level_ < 3) {
            lesson.faults.push_back(one(level_ == 1));
            return;
        }
        constexpr double nothing_below = 0.1;
        constexpr double condition_below = 0.45;
        constexpr double plain_above = 0.6;
        constexpr double root_below = 0.75;
        if (kind_ < nothing_below) return;
        Fault fault = one(kind_ > plain_above);
        if (kind_ < condition_below) {
            const bool wire_or_joint =
                fault.mode->fault_class == FaultClass::joint || fault.mode->fault_class == FaultClass::wire;
            fault.condition = wire_or_joint ? (random_.share() < 0.6 ? "bump" : "hot") : "";
        } else if (kind_ < root_below) {
            lesson.roots.push_back(fault);
            return;
        } else {
            lesson.faults.push_back(one(false));
        }
        lesson.faults.push_back(fault);
    }

    Simulator& simulator_;
    std::shared_ptr<const Circuit> circuit_;
    std::uint64_t seed_;
    int level_;
    RandomNumbers random_;
    double kind_{0};
    std::vector<double> weights_;
};

}  // namespace

std::vector<Fault> Exercise::hidden() const {
    std::vector<Fault> all = lesson.faults;
    all.insert(all.end(), lesson.roots.begin(), lesson.roots.end());
    return all;
}

Exercise exercise_of(Simulator& simulator, std::shared_ptr<const Circuit> circuit, const Lesson& lesson,
                     std::uint64_t seed, int level) {
    Exercise exercise;
    exercise.circuit = std::move(circuit);
    exercise.lesson = lesson;
    exercise.seed = seed;
    if (level > 0) exercise.lesson.level = level;
    for (const Fault& fault : burnt_by(simulator, *exercise.circuit, lesson.roots)) {
        if (!has_mode(exercise.lesson.faults, fault.mode)) exercise.lesson.faults.push_back(fault);
    }
    exercise.found.circuit = exercise.circuit.get();
    exercise.found.faults = exercise.hidden();
    let_blow(simulator, exercise.found);
    return exercise;
}

tl::expected<Exercise, std::string> draw_exercise(Simulator& simulator, std::shared_ptr<const Circuit> circuit,
                                                  std::uint64_t seed, int level) {
    auto exercise = Drawer(simulator, std::move(circuit), seed, level).draw();
    if (!exercise) return tl::unexpected(std::string("no fault of this circuit would be noticed at this level"));
    return *std::move(exercise);
}

}  // namespace voltfall
