#include "engine/readings/joint_normal.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "netlists/platform/thread_kept.hpp"

namespace voltfall {

namespace {

const double half_log_two_pi = 0.5 * std::log(2 * std::numbers::pi);
constexpr double minus_infinity = -std::numeric_limits<double>::infinity();

using Matrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;

/// Shares of itself that a diagonal is raised by, one after the other, until a matrix that rounding made singular has a
/// factor.
constexpr double raises[] = {0, 1e-9, 1e-8, 1e-7, 1e-6, 1e-5, 1e-4};

/// Columns that are worked on together: what fits a first cache.
constexpr Eigen::Index block = 32;

/// The inverse of a matrix from its Cholesky factor L: M'M, where M is the inverse of L. Block by block, because one
/// half of each is zero: a third of the work of solving for every column of the identity.
void invert(const Matrix& factor, Eigen::Map<Eigen::MatrixXd> inverse) {
    const Eigen::Index n = factor.rows();
    Matrix m = Matrix::Zero(n, n);
    for (Eigen::Index from = 0; from < n; from += block) {
        const Eigen::Index wide = std::min(block, n - from);
        m.block(from, from, wide, wide).setIdentity();
        auto columns = m.block(from, from, n - from, wide);
        factor.block(from, from, n - from, n - from).triangularView<Eigen::Lower>().solveInPlace(columns);
    }
    for (Eigen::Index i = 0; i < n; i += block) {
        const Eigen::Index high = std::min(block, n - i);
        for (Eigen::Index j = 0; j <= i; j += block) {
            const Eigen::Index wide = std::min(block, n - j);
            inverse.block(i, j, high, wide).noalias() =
                m.block(i, i, n - i, high).transpose() * m.block(i, j, n - i, wide);
        }
    }
    for (Eigen::Index i = 0; i < n; ++i) {
        for (Eigen::Index j = 0; j < i; ++j) inverse(j, i) = inverse(i, j);
    }
}

using Numbers = Eigen::Map<const Eigen::ArrayXd>;

/// Terms from `first` on, `count` of them.
Numbers piece(std::span<const double> all, std::size_t first, std::size_t count) {
    return {all.data() + first, static_cast<Eigen::Index>(count)};
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
    Eigen::Map<Eigen::MatrixXd> inverse(precision_.data(), size, size);
    if (size > block)
        invert(factor.matrixLLT(), inverse);
    else
        inverse = factor.solve(Matrix::Identity(size, size));
    for (Eigen::Index i = 0; i < size; ++i) log_determinant_ += 2 * std::log(factor.matrixLLT()(i, i));
    list_left_out();
}

void JointNormal::list_left_out() {
    std::vector<double> odds(n_);
    for (std::size_t i = 0; i < n_; ++i) {
        const double right = std::log1p(-wrong_[i].chance);
        log_all_right_ += right;
        odds[i] = wrong_[i].chance > 0 ? std::log(wrong_[i].chance * wrong_[i].density) - right : minus_infinity;
    }
    const std::size_t terms = n_ * (n_ + 1) / 2;
    for (auto* all : {&left_out_.ii, &left_out_.ij, &left_out_.jj}) all->assign(terms, 0.0);
    left_out_.log_weight.assign(terms, minus_infinity);
    std::size_t k = 0;
    for (std::size_t i = 0; i < n_; ++i) {
        const double p = precision_[i * n_ + i];
        for (std::size_t j = i; j < n_; ++j, ++k) {
            if (odds[i] == minus_infinity || odds[j] == minus_infinity) continue;
            if (j == i) {
                left_out_.ii[k] = 0.5 / p;
                left_out_.log_weight[k] = half_log_two_pi - 0.5 * std::log(p) + odds[i];
                continue;
            }
            const double r = precision_[j * n_ + j];
            const double c = precision_[j * n_ + i];
            const double determinant = std::max(p * r - c * c, 1e-300);
            left_out_.ii[k] = 0.5 * r / determinant;
            left_out_.ij[k] = -c / determinant;
            left_out_.jj[k] = 0.5 * p / determinant;
            left_out_.log_weight[k] = 2 * half_log_two_pi - 0.5 * std::log(determinant) + odds[i] + odds[j];
        }
    }
}

std::vector<double> JointNormal::times_precision(std::span<const double> residuals) const {
    std::vector<double> product(n_, 0.0);
    Eigen::Map<Eigen::ArrayXd> sum(product.data(), static_cast<Eigen::Index>(n_));
    for (std::size_t j = 0; j < n_; ++j) sum += piece(precision_, j * n_, n_) * residuals[j];
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
    // From call to call: this runs once a piece of every curve.
    auto& terms = kept_by_thread<std::vector<double>, struct TermsLeftOut>();
    const std::vector<double> q = times_precision(residuals);
    double square = 0;
    for (std::size_t i = 0; i < n_; ++i) square += residuals[i] * q[i];
    const double full =
        -static_cast<double>(n_) * half_log_two_pi - 0.5 * log_determinant_ - 0.5 * square + log_all_right_;
    terms.resize(left_out_.log_weight.size());
    double greatest = 0;
    std::vector<double> of_row(n_);
    for (std::size_t i = 0, first = 0; i < n_; first += n_ - i, ++i) {
        const std::size_t count = n_ - i;
        const Numbers others = piece(q, i, count);
        Eigen::Map<Eigen::ArrayXd> row(terms.data() + first, static_cast<Eigen::Index>(count));
        row = piece(left_out_.ii, first, count) * q[i] * q[i] + piece(left_out_.ij, first, count) * q[i] * others +
              piece(left_out_.jj, first, count) * others * others + piece(left_out_.log_weight, first, count);
        of_row[i] = row.maxCoeff();
        greatest = std::max(greatest, of_row[i]);
    }
    constexpr double negligible = -40;  // e^-40 is below a double's digits
    double sum = std::exp(-greatest);
    for (std::size_t i = 0, first = 0; i < n_; first += n_ - i, ++i) {
        const std::span<double> row = std::span(terms).subspan(first, n_ - i);
        if (of_row[i] - greatest < negligible) {
            std::fill(row.begin(), row.end(), 0.0);
            continue;
        }
        for (double& term : row) {
            if (term - greatest < negligible) {
                term = 0;
            } else {
                sum += term = std::exp(term - greatest);
            }
        }
    }
    if (wrong_probability) {
        for (std::size_t i = 0, k = 0; i < n_; ++i) {
            for (std::size_t j = i; j < n_; ++j, ++k) {
                (*wrong_probability)[i] += terms[k] / sum;
                if (j != i) (*wrong_probability)[j] += terms[k] / sum;
            }
        }
    }
    return full + greatest + std::log(sum);
}

JointNormal::Conditional JointNormal::given_the_others(std::span<const double> residuals, std::size_t which) const {
    if (!weighable_) return {residuals[which], std::numeric_limits<double>::infinity()};
    const double p = precision_[which * n_ + which];
    double q = 0;
    for (std::size_t j = 0; j < n_; ++j) q += precision_[j * n_ + which] * residuals[j];
    return {q / p, 1 / std::sqrt(p)};
}

JointNormal::Told JointNormal::told_of(std::span<const double> with, std::span<const double> residuals) const {
    if (!weighable_) return {};
    const std::vector<double> weights = times_precision(with);
    Told told;
    for (std::size_t i = 0; i < n_; ++i) {
        told.mean += weights[i] * residuals[i];
        told.variance += weights[i] * with[i];
    }
    return told;
}

}  // namespace voltfall
