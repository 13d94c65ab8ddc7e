// Learners of every kind at lessons: judged, compared with the plan, and never told what hides.
#include <set>

#include "cli/views/teach_view.hpp"
#include "engine/lessons/debrief.hpp"
#include "engine/lessons/lesson_check.hpp"
#include "engine/lessons/symptoms.hpp"
#include "engine/readings/random_numbers.hpp"
#include "netlists/text/problem_code.hpp"
#include "tests/support/exercises.hpp"

using namespace voltfall;
using namespace voltfall::testing;

TEST_CASE("a root burns what it burns in half an hour, and mending the victim alone leaves the cause", "[checked]") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const Exercise exercise = exercise_with(circuit, {}, {"M1 drag 1.4"});
    REQUIRE(exercise.lesson.faults.size() == 1);
    CHECK(exercise.lesson.faults[0].mode->phrase() == "R1 limiter open");
    const auto verdict = [&](const std::vector<std::string>& lines) {
        LearnerRun run(solver(), exercise, quick());
        for (const std::string& line : lines) act(run, line);
        run.hand_back();
        return debrief_of(solver(), run, nullptr);
    };
    CHECK(verdict({}).verdict == Verdict::not_mended);
    CHECK(verdict({"repair R1", "repair M1"}).verdict == Verdict::solved);
    CHECK(verdict({"repair R1 limiter open"}).verdict != Verdict::solved);
    const Debrief wrong = verdict({"new S1"});
    CHECK(wrong.verdict == Verdict::not_mended);
    CHECK(wrong.figures.wrong_parts == std::vector<std::string>{"S1"});
    CHECK(verdict({"new F7 60A"}).verdict == Verdict::unsafe);
}

TEST_CASE("a right repair without its cause is told as such") {
    // The pack's limiter is replaced; the motor drags so little that every position works again, for a while.
    const auto circuit = scenario_circuit("cab-blower.toml");
    Exercise exercise = exercise_with(circuit, {"R1 limiter open"}, {"M1 fouled 1.1"});
    LearnerRun run(solver(), exercise, quick());
    act(run, "repair R1");
    run.hand_back();
    const Debrief debrief = debrief_of(solver(), run, nullptr);
    CHECK(debrief.verdict == Verdict::cause_left);
    CHECK_THAT(debrief.sentence, Catch::Contains("M1 fouled 1.1"));
    CHECK_FALSE(debrief.proved);
    CHECK(debrief.afterwards == "ask of every failed part what made it fail");
}

TEST_CASE("a sound vehicle is rightly called so, and every part fitted to it is for nothing", "[checked]") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const Exercise exercise = exercise_with(circuit, {});
    LearnerRun right(solver(), exercise, quick());
    act(right, "hi clamp 542");
    act(right, "say nothing");
    right.hand_back();
    CHECK(debrief_of(solver(), right, nullptr).verdict == Verdict::solved);
    LearnerRun wrong(solver(), exercise, quick());
    act(wrong, "new M1");
    wrong.hand_back();
    CHECK(debrief_of(solver(), wrong, nullptr).verdict == Verdict::false_alarm);
}

TEST_CASE("a reading moves the suspect that was named before it") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    RunOptions options = quick();
    options.commit = true;
    options.weigh = true;
    LearnerRun run(solver(), exercise_with(circuit, {"C101.4 resistance 0.3ohm"}), options);
    CHECK(run.needs_suspect(action_of(*circuit, "hi C304.1 to B1-")));
    CHECK_FALSE(run.needs_suspect(action_of(*circuit, "hi M1")));
    CHECK_FALSE(run.needs_suspect(action_of(*circuit, "repair C101.4")));
    CHECK_FALSE(find_section(*circuit, "C999"));
    run.try_every_position();
    run.suspect(find_section(*circuit, "C101").value());
    const RunStep& step = act(run, "hi drop C101.4");
    REQUIRE(step.before);
    REQUIRE(step.after);
    // The ear that tried the positions is not the matcher's own: it leaves some doubt.
    CHECK(*step.after > 0.6);
    CHECK(*step.after > *step.before + 0.2);
    CHECK(*step.bits > 0.5);
    CHECK_FALSE(run.next_suspect());
    CHECK(run.same_suspect());
    const RunStep& repaired = act(run, "repair C101.4");
    REQUIRE(repaired.warranted);
    CHECK(*repaired.warranted > warranted_from);
}

TEST_CASE("drawn exercises are noticed by a driver, and the same seed draws the same one") {
    for (const std::string file : {"cab-blower.toml", "clutch.toml", "rear-blower.toml"}) {
        const auto circuit = scenario_circuit(file);
        for (int level = 1; level <= 3; ++level) {
            std::set<std::string> drawn;
            for (std::uint64_t seed = 1; seed <= 8; ++seed) {
                const auto exercise = draw_exercise(solver(), circuit, seed, level);
                REQUIRE(exercise);
                const auto again = draw_exercise(solver(), circuit, seed, level);
                REQUIRE(again);
                std::string hidden;
                std::string hidden_again;
                for (const Fault& fault : exercise->hidden()) hidden += write_fault(*circuit, fault) + " ";
                for (const Fault& fault : again->hidden()) hidden_again += write_fault(*circuit, fault) + " ";
                CHECK(hidden == hidden_again);
                CHECK(exercise->lesson.concern == again->lesson.concern);
                drawn.insert(hidden);
                INFO(file << " " << level << " " << seed << ": " << hidden << " | " << exercise->lesson.concern);
                if (!exercise->hidden().empty())
                    CHECK(anything_wrong(symptoms_of(solver(), with_conditions_met(exercise->found))));
            }
            CHECK(drawn.size() > 3);
        }
    }
}

namespace {

/// Everything that a learner may type, and some that nobody should.
std::string random_line(const Circuit& circuit, RandomNumbers& random) {
    const auto any_joint = [&] { return circuit.joints[random.below(circuit.joints.size())].name; };
    const auto any_part = [&] { return circuit.parts[random.below(circuit.parts.size())].name; };
    const auto any_wire = [&] { return circuit.wires[random.below(circuit.wires.size())].name; };
    const std::vector<State> states = default_states(circuit);
    const std::string state = states[random.below(states.size())].label;
    switch (random.below(16)) {
        case 0:
        case 1:
        case 2:
            return state + "  " + any_joint() + " to " + any_joint();
        case 3:
            return state + "  " + any_joint() + " to B1-";
        case 4:
            return state + "  clamp " + any_wire();
        case 5:
            return "look " + any_part();
        case 6:
            return "lamp " + any_joint() + " to B1-";
        case 7:
            return "unplug " + any_part() + ", ohms " + any_joint() + " to " + any_joint();
        case 8:
            return state;
        case 9:
            return state + "  " + any_part();
        case 10:
            return "wiggle " + any_wire() + ", " + any_joint() + " to B1-";
        case 11:
            return random.below(4) == 0 ? "new " + any_part() : "drop " + any_part();
        case 12:
            return random.below(4) == 0 ? "repair " + any_part() : "beep " + any_joint() + " to " + any_joint();
        case 13:
            return "lamp in " + any_part() + ", " + any_joint() + " to B1-";
        case 14:
            return random.below(6) == 0 ? "jumper " + any_joint() + " to " + any_joint() + ", " + any_part()
                                        : "pull " + any_part() + ", " + any_joint() + " to B1-";
        default: {
            std::string noise;
            for (std::size_t i = 0; i < 1 + random.below(30); ++i) noise += static_cast<char>(32 + random.below(95));
            return noise;
        }
    }
}

double cost_of(double minutes, std::size_t parts, bool solved) {
    constexpr double minutes_a_part = 20;
    constexpr double minutes_unsolved = 120;
    return minutes + minutes_a_part * static_cast<double>(parts) + (solved ? 0 : minutes_unsolved);
}

}  // namespace

TEST_CASE("a thousand random learners never crash the bench, never see the fault, and lose against the plan") {
    std::vector<Exercise> exercises;
    std::vector<LessonPlan> plans;
    MatchOptions options;
    for (const std::string name :
         {"full-volts", "fuse-goes-again", "volts-on-both-sides", "dark-lamp", "lorry-after-washing"}) {
        const LessonReading reading = read_lesson_file(PROJECT_DIR "/scenarios/lessons/" + name + ".toml");
        REQUIRE(reading.lesson);
        exercises.push_back(exercise_of(solver(), reading.circuit, *reading.lesson, 1));
        plans.push_back(plan_of(solver(), exercises.back(), options));
        INFO(name);
        CHECK(plans.back().solved);
    }
    constexpr int learners = 1000;
    std::vector<double> cost(exercises.size(), 0);
    std::vector<int> count(exercises.size(), 0);
    int ended_unsafe = 0;
    for (int learner = 0; learner < learners; ++learner) {
        const std::size_t which = static_cast<std::size_t>(learner) % exercises.size();
        const Exercise& exercise = exercises[which];
        RandomNumbers random(static_cast<std::uint64_t>(learner), "learner");
        LearnerRun run(solver(), exercise, quick());
        std::string seen;
        std::string typed;
        for (int line = 0; line < 8 && run.end() == RunEnd::open; ++line) {
            const std::string text = random_line(*exercise.circuit, random);
            typed += text + "\n";
            Problems problems;
            const auto action = read_action_phrase(TypedText::argument("line", text), *exercise.circuit, problems);
            CHECK(action.has_value() != problems.has_errors());
            if (!action) continue;
            const RunStep& step = run.act(*action);
            TextPage page(PageStyle{});
            write_step(page, step, exercise, true);
            seen += page.text();
        }
        for (const Fault& fault : exercise.hidden()) {
            INFO(typed << "\n" << seen);
            CHECK(seen.find(fault.mode->phrase()) == std::string::npos);
            CHECK(seen.find(write_fault(*exercise.circuit, fault)) == std::string::npos);
        }
        ended_unsafe += run.end() == RunEnd::unsafe ? 1 : 0;
        cost[which] +=
            cost_of(run.bench().bill().minutes(), run.bench().bill().parts.size(), all_mended(run.bench().vehicle()));
        ++count[which];
    }
    CHECK(ended_unsafe > 0);
    for (std::size_t i = 0; i < exercises.size(); ++i) {
        INFO(exercises[i].lesson.title);
        CHECK(cost_of(plans[i].minutes(), plans[i].parts, plans[i].solved) < cost[i] / count[i]);
    }
}

TEST_CASE("a lesson that cheats its learner does not pass the check") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const auto problems = [&](const auto& change) {
        Lesson lesson = exercise_with(circuit, {"C101.4 resistance 0.3ohm"}).lesson;
        change(lesson);
        std::string text;
        const Problems found = check_lesson(solver(), circuit, lesson, MatchOptions{});
        for (const Problem& problem : found.list()) text += problem.message + "; ";
        return text;
    };
    using Catch::Contains;
    CHECK(problems([](Lesson&) {}).empty());
    CHECK_THAT(problems([](Lesson& lesson) { lesson.budget_minutes = 5; }), Contains("more than the budget of 5 min"));
    CHECK_THAT(problems([&](Lesson& lesson) { lesson.faults = faults_named(*circuit, "C101.4 resistance 20mohm"); }),
               Contains("no driver would notice"));
    CHECK_THAT(problems([&](Lesson& lesson) {
                   LessonTrap trap;
                   trap.test = test_of(*circuit, "hi  C304.1 to B1-");
                   lesson.traps = {trap};
               }),
               Contains("a trap is not blind"));
    CHECK_THAT(problems([&](Lesson& lesson) {
                   lesson.faults = faults_named(*circuit, "F7 blown");
                   lesson.roots = faults_named(*circuit, "M1 drag 1.1");
               }),
               Contains("the root does not lead to what failed"));
}

TEST_CASE("what only the trial of a lesson shows is told where it is typed, and as soon as it is known") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    Lesson lesson = exercise_with(circuit, {"C101.4 resistance 0.3ohm"}).lesson;
    lesson.fault_places = {SourcePlace{"lesson.toml", 7, 12, 5, {}}};
    lesson.budget_place = SourcePlace{"lesson.toml", 9, 11, 5, {}};
    const Exercise exercise = exercise_of(solver(), circuit, lesson, 1);
    const LessonPlan whole = plan_of(solver(), exercise, MatchOptions{});
    CHECK_FALSE(whole.cut_short);
    REQUIRE(whole.run.steps.size() > 6);
    const LessonPlan part = plan_of(solver(), exercise, MatchOptions{}, 1);
    CHECK(part.cut_short);
    CHECK(part.run.steps.size() < whole.run.steps.size());
    lesson.budget_minutes = 1;
    const Problems late = check_lesson(solver(), circuit, lesson, MatchOptions{});
    REQUIRE(late.list().size() == 1);
    CHECK(late.list().front().place.line == 9);
    // A fuse of a wrong rating beside the fault that drives the symptom: the plan finds the second and stops.
    lesson.budget_minutes = 120;
    lesson.faults = faults_named(*circuit, "F7 rating 50A");
    lesson.faults.push_back(faults_named(*circuit, "C101.4 resistance 0.3ohm").front());
    const Problems unsolved = check_lesson(solver(), circuit, lesson, MatchOptions{});
    REQUIRE(unsolved.list().size() == 1);
    CHECK(unsolved.list().front().code == ProblemCode::lesson_unsolved);
    CHECK(unsolved.list().front().place.line == 7);
    // A size at which nothing is wrong.
    lesson.faults = faults_named(*circuit, "F7 rating 40A");
    const Problems idle = check_lesson(solver(), circuit, lesson, MatchOptions{});
    REQUIRE(idle.list().size() == 1);
    CHECK(idle.list().front().place.line == 7);
}

TEST_CASE("a drawn exercise gives the minutes of its level, or a quarter more than the tool's own plan takes") {
    LessonPlan plan;
    plan.test_minutes = 70;
    plan.repair_minutes = 6;
    CHECK(fair_budget(30, plan) == 95);
    plan.test_minutes = 14;
    CHECK(fair_budget(30, plan) == 30);
}

TEST_CASE("the lessons cover every skill and level and say what they serve") {
    const std::vector<std::string> paths = lesson_paths();
    CHECK(paths.size() >= 20);
    std::set<std::string> skills;
    std::set<int> levels;
    std::size_t misconceptions = 0;
    for (const std::string& path : paths) {
        const LessonReading reading = read_lesson_file(path);
        INFO(path << "\n" << all_problems(reading.problems));
        REQUIRE(reading.lesson);
        CHECK_FALSE(reading.lesson->goal.empty());
        CHECK_FALSE(reading.lesson->serves.empty());
        skills.insert(reading.lesson->skill);
        levels.insert(reading.lesson->level);
        misconceptions += reading.lesson->meets.empty() ? 0 : 1;
    }
    CHECK(skills.size() == lesson_skills().size());
    CHECK(levels.size() == 3);
    CHECK(misconceptions >= 6);
}
