#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "cli/views/figures.hpp"
#include "cli/views/plan_view.hpp"
#include "netlists/phrases/test_phrase.hpp"

namespace voltfall {

namespace {

/// Steps deeper than this stand no further in: the number says where they belong.
constexpr int deepest_indent = 4;

std::string end_words(const PlanNode& node) {
    if (node.repair.empty())
        return fmt::format("nothing found: verify the concern again ({})", probability_words(node.probability));
    return fmt::format("repair {} and prove it ({})", node.repair, probability_words(node.probability));
}

/// Steps get numbers in the order in which they are printed.
class Writer {
public:
    Writer(TextPage& page, const Circuit& circuit) : page_(page), circuit_(circuit) {}

    void step(const PlanNode& node, int depth) {
        const int indent = 2 * std::min(depth, deepest_indent);
        if (!node.test) {
            page_.paragraph(end_words(node), indent, 2, Tone::good);
            return;
        }
        const int number = ++last_;
        for (const std::string& caution : node.caution) {
            if (said_.insert(caution).second) page_.paragraph("CAUTION " + caution, indent, 2, Tone::caution);
        }
        page_.paragraph(
            fmt::format("{}  {}  ({})", number, write_test(circuit_, *node.test), shown_minutes(node.minutes)), indent,
            2, Tone::heading);
        int next = number + 1;
        for (const PlanNode::Branch& branch : node.branches) {
            const PlanNode& then = *branch.then;
            const std::string outcome = fmt::format("{}, {}:", branch.outcome, probability_words(branch.probability));
            const std::string leads = !then.test ? end_words(then) : fmt::format("go to {}", next);
            page_.paragraph(outcome + " " + leads, indent + 2, 2);
            next += steps_in(then);
        }
        for (const PlanNode::Branch& branch : node.branches) {
            if (branch.then->test) step(*branch.then, depth + 1);
        }
    }

private:
    static int steps_in(const PlanNode& node) {
        int count = node.test ? 1 : 0;
        for (const PlanNode::Branch& branch : node.branches) count += steps_in(*branch.then);
        return count;
    }

    TextPage& page_;
    const Circuit& circuit_;
    int last_{0};
    std::set<std::string> said_;  ///< a caution stands before the first step that it belongs to
};

}  // namespace

std::string plan_text(const PlanView& view, PageStyle style) {
    TextPage page(style);
    if (!view.concern.empty()) page.labelled("concern:", view.concern, 0);
    for (const std::string& note : view.answer.notes) page.labelled("note", note, 0, Tone::caution);
    if (!view.answer.tree) return page.text();
    page.gap();
    Writer(page, *view.circuit).step(*view.answer.tree, 0);
    page.gap();
    page.paragraph(fmt::format("expected {}, worst {}; it ends at the right repair in {}",
                               shown_minutes(view.answer.expected_minutes), shown_minutes(view.answer.worst_minutes),
                               probability_words(view.answer.right)));
    page.paragraph(view.answer.exact ? "every order of these tests was weighed"
                                     : "a few steps are looked ahead; the rest is the best next test each time",
                   0, 2, Tone::quiet);
    page.paragraph("an outcome that is not here: enter the reading and ask again", 0, 2, Tone::quiet);
    return page.text();
}

}  // namespace voltfall
