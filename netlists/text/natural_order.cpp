#include "netlists/text/natural_order.hpp"
#include "netlists/text/ascii_digits.hpp"

namespace voltfall {

bool NaturalOrder::operator()(const std::string& a, const std::string& b) const {
    std::size_t i = 0;
    std::size_t j = 0;
    while (i < a.size() && j < b.size()) {
        std::size_t digits_a = i;
        std::size_t digits_b = j;
        while (digits_a < a.size() && is_digit(a[digits_a])) ++digits_a;
        while (digits_b < b.size() && is_digit(b[digits_b])) ++digits_b;
        if (digits_a == i || digits_b == j) {
            if (a[i] != b[j]) return a[i] < b[j];
            ++i;
            ++j;
            continue;
        }
        if (digits_a - i != digits_b - j) return digits_a - i < digits_b - j;
        if (const int order = a.compare(i, digits_a - i, b, j, digits_b - j); order != 0) return order < 0;
        i = digits_a;
        j = digits_b;
    }
    return a.size() - i < b.size() - j;
}

}  // namespace voltfall
