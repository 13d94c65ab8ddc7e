#include "engine/diagnosis/size_curve.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace voltfall {

namespace {

/// Width of a piece on the scale (5 % of a size on a logarithmic one), and bounds of their number between two
/// neighbours.
constexpr double piece_width = 0.05;
constexpr std::size_t least_pieces = 2;
constexpr std::size_t most_pieces = 44;
/// One sigma of what the cubic may be off between two neighbours, as a share of the step between them. On a divider's
/// curve, steps of a factor of 3 in ohms are missed by 3 % of the step, of a factor of 8 by 8 % (COMPUTED).
constexpr double curve_error = 0.05;

bool alike(const CurvePoint& a, const CurvePoint& b, std::size_t worlds) {
    for (std::size_t w = 0; w < worlds; ++w) {
        if (!a.worlds[w].ok || !b.worlds[w].ok || a.worlds[w].signature != b.worlds[w].signature) return false;
    }
    return true;
}

/// Slope at point i of a monotone cubic through the cell's means; a neighbour of it, at least, stands alike.
double monotone_slope(const std::vector<CurvePoint>& points, std::size_t i, std::size_t world, std::size_t cell,
                      std::size_t worlds) {
    const bool has_left = i > 0 && alike(points[i - 1], points[i], worlds);
    const bool has_right = i + 1 < points.size() && alike(points[i], points[i + 1], worlds);
    const auto secant = [&](std::size_t a) {
        const double rise = points[a + 1].worlds[world].mean[cell] - points[a].worlds[world].mean[cell];
        return rise / (points[a + 1].at - points[a].at);
    };
    if (!has_left) return secant(i);
    if (!has_right) return secant(i - 1);
    const double left = secant(i - 1);
    const double right = secant(i);
    if (left * right <= 0) return 0;
    const double h0 = points[i].at - points[i - 1].at;
    const double h1 = points[i + 1].at - points[i].at;
    const double w0 = 2 * h1 + h0;
    const double w1 = h1 + 2 * h0;
    return (w0 + w1) / (w0 / left + w1 / right);
}

/// Interpolates between points i and i+1, which stand alike.
class Span {
public:
    Span(const std::vector<CurvePoint>& points, std::size_t i, std::size_t world, std::size_t worlds)
        : a_(points[i].worlds[world]), b_(points[i + 1].worlds[world]), width_(points[i + 1].at - points[i].at) {
        for (std::size_t cell = 0; cell < a_.mean.size(); ++cell) {
            slope_a_.push_back(monotone_slope(points, i, world, cell, worlds));
            slope_b_.push_back(monotone_slope(points, i + 1, world, cell, worlds));
        }
    }

    double error_variance(std::size_t cell) const {
        const double error = curve_error * (b_.mean[cell] - a_.mean[cell]);
        return error * error;
    }
    /// The spread for the whole span: that of the first neighbour and the error of the curve.
    Prediction spread(const Questions& questions) const {
        Prediction p = a_;
        const std::size_t n = questions.numbers.size();
        for (std::size_t cell = 0; cell < p.mean.size(); ++cell) {
            p.variance[cell] = std::max(a_.variance[cell], b_.variance[cell]) + error_variance(cell);
        }
        for (std::size_t i = 0; i < n; ++i) {
            const std::size_t cell = questions.numbers[i].cells[0].second;
            p.covariance[i * n + i] =
                std::max(p.covariance[i * n + i], b_.covariance[i * n + i]) + error_variance(cell);
        }
        return p;
    }
    /// `t` from 0 to 1. Fills everything but the covariance.
    void fill(double t, Prediction& out) const {
        const double t2 = t * t;
        const double t3 = t2 * t;
        const double h00 = 2 * t3 - 3 * t2 + 1;
        const double h01 = 1 - h00;
        const double h10 = t3 - 2 * t2 + t;
        const double h11 = t3 - t2;
        out.ok = true;
        out.signature = a_.signature;
        out.mean.resize(a_.mean.size());
        out.variance.resize(a_.mean.size());
        for (std::size_t cell = 0; cell < a_.mean.size(); ++cell) {
            out.mean[cell] =
                h00 * a_.mean[cell] + h01 * b_.mean[cell] + width_ * (h10 * slope_a_[cell] + h11 * slope_b_[cell]);
            out.variance[cell] = (1 - t) * a_.variance[cell] + t * b_.variance[cell] + error_variance(cell);
        }
        out.words.resize(a_.words.size());
        for (std::size_t i = 0; i < a_.words.size(); ++i) out.words[i] = (1 - t) * a_.words[i] + t * b_.words[i];
    }

private:
    const Prediction& a_;
    const Prediction& b_;
    double width_;
    std::vector<double> slope_a_;
    std::vector<double> slope_b_;
};

std::size_t worlds_of(Story story) {
    return story == Story::plain ? 1 : 2;
}

bool solved(const CurvePoint& point, std::size_t worlds) {
    return std::all_of(point.worlds.begin(), point.worlds.begin() + static_cast<std::ptrdiff_t>(worlds),
                       [](const Prediction& p) { return p.ok; });
}

double score_point(const CurvePoint& point, const Scorer& scorer, Story story) {
    if (!solved(point, worlds_of(story))) return -std::numeric_limits<double>::infinity();
    return scorer.score(story, point.worlds[0], point.worlds[1]);
}

/// The points that what lies between i and i + 1 hangs on; infinity where there is none.
std::array<double, 4> around(const std::vector<CurvePoint>& points, std::size_t i) {
    constexpr double none = std::numeric_limits<double>::infinity();
    return {i > 0 ? points[i - 1].at : -none, points[i].at, points[i + 1].at,
            i + 2 < points.size() ? points[i + 2].at : none};
}

/// The score of point `a` if every reading that lies between its value and that of `b` were met.
double score_as_near_as_can_be(const CurvePoint& a, const CurvePoint& b, const Scorer& scorer, Story story) {
    CurvePoint nearest = a;
    for (std::size_t w = 0; w < worlds_of(story); ++w) {
        Prediction& p = nearest.worlds[w];
        const Prediction& other = b.worlds[w];
        for (const NumberObservation& number : scorer.questions().numbers) {
            for (const auto& [weight, cell] : number.cells) {
                const auto [low, high] = std::minmax(a.worlds[w].mean[cell], other.mean[cell]);
                p.mean[cell] = std::clamp(number.value.low, low, high);
            }
        }
        for (std::size_t i = 0; i < p.words.size(); ++i) p.words[i] = std::max(p.words[i], other.words[i]);
    }
    return scorer.score(story, nearest.worlds[0], nearest.worlds[1]);
}

/// Scores between two alike neighbours.
class SpanScorer {
public:
    SpanScorer(const std::vector<CurvePoint>& points, std::size_t i, const Scorer& scorer, Story story)
        : scorer_(scorer), story_(story) {
        for (std::size_t w = 0; w < worlds_of(story); ++w) {
            spans_.emplace_back(points, i, w, worlds_of(story));
            between_.push_back(spans_.back().spread(scorer.questions()));
            prepared_.push_back(scorer.prepare(between_.back()));
        }
    }
    double score(double t) {
        for (std::size_t w = 0; w < spans_.size(); ++w) spans_[w].fill(t, between_[w]);
        switch (story_) {
            case Story::plain:
                return scorer_.score(between_[0], prepared_[0]);
            case Story::new_part:
            case Story::led_on:
                return log_add(std::log1p(-second_world(story_)) + scorer_.score(between_[0], prepared_[0]),
                               std::log(second_world(story_)) + scorer_.score(between_[1], prepared_[1]));
            case Story::intermittent:
            case Story::may_come_and_go:
                break;
        }
        return scorer_.score(story_, between_[0], between_[1]);
    }

private:
    const Scorer& scorer_;
    Story story_;
    std::vector<Span> spans_;
    std::vector<Prediction> between_;
    std::vector<Scorer::Prepared> prepared_;
};

}  // namespace

void SizeCurve::insert(CurvePoint point) {
    const auto at = std::lower_bound(points.begin(), points.end(), point.at,
                                     [](const CurvePoint& p, double value) { return p.at < value; });
    if (at != points.end() && at->at == point.at) return;  // solved already
    points.insert(at, std::move(point));
}

double scale_of(const SizeRange& range, double size) {
    return range.logarithmic ? std::log(size) : size;
}
double size_of(const SizeRange& range, double at) {
    return range.logarithmic ? std::exp(at) : at;
}

std::vector<Piece> weigh_curve(SizeCurve& curve, const Scorer& scorer, Story story) {
    const std::vector<CurvePoint>& points = curve.points;
    std::vector<Piece> pieces;
    const auto weigh_point = [&](const CurvePoint& point, double log_share) {
        std::vector<double>& told = curve.weighed[{point.at, point.at, point.at, point.at}];
        if (told.empty()) told.push_back(score_point(point, scorer, story));
        pieces.push_back({point.at, point.size, curve.where, told.front(), log_share});
    };
    if (points.size() == 1) weigh_point(points[0], 0);
    const double range = curve.range;
    for (std::size_t i = 0; i + 1 < points.size(); ++i) {
        const double width = points[i + 1].at - points[i].at;
        if (!alike(points[i], points[i + 1], worlds_of(story))) {
            for (const std::size_t end : {i, i + 1}) weigh_point(points[end], std::log(width / 2 / range));
            continue;
        }
        const double wanted = std::ceil(width / (curve.logarithmic ? piece_width : range / 100));
        const std::size_t count = std::clamp(static_cast<std::size_t>(wanted), least_pieces, most_pieces);
        const auto place = [&](std::size_t k) { return (static_cast<double>(k) + 0.5) / static_cast<double>(count); };
        std::vector<double>& told = curve.weighed[around(points, i)];
        if (told.empty()) {
            SpanScorer span(points, i, scorer, story);
            for (std::size_t k = 0; k < count; ++k) told.push_back(span.score(place(k)));
        }
        for (std::size_t k = 0; k < count; ++k) {
            const double at = points[i].at + place(k) * width;
            pieces.push_back({at, curve.logarithmic ? std::exp(at) : at, curve.where, told[k],
                              std::log(width / static_cast<double>(count) / range)});
        }
    }
    return pieces;
}

std::optional<Gap> best_gap(const SizeCurve& curve, const Scorer& scorer, Story story) {
    constexpr double same_bound = 1e-3;
    std::optional<Gap> best;
    const std::size_t worlds = worlds_of(story);
    for (std::size_t i = 0; i + 1 < curve.points.size(); ++i) {
        const CurvePoint& a = curve.points[i];
        const CurvePoint& b = curve.points[i + 1];
        if (!solved(a, worlds) || !solved(b, worlds) || alike(a, b, worlds)) continue;
        const double bound = std::max(score_as_near_as_can_be(a, b, scorer, story),  //
                                      score_as_near_as_can_be(b, a, scorer, story));
        // As good as equal: the first, whatever a microvolt says.
        if (!best || bound > best->bound + same_bound) best = Gap{(a.at + b.at) / 2, bound};
    }
    return best;
}

Prediction predict_between(const SizeCurve& curve, double at, std::size_t world) {
    const std::vector<CurvePoint>& points = curve.points;
    std::size_t i = 0;
    while (i + 1 < points.size() && points[i + 1].at <= at) ++i;
    if (i + 1 >= points.size()) return points.back().worlds[world];
    const double t = std::clamp((at - points[i].at) / (points[i + 1].at - points[i].at), 0.0, 1.0);
    const Prediction& nearer = points[t < 0.5 ? i : i + 1].worlds[world];
    if (!alike(points[i], points[i + 1], world + 1)) return nearer;
    Prediction between = nearer;
    Span(points, i, world, world + 1).fill(t, between);
    return between;
}

}  // namespace voltfall
