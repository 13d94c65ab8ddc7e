#include "netlists/text/suggest.hpp"

#include <algorithm>
#include <utility>
#include <vector>

#include "netlists/text/twin_letters.hpp"

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

bool is_ascii(std::string_view text) {
    return std::all_of(text.begin(), text.end(), [](char c) { return static_cast<unsigned char>(c) < 0x80; });
}

/// The known word that looks just like the typed one; null where none does.
const std::string* same_look(std::string_view typed, std::span<const std::string> known) {
    const std::string look = as_it_looks(typed);
    const auto found = std::find_if(known.begin(), known.end(), [&](const std::string& word) {
        return same_word(look, is_ascii(word) ? word : as_it_looks(word));
    });
    return found == known.end() ? nullptr : &*found;
}

}  // namespace

std::string lower(std::string_view text) {
    std::string folded(text);
    std::transform(folded.begin(), folded.end(), folded.begin(), fold);
    return folded;
}

bool same_letters(std::string_view a, std::string_view b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](char x, char y) { return fold(x) == fold(y); });
}

std::size_t edit_distance(std::string_view a, std::string_view b) {
    return edit_distance_within(a, b, a.size() + b.size());
}

std::size_t edit_distance_within(std::string_view a, std::string_view b, std::size_t most) {
    // Three rows are enough: a swap of neighbours looks back two.
    std::vector<std::size_t> rows(3 * (b.size() + 1));
    std::span<std::size_t> before_last = std::span(rows).first(b.size() + 1);
    std::span<std::size_t> last = std::span(rows).subspan(b.size() + 1, b.size() + 1);
    std::span<std::size_t> row = std::span(rows).subspan(2 * (b.size() + 1));
    std::size_t least_of_last = 0;
    for (std::size_t j = 0; j <= b.size(); ++j) row[j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        std::swap(before_last, last);
        std::swap(last, row);
        row[0] = i;
        std::size_t least = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const bool same = fold(a[i - 1]) == fold(b[j - 1]);
            row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + (same ? 0 : 1)});
            const bool swapped = i > 1 && j > 1 && fold(a[i - 1]) == fold(b[j - 2]) && fold(a[i - 2]) == fold(b[j - 1]);
            if (swapped) row[j] = std::min(row[j], before_last[j - 2] + 1);
            least = std::min(least, row[j]);
        }
        // Every way to the end goes through one of two rows that follow each other, and none gets shorter.
        if (least > most && least_of_last > most) return most + 1;
        least_of_last = least;
    }
    return row[b.size()];
}

std::string nearest(std::string_view typed, std::span<const std::string> known) {
    // A word far longer than any name would cost its square; it is near to nothing anyway.
    constexpr std::size_t longest_word = 80;
    if (typed.empty() || typed.size() > longest_word) return {};
    const bool plain = is_ascii(typed);
    if (!plain) {
        if (const std::string* same = same_look(typed, known)) return *same;
    }
    const std::string looks = plain ? std::string() : as_it_looks(typed);
    if (!plain) typed = looks;
    std::string_view best;
    std::size_t best_distance = typed.size() + longest_word;
    for (const std::string& word : known) {
        if (word.size() > longest_word) continue;
        const std::size_t gap = typed.size() > word.size() ? typed.size() - word.size() : word.size() - typed.size();
        const std::size_t allowed = allowed_distance(typed.size(), word.size());
        if (gap > allowed || gap > best_distance) continue;
        const std::size_t distance = edit_distance_within(typed, word, std::min(allowed, best_distance));
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
    // What stands there already is no advice.
    if (near.empty() || near == typed) return {};
    const bool told = !is_ascii(typed) && (is_ascii(near) || same_word(as_it_looks(typed), as_it_looks(near)));
    const std::string twin = told ? twin_letter_in(typed) : "";
    return "did you mean '" + near + "'?" + (twin.empty() ? "" : " " + twin);
}

std::string did_you_mean_or_known(std::string_view typed, std::span<const std::string> known) {
    std::string advice = did_you_mean(typed, known);
    if (!advice.empty() || known.empty()) return advice;
    constexpr std::size_t most = 8;
    const std::size_t shown = std::min(most, known.size());
    advice = "known are ";
    for (std::size_t i = 0; i < shown; ++i) advice += (i > 0 ? ", " : "") + known[i];
    return known.size() > shown ? advice + " and " + std::to_string(known.size() - shown) + " more" : advice;
}

}  // namespace voltfall
