// Correlated readings, each of which may be wrong.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace voltfall {

/// Natural logarithm of the normal density at a residual.
double log_normal_density(double residual, double sigma);
/// Probability that a normal variable lies in [low, high]; either end may be infinite.
double normal_between(double low, double high, double mean, double sigma);
/// ln(e^a + e^b), also for minus infinity.
double log_add(double a, double b);
/// Makes weights of logarithms: they sum to 1. All minus infinity gives zeros.
std::vector<double> weights_of_logs(std::span<const double> logs);

/// How a reading looks when it is wrong: the chance, and the density of the value read then.
struct WrongReading {
    double chance{0};
    double density{0};  ///< per unit of the reading
};

/// A multivariate normal in precision form, of readings each of which may be wrong. Leaving readings out needs no
/// second factorisation: with P the inverse of the covariance and q = P r, the density of some readings given the
/// others has precision P(S,S) and mean residual P(S,S)^-1 q(S) (standard identity for the normal distribution). The
/// only place that includes Eigen.
class JointNormal {
public:
    /// `covariance` is n x n, row by row. One that is not positive definite by rounding gets its diagonal raised a
    /// little; see `can_be_weighed`. `wrong` by reading; empty: none can be wrong.
    JointNormal(std::span<const double> covariance, std::size_t n, std::vector<WrongReading> wrong = {});

    std::size_t size() const { return n_; }
    /// False where the covariance is no covariance (not positive, or not a number): every density is then zero.
    bool can_be_weighed() const { return weighable_; }

    double log_density(std::span<const double> residuals) const;
    /// Mixed over none, any one and any two readings being wrong. `wrong_probability`, if given, receives for each
    /// reading the probability that it is one of the wrong ones.
    double log_likelihood(std::span<const double> residuals, std::vector<double>* wrong_probability = nullptr) const;

    /// What the other readings leave of a residual, and its spread.
    struct Conditional {
        double residual{};
        double sigma{};
    };
    Conditional given_the_others(std::span<const double> residuals, std::size_t which) const;

    /// What these readings tell of a quantity outside of them, whose covariances with them are `with`.
    struct Told {
        double mean{};      ///< to be added to its mean
        double variance{};  ///< to be taken from its variance
    };
    /// Nothing where they cannot be weighed.
    Told told_of(std::span<const double> with, std::span<const double> residuals) const;

private:
    /// What leaving out readings gives back, a row a reading: first that reading alone, then it and each later one.
    /// The quadratic form's coefficients of q_i^2, q_i q_j and q_j^2, and ln of the weight; minus infinity where one of
    /// the two cannot be wrong.
    struct LeftOut {
        std::vector<double> ii;
        std::vector<double> ij;
        std::vector<double> jj;
        std::vector<double> log_weight;
    };
    void list_left_out();
    std::vector<double> times_precision(std::span<const double> residuals) const;

    std::size_t n_;
    std::vector<WrongReading> wrong_;
    std::vector<double> precision_;  ///< n x n, column by column
    LeftOut left_out_;
    double log_all_right_{0};
    double log_determinant_{0};  ///< of the covariance
    bool weighable_{true};
};

}  // namespace voltfall
