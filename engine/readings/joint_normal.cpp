#include "engine/readings/joint_normal.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace voltfall {

namespace {

const double half_log_two_pi = 0.5 * std::log(2 * std::numbers::pi);
constexpr double minus_infinity = -std::numeric_limits<double>::infinity();

using Matrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;

/// Shares of itself that a diagonal is raised by, one after the other, until a matrix that rounding made singular has a
/// factor.
constexpr double raises[] = {0, 1e-9, 1e-8, 1e-7, 1e-6, 1e-5, 1e-4};

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

JointNormal::JointNormal(std::span<const double> covariance, std::size_t n, std::vector<WrongReading> wrong)
    : n_(n), wrong_(std::move(wrong)), precision_(n * n, 0.0) {
    wrong_.resize(n_);
    const auto size = static_cast<Eigen::Index>(n_);
    const Eigen::Map<const Matrix> given(covariance.data(), size, size);
    Eigen::LLT<Matrix> factor;
    weighable_ = given.allFinite();
    bool factored = false;
    for (const double raise : raises) {
        if (!weighable_ || factored) break;
        Matrix raised = given;
        for (Eigen::Index i = 0; raise > 0 && i < size; ++i) raised(i, i) += raise * (1 + std::abs(given(i, i)));
        factor.compute(raised);
        factored = factor.info() == Eigen::Success;
    }
    weighable_ = weighable_ && factored;
    if (!weighable_) return;
    Eigen::Map<Matrix>(precision_.data(), size, size) = factor.solve(Matrix::Identity(size, size));
    for (Eigen::Index i = 0; i < size; ++i) log_determinant_ += 2 * std::log(factor.matrixLLT()(i, i));
    list_left_out();
}

void JointNormal::list_left_out() {
    const auto odds = [&](std::size_t i) {
        return std::log(wrong_[i].chance * wrong_[i].density) - std::log1p(-wrong_[i].chance);
    };
    for (std::size_t i = 0; i < n_; ++i) {
        log_all_right_ += std::log1p(-wrong_[i].chance);
        if (wrong_[i].chance <= 0) continue;
        const double p = precision_[i * n_ + i];
        left_out_.push_back({i, i, 0.5 / p, 0, 0, half_log_two_pi - 0.5 * std::log(p) + odds(i)});
        for (std::size_t j = i + 1; j < n_; ++j) {
            if (wrong_[j].chance <= 0) continue;
            const double r = precision_[j * n_ + j];
            const double c = precision_[i * n_ + j];
            const double determinant = std::max(p * r - c * c, 1e-300);
            left_out_.push_back({i, j, 0.5 * r / determinant, -c / determinant, 0.5 * p / determinant,
                                 2 * half_log_two_pi - 0.5 * std::log(determinant) + odds(i) + odds(j)});
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
    if (!weighable_) return minus_infinity;
    const std::vector<double> q = times_precision(residuals);
    double square = 0;
    for (std::size_t i = 0; i < n_; ++i) square += residuals[i] * q[i];
    return -static_cast<double>(n_) * half_log_two_pi - 0.5 * log_determinant_ - 0.5 * square;
}

double JointNormal::log_likelihood(std::span<const double> residuals, std::vector<double>* wrong_probability) const {
    if (wrong_probability) wrong_probability->assign(n_, 0.0);
    if (!weighable_) return minus_infinity;
    thread_local std::vector<double> terms;  // kept from call to call: this runs once a piece of every curve
    const std::vector<double> q = times_precision(residuals);
    double square = 0;
    for (std::size_t i = 0; i < n_; ++i) square += residuals[i] * q[i];
    const double full =
        -static_cast<double>(n_) * half_log_two_pi - 0.5 * log_determinant_ - 0.5 * square + log_all_right_;
    terms.clear();
    double greatest = 0;
    for (const LeftOut& out : left_out_) {
        const double term =
            out.ii * q[out.i] * q[out.i] + out.ij * q[out.i] * q[out.j] + out.jj * q[out.j] * q[out.j] + out.log_weight;
        terms.push_back(term);
        greatest = std::max(greatest, term);
    }
    constexpr double negligible = -40;  // e^-40 is below a double's digits
    double sum = std::exp(-greatest);
    for (double& term : terms) {
        term = term - greatest < negligible ? 0.0 : std::exp(term - greatest);
        sum += term;
    }
    if (wrong_probability) {
        for (std::size_t k = 0; k < terms.size(); ++k) {
            (*wrong_probability)[left_out_[k].i] += terms[k] / sum;
            if (left_out_[k].j != left_out_[k].i) (*wrong_probability)[left_out_[k].j] += terms[k] / sum;
        }
    }
    return full + greatest + std::log(sum);
}

JointNormal::Conditional JointNormal::given_the_others(std::span<const double> residuals, std::size_t which) const {
    if (!weighable_) return {residuals[which], std::numeric_limits<double>::infinity()};
    const double p = precision_[which * n_ + which];
    double q = 0;
    for (std::size_t j = 0; j < n_; ++j) q += precision_[which * n_ + j] * residuals[j];
    return {q / p, 1 / std::sqrt(p)};
}

}  // namespace voltfall
