#include "cli/pictures/fuse_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "cli/views/figures.hpp"
#include "cli/views/markup_text.hpp"

namespace voltfall {

namespace {

constexpr double left = 56;
constexpr double top = 12;
constexpr double plot_width = 320;
constexpr double plot_height = 260;
constexpr double least_seconds = 0.01;
constexpr double most_seconds = 3600;
constexpr std::size_t most_letters = 48;

constexpr std::array<SvgLine, 3> wire_styles{SvgLine{palette::blue, 2, "7 3"}, SvgLine{palette::purple, 2, "2 3"},
                                             SvgLine{palette::green, 2, "9 3 2 3"}};

class FusePainter {
public:
    explicit FusePainter(const FuseCurve& curve) : curve_(curve) {
        // What draws next to nothing beside its fuse is told in the legend only.
        least_amps_ = curve.rating / 4;
        most_amps_ = curve.rating * 10;
        if (curve.fault) most_amps_ = std::max(most_amps_, std::min(*curve.fault * 1.3, curve.rating * 60));
    }

    Picture paint(const std::string& id) {
        paint_grid();
        paint_band();
        for (std::size_t i = 0; i < curve_.wires.size() && i < wire_styles.size(); ++i) paint_wire(i);
        paint_currents();
        picture_.width = left + plot_width + 14;
        picture_.height = paint_legend(top + plot_height + 50);
        picture_.title = {
            id, fmt::format("Fuse {}: {:g} A {}, time and current", curve_.fuse, curve_.rating, curve_.type),
            "How long the fuse holds at a current, and how long its wires bear it; the table below holds the "
            "same figures."};
        return std::move(picture_);
    }

private:
    double x_of(double amps) const {
        const double share = std::log(amps / least_amps_) / std::log(most_amps_ / least_amps_);
        return left + plot_width * std::clamp(share, 0.0, 1.0);
    }
    static double y_of(double seconds) {
        const double share = std::log(seconds / least_seconds) / std::log(most_seconds / least_seconds);
        return top + plot_height * (1 - std::clamp(share, 0.0, 1.0));
    }

    /// Does the fault change the current of this fuse at all?
    bool tells_fault() const {
        constexpr double same = 0.05;
        return curve_.fault && std::abs(*curve_.fault - curve_.running.value_or(0)) > same * *curve_.fault;
    }

    void paint_grid() {
        constexpr std::array<std::pair<double, std::string_view>, 7> times{{{0.01, "0.01 s"},
                                                                            {0.1, "0.1 s"},
                                                                            {1, "1 s"},
                                                                            {10, "10 s"},
                                                                            {60, "1 min"},
                                                                            {600, "10 min"},
                                                                            {3600, "1 h"}}};
        for (const auto& [seconds, words] : times) {
            picture_.shapes.line(left, y_of(seconds), left + plot_width, y_of(seconds), {.colour = palette::rule});
            picture_.shapes.text(left - 5, y_of(seconds) + 4, words, {.size = 10.5, .at_end = true});
        }
        double last_x = -100;
        for (double decade = 0.01; decade < most_amps_; decade *= 10) {
            for (const double step : {1.0, 2.0, 5.0}) {
                const double amps = decade * step;
                if (amps < least_amps_ || amps > most_amps_) continue;
                picture_.shapes.line(x_of(amps), top, x_of(amps), top + plot_height, {.colour = palette::rule});
                if (x_of(amps) - last_x < 34) continue;
                last_x = x_of(amps);
                picture_.shapes.text(last_x, top + plot_height + 15, fmt::format("{:g}", amps),
                                     {.size = 10.5, .middle = true});
            }
        }
        picture_.shapes.text(left + plot_width / 2, top + plot_height + 31, "amperes", {.size = 11, .middle = true});
        picture_.shapes.line(left, top, left, top + plot_height);
        picture_.shapes.line(left, top + plot_height, left + plot_width, top + plot_height);
    }

    void paint_band() {
        SvgPoints outline;
        SvgPoints usual;
        for (const FuseCurve::Opening& opening : curve_.openings) {
            if (opening.amps > most_amps_ || !opening.earliest) continue;
            outline.emplace_back(x_of(opening.amps), y_of(*opening.earliest));
        }
        for (std::size_t i = curve_.openings.size(); i-- > 0;) {
            const FuseCurve::Opening& opening = curve_.openings[i];
            if (opening.amps > most_amps_ || !opening.earliest) continue;
            outline.emplace_back(x_of(opening.amps), y_of(opening.latest.value_or(most_seconds)));
        }
        picture_.shapes.area(outline, palette::yellow, 0.75);
        for (const FuseCurve::Opening& opening : curve_.openings)
            if (opening.typical && opening.amps <= most_amps_ && *opening.typical <= most_seconds)
                usual.emplace_back(x_of(opening.amps), y_of(*opening.typical));
        picture_.shapes.polyline(usual, {.colour = palette::ink, .width = 2});
    }

    void paint_wire(std::size_t index) {
        SvgPoints points;
        for (const TimeCurrent& point : curve_.wires[index].bears)
            if (point.amps >= least_amps_ && point.amps <= most_amps_)
                points.emplace_back(x_of(point.amps), y_of(point.seconds));
        picture_.shapes.polyline(points, wire_styles[index]);
    }

    void paint_currents() {
        if (curve_.running && *curve_.running >= least_amps_)
            picture_.shapes.line(x_of(*curve_.running), top, x_of(*curve_.running), top + plot_height,
                                 {.colour = palette::green, .width = 2});
        if (!tells_fault() || *curve_.fault < least_amps_) return;
        const double x = x_of(*curve_.fault);
        picture_.shapes.line(x, top, x, top + plot_height,
                             {.colour = palette::vermillion, .width = 1.5, .dash = "5 3"});
        const double y = curve_.fault_opens ? y_of(std::max(*curve_.fault_opens, least_seconds)) : top + 6;
        picture_.shapes.diamond(x, y, 6, palette::vermillion);
    }

    double paint_legend(double y) {
        const auto words = [&](const std::string& text) {
            picture_.shapes.text(48, y + 4, shortened(text, most_letters), {.size = 11});
            y += 17;
        };
        picture_.shapes.fill(6, y - 6, 34, 11, palette::yellow, palette::ink);
        words("opens in this band, a usual fuse on the line");
        for (std::size_t i = 0; i < curve_.wires.size() && i < wire_styles.size(); ++i) {
            picture_.shapes.line(6, y, 40, y, wire_styles[i]);
            words("wire " + curve_.wires[i].wire + " bears it so long");
        }
        if (curve_.running) {
            if (*curve_.running >= least_amps_)
                picture_.shapes.line(6, y, 40, y, {.colour = palette::green, .width = 2});
            words(fmt::format("runs: {} A in {}", shown_amps(*curve_.running), curve_.running_in));
        }
        if (tells_fault()) {
            if (*curve_.fault >= least_amps_) picture_.shapes.diamond(22, y, 6, palette::vermillion);
            words(
                fmt::format("with the fault: {} A, {}", shown_amps(*curve_.fault),
                            curve_.fault_opens ? "opens after " + shown_seconds(*curve_.fault_opens) : "never opens"));
        }
        return y;
    }

    const FuseCurve& curve_;
    double least_amps_{};
    double most_amps_{};
    Picture picture_;
};

}  // namespace

Picture fuse_drawing(const FuseCurve& curve, const std::string& id) {
    return FusePainter(curve).paint(id);
}

}  // namespace voltfall
