#include "netlists/text/problem_code.hpp"

#include <array>

namespace voltfall {

namespace {

#define VOLTFALL_CODE(name, text) ProblemCode::name,
constexpr std::array codes{VOLTFALL_PROBLEM_CODES(VOLTFALL_CODE)};
#undef VOLTFALL_CODE

#define VOLTFALL_CODE(name, text) std::string_view(text),
constexpr std::array names{VOLTFALL_PROBLEM_CODES(VOLTFALL_CODE)};
#undef VOLTFALL_CODE

}  // namespace

std::string_view code_name(ProblemCode code) {
    return names.at(static_cast<std::size_t>(code));
}

std::span<const ProblemCode> problem_codes() {
    return codes;
}

}  // namespace voltfall
