// Things tied together, as disjoint sets.
#pragma once

#include <boost/pending/disjoint_sets.hpp>
#include <cstddef>
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
        for (std::size_t i = 0; i < count; ++i) parents_[i] = i;
    }
    void join(std::size_t a, std::size_t b) { sets().union_set(a, b); }
    std::size_t set_of(std::size_t i) { return sets().find_set(i); }
    bool together(std::size_t a, std::size_t b) { return set_of(a) == set_of(b); }

private:
    boost::disjoint_sets<std::size_t*, std::size_t*> sets() { return {ranks_.data(), parents_.data()}; }

    std::vector<std::size_t> ranks_;
    std::vector<std::size_t> parents_;
};

}  // namespace voltfall
