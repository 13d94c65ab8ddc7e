// One load in one position, under load: what the readings after the repair say of its supply, current and drops.
#pragma once

#include <memory>
#include <optional>

#include "engine/proof/proof_case.hpp"

namespace voltfall {

class LoadUnderTest {
public:
    /// All must outlive the object.
    LoadUnderTest(const ProofCase& of, const ConcernedLoad& load, const ConcernedLoad::Position& position);
    ~LoadUnderTest();
    LoadUnderTest(const LoadUnderTest&) = delete;
    LoadUnderTest& operator=(const LoadUnderTest&) = delete;

    /// Has the sound circuit a solution in the position?
    bool solved() const;
    ProofCheck supply() const;
    /// Against the maker's limit at the supply that it names, else against what a sound load draws.
    ProofCheck amps() const;
    /// Volts lost from battery plus to the load, less what drops by design.
    ProofCheck feed() const;
    /// Nothing where no ground lies in the load's way.
    std::optional<ProofCheck> ground() const;

private:
    class Readings;
    std::unique_ptr<Readings> readings_;
};

}  // namespace voltfall
