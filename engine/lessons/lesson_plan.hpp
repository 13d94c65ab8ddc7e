// What the tool itself would do with an exercise: the way that a learner is held against.
#pragma once

#include <limits>
#include <string>
#include <vector>

#include "engine/lessons/bench.hpp"
#include "engine/planning/worked_run.hpp"

namespace voltfall {

struct LessonPlan {
    WorkedRun run;                     ///< the tests, each the first proposal of `next`
    std::vector<WorkedRun> again;      ///< after a repair that left something wrong: diagnosed anew
    std::vector<Action> actions;       ///< tests, then repairs
    std::vector<std::string> repairs;  ///< the repairs among them, as they would be typed
    double test_minutes{};
    double repair_minutes{};
    std::size_t parts{};
    bool solved{false};     ///< everything hidden is mended, or rightly nothing was
    bool cut_short{false};  ///< it took longer than was asked for, and was not worked to its end

    double minutes() const { return test_minutes + repair_minutes; }
};

/// Works the exercise with the shop's instruments and the lesson's allowed actions; minutes are those of the bench.
/// The most probable repair is made and tried; where something is still wrong, the vehicle is diagnosed anew. What may
/// have caused the failure of a part is mended too.
/// A plan that takes longer than `most_minutes` is not worked to its end.
LessonPlan plan_of(Simulator& simulator, const Exercise& exercise, const MatchOptions& options,
                   double most_minutes = std::numeric_limits<double>::infinity());

/// Minutes that a drawn exercise gives: `usual` of its level, or a quarter more than the tool's own plan where that
/// takes longer, in fives (ASSUMED: a learner looks at a test or two more).
double fair_budget(double usual, const LessonPlan& plan);

/// Is everything hidden mended and every fuse whole?
bool all_mended(const Vehicle& vehicle);

}  // namespace voltfall
