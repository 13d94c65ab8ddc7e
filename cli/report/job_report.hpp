// The report of a job or circuit as one page.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "cli/views/plan_view.hpp"
#include "cli/views/shop_rate.hpp"
#include "engine/figures/fuse_curve.hpp"
#include "engine/figures/speed_rows.hpp"
#include "engine/figures/voltage_ladder.hpp"
#include "engine/planning/next.hpp"
#include "engine/proof/proof.hpp"

namespace voltfall {

/// A suspect in the words of the sheet.
struct ReportSuspect {
    std::string fault;  ///< phrase with its likeliest size
    std::string plain;  ///< "poor contact in C101.4"
    std::string place;  ///< to mark in the drawing
    double probability{};
    std::string repair;
    double minutes{};
    std::vector<std::string> with_it;
};

/// An exercise with its answer, for the teacher or for the end of the lesson.
struct ReportLesson {
    std::string title;
    std::vector<std::string> hidden;  ///< "R1 limiter open"
    std::vector<std::string> roots;   ///< what made it fail
    struct Step {
        std::string test;
        std::string shown;
        double minutes{};
    };
    std::vector<Step> steps;           ///< the tool's own way
    std::vector<std::string> repairs;  ///< made after it, in order
    std::vector<std::string> reason;   ///< the electrical reason, with numbers
};

struct ReportView {
    std::shared_ptr<const Circuit> circuit;
    Job job;
    bool is_job{false};
    std::vector<ReportSuspect> suspects;  ///< the likeliest first
    double none_of_these{};
    NextAnswer next;
    std::optional<PlanView> plan;
    bool still_faulty{false};          ///< after a repair: `next` looks for what it has not mended
    std::optional<ProofAnswer> proof;  ///< where something was mended or read after it
    std::string state;                 ///< of the drawing
    std::optional<Settled> sound;      ///< in that state
    std::optional<Settled> now;        ///< with the leading suspect; nothing where there is none
    VoltageLadder ladder;
    std::vector<SpeedRow> speeds;
    std::vector<FuseCurve> fuses;
    std::vector<std::string> notes;
    std::optional<ReportLesson> lesson;
    std::optional<ShopRate> rate;  ///< where the shop has said it
};

/// The page. The same view gives the same bytes.
std::string report_page(const ReportView& view);

}  // namespace voltfall
