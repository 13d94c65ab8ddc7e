// Joints tied together, as disjoint sets.
#pragma once

#include <boost/pending/disjoint_sets.hpp>
#include <cstddef>
#include <vector>

#include "netlists/circuit/ids.hpp"

namespace voltfall {

/// Disjoint sets of joints over two arrays that are kept from call to call, as this runs once a solve. One at a time in
/// a thread.
class JointSets {
public:
    explicit JointSets(std::size_t joints) : sets_(grown(ranks(), joints), grown(parents(), joints)) {
        for (std::size_t i = 0; i < joints; ++i) sets_.make_set(i);
    }
    void tie(JointId a, JointId b) { sets_.union_set(std::size_t{a.index}, std::size_t{b.index}); }
    std::size_t set_of(std::size_t joint) { return sets_.find_set(joint); }

private:
    static std::vector<std::size_t>& ranks() {
        thread_local std::vector<std::size_t> store;
        return store;
    }
    static std::vector<std::size_t>& parents() {
        thread_local std::vector<std::size_t> store;
        return store;
    }
    static std::size_t* grown(std::vector<std::size_t>& store, std::size_t size) {
        if (store.size() < size) store.resize(size);
        return store.data();
    }
    boost::disjoint_sets<std::size_t*, std::size_t*> sets_;
};

}  // namespace voltfall
