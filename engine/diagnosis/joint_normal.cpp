#include "engine/diagnosis/joint_normal.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace voltfall {

namespace {

const double half_log_two_pi = 0.5 * std::log(2 * std::numbers::pi);
constexpr double minus_infinity = -std::numeric_limits<double>::infinity();

/// Cholesky factor in place (lower triangle). False when the matrix is not positive definite.
bool cholesky(std::vector<double>& m, std::size_t n) {
    for (std::size_t j = 0; j < n; ++j) {
        double diagonal = m[j * n + j];
        for (std::size_t k = 0; k < j; ++k) diagonal -= m[j * n + k] * m[j * n + k];
        if (!(diagonal > 0)) return false;
        m[j * n + j] = std::sqrt(diagonal);
        for (std::size_t i = j + 1; i < n; ++i) {
            double value = m[i * n + j];
            for (std::size_t k = 0; k < j; ++k) value -= m[i * n + k] * m[j * n + k];
            m[i * n + j] = value / m[j * n + j];
        }
    }
    return true;
}

}  // namespace

double log_normal_density(double residual, double sigma) {
    const double z = residual / sigma;
    return -half_log_two_pi - std::log(sigma) - 0.5 * z * z;
}

double normal_between(double low, double high, double mean, double sigma) {
    const double scale = sigma * std::numbers::sqrt2;
    const double below_low = std::isinf(low) ? 0.0 : 0.5 * std::erfc((mean - low) / scale);
    const double below_high = std::isinf(high) ? 1.0 : 0.5 * std::erfc((mean - high) / scale);
    return std::max(below_high - below_low, 0.0);
}

double log_add(double a, double b) {
    if (a < b) std::swap(a, b);
    if (b == minus_infinity) return a;
    return a + std::log1p(std::exp(b - a));
}

std::vector<double> weights_of_logs(std::span<const double> logs) {
    std::vector<double> weights(logs.size(), 0.0);
    const auto best = std::max_element(logs.begin(), logs.end());
    if (best == logs.end() || *best == minus_infinity) return weights;
    double sum = 0;
    for (std::size_t i = 0; i < logs.size(); ++i) sum += weights[i] = std::exp(logs[i] - *best);
    for (double& weight : weights) weight /= sum;
    return weights;
}

JointNormal::JointNormal(std::vector<double> covariance, std::size_t n) : n_(n), precision_(n * n, 0.0) {
    factor(covariance);
}

void JointNormal::factor(std::vector<double>& covariance) {
    std::vector<double> lower = covariance;
    for (double raise = 1e-9; !cholesky(lower, n_); raise *= 10) {
        lower = covariance;
        for (std::size_t i = 0; i < n_; ++i) lower[i * n_ + i] += raise * (1 + std::abs(covariance[i * n_ + i]));
    }
    log_determinant_ = 0;
    for (std::size_t i = 0; i < n_; ++i) log_determinant_ += 2 * std::log(lower[i * n_ + i]);
    std::vector<double> column(n_);
    for (std::size_t j = 0; j < n_; ++j) {
        for (std::size_t i = 0; i < n_; ++i) {
            double value = i == j ? 1.0 : 0.0;
            for (std::size_t k = 0; k < i; ++k) value -= lower[i * n_ + k] * column[k];
            column[i] = value / lower[i * n_ + i];
        }
        for (std::size_t i = n_; i-- > 0;) {
            for (std::size_t k = i + 1; k < n_; ++k) column[i] -= lower[k * n_ + i] * column[k];
            column[i] /= lower[i * n_ + i];
            precision_[i * n_ + j] = column[i];
        }
    }
}

std::vector<double> JointNormal::times_precision(std::span<const double> residuals) const {
    std::vector<double> product(n_, 0.0);
    for (std::size_t i = 0; i < n_; ++i) {
        for (std::size_t j = 0; j < n_; ++j) product[i] += precision_[i * n_ + j] * residuals[j];
    }
    return product;
}

double JointNormal::log_density(std::span<const double> residuals) const {
    const std::vector<double> q = times_precision(residuals);
    double square = 0;
    for (std::size_t i = 0; i < n_; ++i) square += residuals[i] * q[i];
    return -static_cast<double>(n_) * half_log_two_pi - 0.5 * log_determinant_ - 0.5 * square;
}

double JointNormal::log_likelihood(std::span<const double> residuals, std::span<const WrongReading> wrong,
                                   std::vector<double>* wrong_probability) const {
    const std::vector<double> q = times_precision(residuals);
    double square = 0;
    double all_right = 0;
    for (std::size_t i = 0; i < n_; ++i) {
        square += residuals[i] * q[i];
        all_right += std::log1p(-wrong[i].chance);
    }
    const double full = -static_cast<double>(n_) * half_log_two_pi - 0.5 * log_determinant_ - 0.5 * square + all_right;
    double total = full;
    std::vector<double> with(n_, minus_infinity);
    const auto odds = [&](std::size_t i) {
        return std::log(wrong[i].chance * wrong[i].density) - std::log1p(-wrong[i].chance);
    };
    for (std::size_t i = 0; i < n_; ++i) {
        if (wrong[i].chance <= 0) continue;
        const double p = precision_[i * n_ + i];
        const double one = full + half_log_two_pi - 0.5 * std::log(p) + 0.5 * q[i] * q[i] / p + odds(i);
        total = log_add(total, one);
        with[i] = log_add(with[i], one);
        for (std::size_t j = i + 1; j < n_; ++j) {
            if (wrong[j].chance <= 0) continue;
            const double r = precision_[j * n_ + j];
            const double c = precision_[i * n_ + j];
            const double determinant = std::max(p * r - c * c, 1e-300);
            const double form = (q[i] * q[i] * r - 2 * q[i] * q[j] * c + q[j] * q[j] * p) / determinant;
            const double two =
                full + 2 * half_log_two_pi - 0.5 * std::log(determinant) + 0.5 * form + odds(i) + odds(j);
            total = log_add(total, two);
            with[i] = log_add(with[i], two);
            with[j] = log_add(with[j], two);
        }
    }
    if (wrong_probability) {
        wrong_probability->assign(n_, 0.0);
        for (std::size_t i = 0; i < n_; ++i) (*wrong_probability)[i] = std::exp(with[i] - total);
    }
    return total;
}

JointNormal::Conditional JointNormal::given_the_others(std::span<const double> residuals, std::size_t which) const {
    const double p = precision_[which * n_ + which];
    double q = 0;
    for (std::size_t j = 0; j < n_; ++j) q += precision_[which * n_ + j] * residuals[j];
    return {q / p, 1 / std::sqrt(p)};
}

}  // namespace voltfall
