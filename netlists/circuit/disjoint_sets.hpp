// Things tied together, as disjoint sets.
#pragma once

#include <boost/pending/disjoint_sets.hpp>
#include <cstddef>
#include <cstdint>
#include <numeric>
#include <vector>

namespace voltfall {

/// Numbers from 0, each in one set. Which number stands for a set is arbitrary.
class DisjointSets {
public:
    DisjointSets() = default;
    explicit DisjointSets(std::size_t count) { reset(count); }

    /// Every number alone again; the memory is kept.
    void reset(std::size_t count) {
        ranks_.assign(count, 0);
        parents_.resize(count);
        std::iota(parents_.begin(), parents_.end(), 0U);
    }
    void join(std::size_t a, std::size_t b) { sets().union_set(number(a), number(b)); }
    std::size_t set_of(std::size_t i) { return sets().find_set(number(i)); }
    bool together(std::size_t a, std::size_t b) { return set_of(a) == set_of(b); }

private:
    // Short numbers: a solve goes through all joints of a network.
    using Number = std::uint32_t;
    static Number number(std::size_t i) { return static_cast<Number>(i); }
    boost::disjoint_sets<Number*, Number*> sets() { return {ranks_.data(), parents_.data()}; }

    std::vector<Number> ranks_;
    std::vector<Number> parents_;
};

}  // namespace voltfall
