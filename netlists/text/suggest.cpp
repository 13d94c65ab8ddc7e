#include "netlists/text/suggest.hpp"

#include <algorithm>
#include <vector>

namespace voltfall {

namespace {

constexpr char fold(char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

/// How many letters may differ for a word still to be near: up to three letters one, else two or a third.
std::size_t allowed_distance(std::size_t typed, std::size_t known) {
    if (std::max(typed, known) <= 3) return 1;
    return std::max<std::size_t>(2, typed / 3);
}

}  // namespace

std::string lower(std::string_view text) {
    std::string folded(text);
    std::transform(folded.begin(), folded.end(), folded.begin(), fold);
    return folded;
}

bool same_word(std::string_view a, std::string_view b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](char x, char y) { return fold(x) == fold(y); });
}

std::size_t edit_distance(std::string_view a, std::string_view b) {
    // Three rows are enough: a swap of neighbours looks back two.
    std::vector<std::size_t> before_last(b.size() + 1), last(b.size() + 1), row(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j) row[j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        before_last.swap(last);
        last.swap(row);
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const bool same = fold(a[i - 1]) == fold(b[j - 1]);
            row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + (same ? 0 : 1)});
            const bool swapped = i > 1 && j > 1 && fold(a[i - 1]) == fold(b[j - 2]) && fold(a[i - 2]) == fold(b[j - 1]);
            if (swapped) row[j] = std::min(row[j], before_last[j - 2] + 1);
        }
    }
    return row[b.size()];
}

std::string nearest(std::string_view typed, std::span<const std::string> known) {
    // A word far longer than any name would cost its square; it is near to nothing anyway.
    constexpr std::size_t longest_word = 80;
    if (typed.empty() || typed.size() > longest_word) return {};
    std::string_view best;
    std::size_t best_distance = typed.size() + longest_word;
    for (const std::string& word : known) {
        if (word.size() > longest_word) continue;
        const std::size_t gap = typed.size() > word.size() ? typed.size() - word.size() : word.size() - typed.size();
        const std::size_t allowed = allowed_distance(typed.size(), word.size());
        if (gap > allowed || gap > best_distance) continue;
        const std::size_t distance = edit_distance(typed, word);
        const bool something_shared = distance < std::max(typed.size(), word.size());
        const bool same_length =
            distance == best_distance && word.size() == typed.size() && best.size() != typed.size();
        if (distance > allowed || !something_shared || (distance >= best_distance && !same_length)) continue;
        best = word;
        best_distance = distance;
    }
    return std::string(best);
}

std::string did_you_mean(std::string_view typed, std::span<const std::string> known) {
    const std::string near = nearest(typed, known);
    return near.empty() ? near : "did you mean '" + near + "'?";
}

}  // namespace voltfall
