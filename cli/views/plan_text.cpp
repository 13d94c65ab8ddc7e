#include <fmt/format.h>

#include <map>
#include <set>

#include "cli/views/figures.hpp"
#include "cli/views/plan_view.hpp"

namespace voltfall {

namespace {

/// Steps deeper than this stand no further in: the number says where they belong.
constexpr int deepest_indent = 4;

std::string end_words(const PlanNode& node) {
    if (node.repair.empty())
        return fmt::format("nothing found: verify the concern again ({})", probability_words(node.probability));
    return fmt::format("repair {} and prove it ({})", node.repair, probability_words(node.probability));
}

class Writer {
public:
    explicit Writer(TextPage& page) : page_(page) {}

    void step(const PlanNode& node, const std::string& number, int depth) {
        const int indent = 2 * std::min(depth, deepest_indent);
        if (node.test.empty()) {
            page_.paragraph(end_words(node), indent, 2, Tone::good);
            return;
        }
        for (const std::string& caution : node.caution) {
            if (said_.insert(caution).second) page_.paragraph("CAUTION " + caution, indent, 2, Tone::caution);
        }
        page_.paragraph(fmt::format("{}  {}  ({})", number, node.test, shown_minutes(node.minutes)), indent, 2,
                        Tone::heading);
        for (std::size_t i = 0; i < node.branches.size(); ++i) {
            const PlanNode::Branch& branch = node.branches[i];
            const PlanNode& then = *branch.then;
            const std::string outcome = fmt::format("{}, {}:", branch.outcome, probability_words(branch.probability));
            if (then.test.empty()) {
                page_.paragraph(outcome + " " + end_words(then), indent + 2, 2);
                continue;
            }
            const std::string follows =
                node.branches.size() == 1 ? number + "+" : fmt::format("{}{}", number, letter(i));
            page_.paragraph(outcome + " go to " + follows, indent + 2, 2);
        }
        for (std::size_t i = 0; i < node.branches.size(); ++i) {
            if (node.branches[i].then->test.empty()) continue;
            const std::string follows =
                node.branches.size() == 1 ? number + "+" : fmt::format("{}{}", number, letter(i));
            step(*node.branches[i].then, follows, depth + 1);
        }
    }

private:
    static char letter(std::size_t i) { return static_cast<char>('a' + i % 26); }

    TextPage& page_;
    std::set<std::string> said_;  ///< a caution stands before the first step that it belongs to
};

}  // namespace

std::string plan_text(const PlanView& view, PageStyle style) {
    TextPage page(style);
    if (!view.concern.empty()) page.labelled("concern:", view.concern, 0);
    for (const std::string& note : view.answer.notes) page.labelled("note", note, 0, Tone::caution);
    if (!view.answer.tree) return page.text();
    page.gap();
    Writer(page).step(*view.answer.tree, "1", 0);
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
