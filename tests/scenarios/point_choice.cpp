#include "tests/scenarios/point_choice.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include <Eigen/Dense>

#include "engine/diagnosis/priors.hpp"
#include "engine/readings/accuracy.hpp"

namespace voltfall {
namespace {

constexpr std::size_t points_chosen = 6;
/// One reading may be wrong, so that none tells more than this, however far it is.
constexpr double most_told_by_one = 8.0;
/// A rival this far off counts no more.
constexpr double far_away = 60.0;

/// The views of one rival, one a size: it is told apart as far as its nearest size is.
struct Rival {
    double prior{0};
    std::vector<const FaultView*> sizes;
};
using Rivals = std::vector<Rival>;

Rivals rivals_of(const FaultBench& bench, const Job& job, const FaultView& looks_so, std::size_t mode) {
    const Priors priors = priors_of(bench.circuit(), job);
    Rivals rivals;
    if (looks_so.mode != healthy_mode) {
        rivals.push_back({priors.nothing, {&bench.healthy()}});
    }
    for (const FaultView& rival : bench.rivals()) {
        if (rival.mode == mode) {
            continue;
        }
        if (rivals.empty() || rivals.back().sizes.front()->mode != rival.mode) {
            rivals.push_back({priors.modes[rival.mode], {}});
        }
        rivals.back().sizes.push_back(&rival);
    }
    return rivals;
}

double fuse_distance(const FaultView& a, const FaultView& b, std::span<const std::size_t> states) {
    const auto opens = [&](const FaultView& view, std::size_t fuse) {
        return std::any_of(states.begin(), states.end(),
                           [&](std::size_t state) { return view.states[state].fuse_open[fuse]; });
    };
    double distance = 0;
    for (std::size_t fuse = 0; fuse < a.states.front().fuse_open.size(); ++fuse) {
        distance += opens(a, fuse) != opens(b, fuse) ? most_told_by_one : 0;
    }
    return distance;
}

/// One number read: a point in a state.
struct ReadPoint {
    std::size_t state{};
    std::size_t point{};
};

/// What a new reading should be, given the readings before it, is linear in them.
struct Conditional {
    Eigen::VectorXd weights;  ///< of the readings before it
    double variance{};
};

class PointChooser {
public:
    PointChooser(const FaultBench& bench, const FaultView& fault, const std::vector<std::size_t>& states,
                 const Rivals& rivals)
        : bench_(bench), fault_(fault), states_(states) {
        for (const Rival& mode : rivals) {
            Contender& contender = contenders_.emplace_back();
            contender.prior = mode.prior;
            for (const FaultView* view : mode.sizes) {
                contender.sizes.push_back({view, fuse_distance(fault, *view, states), {}});
            }
        }
    }

    void choose() {
        const std::size_t count = std::min(points_chosen, bench_.points().size());
        while (points_.size() < count) {
            drop_far();
            std::size_t best = bench_.points().size();
            double least = std::numeric_limits<double>::infinity();
            for (std::size_t point = 0; point < bench_.points().size(); ++point) {
                if (std::find(points_.begin(), points_.end(), point) != points_.end()) {
                    continue;
                }
                if (const double left = left_with(point); left < least) {
                    least = left;
                    best = point;
                }
            }
            take(best);
            left_ = least;
        }
    }

    /// What the rivals together weigh beside the fault after the chosen readings.
    double left() const { return left_; }
    const std::vector<std::size_t>& points() const { return points_; }

private:
    struct Size {
        const FaultView* view{nullptr};
        double distance{0};
        std::vector<double> off;  ///< by chosen reading: its volts less the fault's
    };
    struct Contender {
        double prior{0};
        std::vector<Size> sizes;
    };

    std::vector<ReadPoint> readings_at(std::size_t point) const {
        std::vector<ReadPoint> readings;
        for (const std::size_t state : states_) {
            readings.push_back({state, point});
        }
        return readings;
    }

    double covariance(const ReadPoint& a, const ReadPoint& b) const {
        const std::vector<double>& one = fault_.states[a.state].slopes[a.point];
        const std::vector<double>& two = fault_.states[b.state].slopes[b.point];
        const bool same = a.state == b.state && a.point == b.point;
        // The last slope is the reading's own: no other reading shares it.
        const double shared = std::inner_product(one.begin(), one.end() - 1, two.begin(), 0.0);
        return shared + (same ? one.back() * one.back() : 0.0);
    }

    Conditional given(const std::vector<ReadPoint>& before, const ReadPoint& next) const {
        const auto n = static_cast<Eigen::Index>(before.size());
        Eigen::MatrixXd all(n, n);
        Eigen::VectorXd with(n);
        for (Eigen::Index i = 0; i < n; ++i) {
            for (Eigen::Index j = 0; j < n; ++j) {
                all(i, j) = covariance(before[static_cast<std::size_t>(i)], before[static_cast<std::size_t>(j)]);
            }
            with(i) = covariance(before[static_cast<std::size_t>(i)], next);
        }
        Conditional conditional{n > 0 ? Eigen::VectorXd(all.llt().solve(with)) : with, covariance(next, next)};
        conditional.variance -= conditional.weights.dot(with);
        return conditional;
    }

    std::vector<Conditional> conditionals(std::size_t point) const {
        std::vector<ReadPoint> before = chosen_;
        std::vector<Conditional> each;
        for (const ReadPoint& reading : readings_at(point)) {
            each.push_back(given(before, reading));
            before.push_back(reading);
        }
        return each;
    }

    /// How much further off a rival is with the readings at one more point, which `off` receives.
    double added(const Size& rival, std::size_t point, const std::vector<Conditional>& each,
                 std::vector<double>& off) const {
        off = rival.off;
        double distance = 0;
        for (std::size_t i = 0; i < states_.size(); ++i) {
            const std::size_t state = states_[i];
            const double own = rival.view->states[state].volts[point] - fault_.states[state].volts[point];
            double expected = 0;
            for (std::size_t k = 0; k < off.size(); ++k) {
                expected += each[i].weights(static_cast<Eigen::Index>(k)) * off[k];
            }
            const double residual = own - expected;
            distance += std::min(residual * residual / each[i].variance, most_told_by_one);
            off.push_back(own);
        }
        return distance;
    }

    double left_with(std::size_t point) const {
        const std::vector<Conditional> each = conditionals(point);
        std::vector<double> off;
        double sum = 0;
        for (const Contender& contender : contenders_) {
            double nearest = std::numeric_limits<double>::infinity();
            for (const Size& size : contender.sizes) {
                if (size.distance < nearest) {
                    nearest = std::min(nearest, size.distance + added(size, point, each, off));
                }
            }
            sum += contender.prior * std::exp(-nearest / 2);
        }
        return sum;
    }

    void take(std::size_t point) {
        const std::vector<Conditional> each = conditionals(point);
        std::vector<double> off;
        for (Contender& contender : contenders_) {
            for (Size& size : contender.sizes) {
                size.distance += added(size, point, each, off);
                size.off = off;
            }
        }
        for (const ReadPoint& reading : readings_at(point)) {
            chosen_.push_back(reading);
        }
        points_.push_back(point);
    }

    void drop_far() {
        for (Contender& contender : contenders_) {
            std::erase_if(contender.sizes, [](const Size& size) { return size.distance > far_away; });
        }
        std::erase_if(contenders_, [](const Contender& contender) { return contender.sizes.empty(); });
    }

    const FaultBench& bench_;
    const FaultView& fault_;
    const std::vector<std::size_t>& states_;
    std::vector<Contender> contenders_;
    std::vector<ReadPoint> chosen_;
    std::vector<std::size_t> points_;
    double left_{0};
};

/// A fuse that opens in one of the states stays open in the other, unless all are new there: is each seen so?
bool stays_as_seen(const FaultBench& bench, const FaultView& fault, std::span<const std::size_t> states) {
    for (std::size_t fuse = 0; fuse < bench.fuses().size(); ++fuse) {
        const auto opens = [&](std::size_t state) { return bool(fault.states[state].fuse_open[fuse]); };
        const bool opens_in_one = std::any_of(states.begin(), states.end(), opens);
        const auto differs = [&](std::size_t state) { return !bench.new_fuses(state) && opens(state) != opens_in_one; };
        if (std::any_of(states.begin(), states.end(), differs)) {
            return false;
        }
    }
    return true;
}

bool opens_a_fuse(const FaultView& fault) {
    return std::any_of(fault.states.begin(), fault.states.end(), [](const StateView& state) {
        return std::find(state.fuse_open.begin(), state.fuse_open.end(), true) != state.fuse_open.end();
    });
}

}  // namespace

Choice choose_readings(const FaultBench& bench, const Job& job, const FaultView& seen) {
    // What shows nothing is best told by readings that leave little else but a healthy circuit.
    const FaultView& fault = shows_anything(bench, seen) ? seen : bench.healthy();
    const Rivals rivals = rivals_of(bench, job, fault, seen.mode);
    const bool fuses_tell = opens_a_fuse(fault) || bench.sits_in_fuse(*bench.circuit().modes[seen.mode]);
    Choice best;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t first = 0; first < bench.states().size(); ++first) {
        for (std::size_t second = first + 1; second < bench.states().size(); ++second) {
            if (!fuses_tell && (bench.new_fuses(first) || bench.new_fuses(second))) {
                continue;
            }
            const std::vector<std::size_t> states{first, second};
            if (!stays_as_seen(bench, fault, states)) {
                continue;
            }
            PointChooser chooser(bench, fault, states, rivals);
            chooser.choose();
            if (chooser.left() < least) {
                least = chooser.left();
                best = {states, chooser.points()};
            }
        }
    }
    return best;
}

bool reads_alike(const FaultBench& bench, const Fault& a, const Fault& b, const Choice& choice) {
    const std::vector<StateView> of_a = bench.view(std::span(&a, 1), choice.states);
    const std::vector<StateView> of_b = bench.view(std::span(&b, 1), choice.states);
    for (std::size_t state = 0; state < choice.states.size(); ++state) {
        if (of_a[state].fuse_open != of_b[state].fuse_open) {
            return false;
        }
        for (const std::size_t point : choice.points) {
            const double one = of_a[state].volts[point];
            if (std::abs(one - of_b[state].volts[point]) > meter_tolerance(one)) {
                return false;
            }
        }
    }
    return true;
}

}  // namespace voltfall
