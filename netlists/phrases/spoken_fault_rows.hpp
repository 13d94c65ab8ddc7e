// The trade's words for what is wrong, and the modes of the catalogue that they mean: the rows. Who fits them to a
// place is `fault_order`.
#pragma once

#include <span>
#include <string_view>

namespace voltfall {

/// What is left of a fault's line without its place, its number and the words that say nothing.
struct SpokenFault {
    enum class As {
        first,   ///< the first of the phrases that the catalogue has
        either,  ///< each of them that the catalogue has: the person says which
        joint,   ///< as `first`, where the place is a contact, a ground or a leg of a splice
        amps,    ///< as `first`, where a number of amperes stands in the line
        number,  ///< as `first`, where another number stands in the line
    };
    As as;
    std::string_view
        said;  ///< patterns as `SpokenPattern` has them, parted by `|`; one that is empty is no words at all
    std::string_view meant;  ///< phrases parted by `;`, with {place}, {other}, {position}, {pair} and {battery}
};

/// Of one place, of two (wires that touch or have changed places), and of none.
std::span<const SpokenFault> spoken_faults();
std::span<const SpokenFault> spoken_faults_of_two();
std::span<const SpokenFault> spoken_faults_of_none();

/// Words that say nothing about what is wrong, wherever they stand in the line of a fault.
bool says_nothing_of_a_fault(std::string_view word);

}  // namespace voltfall
