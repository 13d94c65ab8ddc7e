#include "cli/pictures/speed_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/views/figures.hpp"
#include "cli/views/markup_text.hpp"

namespace voltfall {

namespace {

constexpr double bar_height = 11;
constexpr double bar_width = 200;
constexpr double row_gap = 10;
constexpr std::size_t most_letters = 24;
constexpr std::size_t most_name_letters = 44;

/// One figure of the rows: its value, and how it is written.
struct BarFigure {
    std::string head;
    std::optional<double> (*of)(const LoadState& load);
    std::string (*shown)(double value);
};

std::optional<double> amps(const LoadState& load) {
    return std::abs(load.amps);
}
std::optional<double> rpm(const LoadState& load) {
    return load.rpm ? std::optional(std::abs(*load.rpm)) : std::nullopt;
}

class SpeedPainter {
public:
    SpeedPainter(const std::vector<SpeedRow>& rows, const std::string& now) : rows_(rows), now_(now) {
        double width = 60;
        for (const SpeedRow& row : rows) width = std::max(width, svg_text_width(label_of(row), 11));
        left_ = width + 10;
    }

    Picture paint() {
        double y = paint_legend();
        y = paint_figure({"amperes", amps, shown_amps}, y);
        const bool any_rpm =
            std::any_of(rows_.begin(), rows_.end(), [](const SpeedRow& row) { return row.sound.rpm.has_value(); });
        if (any_rpm) y = paint_figure({"revolutions per minute", rpm, shown_rpm}, y + 8);
        picture_.width = left_ + bar_width + 58;
        picture_.height = y;
        picture_.title = {"speeds", "Positions: amperes and speed, sound and now",
                          "Two bars a position; the table below holds the same figures."};
        return std::move(picture_);
    }

private:
    static std::string label_of(const SpeedRow& row) { return shortened(row.position + "  " + row.load, most_letters); }

    double paint_legend() {
        picture_.shapes.fill(4, 4, 26, bar_height, palette::green, palette::ink);
        picture_.shapes.text(36, 13, "sound", {.size = 11});
        if (now_.empty()) return 24;
        picture_.shapes.fill(4, 21, 26, bar_height, "#ffd9c2", palette::ink);
        picture_.shapes.text(36, 30, shortened(now_, most_name_letters), {.size = 11});
        return 42;
    }

    double paint_figure(const BarFigure& figure, double y) {
        picture_.shapes.text(4, y + 12, figure.head, {.size = 11, .bold = true});
        y += 20;
        double most = 0;
        for (const SpeedRow& row : rows_) {
            most = std::max(most, figure.of(row.sound).value_or(0));
            if (row.now) most = std::max(most, figure.of(*row.now).value_or(0));
        }
        for (const SpeedRow& row : rows_) {
            const auto sound = figure.of(row.sound);
            if (!sound) continue;
            picture_.shapes.text(left_ - 6, y + (row.now ? 15 : 9), label_of(row), {.size = 11, .at_end = true});
            paint_bar(y, *sound / std::max(most, 1e-9), figure.shown(*sound), palette::green);
            y += bar_height + 1;
            if (row.now) {
                const auto now = figure.of(*row.now);
                const std::string word = row.now->seen == row.sound.seen ? "" : " " + std::string(row.now->said());
                paint_bar(y, now.value_or(0) / std::max(most, 1e-9), figure.shown(now.value_or(0)) + word, "#ffd9c2");
                y += bar_height + 1;
            }
            y += row_gap - 2;
        }
        return y;
    }

    void paint_bar(double y, double share, const std::string& words, std::string_view colour) {
        const double width = std::max(bar_width * share, 1.0);
        picture_.shapes.fill(left_, y, width, bar_height - 1, colour, palette::ink);
        const double room = svg_text_width(words, 10.5);
        const bool inside = left_ + width + 4 + room > left_ + bar_width + 56;
        picture_.shapes.text(inside ? left_ + width - 4 : left_ + width + 4, y + 9, words,
                             {.size = 10.5, .at_end = inside});
    }

    const std::vector<SpeedRow>& rows_;
    const std::string& now_;
    double left_{0};
    Picture picture_;
};

}  // namespace

Picture speed_drawing(const std::vector<SpeedRow>& rows, const std::string& now) {
    if (rows.empty()) return {};
    return SpeedPainter(rows, now).paint();
}

}  // namespace voltfall
