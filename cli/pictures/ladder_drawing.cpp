#include "cli/pictures/ladder_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "cli/pictures/axis.hpp"
#include "cli/views/markup_text.hpp"

namespace voltfall {

namespace {

constexpr double rung_height = 20;
constexpr double plot_width = 330;
constexpr double right_margin = 16;
constexpr double head = 30;
constexpr std::size_t most_letters = 16;
constexpr std::size_t most_name_letters = 42;

/// Lines are told apart by colour, dash and weight.
constexpr std::array<SvgLine, 4> styles{SvgLine{palette::green, 3, {}}, SvgLine{palette::vermillion, 2.5, "7 3"},
                                        SvgLine{palette::blue, 2, "2 3"}, SvgLine{palette::purple, 2, "9 3 2 3"}};

class LadderPainter {
public:
    explicit LadderPainter(const VoltageLadder& ladder) : ladder_(ladder), most_(axis_end(most_volts())) {
        double width = 0;
        for (const std::string& rung : ladder.rungs)
            width = std::max(width, svg_text_width(shortened(rung, most_letters), 11));
        left_ = width + 12;
    }

    Picture paint() {
        const double bottom = y_of(ladder_.rungs.size() - 1) + rung_height / 2;
        paint_axis(bottom);
        paint_rungs();
        const std::size_t lines = std::min(ladder_.lines.size(), styles.size());
        for (std::size_t i = lines; i-- > 0;) paint_line(ladder_.lines[i], styles[i]);
        paint_measured();
        const double end = paint_legend(bottom + 14, lines);
        picture_.width = left_ + plot_width + right_margin;
        picture_.height = end;
        picture_.title = {
            "ladder", fmt::format("Where the volts fall: {} in {}", ladder_.load, ladder_.state),
            "Volts to battery minus at each joint from battery plus through the load; the table below holds "
            "the same figures."};
        return std::move(picture_);
    }

private:
    double most_volts() const {
        double most = 1;
        for (const LadderLine& line : ladder_.lines)
            for (const auto& volts : line.volts) most = std::max(most, volts.value_or(0));
        for (const auto& volts : ladder_.measured) most = std::max(most, volts.value_or(0));
        return most;
    }
    double x_of(double volts) const { return left_ + plot_width * std::clamp(volts / most_, 0.0, 1.0); }
    static double y_of(std::size_t rung) { return head + rung_height * (static_cast<double>(rung) + 0.5); }

    void paint_axis(double bottom) {
        const double step = axis_step(most_);
        for (double volts = 0; volts <= most_ + 1e-9; volts += step) {
            picture_.shapes.line(x_of(volts), head, x_of(volts), bottom, {.colour = palette::rule});
            picture_.shapes.text(x_of(volts), head - 6, fmt::format("{:g}", volts), {.size = 11, .middle = true});
        }
        picture_.shapes.text(left_ - 6, head - 6, "V", {.size = 11, .at_end = true});
    }

    void paint_rungs() {
        for (std::size_t i = 0; i < ladder_.rungs.size(); ++i) {
            const bool beside_load = i == ladder_.load_after || i == ladder_.load_after + 1;
            picture_.shapes.text(left_ - 6, y_of(i) + 4, shortened(ladder_.rungs[i], most_letters),
                                 {.size = 11, .bold = beside_load, .at_end = true});
            picture_.shapes.line(left_, y_of(i), left_ + plot_width, y_of(i), {.colour = "#efefef"});
        }
    }

    void paint_line(const LadderLine& line, const SvgLine& style) {
        SvgPoints points;
        for (std::size_t i = 0; i < line.volts.size(); ++i) {
            if (!line.volts[i]) {
                picture_.shapes.polyline(points, style);
                points.clear();
                continue;
            }
            points.emplace_back(x_of(*line.volts[i]), y_of(i));
        }
        picture_.shapes.polyline(points, style);
    }

    void paint_measured() {
        for (std::size_t i = 0; i < ladder_.measured.size(); ++i) {
            if (!ladder_.measured[i]) continue;
            picture_.shapes.diamond(x_of(*ladder_.measured[i]), y_of(i), 6, "#fff");
            picture_.shapes.diamond(x_of(*ladder_.measured[i]), y_of(i), 5, palette::ink);
        }
    }

    double paint_legend(double top, std::size_t lines) {
        for (std::size_t i = 0; i < lines; ++i, top += 17) {
            picture_.shapes.line(4, top, 40, top, styles[i]);
            const std::string name = ladder_.lines[i].name;
            picture_.shapes.text(48, top + 4, shortened(i == 0 ? name : "with " + name, most_name_letters),
                                 {.size = 11});
        }
        const bool any =
            std::any_of(ladder_.measured.begin(), ladder_.measured.end(), [](const auto& m) { return m.has_value(); });
        if (any) {
            picture_.shapes.diamond(22, top, 5, palette::ink);
            picture_.shapes.text(48, top + 4, "measured", {.size = 11});
            top += 17;
        }
        picture_.shapes.text(4, top + 4, fmt::format("{} lies between the two joints in bold", ladder_.load),
                             {.size = 11, .fill = palette::quiet});
        return top + 12;
    }

    const VoltageLadder& ladder_;
    double most_;
    double left_{0};
    Picture picture_;
};

}  // namespace

Picture ladder_drawing(const VoltageLadder& ladder) {
    if (ladder.empty()) return {};
    return LadderPainter(ladder).paint();
}

}  // namespace voltfall
